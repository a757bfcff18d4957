"""The recipes of DEVELOPERS.md work: what they say is done to a copy of the source, which then drafts and verifies."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import Any, NamedTuple

import pytest

from tests.chosen import long
from tests.specs import neckline, piece, spec, straight, written

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
            env={**os.environ, "PYTHONPATH": f"{self.folder}{os.pathsep}{ROOT}", "PYTHONIOENCODING": "utf-8"},
            capture_output=True,
            encoding="utf-8",
            check=False,
        )
        assert done.returncode == 0, done.stderr
        printed = done.stdout.split("\f")
        assert printed.pop() == ""
        return printed


RUN_ALL = """
import json, os, subprocess, sys
from tiler.commands import run
from tiler.usecases.processes import apart
assert apart.__file__.startswith(os.getcwd())
if hasattr(os, "fork"):
    from tests.forked import Processes
    apart.subprocess = Processes(subprocess.__name__)
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
            return (ring(), pinned(strip_layer(Run(BAND_SEAM, P).to(-16.0)), BAND_SEAM))"""

STEPS = """        case Finish.SINGLE_BAND:
            return (*begin, pin(page, both_edges=False))"""


ADDED = ("b4", "b4-roll")


class Told(NamedTuple):
    """What the copy has printed, by command and what it was about, and the folder in which its files lie."""

    folder: Path
    printed: dict[tuple[str, str], str]


@pytest.fixture(scope="module")
def told(tmp_path_factory: pytest.TempPathFactory) -> Told:
    """Give what a copy prints to which papers and a finish are added; it takes a while to start, so it is once."""
    copy, folder = Copy(tmp_path_factory.mktemp("recipes")), tmp_path_factory.mktemp("made")
    copy.put("paper.py", "PAPERS = {", PAPERS)
    copy.put("draft/strip/finish.py", "        return member", FINISH)
    copy.put("sheets/sewing/folds.py", "    match finish:", SECTIONS)
    copy.put("sheets/sewing/words.py", "    match page.finish:", STEPS)
    vee = piece("Vee", "2 cm", neckline("24 cm", "9 cm", corners=[100]), "single-band", corner="mitre")
    specs = {paper: cuff("folded-band", paper={"size": paper}) for paper in ADDED}
    specs |= {"band": cuff("single-band"), "vee": spec(vee, units="cm")}
    toml = {name: written(text, folder, f"{name}.toml") for name, text in specs.items()}
    calls: dict[tuple[str, str], Sequence[object]] = {
        **{("draft", name): (toml[name], "-o", folder / f"{name}.pdf") for name in (*ADDED, "vee")},
        **{("chart", name): (toml[name], "-o", folder / f"{name}-chart.pdf", "--paper", name) for name in ADDED},
        ("draft", "band"): (toml["band"], "-o", folder / "band.pdf", "--json"),
        ("instructions", "band"): (toml["band"], "-o", folder / "band-steps.pdf"),
        **{("verify", name): (folder / f"{name}.pdf", "--json") for name in (*ADDED, "band")},
    }
    printed = copy.run(*((name, *words) for (name, _), words in calls.items()))
    return Told(folder, dict(zip(calls, printed, strict=True)))


@long
@pytest.mark.parametrize(("paper", "words", "tray"), [("b4", "B4", True), ("b4-roll", "B4 from a roll", False)])
def test_a_paper_is_one_row(told: Told, paper: str, words: str, tray: bool) -> None:
    assert f" of {words} (" in told.printed["draft", paper]
    hold_proved(told.printed["verify", paper])
    assert (b"/PickTrayByPDFSize true" in (told.folder / f"{paper}.pdf").read_bytes()) is tray
    assert (told.folder / f"{paper}-chart.pdf").exists()


@long
def test_a_finish_is_one_row_and_its_instruction_page(told: Told) -> None:
    (made,) = json.loads(told.printed["draft", "band"])["pieces"]
    # the seam allowance is 1/4 in unless given
    assert made["cut_width_mm"] == pytest.approx(20 + 6.35)
    assert made["ratio"]["usual"] == 0.95
    hold_proved(told.printed["verify", "band"])
    assert ": single band." in told.printed["instructions", "band"]


def test_the_ends_of_an_added_finish_are_slanted_by_its_profile(told: Told) -> None:
    assert "proved true to scale" in told.printed["draft", "vee"]
