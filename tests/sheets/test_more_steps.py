"""The steps of the other edges stand on their instruction pages, each with its section, and what does not apply does not."""

from __future__ import annotations

import pytest

from tests.sheets.test_steps import EXAMPLES, of_spec
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.words import steps

BY_NAME = {path.stem.removeprefix("saltmarsh-"): path for path in EXAMPLES}


@pytest.mark.parametrize(
    ("example", "ends", "there", "gone"),
    [
        ("collar", "stands up", "It now stands 1¾ in (4.4 cm) high", "Turn it over"),
        ("collar", "turned over", "Turn it over", "It is now"),
        ("raglan", "", "Pin the end seam and every notch", "Turn in the ends"),
        ("swim", "with elastic", "Draw the elastic in", "Between the pins the strip is shorter"),
        ("cardigan", "open, ends turned in", "Work the buttonholes", "Close the strip"),
        ("cardigan", "open, ends caught in seams", "Pin both ends and every notch", "Turn in the ends"),
        ("halter", "open, ends turned in, with free lengths", "Sew the free lengths", "Close the strip"),
        ("shell", "on the bias", "the slanted ends even", "the strip not twisted"),
    ],
)
def test_an_edge_has_its_own_steps(example: str, ends: str, there: str, gone: str) -> None:
    page = next(page for page in of_spec(BY_NAME[example]) if page.ends == ends)
    said = " ".join(f"{step.name}. {step.text}" for step in steps(page))
    assert there in said
    assert gone not in said
    drawn = sections(
        page.finish, page.in_ditch, page.corner, page.standing, page.casing, page.ends_are, page.buttoned, page.runs_on
    )
    assert len(drawn) == len(steps(page))
