"""Whether declared lines run at their stated distances from each other all along; piece mm.

The finished edge runs the stated width beside the seam line, and the cut line the stated allowance outside both, or
beyond an end seam.  This is measured point by point and in the middle of every chord, without the rule by which the
lines were made: each point has a nearest one on the other line, and their distance counts.  Beyond a sharp corner or
an end, where the nearest one is that corner itself, the distance from the straight way on counts instead.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, dist, fsum, hypot, inf, pi, sin

from tiler.box import Point, Subpath
from tiler.declaration import Tag
from tiler.drawn import Contour, Part
from tiler.proof.tolerances import VECTOR

CORNER = pi / 180
"""A joint that turns by more is sharp, radians, unless it is one of a close bend."""

BULGE = 0.012
"""So far a bend may stray from its chords, and no corner does: the less the shorter they are, mm."""


def runs_parallel(contour: Contour, parts: Sequence[Part], folded: bool) -> bool:
    """Tell whether the lines of a piece keep their lengths and their distances."""
    lines = {tag: [line for part in parts if part.tag == tag for line in part.subpaths] for tag in Tag}
    seams, pressed, ends, cuts = lines[Tag.SEAM_LINE], lines[Tag.PRESS_LINE], lines[Tag.JOIN_LINE], lines[Tag.CUT_LINE]
    # a straight finished edge is a fold between both seam lines
    inner = [seams[0], *pressed, *seams[1:]] if len(seams) == 2 else []
    if len(inner) < 2 or len(pressed) > 1 or len(cuts) != 1 or len(contour.ends) != 2:
        return False
    tips = _tips(inner, contour, folded)
    closed = _closed_ends(tips, ends)
    if closed is None:
        return False
    lengths = [fsum(dist(a, b) for a, b in pairwise(line)) for line in inner[:2]]
    stated = (contour.sewn_mm, contour.finished_mm)
    if any(abs(one - other) > VECTOR for one, other in zip(lengths, stated, strict=True)):
        return False
    pairs = [pair for one, other in pairwise(inner) for pair in ((one, other), (other, one))]
    beside = all(_beside(one, _Along(other), contour.width_mm) for one, other in pairs)
    return beside and _around(cuts[0], inner, closed, contour) and _notched(lines[Tag.NOTCH], inner)


def _notched(ticks: Sequence[Subpath], inner: Sequence[Subpath]) -> bool:
    """Tell whether notches are cut into the edge that is sewn to the garment, and not into the other one."""
    sewn, other = _Along(inner[0]), _Along(inner[-1])
    return all(sewn.near(point) < other.near(point) for tick in ticks for point in tick)


Tips = tuple[tuple[Point, ...], float]
"""The ends of all inner lines on one side of a piece, and how far beyond them it is cut."""


def _tips(inner: Sequence[Subpath], contour: Contour, folded: bool) -> list[Tips]:
    """Return the ends of the lines at the left and the right end; at a fold nothing ends."""
    sides = [(tuple(line[index] for line in inner), by) for index, by in zip((0, -1), contour.ends, strict=True)]
    return sides[1:] if folded else sides


def _closed_ends(tips: Sequence[Tips], seams: Sequence[Subpath]) -> list[tuple[Subpath, float]] | None:
    """Return the end seams, each with what is cut beyond it; none where one is missing, or passes its lines' ends by.

    What is cut where it is sewn has no seam drawn, and ends on a straight line.
    """
    left, found = [*seams], []
    for own, by in tips:
        ways = left if by else [(own[0], own[-1])]
        seam = next((way for way in ways if all(_off(tip, way[0], way[-1]) <= VECTOR for tip in own)), None)
        if seam is None:
            return None
        found.append((seam, by))
        if by:
            left.remove(seam)
    return None if left else found


def _beside(line: Subpath, other: _Along, distance: float) -> bool:
    """Tell whether a line runs beside another one; what lies beyond the end of that is for the other way round."""
    return all(other.lies_off(point, distance) or other.ends_before(point, distance) for point in _points(line))


def _points(line: Subpath) -> Iterator[Point]:
    """Yield the points of a line, and the middle of every chord."""
    yield line[0]
    for a, b in pairwise(line):
        yield ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        yield b


def _around(cut: Subpath, inner: Sequence[Subpath], ends: Sequence[tuple[Subpath, float]], contour: Contour) -> bool:
    """Tell whether a cut line runs the allowance outside the outer lines, and beyond the end seams."""
    first, last, wide = _Along(inner[0]), _Along(inner[-1]), (len(inner) - 1) * contour.width_mm
    # beyond the end of the nearer line, where end seams lean, the further one tells
    outer = [(line, contour.allowance_mm + more) for more in (0.0, wide) for line in (first, last)]
    for a, b in pairwise(cut):
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        at_end = any(all(abs(_off(point, end[0], end[-1]) - by) <= VECTOR for point in (a, b)) for end, by in ends)
        if at_end:
            continue
        for search in (False, True):
            lies = (all(one.lies_off(point, off, search) for point in (a, middle, b)) for one, off in outer)
            if any(lies):
                break
        else:
            return False
    # outside, and not between the seam lines
    return not any(all(one.near(point) < wide - VECTOR for one in (first, last)) for point in cut)


def _off(point: Point, a: Point, b: Point) -> float:
    """Return how far a point lies off the straight line through two others."""
    (x, y), far = (b[0] - a[0], b[1] - a[1]), dist(a, b)
    return abs(x * (point[1] - a[1]) - y * (point[0] - a[0])) / far if far else dist(point, a)


class _Along:
    """A line, and where one is near to it; whoever asks goes along it too, so the next place is near the last."""

    def __init__(self, line: Subpath) -> None:
        self._chords = [(a, b) for a, b in pairwise(line) if a != b]
        self._last = 0

    def lies_off(self, point: Point, distance: float, search: bool = True) -> bool:
        """Tell whether a point lies at this distance; without a ``search`` only near the last place is looked."""
        ways = (self._walked, self._searched) if search else (self._walked,)
        found = (way(point) for way in ways)
        return any(abs(at[0] - distance) <= VECTOR or self._beyond(point, at[1], at[2], distance) for at in found)

    def ends_before(self, point: Point, distance: float) -> bool:
        """Tell whether an end is what is nearest to a point, and no nearer than that."""
        near, index, share = self._searched(point)
        at_end = (index == 0 and share <= 0.0) or (index == len(self._chords) - 1 and share >= 1.0)
        return at_end and near >= distance - VECTOR

    def near(self, point: Point) -> float:
        """Return how near a point is."""
        return self._walked(point)[0]

    def _walked(self, point: Point) -> tuple[float, int, float]:
        index = self._last
        best = self._at(index, point)
        for step in (1, -1):
            # a few further, since the middle of a bend is no nearer at first
            look, here = 3, index
            while look and 0 <= here + step < len(self._chords):
                here += step
                found = self._at(here, point)
                if found[0] < best[0]:
                    best, look = found, 3
                else:
                    look -= 1
        self._last = best[1]
        return best

    def _searched(self, point: Point) -> tuple[float, int, float]:
        best = min((self._at(index, point) for index in range(len(self._chords))), default=(inf, 0, 0.0))
        self._last = best[1]
        return best

    def _at(self, index: int, point: Point) -> tuple[float, int, float]:
        """Return the distance from a chord, its index, and the share of the chord at which it is nearest."""
        (ax, ay), (bx, by) = self._chords[index]
        x, y = bx - ax, by - ay
        share = ((point[0] - ax) * x + (point[1] - ay) * y) / (x * x + y * y)
        held = min(max(share, 0.0), 1.0)
        return hypot(point[0] - ax - held * x, point[1] - ay - held * y), index, share

    def _beyond(self, point: Point, index: int, share: float, distance: float) -> bool:
        """Tell whether a point lies beyond an end or a sharp corner, at this distance from the straight ways on."""
        joint = index + 1 if share >= 1.0 else index if share <= 0.0 else None
        if joint is None:
            return False
        sides = [(one, step) for one, step in ((joint - 1, -1), (joint, 1)) if 0 <= one < len(self._chords)]
        if len(sides) == 2 and _turn(self._chords[joint - 1], self._chords[joint]) < CORNER:
            return False
        # from the joint, which is an end of both chords
        at = self._chords[joint - 1][1] if joint else self._chords[0][0]
        ways = (self._way(one, step) for one, step in sides)
        # round the outside of a corner a line keeps to one of them, up to where both meet
        return abs(max(_off(point, at, (at[0] + x, at[1] + y)) for x, y in ways) - distance) <= VECTOR

    def _way(self, index: int, step: int) -> Point:
        """Return the direction in which a line leaves or reaches a joint: that of its last chord, bent on by half."""
        (a, b), turn = self._chords[index], self._bend(index, index + step)
        if turn:
            own, beside = dist(a, b), dist(*self._chords[index + step])
            # what of it the next chord has is told by the one behind that, since a straight one has none
            beyond = self._bend(index + step, index + 2 * step)
            next_has = turn * beside / (own + beside)
            if beyond:
                next_has = beyond * beside / (beside + dist(*self._chords[index + 2 * step]))
            turn -= min(max(next_has, min(turn, 0.0)), max(turn, 0.0))
        x, y = b[0] - a[0], b[1] - a[1]
        return x * cos(turn) - y * sin(turn), x * sin(turn) + y * cos(turn)

    def _bend(self, index: int, further: int) -> float:
        """Return by how much a chord differs from the next one, radians; nothing beyond a corner or an end."""
        if not 0 <= further < len(self._chords) or not _bends(self._chords[index], self._chords[further]):
            return 0.0
        (a, b), (c, d) = self._chords[index], self._chords[further]
        bend = atan2(b[1] - a[1], b[0] - a[0]) - atan2(d[1] - c[1], d[0] - c[0])
        return (bend + pi) % (2 * pi) - pi


def _turn(one: tuple[Point, Point], other: tuple[Point, Point]) -> float:
    """Return by which angle two chords differ, radians."""
    first, then = (atan2(b[1] - a[1], b[0] - a[0]) for a, b in (one, other))
    return abs((then - first + pi) % (2 * pi) - pi)


def _bends(one: tuple[Point, Point], other: tuple[Point, Point]) -> bool:
    """Tell whether two chords meet in a bend: where that is close they turn by much, and are short."""
    turn = _turn(one, other)
    return turn < CORNER or max(dist(*one), dist(*other)) * turn / 8 < BULGE


def along_at(line: Subpath, tick: Subpath) -> float:
    """Return how far along a line a tick beside it points at it, that is where both meet, lengthened."""
    (x, y), (u, v) = tick[0], (tick[-1][0] - tick[0][0], tick[-1][1] - tick[0][1])
    best, walked = (inf, 0.0), 0.0
    for a, b in pairwise(line):
        far, (du, dv) = dist(a, b), (b[0] - a[0], b[1] - a[1])
        area = du * v - dv * u
        if area:
            share = ((x - a[0]) * v - (y - a[1]) * u) / area
            held = min(max(share, 0.0), 1.0)
            # a tick at an end may miss it by a rounding
            if abs(share - held) * far <= VECTOR:
                best = min(best, (dist((x, y), (a[0] + held * du, a[1] + held * dv)), walked + held * far))
        walked += far
    return best[1]
