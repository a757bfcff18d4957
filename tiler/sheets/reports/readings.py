"""The page that shows the readings of a test round: a dot for each, by tester; page mm.

The field of dots has a page to itself but for the words around it; remarks may go on to
another.  It knows nothing of how the readings were judged: whoever did that hands over the
shares and the words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from tiler.box import Box
from tiler.lengths import percent
from tiler.paper import PAPERS
from tiler.sheets.canvas import Canvas
from tiler.sheets.flow import Drawing, Flowable, flowed, gap, height, paragraph
from tiler.sheets.style import HAIR, HEADING, LEADING, MEDIUM, TINT, TITLE
from tiler.sheets.typesetting import printable, shortened, wrapped

MARGIN = 15.0
NAME_ROOM, WORDS_ROOM = 46.0, 44.0
"""Room for the names left of the field, and for the words right of it."""

ROW = 8.4
"""Height of a tester's row where there is room: two lines of type, one mark above the other."""

LEAST_ROW = 4.6
RADIUS = 0.8
FURTHEST = 0.15
"""What is further off than this stands at the edge of the field, with its figure."""

SCALE = 6.2
"""What the figures below the field take, mm."""

ABOVE, BELOW = 4.5, 3.0
"""White above the field and below its figures, mm."""

LEAST_FIELD = 110.0
"""Remarks that would leave the field less than this go on to another page."""


@dataclass(frozen=True)
class Dot:
    """One reading: measured over nominal on both axes, and the reading error as a share of nominal."""

    across: float
    down: float
    error: float


@dataclass(frozen=True)
class Row:
    """A tester with all readings, and what is said of them."""

    name: str
    dots: tuple[Dot, ...]
    words: str


@dataclass(frozen=True)
class Chart:
    """All that the page shows; ``tolerance`` is a share of nominal."""

    title: str
    facts: str
    rows: tuple[Row, ...]
    tolerance: float
    remarks: tuple[str, ...]


def readings_chart(chart: Chart, paper: str, maker: str) -> bytes:
    """Set the page on a fixed paper, upright, and return the PDF."""
    page = Box(0.0, 0.0, *PAPERS[paper].size)
    room = page.grown(-MARGIN)

    def head() -> list[Flowable]:
        return [
            paragraph(("What the testers printed", TITLE, True)),
            paragraph((chart.title, HEADING, True), spaceBefore=1.2),
            gap(1.4),
        ]

    def story(canvas: Canvas) -> list[Flowable]:
        facts = paragraph(chart.facts)
        remarks = [gap(BELOW), *map(paragraph, chart.remarks)]
        rest = room.height - height([*head(), facts, *remarks], room.width) - ABOVE - SCALE - 0.1
        field = _Field(canvas, chart, room.width, max(rest, LEAST_FIELD))
        return [facts, Drawing(canvas, room.width, field.box.y1 + ABOVE, lambda _: field.draw()), *remarks]

    return flowed(page, room, story, head, title=f"Readings: {chart.title}", creator=maker).getvalue()


