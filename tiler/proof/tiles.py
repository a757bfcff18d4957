"""Putting the tiles together from their own codes and register marks; mm.

Which tiles are neighbours follows from their codes, where they meet from the marks
on the strip that they share, taken in their order along it.  The result is the
place of every page on one plane, relative to the others of its group; what was
declared plays no part.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import dist
from statistics import median

from tiler.declaration import Box, Point
from tiler.proof.marks import by_side
from tiler.proof.page import PageSeen, row_and_column


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

    tiles: Mapping[str, PageSeen]
    joins: tuple[Join, ...]
    groups: tuple[Mapping[str, Point], ...]


def assemble(pages: Sequence[PageSeen]) -> Assembly:
    """Put the tiles together; of two pages with one code the first counts."""
    tiles: dict[str, PageSeen] = {}
    at: dict[tuple[int, int], str] = {}
    for page in pages:
        place = row_and_column(page.code) if page.code else None
        if page.code and place and page.code not in tiles and page.frame:
            tiles[page.code] = page
            at[place] = page.code
    sides = {code: by_side(page.marks, page.frame) for code, page in tiles.items() if page.frame}
    joins = []
    for (row, column), code in at.items():
        right, below = at.get((row, column + 1)), at.get((row + 1, column))
        if right:
            joins.append(_join(code, right, sides[code]["right"], sides[right]["left"]))
        if below:
            joins.append(_join(code, below, sides[code]["bottom"], sides[below]["top"]))
    return Assembly(tiles, tuple(joins), tuple(_groups(tiles, joins)))


def _join(first: str, second: str, ours: Sequence[Point], theirs: Sequence[Point]) -> Join:
    count = (len(ours), len(theirs))
    if not ours or count[0] != count[1]:
        return Join(first, second, count, None, 0.0)
    steps = [(a[0] - b[0], a[1] - b[1]) for a, b in zip(ours, theirs, strict=True)]
    # The middle of three steps is right even when one mark is not.
    step = (median(x for x, _ in steps), median(y for _, y in steps))
    return Join(first, second, count, step, max(dist(one, step) for one in steps))


def _groups(tiles: Mapping[str, PageSeen], joins: Sequence[Join]) -> list[dict[str, Point]]:
    near: dict[str, list[tuple[str, Point]]] = {code: [] for code in tiles}
    for join in joins:
        if join.step:
            x, y = join.step
            near[join.first].append((join.second, (x, y)))
            near[join.second].append((join.first, (-x, -y)))
    groups: list[dict[str, Point]] = []
    seen: set[str] = set()
    for code in tiles:
        if code in seen:
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
        seen |= group.keys()
        groups.append(group)
    return groups


def window_in_group(page: PageSeen, place: Point) -> Box:
    """Give the window of a page on the plane of its group."""
    assert page.frame is not None
    return page.frame.moved(*place)
