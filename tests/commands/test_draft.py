"""``tiler draft`` from the command line: what it writes, what it refuses, and what it leaves alone."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.chosen import long
from tests.specs import CUTS, FINISHES, piece, spec, straight, written
from tiler.commands import run
from tiler.proof import prove

EXAMPLES = Path(__file__).parents[2] / "examples"
CREW = EXAMPLES / "saltmarsh-crew.toml"


@long
def test_a_drafted_file_is_true_to_scale(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "crew.pdf"
    assert run(["draft", str(CREW), "-o", str(out)]) == 0
    assert "proved true to scale" in capsys.readouterr().out
    assert prove(out).verdict == "true-to-scale"
    assert list(tmp_path.iterdir()) == [out]


@long
@pytest.mark.parametrize("paper", ["letter", "a4", "letter-a4", "legal", "tabloid", "a3", "one-sheet"])
def test_every_paper_is_drafted_and_proved(tmp_path: Path, paper: str) -> None:
    long = written(spec(piece("Hem", "1 in", straight("45 in"), cut="full-loop")), tmp_path)
    assert run(["draft", str(long), "-o", str(tmp_path / "out.pdf"), "--paper", paper]) == 0


def test_the_command_line_wins_over_the_spec(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "out.pdf"
    words = ["draft", str(CREW), "-o", str(out), "--paper", "a4", "--margin", "12 mm", "--overlap", "1/2 in", "--json"]
    assert run([*words, "--no-cover"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["paper"], told["proof"]["verdict"]) == ("a4", "true-to-scale")
    assert told["pieces"][0]["name"] == "Neckband"
    assert told["file"] == told["proof"]["file"] == str(out)


@long
def test_two_runs_give_the_same_bytes(tmp_path: Path) -> None:
    """This test ensures it for another process, whose sets are in another order, too."""
    here, elsewhere = tmp_path / "a.pdf", tmp_path / "b.pdf"
    assert run(["draft", str(CREW), "-o", str(here)]) == 0
    seed = "5" if os.environ.get("PYTHONHASHSEED") != "5" else "6"
    command = [sys.executable, "-m", "tiler", "draft", str(CREW), "-o", str(elsewhere)]
    subprocess.run(command, check=True, env=os.environ | {"PYTHONHASHSEED": seed}, capture_output=True)
    assert here.read_bytes() == elsewhere.read_bytes()


def refused(arguments: list[str], code: int, words: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(arguments) == code
    told = capsys.readouterr()
    assert words in told.err
    assert len(told.err.strip().splitlines()) == 1
    assert told.out == ""


def test_an_existing_output_is_kept_until_force(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "crew.pdf"
    out.write_bytes(b"mine")
    refused(["draft", str(CREW), "-o", str(out)], 7, "--force", capsys)
    assert out.read_bytes() == b"mine"
    assert run(["draft", str(CREW), "-o", str(out), "--force"]) == 0
    assert out.read_bytes().startswith(b"%PDF-1.7")


def test_the_spec_is_never_overwritten(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spec = tmp_path / "crew.toml"
    spec.write_bytes(CREW.read_bytes())
    refused(["draft", str(spec), "-o", str(spec), "--force"], 7, "input itself", capsys)
    assert spec.read_bytes() == CREW.read_bytes()


def test_a_missing_folder_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    refused(["draft", str(CREW), "-o", str(tmp_path / "no" / "crew.pdf")], 7, "does not exist", capsys)


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--overlap", "7 mm"], "register mark plus 2 mm"),
        (["--margin", "90 mm"], "smaller margins"),
        (["--overlap", "1,5 cm"], "write 1.5 cm"),
        (["--margin=-3 mm"], "--margin"),
        (["--paper", "a5"], "letter"),
    ],
)
def test_options_that_make_no_page_are_refused(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], options: list[str], words: str
) -> None:
    refused(["draft", str(CREW), "-o", str(tmp_path / "x.pdf"), *options], 2, words, capsys)
    assert not list(tmp_path.iterdir())


def test_a_file_that_fails_its_own_proof_is_not_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The writer is made to draw every strip 0.5 % short; the proof in the same process must stop it."""
    from tiler.sheets.canvas import Canvas

    true_stroke = Canvas.stroke

    def short(self: Canvas, subpaths, weight, dash=()):  # type: ignore[no-untyped-def]
        true_stroke(self, [tuple((x * 0.995, y) for x, y in path) for path in subpaths], weight, dash)

    monkeypatch.setattr(Canvas, "stroke", short)
    out = tmp_path / "crew.pdf"
    out.write_bytes(b"the good old one")
    refused(["draft", str(CREW), "-o", str(out), "--force"], 8, "failed its own proof", capsys)
    assert out.read_bytes() == b"the good old one"
    assert list(tmp_path.iterdir()) == [out]


