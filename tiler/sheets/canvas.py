"""The drawing surface: millimetres in, PDF operators out.

With :mod:`~tiler.sheets.flow`, which sets pages to read on it, the only module that imports
reportlab and knows points (1 pt = 1/72 in, ISO 32000-1, 8.3.2.3).  It draws black on
white with the embedded family of ``fonts/`` and nothing else, so that every file holds
all that it needs.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from io import BytesIO
from pathlib import Path
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas as PdfCanvas

from tiler.box import Box, Point, Subpath
from tiler.declaration import PIECE_TAGS, Tag
from tiler.errors import SpecError, TilerError
from tiler.sentence import Place
from tiler.sheets.style import BRACKET_WEIGHT, DASH, FINE, SMALL, WEIGHT

MM = 72 / 25.4
REGULAR = "DejaVuSans"
BOLD = "DejaVuSans-Bold"

_FRACTION = re.compile("(?:(?<=[0-9])[ \u00a0])?([0-9]{1,3})/([0-9]{1,2})(?=[ \u00a0]in\\b)")
UNITS, FIGURES = ("in", "cm", "mm", "%"), tuple("0123456789½¼¾⅛⅜⅝⅞₂₄₆₈")

_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


@cache
def _folder() -> Path:
    packed = Path(__file__).parent.parent / "_fonts"
    beside = Path(__file__).parent.parent.parent / "fonts"
    for folder in (packed, beside):
        if (folder / f"{REGULAR}.ttf").is_file():
            return folder
    raise TilerError(f"the font {REGULAR}.ttf is missing from {packed}; install tiler again")


@cache
def _font(bold: bool) -> TTFont:
    name = BOLD if bold else REGULAR
    font = TTFont(name, str(_folder() / f"{name}.ttf"))
    pdfmetrics.registerFont(font)
    return font


def face(bold: bool) -> str:
    """Give the name of a font, which is at reportlab's hand from then on."""
    return str(_font(bold).fontName)


def typeset(text: str) -> str:
    """Set the fractions of inches as the eye wants them: raised and lowered figures about a fraction stroke."""
    return _FRACTION.sub(_stacked, text) if "/" in text else text


def _stacked(found: re.Match[str]) -> str:
    return f"{found[1].translate(_RAISED)}⁄{found[2].translate(_LOWERED)}"


def text_width(text: str, size: float = SMALL, bold: bool = False) -> float:
    """Return the advance width of a line of text, mm; ``size`` in points."""
    return float(_font(bold).stringWidth(typeset(text), size)) / MM


def shortened(text: str, width: float, size: float = SMALL, bold: bool = False) -> str:
    """Cut a text that is wider than ``width`` mm, after a word where one ends near by, and end it with an ellipsis."""
    text = typeset(text)
    if text_width(text, size, bold) <= width:
        return text
    kept = len(text)
    while kept and text_width(text[:kept] + "…", size, bold) > width:
        kept -= 1
    whole, _, part = text[: kept + 1].rpartition(" ")
    return (whole if len(part) <= len(whole) / 2 else text[:kept]).rstrip(" ,·") + "…"


def wrapped(text: str, width: float, size: float = SMALL, bold: bool = False) -> list[str]:
    """Break a text at its plain spaces into lines no wider than ``width`` mm (one word may be wider)."""
    words: list[str] = []
    for word in typeset(text).split(" "):
        if words and word.strip(".,;:)") in UNITS and words[-1][-1:] in FIGURES:
            # a number and its unit stay on one line
            words[-1] += f" {word}"
        else:
            words.append(word)
    lines: list[str] = []
    for word in words:
        if lines and text_width(f"{lines[-1]} {word}", size, bold) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def printable(text: str) -> str:
    """Return a text of strangers with a question mark for every character that the font lacks."""
    known = [_font(bold).face.charToGlyph for bold in (False, True)]
    return "".join(sign if all(ord(sign) in glyphs for glyphs in known) else "?" for sign in text)


