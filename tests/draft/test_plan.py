"""The edge as it lies: a neckline that is drawn lies as the same one that is described, whichever way it is drawn."""

from __future__ import annotations

from itertools import product

import pytest

from tiler.curves import Curve, EllipseArc
from tiler.draft.compute import figure_job
from tiler.draft.edge.from_drawing import Source
from tiler.draft.edge.shape import Outline, Shape, halves
from tiler.draft.plan import Plan, plan_of
from tiler.draft.spec.read import read_tables

SCOOP = Outline(Shape.SCOOP, 180, 100, 25)


def plan(front: Curve, back: Curve) -> Plan:
    found = {"front.svg": front, "back.svg": back}
    edge = {"kind": "neckline", "front-half": {"svg": "front.svg"}, "back-half": {"svg": "back.svg"}}
    piece = {"name": "Band", "finish": "folded-band", "finished-width": "1 cm", "edge": edge}

    def find(source: Source) -> Curve:
        return found[source.file]

    job = read_tables({"title": "t", "units": "cm", "pieces": [piece]}, "t.toml", find)
    (figures,) = figure_job(job)
    return plan_of(job.pieces[0], figures, "cm")


@pytest.mark.parametrize("ways", list(product((False, True), repeat=2)))
def test_drawn_halves_lie_as_described_ones_whichever_way_they_run(ways: tuple[bool, bool]) -> None:
    curves = [half.reversed() if way else half for half, way in zip(halves(SCOOP, 20), ways, strict=True)]
    lies = plan(*curves)
    front, back = lies.halves
    assert (front.centre, back.centre) == ("CF", "CB")
    assert front.points[0] == pytest.approx(-100j, abs=0.2)
    assert front.points[-1] == pytest.approx(90, abs=0.2)
    assert back.points[0] == pytest.approx(-25j, abs=0.2)
    assert back.points[-1] == pytest.approx(90, abs=0.2)


def test_drawn_halves_that_do_not_meet_are_of_no_known_shape() -> None:
    front, _ = halves(SCOOP, 20)
    _, back = halves(Outline(Shape.SCOOP, 120, 100, 25), 20)
    assert plan(front, back).halves == ()


def test_drawn_halves_that_meet_in_two_ways_lie_as_they_are_drawn() -> None:
    # quarters of ellipses that are as deep as wide the other way round
    quarter = Curve.through([EllipseArc(0j, 90 + 0j, 60j, -1.5707963267948966, 1.5707963267948966)])
    front, back = plan(quarter, quarter.reversed()).halves
    assert front.points[0] == pytest.approx(-60j, abs=0.2)
    assert back.points[-1] == pytest.approx(90, abs=0.2)


def test_a_quarter_of_a_circle_is_the_same_either_way() -> None:
    quarter = Curve.through([EllipseArc(0j, 90 + 0j, 90j, -1.5707963267948966, 1.5707963267948966)])
    front, back = plan(quarter, quarter).halves
    assert front.points[0] == pytest.approx(-90j, abs=0.2)
    assert back.points[-1] == pytest.approx(90, abs=0.2)
