"""No output of a command is an input of the same job, under whatever name: nothing is replaced that was read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from tests.specs import neckline, piece, spec, table, written
from tests.usecases.test_job import DRAWING
from tiler.commands import run
from tiler.errors import CannotWriteError
from tiler.usecases.files.replace import admitted, same_place

pytestmark = pytest.mark.usefixtures("forked")

DRAWN = neckline(table(svg="front.svg", id="front"), table(svg="front.svg", id="back"))


@pytest.fixture(name="folder")
def with_inputs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give a folder with a file of each kind that a command reads, each of which has a second name."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("TILER_PRINTERS", str(tmp_path))
    written(spec(piece("Neckband", "1.5 cm", DRAWN), units="cm"), tmp_path)
    (tmp_path / "front.svg").write_text(DRAWING)
    (tmp_path / "answers.toml").write_text('units = "cm"\n')
    (tmp_path / "round.csv").write_text("tester,printer,viewer,nominal,across,down\na,b,c,50 mm,50 mm,50 mm\n")
    (tmp_path / "base.pdf").write_bytes(b"%PDF-1.7")
    assert run(["printer", "add", "kitchen", "--nominal", "15 cm", "--across", "14.9 cm", "--down", "14.8 cm"]) == 0
    return tmp_path


COMMANDS = [
    ("spec.toml", "x.pdf", ["draft", "spec.toml", "-o"]),
    ("front.svg", "x.pdf", ["draft", "spec.toml", "-o"]),
    ("kitchen.json", "x.pdf", ["draft", "spec.toml", "--printer", "kitchen", "-o"]),
    ("front.svg", "x.pdf", ["chart", "spec.toml", "-o"]),
    ("front.svg", "x.csv", ["chart", "spec.toml", "-o"]),
    ("front.svg", "x.pdf", ["instructions", "spec.toml", "-o"]),
    ("base.pdf", "x.pdf", ["verify", "base.pdf", "--report"]),
    ("front.svg", "x.png", ["edge", "front.svg", "--picture"]),
    ("round.csv", "x.pdf", ["readings", "round.csv", "--chart"]),
    ("answers.toml", "x.pdf", ["start", "--answers", "answers.toml", "-o"]),
    ("answers.toml", "x.toml", ["start", "--answers", "answers.toml", "-o", "y.pdf", "--spec"]),
]


@pytest.mark.parametrize("linked", [Path.symlink_to, Path.hardlink_to], ids=["by a link", "by a second name"])
@pytest.mark.parametrize(("source", "target", "command"), COMMANDS)
def test_an_output_that_is_an_input_is_refused_with_force_too(
    folder: Path,
    source: str,
    target: str,
    command: list[str],
    linked: Callable[[Path, Path], None],
    capsys: pytest.CaptureFixture[str],
) -> None:
    before = {path.name: path.read_bytes() for path in folder.iterdir()}
    linked(folder / target, folder / source)
    assert run([*command, target, "--force"]) == 7
    said = capsys.readouterr().err
    assert f"{target} is the input itself, " in said
    assert f"{source}; choose another name for the output" in said
    assert {path.name: path.read_bytes() for path in folder.iterdir()} == before | {target: before[source]}
    assert (folder / target).samefile(folder / source)


def test_the_drawing_is_named_with_its_place_in_the_spec(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (folder / "x.pdf").hardlink_to(folder / "front.svg")
    assert run(["draft", "spec.toml", "-o", "x.pdf", "--force"]) == 7
    assert "spec.toml: pieces[0].edge.front-half: x.pdf is the input itself, front.svg;" in capsys.readouterr().err


def test_pdf_and_spec_are_two_files_where_case_and_accents_do_not_count_too(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert same_place(folder / "größe.pdf", folder / "inner" / ".." / "GRO\u0308SSE.pdf") is False
    (folder / "inner").mkdir()
    assert same_place(folder / "größe.pdf", folder / "inner" / ".." / "GRO\u0308SSE.pdf")
    assert run(["start", "--answers", "answers.toml", "-o", "x.pdf", "--spec", "inner/../X.PDF"]) == 7
    assert "cannot be both the PDF and the spec; name two files" in capsys.readouterr().err


def test_another_file_is_no_input(folder: Path) -> None:
    output = admitted(folder / "base.pdf", True, (folder / "spec.toml", folder / "missing.toml"))
    output.spare(folder / "front.svg")
    with pytest.raises(CannotWriteError, match=r"base\.pdf is the input itself; choose"):
        output.spare(folder / "base.pdf")
