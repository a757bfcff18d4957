"""What stands on a tile besides the pieces: frame, marks, code, title, rules; page mm.

The window may be full of pieces, so a block looks for the place where it
disturbs least: free paper first, then the white of a strip, never a text.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tiler.declaration import Box, Mark, Page, Point, Rule, Square, Subpath, Tag
from tiler.paper import MARK_SIZE
from tiler.sheets.canvas import Canvas, shortened, text_width, wrapped
from tiler.sheets.scales import ON_TILES, RULE_DEPTH, RULE_OVERHANG, SQUARE_WORDS, SQUARES, draw_rules, draw_square
from tiler.sheets.style import LEADING, SMALL, TITLE

INSET = 2.0
"""White between the page frame and a block."""

ON_PIECE, ON_LINE, ON_TEXT, ON_BLOCK = 1, 20, 1000, 10000
"""What it costs a block to stand over a piece, over a line of it, over a text or mark, over another block."""

WHITE = 1.2
"""Round a text or mark, on top of what is its own, mm."""

CODE_HEIGHT = 6.4
TITLE_WIDTHS = (130.0, 88.0)
TITLE_COLUMNS = (52.0, 36.0, 24.0)
"""How wide the lines of the title may run, beside the code and below it: the first for which there is room, mm."""

STEP, FINER = 6.0, 0.5
"""Places are tried in such steps, and where none is free of lines in finer ones, mm and share of it."""


@dataclass(frozen=True)
class Obstacle:
    """Something that a block should not cover, and what covering it costs."""

    box: Box
    cost: int

    def with_white(self) -> Obstacle:
        """Give a text or mark with the white that keeps a block from reading as one with it."""
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

    def inside(self, block: Box, shape: Shape) -> Box:
        """Give the place within a block that stands already where words of this shape disturb least."""
        own = Places(block, (), inset=1.0, down=FINER * STEP, across=FINER * STEP, on_pieces=True)
        own._taken = [taken for taken in self._taken if taken[0] != ON_BLOCK]
        middle = ((block.x0 + block.x1 - shape[0]) / 2, (block.y0 + block.y1 - shape[1]) / 2)
        if own._least([middle[0]], [middle[1]], *shape)[0] < ON_LINE:
            return Box(*middle, middle[0] + shape[0], middle[1] + shape[1])
        return own._find([shape], False)[1]

    def _find(self, shapes: Sequence[Shape], from_right: bool) -> tuple[int, Box]:
        cost, found = self._search(shapes, from_right, 1.0)
        if cost >= ON_LINE:
            finer = self._search(shapes, from_right, FINER)
            cost, found = min((cost, found), finer, key=lambda one: one[0])
        index, (x, y) = found
        return index, Box(x, y, x + shapes[index][0], y + shapes[index][1])

    def _search(self, shapes: Sequence[Shape], from_right: bool, finer: float) -> tuple[int, tuple[int, Point]]:
        """Give the least cost, the shape and its lower left corner; places are tried in steps that are finer."""
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
        """Give the first place that covers nothing of at least this cost."""
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


def _steps(low: float, high: float, backwards: bool, step: float) -> list[float]:
    high = max(low, high)
    count = int((high - low) // step)
    places = [low + k * step for k in range(count + 1)]
    if high - places[-1] > 0.5:
        places.append(high)
    return [high + low - place for place in places] if backwards else places


@dataclass(frozen=True)
class TileWords:
    """What the title block of a tile says; the line ``only_for`` is never cut off."""

    code: str
    lines: tuple[str, ...]
    only_for: str = ""


def mark_obstacles(marks: Iterable[Box]) -> list[Obstacle]:
    """Give the places that belong to register marks."""
    return [Obstacle(box.grown(1.0), ON_TEXT) for box in marks]


def draw_frame(canvas: Canvas, frame: Box) -> None:
    """Draw the window's edge, the line to trim along."""
    corners: Subpath = (
        (frame.x0, frame.y0),
        (frame.x1, frame.y0),
        (frame.x1, frame.y1),
        (frame.x0, frame.y1),
        (frame.x0, frame.y0),
    )
    canvas.stroke_part(Tag.PAGE_FRAME, [corners])


