"""Putting the tiles together from their own codes and register marks; mm.

Which tiles are neighbours follows from their codes: the next row or column of a grid, where one
of both has marks for it, and the next part of a strip.  Where they meet follows from the marks on the strip that they
share, taken in their order along it.  The result is the
place of every page on one plane, relative to the others of its group; what was
declared plays no part.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import dist
from statistics import median

from tiler.box import Point
from tiler.proof.seen.marks import by_side
from tiler.proof.seen.page import PaneSeen, row_and_column, strip_and_part


@dataclass(frozen=True)
class Join:
    """Two neighbours: their codes, how many marks each has there, the step from one page to the other.

    ``step`` carries a point of the second page to the first, None without marks in
    common; ``apart`` is how far the worst mark is off that step.
    """

    first: str
    second: str
    marks: tuple[int, int]
    step: Point | None
    apart: float


@dataclass(frozen=True)
class Assembly:
    """Tiles by code, their joins, and groups of tiles with the place of each page in its group."""

    tiles: Mapping[str, PaneSeen]
    joins: tuple[Join, ...]
    groups: tuple[Mapping[str, Point], ...]


def assemble(pages: Sequence[PaneSeen]) -> Assembly:
    """Put the tiles together; of two with one code the first counts."""
    tiles: dict[str, PaneSeen] = {}
    at: dict[tuple[int, int], str] = {}
    parts: dict[tuple[int, int], str] = {}
    for page in pages:
        if not page.code or page.code in tiles or not page.frame:
            continue
        place, part = row_and_column(page.code), strip_and_part(page.code)
        if place or part:
            tiles[page.code] = page
        if place:
            at[place] = page.code
        if part:
            parts[part] = page.code
    sides = {code: by_side(page.marks, page.frame) for code, page in tiles.items() if page.frame}
    joins = []
    for (row, column), code in at.items():
        right, below = at.get((row, column + 1)), at.get((row + 1, column))
        if right and (sides[code]["right"] or sides[right]["left"]):
            joins.append(_join(code, right, sides[code]["right"], sides[right]["left"]))
        if below and (sides[code]["bottom"] or sides[below]["top"]):
            joins.append(_join(code, below, sides[code]["bottom"], sides[below]["top"]))
    for (strip, number), code in parts.items():
        following = parts.get((strip, number + 1))
        if following:
            side, other = _meeting(sides[code], sides[following])
            joins.append(_join(code, following, sides[code][side], sides[following][other]))
    return Assembly(tiles, tuple(joins), tuple(_groups(tiles, joins)))


def _meeting(ours: Mapping[str, Sequence[Point]], theirs: Mapping[str, Sequence[Point]]) -> tuple[str, str]:
    """Return the sides at which a part of a strip and the next one meet: the strip runs to the right, or up."""
    upright = len(ours["top"]) + len(theirs["bottom"]) > len(ours["right"]) + len(theirs["left"])
    return ("top", "bottom") if upright else ("right", "left")


def _join(first: str, second: str, ours: Sequence[Point], theirs: Sequence[Point]) -> Join:
    count = (len(ours), len(theirs))
    if not ours or count[0] != count[1]:
        return Join(first, second, count, None, 0.0)
    steps = [(a[0] - b[0], a[1] - b[1]) for a, b in zip(ours, theirs, strict=True)]
    # The middle of three steps is right even when one mark is not.
    step = (median(x for x, _ in steps), median(y for _, y in steps))
    return Join(first, second, count, step, max(dist(one, step) for one in steps))


def _groups(tiles: Mapping[str, PaneSeen], joins: Sequence[Join]) -> list[dict[str, Point]]:
    near: dict[str, list[tuple[str, Point]]] = {code: [] for code in tiles}
    for join in joins:
        if join.step:
            x, y = join.step
            near[join.first].append((join.second, (x, y)))
            near[join.second].append((join.first, (-x, -y)))
    groups: list[dict[str, Point]] = []
    placed: set[str] = set()
    for code in tiles:
        if code in placed:
            continue
        group = {code: (0.0, 0.0)}
        waiting = deque([code])
        while waiting:
            here = waiting.popleft()
            x, y = group[here]
            for other, (dx, dy) in near[here]:
                if other not in group:
                    group[other] = (x + dx, y + dy)
                    waiting.append(other)
        placed |= group.keys()
        groups.append(group)
    return groups
