"""The recipes of DEVELOPERS.md work: what they say is done to a copy of the source, which then drafts and verifies."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).parent.parent


class Copy:
    """A copy of the source to which a recipe is applied."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        for name in ("tiler", "fonts"):
            shutil.copytree(ROOT / name, folder / name, ignore=shutil.ignore_patterns("__pycache__"))

    def put(self, module: str, after: str, lines: str) -> None:
        """Put lines into a module of ``tiler`` after the one line that reads ``after``."""
        path = self.folder / "tiler" / module
        text = path.read_text(encoding="utf-8")
        assert text.count(f"{after}\n") == 1, f"{module} has no one line {after!r}"
        path.write_text(text.replace(f"{after}\n", f"{after}\n{lines}\n"), encoding="utf-8")

    def run(self, *arguments: object) -> str:
        """Run the command line of the copy and return what it prints."""
        done = subprocess.run(
            [sys.executable, "-m", "tiler", *map(str, arguments)],
            cwd=self.folder,
            env={**os.environ, "PYTHONPATH": str(self.folder)},
            capture_output=True,
            text=True,
            check=False,
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def verified(self, pdf: Path) -> dict[str, Any]:
        """Return the report on a file that the copy has drafted."""
        report: dict[str, Any] = json.loads(self.run("verify", pdf, "--json"))
        return report


SPEC = """
title = "By a recipe"
units = "cm"
[fabrics.rib]
stretch = "60 %"
[[pieces]]
name = "Cuff"
finish = "{finish}"
finished-width = "2 cm"
fabric = "rib"
edge = {{ kind = "straight", whole = "40 cm" }}
"""


@pytest.mark.parametrize("tray", [True, False])
def test_a_paper_is_one_row(tmp_path: Path, tray: bool) -> None:
    copy = Copy(tmp_path / "copy")
    # ISO 216:2007, B series
    copy.put("paper.py", "PAPERS = {", f'    "b4": Paper("B4", Fraction(250), Fraction(353), has_tray={tray}),')
    spec, pdf = tmp_path / "cuff.toml", tmp_path / "cuff.pdf"
    spec.write_text(SPEC.format(finish="folded-band") + '[paper]\nsize = "b4"\n', encoding="utf-8")
    assert " of B4 (" in copy.run("draft", spec, "-o", pdf)
    report = copy.verified(pdf)
    assert report["verdict"] == "true-to-scale"
    assert [check for check in report["checks"] if check["status"] != "pass"] == []
    assert (b"/PickTrayByPDFSize true" in pdf.read_bytes()) is tray
    for command, name in (("chart", "chart.pdf"), ("instructions", "steps.pdf")):
        copy.run(command, spec, "-o", tmp_path / name, "--paper", "b4")


ROW = """
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


def test_a_finish_is_one_row_and_its_instruction_page(tmp_path: Path) -> None:
    copy = Copy(tmp_path / "copy")
    copy.put("draft/strip/finish.py", "        return member", ROW)
    case = "        case Finish.SINGLE_BAND:"
    sections = "return (ring(), pinned(garment_layer(BAND_SEAM), strip_layer(Run(BAND_SEAM, P).to(-16.0)), BAND_SEAM))"
    copy.put("sheets/sewing/folds.py", "    match finish:", f"{case}\n            {sections}")
    found = 'found = (_pin("the edge that is sewn first"),)'
    copy.put("sheets/sewing/words.py", "    match page.finish:", f"{case}\n            {found}")
    spec, pdf = tmp_path / "cuff.toml", tmp_path / "cuff.pdf"
    spec.write_text(SPEC.format(finish="single-band"), encoding="utf-8")
    (cuff,) = json.loads(copy.run("figures", spec, "--json"))["pieces"]
    # seam allowance 1/4 in unless given
    assert cuff["cut_width_mm"] == pytest.approx(20 + 6.35)
    assert cuff["ratio"]["usual"] == 0.95
    assert "single band" in copy.run("figures", spec)
    assert "proved true to scale" in copy.run("draft", spec, "-o", pdf)
    report = copy.verified(pdf)
    assert report["verdict"] == "true-to-scale"
    assert [check for check in report["checks"] if check["status"] != "pass"] == []
    assert ": single band." in copy.run("instructions", spec, "-o", tmp_path / "steps.pdf")


def test_the_ends_of_an_added_finish_are_slanted_by_its_profile(tmp_path: Path) -> None:
    copy = Copy(tmp_path / "copy")
    copy.put("draft/strip/finish.py", "        return member", ROW)
    spec, pdf = tmp_path / "vee.toml", tmp_path / "vee.pdf"
    edge = 'kind = "neckline", front-half = "24 cm", back-half = "9 cm", corners = [100]'
    text = SPEC.format(finish="single-band").replace('kind = "straight", whole = "40 cm"', edge)
    spec.write_text(f'{text}corner = "mitre"\n', encoding="utf-8")
    copy.run("draft", spec, "-o", pdf)
    assert copy.verified(pdf)["verdict"] == "true-to-scale"