def refuse_missing_characters(text: str, where: str) -> None:
    """Raise :class:`SpecError` when the font cannot print a character of ``text``."""
    for character in text:
        if any(ord(character) not in _font(bold).face.charToGlyph for bold in (False, True)):
            raise SpecError(
                f"the font has no sign for {character!r} (U+{ord(character):04X}); write it another way",
                Place("", (where,)),
            )


class Canvas:
    """A PDF in the making; coordinates in mm from the lower left corner of the page or form."""

    def __init__(self, line_weight: float | None = None, across: float = 1.0, down: float = 1.0) -> None:
        """Start an empty document, drawn larger than true by two factors, to undo a printer's error.

        ``line_weight`` is that of the cut line, and all lines of a piece go with it.
        """
        self._heavier = line_weight / WEIGHT[Tag.CUT_LINE] if line_weight else 1.0
        self._factors = (across, down)
        for bold in (False, True):
            face(bold)
        # Plain compressed streams: a text encoding on top makes them a quarter longer and slow to write.
        rl_config.useA85 = 0
        self._out = BytesIO()
        self._pdf = PdfCanvas(
            self._out,
            invariant=1,
            pageCompression=1,
            pdfVersion=(1, 7),
            initialFontName=REGULAR,
            initialFontSize=SMALL,
        )

    def begin_page(self, width: float, height: float) -> None:
        """Set the size of the page that is drawn next, mm before the factors."""
        across, down = self._factors
        self._pdf.setPageSize((width * across * MM, height * down * MM))
        if self._factors != (1.0, 1.0):
            self._pdf.transform(across, 0, 0, down, 0, 0)

    def end_page(self) -> None:
        """Finish the page."""
        self._pdf.showPage()

    def finish(self) -> BytesIO:
        """Close the document and return its bytes."""
        self._pdf.save()
        self._out.seek(0)
        return self._out

    def flowed(self, pages: Any, story: Sequence[Any]) -> BytesIO:
        """Let a platypus document flow on this surface, close it and give its bytes."""
        pages.build(list(story), canvasmaker=lambda *_, **__: self._pdf)
        self._out.seek(0)
        return self._out

    @contextmanager
    def form(self, name: str, bounds: Box) -> Iterator[None]:
        """Collect what is drawn inside the block in a Form XObject with these bounds."""
        # A form without bounds would be clipped at the page size.
        self._pdf.beginForm(name, bounds.x0 * MM, bounds.y0 * MM, bounds.x1 * MM, bounds.y1 * MM)
        yield
        self._pdf.endForm()

    def place(self, name: str, clip: Box, at: Point, turned: bool) -> None:
        """Paint a form with its origin at a page point, under a clip; turned means by +90 degrees."""
        self._pdf.saveState()
        path = self._pdf.beginPath()
        path.rect(clip.x0 * MM, clip.y0 * MM, clip.width * MM, clip.height * MM)
        self._pdf.clipPath(path, stroke=0, fill=0)
        x, y = at[0] * MM, at[1] * MM
        self._pdf.transform(*((0, 1, -1, 0, x, y) if turned else (1, 0, 0, 1, x, y)))
        self._pdf.doForm(name)
        self._pdf.restoreState()

    @contextmanager
    def part(self, tag: str) -> Iterator[None]:
        """Mark what is drawn inside the block as one part (marked content, never nested)."""
        # reportlab has no call for marked content; its operators go straight to the page.
        self._pdf._code.append(f"/{tag} BMC")
        yield
        self._pdf._code.append("EMC")

    def stroke(self, subpaths: Sequence[Subpath], weight: float, dash: Sequence[float] = ()) -> None:
        """Paint polylines as one path; one that ends where it began is closed."""
        self._pen(weight, dash)
        path = self._pdf.beginPath()
        for points in subpaths:
            closed = len(points) > 2 and points[0] == points[-1]
            path.moveTo(points[0][0] * MM, points[0][1] * MM)
            for x, y in points[1:-1] if closed else points[1:]:
                path.lineTo(x * MM, y * MM)
            if closed:
                path.close()
        self._pdf.drawPath(path, stroke=1, fill=0)

    def stroke_part(self, tag: str, subpaths: Sequence[Subpath], pattern: tuple[float, ...] = ()) -> None:
        """Paint polylines as one part, in the weight of its kind; of a dashed part only the first has gaps.

        ``pattern`` are dashes for a part whose kind is solid.
        """
        dash = DASH.get(tag, pattern)
        heavier = self._heavier if tag in PIECE_TAGS else 1.0
        with self.part(tag):
            self.stroke(subpaths[:1] if dash else subpaths, WEIGHT[tag] * heavier, dash)
            if dash and len(subpaths) > 1:
                self.stroke(subpaths[1:], BRACKET_WEIGHT * heavier)

    def register_mark(self, at: Point, size: float) -> None:
        """Paint a cross in a circle as one part and one path."""
        x, y, arm = at[0] * MM, at[1] * MM, size / 2 * MM
        with self.part(Tag.REGISTER_MARK):
            self._pen(WEIGHT[Tag.REGISTER_MARK], ())
            path = self._pdf.beginPath()
            path.circle(x, y, arm * 0.66)
            path.moveTo(x - arm, y)
            path.lineTo(x + arm, y)
            path.moveTo(x, y - arm)
            path.lineTo(x, y + arm)
            self._pdf.drawPath(path, stroke=1, fill=0)

    def text(
        self,
        at: Point,
        text: str,
        size: float = SMALL,
        bold: bool = False,
        align: str = "left",
        turned: bool = False,
    ) -> None:
        """Write one line at its base line; ``align`` is left, centre or right of the point."""
        shift = {"left": 0.0, "centre": 0.5, "right": 1.0}[align] * text_width(text, size, bold) * MM
        x, y = at[0] * MM, at[1] * MM
        line = self._pdf.beginText()
        if turned:
            line.setTextTransform(0, 1, -1, 0, x, y - shift)
        else:
            line.setTextOrigin(x - shift, y)
        line.setFont(BOLD if bold else REGULAR, size)
        line.textOut(typeset(text))
        self._pdf.drawText(line)

    def outline(self, box: Box, weight: float) -> None:
        """Stroke a rectangle that is no part, mm."""
        self._pen(weight, ())
        self._pdf.rect(box.x0 * MM, box.y0 * MM, box.width * MM, box.height * MM)

    def shade(self, box: Box, grey: float) -> None:
        """Fill a rectangle with grey: 0 is black, 1 white."""
        self._pdf.saveState()
        self._pdf.setFillGray(grey)
        self._pdf.rect(box.x0 * MM, box.y0 * MM, box.width * MM, box.height * MM, stroke=0, fill=1)
        self._pdf.restoreState()

    def dot(self, at: Point, radius: float, filled: bool) -> None:
        """Paint a filled dot, or a ring."""
        self._pen(FINE, ())
        self._pdf.circle(at[0] * MM, at[1] * MM, radius * MM, stroke=1, fill=int(filled))

    def clear(self, subpaths: Sequence[Subpath], weight: float) -> None:
        """Paint polylines in white, to part what is drawn on top of them from what lies below."""
        self._pdf.saveState()
        self._pdf.setStrokeGray(1.0)
        self.stroke(subpaths, weight)
        self._pdf.restoreState()

    def fill(self, shapes: Sequence[Subpath]) -> None:
        """Fill closed shapes with black."""
        path = self._pdf.beginPath()
        for points in shapes:
            path.moveTo(points[0][0] * MM, points[0][1] * MM)
            for x, y in points[1:]:
                path.lineTo(x * MM, y * MM)
            path.close()
        self._pdf.drawPath(path, stroke=0, fill=1)

    def _pen(self, weight: float, dash: Sequence[float]) -> None:
        self._pdf.setLineWidth(weight * MM)
        self._pdf.setDash([length * MM for length in dash])