def test_a_name_that_ends_in_svg_gives_a_drawing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "crew.SVG"
    assert run(["draft", str(CREW), "-o", str(out)]) == 0
    assert "crew.SVG: a drawing of 270 × 152 mm, proved true to scale" in capsys.readouterr().out
    assert out.read_bytes().startswith(b"<?xml")
    assert list(tmp_path.iterdir()) == [out]
    assert run(["draft", str(CREW), "-o", str(out), "--force", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["pages"], told["arrangement"], told["proof"]["verdict"]) == (1, None, "true-to-scale")


@pytest.mark.parametrize(
    "options",
    [
        ["--paper", "a4"],
        ["--margin", "12 mm"],
        ["--overlap", "12 mm"],
        ["--arrange", "grid"],
        ["--no-cover"],
        ["--projector"],
    ],
)
def test_a_drawing_takes_no_wishes_about_pages(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], options: list[str]
) -> None:
    words = f"{options[0]}: is about printed pages, and an SVG has none"
    refused(["draft", str(CREW), "-o", str(tmp_path / "crew.svg"), *options], 2, words, capsys)
    if options[0] not in ("--arrange", "--no-cover", "--projector"):
        band = ["band", "--kind", "straight", "--edge", "20 in", "--finished-width", "1/2 in"]
        refused([*band, "-o", str(tmp_path / "band.svg"), *options], 2, words, capsys)
    assert not list(tmp_path.iterdir())


def test_a_band_is_drawn_without_a_spec(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = tmp_path / "band.svg"
    band = ["band", "--kind", "straight", "--edge", "20 in", "--finished-width", "1/2 in"]
    assert run([*band, "-o", str(out), "--roll", "8 in"]) == 0
    assert "band.svg: a drawing of" in capsys.readouterr().out
    assert out.read_bytes().startswith(b"<?xml")


def test_another_ending_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    refused(["draft", str(CREW), "-o", str(tmp_path / "crew.png")], 7, "ends in .pdf or .svg", capsys)


def test_a_drawing_that_fails_its_own_proof_is_not_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The writer is made to leave out every notch; what stood there stays."""
    from tiler.sheets.svg import document

    whole = document.svg
    monkeypatch.setattr(
        document, "svg", lambda declared: re.sub(rb'(class="Notch"[^>]*>)\s*<path[^>]*>', rb"\1", whole(declared))
    )
    out = tmp_path / "crew.svg"
    out.write_bytes(b"the good old one")
    refused(["draft", str(CREW), "-o", str(out), "--force"], 8, "failed its own proof", capsys)
    assert out.read_bytes() == b"the good old one"
    assert list(tmp_path.iterdir()) == [out]


@long
def test_many_mixed_pieces_are_drafted_and_proved(tmp_path: Path) -> None:
    """Dense pages, where words, rules and lines lie close together, raise no false alarm."""
    pieces = [
        piece(
            f"Piece {k}",
            ("1/4 in", "3/8 in", "1/2 in")[k % 3],
            straight(f"{14 + 7 * k % 31} in"),
            FINISHES[k % 4],
            cut=CUTS[k // 2 % 2],
        )
        for k in range(6)
    ]
    many = written(spec(*pieces), tmp_path)
    assert run(["draft", str(many), "-o", str(tmp_path / "many.pdf")]) == 0
