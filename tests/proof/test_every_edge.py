"""Every kind of edge is proved by what it draws: its page passes as it is, and fails with one of its lines at fault.

The lines of buttonholes, contours and sections have tests of their own beside this one.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from tests.chosen import long
from tests.proof import faults as f
from tests.proof.conftest import proved
from tests.sheets.jobs import drawn_once
from tests.usecases.every_edge import KINDS, text_of
from tiler.proof import prove
from tiler.usecases.draft import Wishes

ONE = Wishes(cover=False)

FAULTS: dict[str, tuple[str, int, Callable[..., Any]]] = {
    # the mark between sleeve and half back; the two cuts of a double notch come last
    "parts": ("Notch", 2, f.by(f.moved(0.3))),
    "stand-up": ("PressLine", 0, f.by(f.moved(0.0, 0.3))),
    "turned-over": ("PressLine", 0, f.removed),
    "open": ("JoinLine", 0, f.by(f.moved(0.3))),
    "buttons": ("Buttonhole", 2, f.by(f.moved(0.3))),
    "running on": ("Notch", 2, f.by(f.moved(0.3))),
    "contour": ("CutLine", 0, f.by(f.scaled(0.998))),
    "sections": ("JoinLine", 0, f.by(f.moved(0.3))),
    "leg": ("Notch", 0, f.removed),
    "casing": ("PressLine", 0, f.by(f.moved(0.0, -0.3))),
    "bias": ("CutLine", 0, f.by(f.sheared(0.01))),
}


@long
@pytest.mark.parametrize("kind", FAULTS)
def test_its_page_passes_and_a_line_of_it_at_fault_does_not(kind: str) -> None:
    document = drawn_once(text_of(kind), ONE)
    assert prove(document.data).verdict == "true-to-scale"
    tag, number, how = FAULTS[kind]
    report = proved(document, f.alter_in_piece(tag, number, how, 1))
    assert report.verdict == "incomplete"
    assert {one.name for one in report.checks if one.status == "fail"} & {"piece", "notch", "fold", "ink", "outline"}


def test_every_kind_that_is_drawn_is_proved() -> None:
    assert set(FAULTS) == set(KINDS) - {"fold-over elastic"}
