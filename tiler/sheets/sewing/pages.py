"""The instruction page of a finish: its strips, what comes first, the steps with their sections; page mm.

One page a finish.  The block stands 10 mm inside 210 mm x 11 in, so it prints on
letter and on A4 alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.catalog import finish_leaflet
from tiler.paper import PAPERS
from tiler.sheets.canvas import Canvas, refuse_missing_characters, shortened, text_width, typeset, wrapped
from tiler.sheets.cover.first_page import CAUTIONS
from tiler.sheets.pieces.rows import ASCENT, DESCENT
from tiler.sheets.sewing.finishes import FinishSteps, StripFigures, finishes_of, strip_lines
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.section import Section
from tiler.sheets.sewing.section_drawing import bounds, draw_key, draw_section
from tiler.sheets.sewing.strip import LEFT
from tiler.sheets.sewing.words import GOLDEN_RULE, STITCHES, before_cutting, steps
from tiler.sheets.style import HEADING, LEADING, SMALL, TITLE

__all__ = ["FinishSteps", "finishes_of", "instruction_pdf"]

BLOCK_WIDTH, BLOCK_HEIGHT = 190.0, 259.0
MARGIN = 10.0
TITLE_ROOM = 6.0
"""What the heading of a part takes, mm."""

BULLET = 2.8
KEY_HEIGHT = 6.0
SEAM_AT = 1.0 - LEFT
"""Where the seam line of the sections stands, mm from the left edge of the block."""

WORDS_AT = 86.0
"""Where the words of the steps begin, mm from the left edge of the block."""

NUMBER = 6.0
"""Room for the number of a step."""

MOST_GAP = 9.0
LEAST_GAP = 1.4
"""White between two steps, mm: the more room the page has, the more."""


def instruction_pdf(finishes: Sequence[FinishSteps], paper: str) -> bytes:
    """Draw one page for every finish, on a paper of :data:`~tiler.paper.PAPERS`.

    Raises :class:`SpecError` when the font has no sign for a character of a title or a name.
    """
    for page in finishes:
        refuse_missing_characters(page.title, "title")
        for strip in page.strips:
            refuse_missing_characters(strip.name + (strip.size or ""), "pieces")
    width, height = PAPERS[paper].size
    canvas = Canvas()
    for page in finishes:
        canvas.begin_page(width, height)
        _Page(canvas, (width - BLOCK_WIDTH) / 2, height - MARGIN).draw(page)
        canvas.end_page()
    names = [page.finish.words.partition(" (")[0] for page in finishes]
    title = " · ".join(part for part in (finishes[0].title, "how to sew the edges") if part)
    return finish_leaflet(canvas.finish(), title, [name[0].upper() + name[1:] for name in names])


@dataclass(frozen=True)
class _Row:
    """A step as it is set: its lines, its section, and the height of the larger one."""

    name: str
    lines: tuple[str, ...]
    section: Section

    @property
    def words_height(self) -> float:
        return (len(self.lines) + 1) * LEADING + 1.0

    @property
    def height(self) -> float:
        return max(self.words_height, bounds(self.section).height)


class _Page:
    """One page, filled from the top."""

    def __init__(self, canvas: Canvas, left: float, top: float) -> None:
        self.canvas, self.left, self.y = canvas, left, top
        self.bottom = top - BLOCK_HEIGHT

    def draw(self, page: FinishSteps) -> None:
        """Draw all that belongs to one finish; the strips get what room the steps leave."""
        room = BLOCK_WIDTH - WORDS_AT - NUMBER
        pairs = zip(steps(page), sections(page.finish, page.in_ditch), strict=True)
        rows = [_Row(step.name, tuple(wrapped(step.text, room)), section) for step, section in pairs]
        before = [wrapped(line, BLOCK_WIDTH - BULLET) for line in before_cutting(page)]
        foot = [wrapped(STITCHES, BLOCK_WIDTH), *(wrapped(line, BLOCK_WIDTH - BULLET) for line in CAUTIONS)]
        floor = self.bottom + DESCENT + _height(foot) + TITLE_ROOM
        least = sum(row.height for row in rows) + LEAST_GAP * (len(rows) + 1)
        self._heading(page)
        self._strips(strip_lines(page), self.y - floor - 2 * TITLE_ROOM - _height(before) - KEY_HEIGHT - least)
        self._title("Before you cut the good cloth")
        for lines in before:
            self._paragraph(lines, "·")
        self._title("Step by step", GOLDEN_RULE)
        self.y -= KEY_HEIGHT
        draw_key(self.canvas, self.left, self.y + 1.0)
        self._steps(rows, floor)
        self.y = floor
        self._paragraph(foot[0])
        self._title("Cautions")
        for lines in foot[1:]:
            self._paragraph(lines, "·")

    def _heading(self, page: FinishSteps) -> None:
        name, _, more = page.finish.words.partition(" (")
        name = name[0].upper() + name[1:]
        self.y -= 6.0
        self.canvas.text((self.left, self.y), name, TITLE, bold=True)
        self.canvas.text((self.left + text_width(name, TITLE, bold=True) + 4.0, self.y), more.rstrip(")"), HEADING)
        self.y -= 6.0
        line = " · ".join(part for part in (page.title, "how to sew it") if part)
        self.canvas.text((self.left, self.y), shortened(line, BLOCK_WIDTH, HEADING), HEADING)
        self.y -= 1.0

    def _strips(self, strips: Sequence[StripFigures], room: float) -> None:
        """Write the figures of as many strips as have room, each with its name in front."""
        left = int((room - 1.0) / LEADING)
        for index, strip in enumerate(strips):
            start = shortened(strip.name, BLOCK_WIDTH / 3, bold=True)
            indent = text_width(start, bold=True) + 2.5
            after = len(strips) - index - 1
            for text in (strip.whole, strip.short):
                lines = _hanging(text, BLOCK_WIDTH, indent)
                if len(lines) + (after > 0) <= left:
                    break
            else:
                self._paragraph([f"{after + 1} strips more: the cutting chart has the figures of all."])
                return
            left -= len(lines)
            self.y -= LEADING + (1.0 if index == 0 else 0.0)
            self.canvas.text((self.left, self.y), start, bold=True)
            self.canvas.text((self.left + indent, self.y), lines[0])
            for line in lines[1:]:
                self.y -= LEADING
                self.canvas.text((self.left + 4.0, self.y), line)

    def _steps(self, rows: Sequence[_Row], floor: float) -> None:
        """Draw the steps, the white between them as large as the page allows."""
        gap = min(MOST_GAP, (self.y - floor - sum(row.height for row in rows)) / (len(rows) + 1))
        x = self.left + WORDS_AT
        for number, row in enumerate(rows, 1):
            self.y -= gap
            middle, box = self.y - row.height / 2, bounds(row.section)
            draw_section(self.canvas, row.section, (self.left + SEAM_AT, middle - (box.y0 + box.y1) / 2))
            base = middle + row.words_height / 2 - ASCENT
            self.canvas.text((x, base), str(number), HEADING, bold=True)
            self.canvas.text((x + NUMBER, base), row.name, HEADING, bold=True)
            for line in row.lines:
                base -= LEADING
                self.canvas.text((x + NUMBER, base - 0.6), line)
            self.y -= row.height

    def _title(self, text: str, beside: str = "") -> None:
        self.y -= TITLE_ROOM - 0.6
        self.canvas.text((self.left, self.y), text, HEADING, bold=True)
        self.canvas.text((self.left + text_width(text, HEADING, bold=True) + 4.0, self.y), beside, SMALL, bold=True)
        self.y -= 0.6

    def _paragraph(self, lines: Sequence[str], bullet: str = "") -> None:
        for index, line in enumerate(lines):
            self.y -= LEADING
            if bullet and index == 0:
                self.canvas.text((self.left, self.y), bullet)
            self.canvas.text((self.left + (BULLET if bullet else 0.0), self.y), line)


def _height(paragraphs: Sequence[Sequence[str]]) -> float:
    return sum(len(lines) for lines in paragraphs) * LEADING


def _hanging(text: str, width: float, indent: float) -> list[str]:
    """Break a text whose first line is shorter by ``indent`` and whose others stand 4 mm in."""
    text = typeset(text)
    first = wrapped(text, width - indent)[0]
    rest = text[len(first) + 1 :]
    return [first, *(wrapped(rest, width - 4.0) if rest else [])]
