"""The pages that show the readings of a test round: a dot for each, by tester; page mm.

The field of dots has a page to itself but for the words around it; many testers and many
remarks go on to another.  It knows nothing of how the readings were judged: whoever did that hands over the
shares and the words.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil, floor
from typing import NamedTuple

from tiler.box import Box
from tiler.languages.words import say, told
from tiler.lengths import percent
from tiler.paper import PAPERS
from tiler.sheets.canvas import Canvas
from tiler.sheets.flow import Drawing, Flowable, PageBreak, gap, height, paragraph
from tiler.sheets.pagination import flowed, foot_height
from tiler.sheets.style import HAIR, HEADING, LEADING, MEDIUM, TINT, TITLE
from tiler.sheets.typesetting import broken, printable

MARGIN = 15.0
NAME_ROOM, WORDS_ROOM = 46.0, 44.0
"""Room for the names left of the field, and for the words right of it."""

ROW = 8.4
"""Height of a tester's row where there is room: two lines of type, one mark above the other."""

LEAST_ROW = 4.6
PAD = 0.7
"""White in a row beside its lines of type, mm."""

RADIUS = 0.8
FURTHEST = 0.15
"""What is further off than this stands at the edge of the field, with its figure."""

SCALE = 6.2
"""What the figures below the field take, mm."""

ABOVE, BELOW = 4.5, 3.0
"""White above the field and below its figures, mm."""

BETWEEN = 1.2
"""White between two remarks, mm."""

LEAST_FIELD = 110.0
"""Remarks that would leave the field less than this go on to another page."""


@dataclass(frozen=True)
class Dot:
    """One reading: measured over nominal along the axes that were read, and the error as a share of nominal."""

    across: float | None
    down: float | None
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
    words = say("What the testers printed")

    def head() -> list[Flowable]:
        title = broken(printable(chart.title), room.width, HEADING, bold=True)
        return [
            paragraph((words, TITLE, True)),
            *(paragraph((line, HEADING, True), spaceBefore=1.2 * (line is title[0])) for line in title),
            gap(1.4),
        ]

    def story(canvas: Canvas) -> list[Flowable]:
        facts = paragraph(chart.facts)
        remarks = [gap(BELOW), *(paragraph(remark, spaceBefore=BETWEEN) for remark in chart.remarks)]
        whole = room.height - height([*head(), facts], room.width) - foot_height(words, room.width)
        whole -= ABOVE + SCALE + 0.1
        fields: list[Flowable] = []
        for rows in _fitted(chart.rows, max(whole - height(remarks, room.width), LEAST_FIELD), whole):
            fields += [_Field(canvas, chart, rows, room.width).drawing(room.width), PageBreak()]
        return [facts, *fields[:-1], *remarks]

    title = say("Readings: {title}", title=chart.title)
    return flowed(page, room, story, head, lambda: words, title=title, creator=maker).file.getvalue()


class _HighRow(NamedTuple):
    """A row, what stands beside it line by line, and its height."""

    row: Row
    name: list[str]
    words: list[str]
    high: float


