"""The free places on a page: where a block disturbs what stands there least; page mm.

The page may be full of pieces: free paper is taken first, then the white of a strip, then
what crosses the fewest lines, and never a text.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tiler.box import Box, Point

INSET = 2.0
"""White between the page frame and a block."""

ON_PIECE, ON_LINE, ON_TEXT, ON_BLOCK = 1, 20, 1000, 10000
"""What it costs a block to stand over a piece, over a line of it, over a text or mark, over another block."""

WHITE = 1.2
"""Round a text or mark, on top of what is its own, mm."""

STEP, FINER, FINEST = 6.0, 0.5, 1.0
"""Places are tried in such steps, and where none is free of lines in finer ones, mm, share of it and mm."""


@dataclass(frozen=True)
class Obstacle:
    """Something that a block should not cover, and what covering it costs."""

    box: Box
    cost: int

    def with_white(self) -> Obstacle:
        """Return a text or mark with the white that keeps a block from reading as one with it."""
        return Obstacle(self.box.grown(WHITE), self.cost) if self.cost == ON_TEXT else self


Shape = tuple[float, float]
"""Width and height of a block, mm."""


class Places:
    """The free places in one window."""

    def __init__(
        self,
        frame: Box,
        obstacles: Iterable[Obstacle],
        inset: float = INSET,
        down: float = STEP,
        across: float = STEP,
        on_pieces: bool = False,
    ) -> None:
        """Start with what the page shows already; places are tried in steps of ``down`` from the top and ``across``.

        ``on_pieces`` takes the white of a piece for as good as free paper.
        """
        self.frame = frame.grown(-inset)
        self._down, self._across, self._on_pieces = down, across, on_pieces
        # The dearest first, so that a bad place is given up early.
        self._taken = sorted(
            ((o.cost, o.box.x0, o.box.y0, o.box.x1, o.box.y1) for o in obstacles), key=lambda taken: -taken[0]
        )

    def occupy(self, box: Box) -> None:
        """Keep later blocks off a place."""
        self._taken.insert(0, (ON_BLOCK, box.x0, box.y0, box.x1, box.y1))

    def take(self, shapes: Sequence[Shape], *, from_right: bool = False) -> tuple[int, Box]:
        """Find a place, from the top on, for the first shape that fits into free paper, and occupy it.

        Where none does, the one that disturbs least is taken.  Gives the index of the shape.
        """
        index, place = self._find(shapes, from_right)
        self.occupy(place.grown(2.0))
        return index, place

    def clear(self, shapes: Sequence[Shape], *, from_right: bool = False) -> tuple[int, Box] | None:
        """Return a place for the first of these shapes that finds one off all lines and texts, and occupy it."""
        for index, (width, height) in enumerate(shapes):
            if width > self.frame.width or height > self.frame.height:
                continue
            xs = _steps(self.frame.x0, self.frame.x1 - width, from_right, self._across)
            ys = _steps(self.frame.y0, self.frame.y1 - height, True, self._down)
            at = self._free(xs, ys, width, height, ON_LINE)
            if at:
                place = Box(*at, at[0] + width, at[1] + height)
                self.occupy(place.grown(2.0))
                return index, place
        return None

    def inside(self, block: Box, shapes: Sequence[Shape]) -> tuple[int, Box] | None:
        """Return the first of these shapes that finds a place off all lines and texts within a block, and the place.

        It is the middle of the block where that is free; the block itself is in nobody's way.
        """
        near = [taken for taken in self._taken if taken[0] != ON_BLOCK and _meets(taken, block)]
        for index, (width, height) in enumerate(shapes):
            x, y = (block.x0 + block.x1 - width) / 2, (block.y0 + block.y1 - height) / 2
            middle = Box(x, y, x + width, y + height)
            if not any(taken[0] >= ON_LINE and _meets(taken, middle) for taken in near):
                return index, middle
            for step in (FINER * STEP, FINEST):
                own = Places(block, (), inset=1.0, down=step, across=step, on_pieces=True)
                own._taken = near
                found = own.clear([(width, height)])
                if found:
                    return index, found[1]
        return None

    def by_cost(self, shape: Shape) -> list[Box]:
        """Return places for a shape all over the window, those that disturb least first."""
        width, height = shape
        xs = _steps(self.frame.x0, self.frame.x1 - width, False, FINER * STEP)
        ys = _steps(self.frame.y0, self.frame.y1 - height, True, FINER * STEP)
        boxes = [Box(x, y, x + width, y + height) for y in ys for x in xs]
        return sorted(boxes, key=self._cost)

    def _cost(self, box: Box) -> int:
        return sum(
            cost for cost, x0, y0, x1, y1 in self._taken if x0 < box.x1 and x1 > box.x0 and y0 < box.y1 and y1 > box.y0
        )

    def _find(self, shapes: Sequence[Shape], from_right: bool) -> tuple[int, Box]:
        cost, found = self._search(shapes, from_right, 1.0)
        if cost >= ON_LINE:
            finer = self._search(shapes, from_right, FINER)
            cost, found = min((cost, found), finer, key=lambda one: one[0])
        index, (x, y) = found
        return index, Box(x, y, x + shapes[index][0], y + shapes[index][1])

    def _search(self, shapes: Sequence[Shape], from_right: bool, finer: float) -> tuple[int, tuple[int, Point]]:
        """Return the least cost, the shape and its lower left corner; places are tried in steps that are finer."""
        grids = [
            (
                _steps(self.frame.x0, self.frame.x1 - width, from_right, self._across * finer),
                _steps(self.frame.y0, self.frame.y1 - height, True, self._down * finer),
            )
            for width, height in shapes
        ]
        # free paper first, then the white of a piece
        for least, cost in ((ON_PIECE, 0), (ON_LINE, ON_PIECE))[self._on_pieces :]:
            for index, ((xs, ys), shape) in enumerate(zip(grids, shapes, strict=True)):
                at = self._free(xs, ys, *shape, least)
                if at is not None:
                    return cost, (index, at)
        best, found = ON_BLOCK * ON_BLOCK, (0, (grids[0][0][0], grids[0][1][0]))
        for index, ((xs, ys), shape) in enumerate(zip(grids, shapes, strict=True)):
            cost, at = self._least(xs, ys, *shape)
            if cost < best:
                best, found = cost, (index, at)
        return best, found

    def _free(self, xs: Sequence[float], ys: Sequence[float], width: float, height: float, least: int) -> Point | None:
        """Return the first place that covers nothing of at least this cost."""
        if not xs or not ys:
            return None
        columns, rows = sorted(xs), sorted(ys)
        everywhere = (1 << len(columns)) - 1
        # for each row the columns that are taken, a bit each
        taken = [0] * len(rows)
        for cost, x0, y0, x1, y1 in self._taken:
            if cost < least:
                continue
            left, right = bisect_right(columns, x0 - width), bisect_left(columns, x1)
            if left >= right:
                continue
            bits = (1 << right) - (1 << left)
            for row in range(bisect_right(rows, y0 - height), bisect_left(rows, y1)):
                taken[row] |= bits
        for y in ys:
            blocked = taken[bisect_left(rows, y)]
            if blocked != everywhere:
                return next((x, y) for x in xs if not blocked >> bisect_left(columns, x) & 1)
        return None

    def _least(self, xs: Sequence[float], ys: Sequence[float], width: float, height: float) -> tuple[int, Point]:
        best, least = (xs[0], ys[0]), None
        for y in ys:
            row = [taken for taken in self._taken if taken[2] < y + height and taken[4] > y]
            for x in xs:
                cost = 0
                for price, x0, _, x1, _ in row:
                    if x0 < x + width and x1 > x:
                        cost += price
                        if least is not None and cost >= least:
                            break
                else:
                    best, least = (x, y), cost
                    if cost < ON_LINE:
                        return cost, best
        return least or 0, best


def _meets(taken: tuple[int, float, float, float, float], box: Box) -> bool:
    _, x0, y0, x1, y1 = taken
    return x0 < box.x1 and x1 > box.x0 and y0 < box.y1 and y1 > box.y0


def _steps(low: float, high: float, backwards: bool, step: float) -> list[float]:
    high = max(low, high)
    count = int((high - low) // step)
    places = [low + k * step for k in range(count + 1)]
    if high - places[-1] > 0.5:
        places.append(high)
    return [high + low - place for place in places] if backwards else places
