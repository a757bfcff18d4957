"""One page that shows the readings of a test round: a dot for each, by tester; page mm.

It knows nothing of how the readings were judged: whoever did that hands over the
shares and the words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor

from tiler.box import Box
from tiler.paper import PAPERS
from tiler.sheets.canvas import Canvas, printable, shortened, wrapped
from tiler.sheets.style import HAIR, HEADING, LEADING, MEDIUM, TINT, TITLE

MARGIN = 15.0
NAME_ROOM, WORDS_ROOM = 46.0, 44.0
"""Room for the names left of the field, and for the words right of it."""

ROW = 8.4
"""Height of a tester's row where there is room: two lines of type, one mark above the other."""

LEAST_ROW = 4.6
RADIUS = 0.8
FURTHEST = 0.15
"""What is further off than this stands at the edge of the field, with its figure."""


HEAD_ROOM, FOOT_ROOM = 26.0, 10.0
MOST_LINES = 14


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
    """Draw the page on a fixed paper, upright, and give the PDF."""
    width, height = PAPERS[paper].size
    canvas = Canvas()
    canvas.describe(f"Readings: {chart.title}", maker)
    canvas.begin_page(width, height)
    canvas.text((MARGIN, height - MARGIN - 6.0), "What the testers printed", TITLE, bold=True)
    title = shortened(printable(chart.title), width - 2 * MARGIN, HEADING, bold=True)
    canvas.text((MARGIN, height - MARGIN - 13.0), title, HEADING, bold=True)
    canvas.text((MARGIN, height - MARGIN - 17.5), printable(chart.facts))
    lines = _remarks(chart.remarks, width - 2 * MARGIN)
    foot = MARGIN + LEADING * len(lines) + FOOT_ROOM
    room = Box(MARGIN + NAME_ROOM, foot, width - MARGIN - WORDS_ROOM, height - MARGIN - HEAD_ROOM)
    field = _Field(canvas, room, chart)
    field.draw()
    for index, line in enumerate(lines, 1):
        canvas.text((MARGIN, field.box.y0 - FOOT_ROOM - LEADING * index), line)
    canvas.end_page()
    return canvas.finish().getvalue()


def _remarks(remarks: Sequence[str], width: float) -> list[str]:
    lines = [line for words in remarks for line in wrapped(printable(words), width)]
    return lines if len(lines) <= MOST_LINES else [*lines[: MOST_LINES - 1], "… and more; the program tells all of it."]


class _Field:
    """The field with its scale of percentages."""

    def __init__(self, canvas: Canvas, room: Box, chart: Chart) -> None:
        self.canvas, self.tolerance = canvas, chart.tolerance
        self.rows = _fitted(chart.rows, floor((room.y1 - room.y0) / LEAST_ROW))
        self.step = min(ROW, (room.y1 - room.y0) / len(self.rows))
        self.box = Box(room.x0, room.y1 - self.step * len(self.rows), room.x1, room.y1)
        reach = [1 - 2 * chart.tolerance, 1 + 2 * chart.tolerance]
        for row in chart.rows:
            for dot in row.dots:
                for ratio in (dot.across, dot.down):
                    reach += [ratio - dot.error, ratio + dot.error]
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
            self.canvas.text((x, self.box.y0 - 5.2), f"{value} %", align="centre")

    def _row(self, row: Row, top: float) -> None:
        box, middle = self.box, top - self.step / 2
        base = middle - 1.0
        self.canvas.stroke([((box.x0, top - self.step), (box.x1, top - self.step))], HAIR)
        self.canvas.text((MARGIN, base), shortened(printable(row.name), NAME_ROOM - 3.0))
        words = wrapped(printable(row.words), WORDS_ROOM - 3.0)
        if self.step < 2 * LEADING:
            words = [shortened(" ".join(words), WORDS_ROOM - 3.0)]
        for index, line in enumerate(words[:2]):
            y = base + (len(words[:2]) - 1) * LEADING / 2 - index * LEADING
            self.canvas.text((box.x1 + 3.0, y), shortened(line, WORDS_ROOM - 3.0))
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
                figures = dict.fromkeys(f"{100 * ratio:.1f}" for ratio in (min(far), max(far)))
                self.canvas.text((self._x(far[0]) + inside, y - 1.0), f"{'–'.join(figures)} %", align=align)


def _fitted(rows: Sequence[Row], most: int) -> list[Row]:
    """Let one last row hold the readings of all testers for whom there is no room."""
    if len(rows) <= most:
        return list(rows)
    rest = rows[most - 1 :]
    dots = tuple(dot for row in rest for dot in row.dots)
    return [*rows[: most - 1], Row(f"{len(rest)} others", dots, f"{len(dots)} readings")]