def draw_marks(canvas: Canvas, page: Page, marks: Iterable[Mark]) -> list[Box]:
    """Draw the register marks that a tile shares, and give their places on the page."""
    assert page.window is not None
    assert page.frame is not None
    dx, dy = page.frame.x0 - page.window.x0, page.frame.y0 - page.window.y0
    boxes = []
    for mark in marks:
        x, y = mark.at[0] + dx, mark.at[1] + dy
        canvas.register_mark((x, y), MARK_SIZE)
        boxes.append(Box(x, y, x, y).grown(MARK_SIZE / 2))
    return boxes


def draw_title(canvas: Canvas, places: Places, words: TileWords) -> None:
    """Write the page code, the title and the page number where they disturb least."""
    code_width = text_width(words.code, TITLE, bold=True)
    side = code_width + 3.0
    beside = cut_to(TITLE_WIDTHS, words.lines, words.only_for)
    below = [
        [part for line in words.lines for part in (wrapped if line == words.only_for else folded)(line, room)]
        for room in TITLE_COLUMNS
    ]
    shapes = [(side + max(map(text_width, lines)), len(lines) * LEADING + 0.6) for lines in beside]
    shapes += [
        (max(code_width, *(text_width(line) for line in lines)), CODE_HEIGHT + len(lines) * LEADING) for lines in below
    ]
    index, place = places.take(shapes)
    with canvas.part(Tag.TILE_CODE):
        canvas.text((place.x0, place.y1 - CODE_HEIGHT + 1.0), words.code, TITLE, bold=True)
    x, y = (place.x0 + side, place.y1) if index < len(beside) else (place.x0, place.y1 - CODE_HEIGHT)
    for line in [*beside, *below][index]:
        y -= LEADING
        canvas.text((x, y + 1.0), line, SMALL)


def cut_to(widths: Sequence[float], lines: Sequence[str], only_for: str) -> list[tuple[str, ...]]:
    """Give the lines as they stand in each of these widths, each way once; the line ``only_for`` is never cut off."""
    ways = (tuple(line if line == only_for else shortened(line, width) for line in lines) for width in widths)
    return list(dict.fromkeys(ways))


def folded(line: str, room: float) -> list[str]:
    """Break a line into at most three for a narrow column; none begins or ends with the dot between two facts."""
    lines = [part.strip(" ·") for part in wrapped(line, room)]
    kept = lines[:3] if len(lines) <= 3 else [*lines[:2], lines[2] + " …"]
    return [shortened(part, room) for part in kept]


def draw_tile_rules(canvas: Canvas, page: int, places: Places) -> list[Rule]:
    """Draw a rule across and one down, each in inches and centimetres, as long as there is free room for."""
    rules: list[Rule] = []
    room = min(places.frame.width, places.frame.height)
    pairs = [pair for pair in ON_TILES if pair.length + RULE_OVERHANG <= room]
    index, place = places.take([(pair.length + RULE_OVERHANG, RULE_DEPTH) for pair in pairs])
    rules += draw_rules(canvas, page, (place.x0, place.y0), "across", pairs[index])
    index, place = places.take([(RULE_DEPTH, pair.length + RULE_OVERHANG) for pair in pairs], from_right=True)
    rules += draw_rules(canvas, page, (place.x0, place.y0), "down", pairs[index])
    return rules


def draw_tile_squares(canvas: Canvas, page: int, places: Places) -> list[Square]:
    """Draw both test squares on a tile, for a file without a first page."""
    squares = []
    for nominal, label in SQUARES:
        _, place = places.take([(nominal + 1.0, nominal + 1.0)])
        words = places.inside(place, SQUARE_WORDS)
        squares.append(draw_square(canvas, page, (place.x0 + 0.5, place.y0 + 0.5), nominal, label, words))
    return squares
