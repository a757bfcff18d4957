"""Buttonholes are proved like every other mark: one that is moved, turned away, lost or doubled fails."""

from __future__ import annotations

import pytest

from tests.proof import faults as f
from tests.proof.conftest import proved
from tests.sheets.jobs import drawn_once
from tests.specs import piece, spec, straight
from tiler.proof import prove
from tiler.usecases.draft import Wishes

BUTTONS = {"count": 2, "first": "1 in", "last": "1 in", "diameter": "1/2 in"}
TAB = spec(piece("Tab", "1 in", straight("5 in"), closed=False, buttons=BUTTONS, ratio="100 %"))
ONE = Wishes(cover=False)


def test_a_band_with_buttonholes_is_true_to_scale() -> None:
    assert prove(drawn_once(TAB, ONE).data).verdict == "true-to-scale"


@pytest.mark.parametrize(
    ("how", "check"),
    [
        (f.by(f.moved(0.3)), "piece"),
        (f.by(f.moved(0.0, -0.3)), "piece"),
        (f.by(f.scaled(0.98)), "piece"),
        (f.removed, "piece"),
        (f.copied(f.moved(0.0, 6.0)), "stray"),
    ],
)
def test_a_fault_of_a_buttonhole_is_found(how: object, check: str) -> None:
    report = proved(drawn_once(TAB, ONE), f.alter_in_piece("Buttonhole", 1, how, 1))  # type: ignore[arg-type]
    assert report.verdict == "incomplete"
    assert check in {one.name for one in report.checks if one.status == "fail"}
