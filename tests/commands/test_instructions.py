"""``tiler instructions`` from the command line: what it writes, what it refuses, and what it leaves alone."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest

from tests.chosen import long
from tiler.commands import run

EXAMPLES = Path(__file__).parents[2] / "examples"
BINDINGS = EXAMPLES / "saltmarsh-bindings.toml"


@long
def test_two_pages_are_written_for_every_finish(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "sewing.pdf"
    assert run(["instructions", str(BINDINGS), "-o", str(out)]) == 0
    assert capsys.readouterr().out == (
        f"{out}: 6 pages of Letter: double-fold binding, french binding, raw-edge binding.\n"
    )
    with pikepdf.open(out) as pdf:
        assert len(pdf.pages) == 6
        assert str(pdf.docinfo["/Title"]).endswith("how to sew the edges")
    assert list(tmp_path.iterdir()) == [out]


@long
@pytest.mark.parametrize(
    ("paper", "printed"), [("letter", "Letter"), ("a4", "A4"), ("letter-a4", "Letter or A4"), ("a3", "A3")]
)
def test_every_paper_is_written(tmp_path: Path, capsys: pytest.CaptureFixture[str], paper: str, printed: str) -> None:
    assert run(["instructions", str(BINDINGS), "-o", str(tmp_path / "out.pdf"), "--paper", paper]) == 0
    assert f"6 pages of {printed}:" in capsys.readouterr().out


def test_pieces_on_one_sheet_have_their_instructions_on_home_paper(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spec = tmp_path / "spec.toml"
    text = (EXAMPLES / "saltmarsh-crew.toml").read_text(encoding="utf-8")
    spec.write_text(text.replace('size = "letter"', 'size = "one-sheet"'), encoding="utf-8")
    assert 'size = "one-sheet"' in spec.read_text(encoding="utf-8")
    assert run(["instructions", str(spec), "-o", str(tmp_path / "out.pdf")]) == 0
    assert "2 pages of Letter or A4: folded band." in capsys.readouterr().out


@long
def test_an_existing_file_stays_without_force(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "sewing.pdf"
    out.write_bytes(b"mine")
    assert run(["instructions", str(BINDINGS), "-o", str(out)]) == 7
    assert "there already" in capsys.readouterr().err
    assert out.read_bytes() == b"mine"
    assert run(["instructions", str(BINDINGS), "-o", str(out), "--force"]) == 0
    assert out.read_bytes().startswith(b"%PDF-1.7")


def test_a_spec_that_cannot_be_made_leaves_the_old_file(tmp_path: Path) -> None:
    out, spec = tmp_path / "sewing.pdf", tmp_path / "spec.toml"
    out.write_bytes(b"mine")
    spec.write_text('title = "No pieces"\nunits = "in"\npieces = []\n', encoding="utf-8")
    assert run(["instructions", str(spec), "-o", str(out), "--force"]) == 2
    assert out.read_bytes() == b"mine"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["sewing.pdf", "spec.toml"]


def test_the_spec_itself_is_never_replaced(tmp_path: Path) -> None:
    spec = tmp_path / "spec.toml"
    spec.write_bytes(BINDINGS.read_bytes())
    assert run(["instructions", str(spec), "-o", str(spec), "--force"]) == 7
    assert spec.read_bytes() == BINDINGS.read_bytes()


def test_a_roll_of_one_sheet_is_no_paper_for_them(tmp_path: Path) -> None:
    assert run(["instructions", str(BINDINGS), "-o", str(tmp_path / "out.pdf"), "--paper", "one-sheet"]) == 2
