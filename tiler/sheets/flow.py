"""What flows over pages to read: words, tables and drawings; mm, type in points.

reportlab's platypus breaks lines and pages.  It takes the text of a paragraph for
markup, with colours, links and pictures, so words get there through
:func:`paragraph` alone, which escapes them; texts in cells are printed as they are.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from html import escape
from io import BytesIO
from typing import Any

from reportlab.lib.colors import Color, black
from reportlab.lib.enums import TA_LEFT, TA_RIGHT
from reportlab.lib.styles import ParagraphStyle
from reportlab.platypus import (
    BaseDocTemplate,
    CondPageBreak,
    Flowable,
    Frame,
    Image,
    KeepTogether,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
    Paragraph,
    Spacer,
    Table,
)

from tiler.languages.words import languages, speaking
from tiler.sheets.canvas import Canvas
from tiler.sheets.style import HAIR, LEADING, SMALL
from tiler.sheets.typesetting import MM, face, printable, text_width, typeset

# of platypus, as they are
__all__ = ["BaseDocTemplate", "Flowable", "Frame", "KeepTogether", "NextPageTemplate", "PageBreak", "PageTemplate"]

Words = tuple[str, float, bool]
"""A text, its size in points, and whether it is bold."""

ALL = ((0, 0), (-1, -1))
"""All cells of a table."""

_WITHIN_A_NUMBER = re.compile(r"(?<=[0-9½¼¾⅛⅜⅝⅞₂₄₆₈]) (?=(?:in|cm|mm)\b|%|[0-9]+/)")
_WHOLE = re.compile(r"[0-9]+(?=[^0-9]|$)|(?=[½¼¾⅛⅜⅝⅞⁰¹²³⁴⁵⁶⁷⁸⁹])")


class Drawing(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A drawing among the words, drawn on ``canvas`` with its lower left corner in the origin, in their language."""

    def __init__(self, canvas: Canvas, width: float, height: float, draw: Callable[[Canvas], None]) -> None:
        """Take the size and what draws it."""
        super().__init__()
        self.width, self.height = width * MM, height * MM
        spoken = languages()

        def spoken_again() -> None:
            with speaking(*spoken):
                draw(canvas)

        self.draw = spoken_again


class Again(Flowable):  # type: ignore[misc]
    """The head of a table, in more words where it stands again on the next page."""

    def __init__(self, first: Flowable, again: Flowable) -> None:
        """Take both heads."""
        super().__init__()
        self._now, self._next = first, again

    def wrap(self, width: float, height: float) -> Any:
        """Return the size of the longer one, points."""
        self._now.wrap(width, height)
        return self._next.wrap(width, height)

    def draw(self) -> None:
        """Draw the head whose turn it is."""
        self._now.drawOn(self.canv, 0, 0)
        self._now = self._next


class Figure(Flowable):  # type: ignore[misc]
    """A number in a cell, set so that the whole numbers of its column end below each other.

    ``after`` is the room right of them, mm: for the widest of the fractions or decimals.
    """

    def __init__(self, text: str, after: float) -> None:
        """Take the number as it is printed."""
        super().__init__()
        self._text, self._after = text, after

    def wrap(self, width: float, _height: float) -> Any:
        """Return the size: all the width there is, and one line."""
        self.width, self.height = width, LEADING * MM
        return self.width, self.height

    def draw(self) -> None:
        """Draw the number on the base line of a paragraph beside it."""
        before = text_width(whole_and_rest(self._text)[0])
        self.canv.setFont(face(False), SMALL)
        self.canv.drawString(self.width - (self._after + before) * MM, self.height - SMALL, self._text)


def whole_and_rest(number: str) -> tuple[str, str]:
    """Part a number as it is printed before its fraction or decimals; a text that is no number is whole."""
    found = _WHOLE.match(number)
    return (found[0], number[found.end() :]) if found else (number, "")


def paragraph(*runs: Words | str, bullet: str = "", right: bool = False, **lengths: float) -> Flowable:
    """Return a paragraph of runs of type with white between them; a bare text is set small.

    ``lengths`` are those of a paragraph's style, such as ``leftIndent`` and ``spaceBefore``.
    """
    whole = [(run, SMALL, False) if isinstance(run, str) else run for run in runs]
    size = max(size for _, size, _ in whole)
    style = ParagraphStyle(
        "words",
        **{name: length * MM for name, length in lengths.items()},
        **dict.fromkeys(("fontName", "bulletFontName"), face(whole[0][2])),
        **dict.fromkeys(("fontSize", "bulletFontSize"), size),
        leading=LEADING * size / SMALL * MM,
        alignment=TA_RIGHT if right else TA_LEFT,
    )
    return Paragraph("\u00a0\u00a0 ".join(_markup(*run) for run in whole if run[0]), style, bulletText=bullet or None)


def _markup(text: str, size: float, bold: bool) -> str:
    """Return a text for the parser of paragraphs, which finds nothing in it but letters."""
    kept = _WITHIN_A_NUMBER.sub("\u00a0", typeset(printable(text)).replace("  ", "\u00a0\u00a0"))
    return f'<font face="{face(bold)}" size="{size:g}">{escape(kept, quote=False)}</font>'


def room_for(size: float) -> Flowable:
    """Return what goes on to the next page where this one has less room."""
    return CondPageBreak(size * MM)


def gap(size: float) -> Flowable:
    """Return white between two others."""
    return Spacer(0, size * MM)


def picture(png: bytes, width: float, height: float) -> Flowable:
    """Return a picture in a frame."""
    return table([[Image(BytesIO(png), width * MM, height * MM)]], [width], ("BOX", *ALL, HAIR))


def table(
    rows: Sequence[Sequence[Any]],
    widths: Sequence[float],
    *commands: tuple[Any, ...],
    heights: Sequence[float | None] | None = None,
    **rest: Any,
) -> Flowable:
    """Return a table; a cell is a text, a flowable or several.

    Commands are those of platypus with lengths in mm, greys for colours, and no padding
    unless one gives it.  A row without a height takes what it needs.
    """
    plain = (
        ("FONT", *ALL, face(False), SMALL, LEADING * MM),
        *((f"{side}PADDING", *ALL, 0.0) for side in ("LEFT", "RIGHT", "TOP", "BOTTOM")),
    )
    return Table(
        [[typeset(cell) if isinstance(cell, str) else cell for cell in row] for row in rows],
        [width * MM for width in widths],
        heights and [high and high * MM for high in heights],
        [_command(*command) for command in (*plain, *commands)],
        hAlign="LEFT",
        **rest,
    )


def _command(name: str, start: tuple[int, int], end: tuple[int, int], *values: Any) -> tuple[Any, ...]:
    if name == "ROWBACKGROUNDS":
        return (name, start, end, [grey and Color(grey, grey, grey) for grey in values])
    if name.startswith(("LINE", "BOX")):
        return (name, start, end, values[0] * MM, black)
    return (name, start, end, values[0] * MM) if name.endswith("PADDING") else (name, start, end, *values)


def height(story: Sequence[Flowable], width: float) -> float:
    """Return the height of what stands one below the other on one page, mm."""
    heights = [
        one.wrap(width * MM, 1e6)[1] + (one.getSpaceBefore() if index else 0.0) for index, one in enumerate(story)
    ]
    return float(sum(heights)) / MM