class _Field:
    """The field with its scale of percentages, names to its left and words to its right."""

    def __init__(self, canvas: Canvas, chart: Chart, width: float, most: float) -> None:
        """Take no more than ``most`` mm of height for the rows; the scale stands below."""
        self.canvas, self.tolerance = canvas, chart.tolerance
        self.rows = _fitted(chart.rows, floor(most / LEAST_ROW))
        self.step = min(ROW, most / len(self.rows))
        self.box = Box(NAME_ROOM, SCALE, width - WORDS_ROOM, SCALE + self.step * len(self.rows))
        dots = [dot for row in chart.rows for dot in row.dots]
        reach = [ratio + side * dot.error for dot in dots for ratio in (dot.across, dot.down) for side in (-1, 1)]
        reach += [1 - 2 * chart.tolerance, 1 + 2 * chart.tolerance]
        self.least = max(floor(100 * min(reach)), 100 - 100 * FURTHEST) / 100
        self.most = min(ceil(100 * max(reach)), 100 + 100 * FURTHEST) / 100

    def draw(self) -> None:
        box = self.box
        band = Box(self._x(1 - self.tolerance), box.y0, self._x(1 + self.tolerance), box.y1)
        self.canvas.shade(band, TINT)
        self._scale()
        self.canvas.stroke([((self._x(1.0), box.y0), (self._x(1.0), box.y1))], MEDIUM)
        self.canvas.outline(box, HAIR)
        for index, row in enumerate(self.rows):
            self._row(row, box.y1 - index * self.step)

    def _x(self, ratio: float) -> float:
        share = (ratio - self.least) / (self.most - self.least)
        return self.box.x0 + min(max(share, 0.0), 1.0) * self.box.width

    def _scale(self) -> None:
        first, last = round(100 * self.least), round(100 * self.most)
        every = max(1, ceil((last - first) / 8))
        for value in range(first + -first % every, last + 1, every):
            x = self._x(value / 100)
            self.canvas.stroke([((x, self.box.y0), (x, self.box.y0 - 1.5))], HAIR)
            self.canvas.text((x, self.box.y0 - 5.2), percent(value / 100), align="centre")

    def _row(self, row: Row, top: float) -> None:
        box, middle = self.box, top - self.step / 2
        self.canvas.stroke([((box.x0, top - self.step), (box.x1, top - self.step))], HAIR)
        self._words(row.name, 0.0, NAME_ROOM - 3.0, middle)
        self._words(row.words, box.x1 + 3.0, WORDS_ROOM - 3.0, middle)
        high, low = middle + self.step / 5, middle - self.step / 5
        for dot in row.dots:
            self._mark(dot.across, dot.error, high, filled=True)
            self._mark(dot.down, dot.error, low, filled=False)
        across, down = [dot.across for dot in row.dots], [dot.down for dot in row.dots]
        if self.step < ROW:
            self._far_off([*across, *down], middle)
        else:
            self._far_off(across, high)
            self._far_off(down, low)

    def _words(self, words: str, x: float, room: float, middle: float) -> None:
        """Write words beside the field, in as many lines as the row holds."""
        most = max(1, floor(self.step / LEADING))
        lines = wrapped(printable(words), room)
        if len(lines) > most:
            lines[most - 1 :] = [" ".join(lines[most - 1 :])]
        for index, line in enumerate(lines):
            y = middle - 1.0 + ((len(lines) - 1) / 2 - index) * LEADING
            self.canvas.text((x, y), shortened(line, room))

    def _mark(self, ratio: float, error: float, y: float, filled: bool) -> None:
        self.canvas.stroke([((self._x(ratio - error), y), (self._x(ratio + error), y))], HAIR)
        self.canvas.dot((self._x(ratio), y), RADIUS, filled)

    def _far_off(self, ratios: Sequence[float], y: float) -> None:
        """Write at the edge of the field what lies beyond it, of several the least and the greatest."""
        for far, inside, align in (
            ([ratio for ratio in ratios if ratio < self.least], 2.0, "left"),
            ([ratio for ratio in ratios if ratio > self.most], -2.0, "right"),
        ):
            if far:
                figures = dict.fromkeys(percent(ratio).removesuffix(" %") for ratio in (min(far), max(far)))
                self.canvas.text((self._x(far[0]) + inside, y - 1.0), f"{'–'.join(figures)} %", align=align)


def _fitted(rows: Sequence[Row], most: int) -> list[Row]:
    """Let one last row hold the readings of all testers for whom there is no room."""
    if len(rows) <= most:
        return list(rows)
    rest = rows[most - 1 :]
    dots = tuple(dot for row in rest for dot in row.dots)
    return [*rows[: most - 1], Row(f"{len(rest)} others", dots, f"{len(dots)} readings")]