class _Field:
    """A field with its scale of percentages, names to its left and words to its right."""

    def __init__(self, canvas: Canvas, chart: Chart, rows: Sequence[_HighRow], width: float) -> None:
        """Take the rows that stand on one page; the scale, below, is that of all."""
        self.canvas, self.tolerance, self.rows = canvas, chart.tolerance, rows
        self.box = Box(NAME_ROOM, SCALE, width - WORDS_ROOM, SCALE + sum(row.high for row in rows))
        dots = [dot for row in chart.rows for dot in row.dots]
        read = [(ratio, dot.error) for dot in dots for ratio in (dot.across, dot.down) if ratio is not None]
        reach = [ratio + side * error for ratio, error in read for side in (-1, 1)]
        reach += [1 - 2 * chart.tolerance, 1 + 2 * chart.tolerance]
        self.least = max(floor(100 * min(reach)), 100 - 100 * FURTHEST) / 100
        self.most = min(ceil(100 * max(reach)), 100 + 100 * FURTHEST) / 100

    def drawing(self, width: float) -> Drawing:
        """Return the field as a drawing among the words."""
        return Drawing(self.canvas, width, self.box.y1 + ABOVE, lambda _: self.draw())

    def draw(self) -> None:
        """Draw the field."""
        box = self.box
        band = Box(self._x(1 - self.tolerance), box.y0, self._x(1 + self.tolerance), box.y1)
        self.canvas.shade(band, TINT)
        self._scale()
        self.canvas.stroke([((self._x(1.0), box.y0), (self._x(1.0), box.y1))], MEDIUM)
        self.canvas.outline(box, HAIR)
        top = box.y1
        for row in self.rows:
            self._row(row, top)
            top -= row.high

    def _x(self, ratio: float) -> float:
        share = (ratio - self.least) / (self.most - self.least)
        return self.box.x0 + min(max(share, 0.0), 1.0) * self.box.width

    def _scale(self) -> None:
        first, last = round(100 * self.least), round(100 * self.most)
        every = max(1, ceil((last - first) / 8))
        for value in range(first + -first % every, last + 1, every):
            x = self._x(value / 100)
            self.canvas.stroke([((x, self.box.y0), (x, self.box.y0 - 1.5))], HAIR)
            self.canvas.text((x, self.box.y0 - 5.2), told(percent(value / 100)), align="centre")

    def _row(self, one: _HighRow, top: float) -> None:
        box, middle, bottom = self.box, top - one.high / 2, top - one.high
        self.canvas.stroke([((box.x0, bottom), (box.x1, bottom))], HAIR)
        self._words(one.name, 0.0, middle)
        self._words(one.words, box.x1 + 3.0, middle)
        apart = min(one.high, ROW) / 5
        for dot in one.row.dots:
            self._mark(dot.across, dot.error, middle + apart, filled=True)
            self._mark(dot.down, dot.error, middle - apart, filled=False)
        across = [dot.across for dot in one.row.dots if dot.across is not None]
        down = [dot.down for dot in one.row.dots if dot.down is not None]
        if one.high < ROW:
            self._far_off([*across, *down], middle)
        else:
            self._far_off(across, middle + apart)
            self._far_off(down, middle - apart)

    def _words(self, lines: Sequence[str], x: float, middle: float) -> None:
        """Write words beside the field."""
        for index, line in enumerate(lines):
            self.canvas.text((x, middle - 1.0 + ((len(lines) - 1) / 2 - index) * LEADING), line)

    def _mark(self, ratio: float | None, error: float, y: float, filled: bool) -> None:
        if ratio is None:
            return
        self.canvas.stroke([((self._x(ratio - error), y), (self._x(ratio + error), y))], HAIR)
        self.canvas.dot((self._x(ratio), y), RADIUS, filled)

    def _far_off(self, ratios: Sequence[float], y: float) -> None:
        """Write at the edge of the field what lies beyond it, of several the least and the greatest."""
        for far, inside, align in (
            ([ratio for ratio in ratios if ratio < self.least], 2.0, "left"),
            ([ratio for ratio in ratios if ratio > self.most], -2.0, "right"),
        ):
            if far:
                figures = dict.fromkeys(told(percent(ratio)).removesuffix(" %") for ratio in (min(far), max(far)))
                self.canvas.text((self._x(far[0]) + inside, y - 1.0), f"{'–'.join(figures)} %", align=align)


def _fitted(testers: Sequence[Row], most: float, whole: float) -> list[list[_HighRow]]:
    """Share rows out over pages: one page of ``most`` mm, or as many as they take of ``whole``, about equally full."""
    for least in (ROW, LEAST_ROW):
        high = [_high_row(row, least) for row in testers]
        total = sum(one.high for one in high)
        if total <= most:
            return [_spread(high, most)]
    pages = ceil(total / whole)
    share, found = total / pages, [list[_HighRow]()]
    for one in high:
        taken = sum(each.high for each in found[-1])
        if found[-1] and (taken + one.high > whole or (taken >= share and len(found) < pages)):
            found.append([])
        found[-1].append(one)
    # what stands below the last field keeps its room
    return [*(_spread(rows, whole) for rows in found[:-1]), _spread(found[-1], most)]


def _spread(rows: Sequence[_HighRow], room: float) -> list[_HighRow]:
    """Return rows as high as they like to be, if there is room, else with equal parts of what is left of it."""
    more = max(0.0, room - sum(one.high for one in rows)) / len(rows)
    return [one._replace(high=max(one.high, min(ROW, one.high + more))) for one in rows]


def _high_row(row: Row, least: float) -> _HighRow:
    name, words = (
        broken(printable(text), room - 3.0) for text, room in ((row.name, NAME_ROOM), (row.words, WORDS_ROOM))
    )
    return _HighRow(row, name, words, max(least, max(len(name), len(words)) * LEADING + PAD))
