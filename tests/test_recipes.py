"""The recipes of DEVELOPERS.md work: what they say is done to a copy of the source, which then drafts and verifies."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from tests.specs import neckline, piece, spec, straight

ROOT = Path(__file__).parent.parent


class Copy:
    """A copy of the source to which a recipe is applied."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        for name in ("tiler", "fonts"):
            # what is compiled comes along, but for what is just being written
            shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("*.pyc.*"))

    def put(self, module: str, after: str, lines: str) -> None:
        """Put lines into a module of ``tiler`` after the one line that reads ``after``."""
        path = self.folder / "tiler" / module
        text = path.read_text(encoding="utf-8")
        assert text.count(f"{after}\n") == 1, f"{module} has no one line {after!r}"
        path.write_text(text.replace(f"{after}\n", f"{after}\n{lines}\n"), encoding="utf-8")

    def run(self, *commands: Sequence[object]) -> list[str]:
        """Run command lines of the copy, in one process that is new, and return what each prints."""
        lines = json.dumps([[str(word) for word in command] for command in commands])
        done = subprocess.run(
            [sys.executable, "-c", RUN_ALL, lines],
            cwd=self.folder,
            env={**os.environ, "PYTHONPATH": str(self.folder), "PYTHONIOENCODING": "utf-8"},
            capture_output=True,
            encoding="utf-8",
            check=False,
        )
        assert done.returncode == 0, done.stderr
        printed = done.stdout.split("\f")
        assert printed.pop() == ""
        return printed


RUN_ALL = """
import json, sys
from tiler.commands import run
for line in json.loads(sys.argv[1]):
    code = run(line)
    print(end="\\f")
    if code:
        sys.exit(int(code))
"""


def hold_proved(printed: str) -> None:
    """Hold that ``verify --json`` finds nothing wrong with a file, and nothing doubtful."""
    report = json.loads(printed)
    assert report["verdict"] == "true-to-scale"
    assert [check for check in report["checks"] if check["status"] != "pass"] == []


def cuff(finish: str, **keys: Any) -> str:
    """Return the spec of a cuff."""
    return spec(piece("Cuff", "2 cm", straight("40 cm"), finish, fabric="rib"), units="cm", fabrics=RIB, **keys)


RIB = {"rib": "60 %"}

PAPERS = """    "b4": Paper("B4", Fraction(250), Fraction(353)),
    "b4-roll": Paper("B4 from a roll", Fraction(250), Fraction(353), has_tray=False),"""
"""ISO 216:2007, B series; with a tray and without."""

FINISH = """
    SINGLE_BAND = (
        "single-band",
        Making(
            words="single band",
            hint="one layer, its free edge left raw",
            is_band=True,
            times=1,
            more=lambda extra: extra.seam,
            press=lambda _: (),
            inside=lambda strip: ((0.0, -strip.seam), (strip.cut, strip.w)),
            usual_ratio=0.95,
        ),
    )"""
"""A band of one layer, sewn at s and not folded, is cut w + s wide: geometry."""

SECTIONS = """        case Finish.SINGLE_BAND:
            return (ring(), pinned(garment_layer(BAND_SEAM), strip_layer(Run(BAND_SEAM, P).to(-16.0)), BAND_SEAM))"""

STEPS = """        case Finish.SINGLE_BAND:
            return (close, _pin(page, "the edge that is sewn first"))"""


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Copy:
    """A copy to which papers and a finish are added."""
    made = Copy(tmp_path_factory.mktemp("recipes"))
    made.put("paper.py", "PAPERS = {", PAPERS)
    made.put("draft/strip/finish.py", "        return member", FINISH)
    made.put("sheets/sewing/folds.py", "    match finish:", SECTIONS)
    made.put("sheets/sewing/words.py", "    match page.finish:", STEPS)
    return made


@pytest.mark.parametrize(("paper", "words", "tray"), [("b4", "B4", True), ("b4-roll", "B4 from a roll", False)])
def test_a_paper_is_one_row(copy: Copy, tmp_path: Path, paper: str, words: str, tray: bool) -> None:
    toml, pdf = tmp_path / "cuff.toml", tmp_path / "cuff.pdf"
    toml.write_text(cuff("folded-band", paper={"size": paper}), encoding="utf-8")
    drafted, report, _ = copy.run(
        ("draft", toml, "-o", pdf),
        ("verify", pdf, "--json"),
        ("chart", toml, "-o", tmp_path / "chart.pdf", "--paper", paper),
    )
    assert f" of {words} (" in drafted
    hold_proved(report)
    assert (b"/PickTrayByPDFSize true" in pdf.read_bytes()) is tray


def test_a_finish_is_one_row_and_its_instruction_page(copy: Copy, tmp_path: Path) -> None:
    toml, pdf = tmp_path / "cuff.toml", tmp_path / "cuff.pdf"
    toml.write_text(cuff("single-band"), encoding="utf-8")
    drafted, report, instructions = copy.run(
        ("draft", toml, "-o", pdf, "--json"),
        ("verify", pdf, "--json"),
        ("instructions", toml, "-o", tmp_path / "steps.pdf"),
    )
    (made,) = json.loads(drafted)["pieces"]
    # the seam allowance is 1/4 in unless given
    assert made["cut_width_mm"] == pytest.approx(20 + 6.35)
    assert made["ratio"]["usual"] == 0.95
    hold_proved(report)
    assert ": single band." in instructions


def test_the_ends_of_an_added_finish_are_slanted_by_its_profile(copy: Copy, tmp_path: Path) -> None:
    toml, pdf = tmp_path / "vee.toml", tmp_path / "vee.pdf"
    edge = neckline("24 cm", "9 cm", corners=[100])
    toml.write_text(spec(piece("Vee", "2 cm", edge, "single-band", corner="mitre"), units="cm"), encoding="utf-8")
    (drafted,) = copy.run(("draft", toml, "-o", pdf))
    assert "proved true to scale" in drafted
