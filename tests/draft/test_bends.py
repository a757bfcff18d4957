"""This checks where a strip is said to bend too much, and that a simulation apart from it finds the same."""

from cmath import rect
from collections.abc import Sequence
from itertools import pairwise
from math import acos, atan2, cos, hypot, pi, radians, sin, tan

import pytest

from tests.chosen import long
from tests.specs import neckline, piece, shaped, spec
from tiler.draft.compute import figure_job

SLOPE = 20.0
Points = list[tuple[float, float]]


@pytest.fixture
def scoop(read):
    """Give the figures of a band on a described neckline, cm, of rib that stretches by 70 %."""

    def scoop_of(neck, front, back, width, shape="scoop", stretch="70 %", **keys):
        band = piece("Band", width, shaped(shape, neck, front, back), fabric="rib", **keys)
        return figure_job(read(spec(band, units="cm", fabrics={"rib": stretch})))[0]

    return scoop_of


def bent(figures):
    return [text for text in figures.warnings if text.startswith("Bends too much")]


# The simulation: the seam line as a closed chain of short straight pieces, drawn from the published formulas
# of the shapes; turning is the sum of its exterior angles, length the sum of its pieces.


def half_scoop(n: float, d: float, count: int = 500) -> Points:
    """Give half of a scoop from its centre to the neck point, mm."""
    drop = d * tan(radians(SLOPE))
    k = acos(1 / (n / drop - 1)) if n > 2 * drop else pi / 2
    a, b = n / sin(k), d / (1 - cos(k))
    # steps that are finer towards the neck point, where a flat scoop bends most
    shares = [1 - (1 - i / count) ** 2 for i in range(count + 1)]
    return [(a * sin(k * s), -d + b * (1 - cos(k * s))) for s in shares]


def square_front(n: float, d: float) -> Points:
    return [
        (0.0, -d),
        *((n * i / 50, -d) for i in range(1, 50)),
        (n, -d),
        *((n, -d + d * i / 50) for i in range(1, 51)),
    ]


