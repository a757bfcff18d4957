"""The centre of a drawn half is told by one rule, for the picture of its edge and for a band cut to its shape."""

from __future__ import annotations

from math import pi

import pytest

from tests.draft.test_plan import plan
from tiler.curves import Affine, Curve, EllipseArc
from tiler.draft.compute import figure_job
from tiler.draft.edge.from_drawing import Source
from tiler.draft.sections.strips import strips_of
from tiler.draft.spec.read import read_tables
from tiler.errors import SpecError


def half(width: float, depth: float) -> Curve:
    """Return a quarter of an ellipse from its centre to the shoulder, drawn upright."""
    return Curve.through([EllipseArc(0j, width + 0j, depth * 1j, -pi / 2, pi / 2)])


def on_its_side(curve: Curve) -> Curve:
    """Return a curve as on a pattern piece that is laid along the paper, turned by a quarter."""
    return curve.mapped(Affine(0.0, -1.0, 1.0, 0.0))


def shaped(front: Curve, back: Curve) -> list[float]:
    """Return how wide and how deep the seam line of either half lies in a contour band, mm."""
    found = {"front": front, "back": back}

    def find(source: Source) -> Curve:
        return found[source.ids[0]]

    edge = {"kind": "neckline", **{f"{name}-half": {"svg": "a.svg", "id": name} for name in found}}
    piece = {"name": "Band", "finish": "folded-band", "form": "contour", "finished-width": "1 cm", "edge": edge}
    figures = figure_job(read_tables({"title": "t", "units": "cm", "pieces": [piece]}, "t.toml", find))
    shapes = [one.shape for one in strips_of(figures) if one.shape]
    return [abs(shape.sewn[-1][axis] - shape.sewn[0][axis]) for shape in shapes for axis in (0, 1)]


@pytest.mark.parametrize("backwards", [False, True])
def test_upright_halves_lie_as_they_are_drawn(backwards: bool) -> None:
    curves = [one.reversed() if backwards else one for one in (half(90, 120), half(90, 60))]
    assert shaped(*curves) == pytest.approx([90, 120, 90, 60], abs=0.01)
    front, back = plan(*curves).halves
    assert (front.points[0], back.points[0]) == (pytest.approx(-120j, abs=0.2), pytest.approx(-60j, abs=0.2))


@pytest.mark.parametrize("backwards", [False, True])
def test_a_half_on_its_side_is_not_taken_for_one_that_is_as_deep_as_it_is_wide(backwards: bool) -> None:
    front, back = on_its_side(half(90, 120)), half(90, 60)
    front = front.reversed() if backwards else front
    # its shoulder is the level end: folded there it would be 120 mm wide, and its CF would lie at the shoulder
    with pytest.raises(SpecError, match=r"front-half: as drawn the front half leaves the centre 90° off the square"):
        shaped(front, back)
    assert plan(front, back).halves[0].points[0] == pytest.approx(-120j, abs=0.2)


def test_halves_that_would_meet_by_chance_stay_as_they_are_drawn() -> None:
    # the back is 4 mm wider; the other way round the front would be 92 mm wide
    front, back = half(90, 92), half(94, 60)
    assert shaped(front, back) == pytest.approx([90, 92, 94, 60], abs=0.01)
    assert plan(front, back).halves == ()