def around(front: Points, back: Points) -> tuple[list[float], list[float]]:
    """Give the pieces of the whole seam line and the angle after each: flat, the shoulders sewn together."""

    def pieces(half):
        return [(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(half)]

    def turned(vectors):
        angles = [atan2(y, x) for x, y in vectors]
        return [after - before for before, after in pairwise(angles)]

    fore, aft = pieces(front), pieces(back)
    lean = sum(pi / 2 - atan2(vectors[-1][1], vectors[-1][0]) for vectors in (fore, aft))
    shoulder = lean - 2 * radians(SLOPE)
    centres = [2 * atan2(vectors[0][1], vectors[0][0]) for vectors in (fore, aft)]
    lengths = [hypot(*one) for one in (*fore, *reversed(aft), *aft, *reversed(fore))]
    f, b = turned(fore), turned(aft)
    angles = [*f, shoulder, *reversed(b), centres[1], *b, shoulder, *reversed(f), centres[0]]
    return lengths, angles


def worst(lengths: Sequence[float], angles: Sequence[float], width: float, ratio: float) -> float:
    """Slide a window over the chain and give how far the strip's ratio lies above 1 - w turn / a at most."""
    edge = sum(lengths)
    reach = min(max(6 * width, 80.0), edge)
    ends, turned, at, turn = [], [], 0.0, 0.0
    for length, angle in zip([*lengths, *lengths], [*angles, *angles], strict=True):
        at += length
        # a sharp corner counts as twice the tangent of its half, a small angle as itself
        turn += 2 * tan(angle / 2)
        ends.append(at)
        turned.append(turn)
    most, last = -1.0, 0
    for first in range(len(lengths)):
        while last + 1 < len(ends) and ends[last + 1] <= ends[first] + reach:
            last += 1
        # the corner at either end of the window belongs to it
        before = turned[first - 1] if first else 0.0
        most = max(most, ratio - (1 - width * (turned[last] - before) / reach))
    return most


def test_the_simulation_knows_a_circle():
    # closed form: a circle of 100 mm turns by 1 / 100 a millimetre, so a 10 mm strip lies flat up to 0.9 everywhere
    count = 720
    lengths, angles = [2 * pi * 100 / count] * count, [2 * pi / count] * count
    assert worst(lengths, angles, 10.0, 0.95) == pytest.approx(0.05, abs=2e-3)


@pytest.mark.parametrize(("neck", "front", "back", "width"), [(16, 8, 4, 1), (18, 12, 3, 1), (20, 10, 5, 1.5)])
def test_a_flat_strip_laid_on_the_drawn_line_is_under_two_percent_of_tension(scoop, neck, front, back, width):
    """Half of the seam line in the plane, the back turned over so that the shoulder is sewn; no formula for W.

    The scoops bend nowhere more tightly than the strip is wide, so that the finished edge has no loops.
    """
    n, w = 5.0 * neck, 10.0 * width
    fore, aft = ([complex(*point) for point in half_scoop(n, 10.0 * depth)] for depth in (front, back))
    # the back is mirrored at the shoulder seam, which runs from the neck point n downwards
    mirror = rect(1.0, -2 * radians(SLOPE))
    chain = [*fore, *(n + mirror * (point - n).conjugate() for point in aft[-2::-1])]
    strip = scoop(neck, front, back, width, ratio="flat")
    assert sum(abs(b - a) for a, b in pairwise(chain)) == pytest.approx(strip.edge.edge_mm / 2, rel=1e-5)
    # the finished edge lies w inside the middle of each piece, and squarely before both centres
    ways = [b - a for a, b in pairwise(chain)]
    inside = [(a + b) / 2 + w * 1j * way / abs(way) for (a, b), way in zip(pairwise(chain), ways, strict=True)]
    inside = [chain[0] + w * 1j, *inside, chain[-1] + w * 1j * ways[-1] / abs(ways[-1])]
    finished = sum(abs(b - a) for a, b in pairwise(inside))
    assert finished / (strip.loop_mm / 2) == pytest.approx(1.02, abs=5e-4)


def ordinary():
    """Give 80 ordinary scoops: neck 15 to 20 cm, front 8, back 1.5 to 3, band 1 to 2."""
    return [
        (neck, back, width)
        for neck in (15, 16.25, 17.5, 18.75, 20)
        for back in (1.5, 2, 2.5, 3)
        for width in (1, 1.3, 1.7, 2)
    ]


@long
def test_few_of_80_ordinary_scoops_are_warned_of(scoop):
    strips = [scoop(neck, 8, back, width) for neck, back, width in ordinary()]
    warned = [strip for strip in strips if bent(strip)]
    assert len(strips) == 80
    assert 1 <= len(warned) <= 5
    # and all of them have a good length
    assert not [text for strip in strips for text in strip.warnings if not text.startswith("Bends")]


@pytest.mark.parametrize(("neck", "back", "width"), ordinary()[::7])
def test_the_simulation_finds_the_same_excess(scoop, neck, back, width):
    strip = scoop(neck, 8, back, width)
    lengths, angles = around(half_scoop(5.0 * neck, 80), half_scoop(5.0 * neck, 10.0 * back))
    # the chain is the seam line: its length, and its turn of 360 degrees less four shoulder slopes
    assert sum(lengths) == pytest.approx(strip.edge.edge_mm, rel=1e-5)
    assert sum(angles) == pytest.approx(radians(280), abs=1e-6)
    found = worst(lengths, angles, 10.0 * width, strip.loop_mm / sum(lengths))
    assert strip.edge.bend.over_limit == pytest.approx(found, abs=4e-3)


@pytest.mark.parametrize(
    ("front", "back", "width"),
    [(square_front(90, 120), half_scoop(90, 20), 25.0), (half_scoop(80, 220), half_scoop(80, 20), 15.0)],
)
def test_the_simulation_finds_the_corners_and_the_u(scoop, front, back, width):
    shape = "square" if width == 25 else "scoop"
    neck, depth = (18, 12) if shape == "square" else (16, 22)
    strip = scoop(neck, depth, 2, width / 10, shape, ease="even")
    found = worst(*around(front, back), width, strip.ratio.used)
    assert strip.edge.bend.over_limit == pytest.approx(found, abs=6e-3)


def test_a_wide_band_round_the_corners_of_a_square_is_warned_of(scoop):
    strip = scoop(18, 12, 2, 2.5, "square")
    (text,) = bent(strip)
    assert strip.edge.ease == "by-curve"
    assert "make the strip narrower" in text
    assert "contour band" in text
    # by-curve is already so, and there is no one point to mitre
    assert "ease" not in text
    assert "corner =" not in text


def test_a_deep_u_is_warned_of_at_its_foot(scoop):
    strip = scoop(16, 22, 2, 1.5)
    (text,) = bent(strip)
    assert text.startswith("Bends too much at CF: over 9.0 cm (3 9/16 in) of the edge")
    assert 'write ease = "by-curve"' in text
    bend = strip.edge.bend
    assert (bend.place, bend.over_mm, bend.ratio) == ("at CF", pytest.approx(90), pytest.approx(strip.ratio.used))
    assert strip.to_json()["ease"]["bend"]["over_mm"] == pytest.approx(90)


def test_a_vee_that_the_strip_runs_round_may_be_mitred(scoop):
    (text,) = bent(scoop(18, 20, 2, 2, "vee"))
    assert text.startswith("Bends too much at CF")
    assert 'mitre the point with corner = "mitre"' in text
    assert not [one for one in bent(scoop(18, 20, 2, 2, "vee", corner="mitre")) if "at CF" in one]


def test_a_measured_edge_has_no_places(figure):
    assert figure(edge=neckline(7, 4, corners=[140]), finished_width="1 in").edge.bend is None


def test_an_edge_that_is_shorter_than_the_window_is_taken_whole(scoop):
    # closed form: 1 - w 280 degrees / E over all of the edge
    strip = scoop(6, 3, 1, 3, stretch="200 %")
    assert strip.edge.edge_mm < 180
    assert strip.edge.bend.over_mm == pytest.approx(strip.edge.edge_mm)
    assert strip.edge.bend.flat_limit == pytest.approx(1 - 30 * radians(280) / strip.edge.edge_mm)
