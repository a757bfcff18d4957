"""The drawing surface: millimetres in, PDF operators out.

Knows points (1 pt = 1/72 in, ISO 32000-1, 8.3.2.3); what else imports reportlab is
:mod:`~tiler.sheets.typesetting`, which measures type, and :mod:`~tiler.sheets.flow`, which sets
pages to read.  It draws black on white, or a form in one colour, with the embedded family of ``fonts/``
and nothing else, so that every file holds all that it needs, and keeps a record of all that it paints.
"""

from __future__ import annotations

import os
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from io import BytesIO
from typing import Any

from reportlab import rl_config
from reportlab.pdfgen.canvas import Canvas as PdfCanvas

from tiler.box import Box, Point, Subpath
from tiler.declaration import PIECE_TAGS, Tag
from tiler.fonts import BOLD, REGULAR
from tiler.printed import Area, Colour, Form, Ink, Line, Logo, Placed, Printed, Region, Word
from tiler.sheets.logo import paint_logo
from tiler.sheets.paths import traced
from tiler.sheets.style import BRACKET_WEIGHT, DASH, FINE, SMALL, WEIGHT
from tiler.sheets.typesetting import MM, face, text_width, typeset

DATED = "SOURCE_DATE_EPOCH"


class Canvas:
    """A PDF in the making; coordinates in mm from the lower left corner of the page or form."""

    def __init__(
        self, line_weight: float | None = None, across: float = 1.0, down: float = 1.0, dark: bool = False
    ) -> None:
        """Start an empty document, drawn larger than true by two factors, to undo a printer's error.

        ``line_weight`` is that of the cut line, and all lines of a piece go with it.  A ``dark`` document is
        painted as the negative of what its record says.
        """
        self._heavier = line_weight / WEIGHT[Tag.CUT_LINE] if line_weight else 1.0
        self._factors, self._dark = (across, down), dark
        self.forms: list[Form] = []
        self.printed: list[tuple[Printed, ...]] = []
        self._marks: list[Printed] = []
        self._tag = ""
        for bold in (False, True):
            face(bold)
        # Plain compressed streams: a text encoding on top makes them a quarter longer and slow to write.
        rl_config.useA85 = 0
        self._out = BytesIO()
        with _undated():
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
        if self._dark:
            self._pdf.rect(0, 0, width * MM, height * MM, stroke=0, fill=1)
            self._pdf.setFillGray(1.0)
            self._pdf.setStrokeGray(1.0)

    def end_page(self) -> None:
        """Finish the page."""
        self._pdf.showPage()
        self.printed.append(tuple(self._marks))
        self._marks = []

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
    def form(self, name: str, bounds: Box, colour: Colour | None = None) -> Iterator[None]:
        """Collect what is drawn inside the block in a Form XObject with these bounds, all of it in one colour."""
        # A form without bounds would be clipped at the page size.
        self._pdf.beginForm(name, bounds.x0 * MM, bounds.y0 * MM, bounds.x1 * MM, bounds.y1 * MM)
        around, self._marks = self._marks, []
        if colour:
            shown = [1.0 - share for share in colour] if self._dark else colour
            self._pdf.setStrokeColorRGB(*shown)
            self._pdf.setFillColorRGB(*shown)
            self._marks.append(Ink(colour))
        yield
        self._pdf.endForm()
        self.forms.append(Form(name, bounds, tuple(self._marks)))
        self._marks = around

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
        self._marks.append(Placed(name, clip, at, turned))

    @contextmanager
    def part(self, tag: str) -> Iterator[None]:
        """Mark what is drawn inside the block as one part (marked content, never nested)."""
        # reportlab has no call for marked content; its operators go straight to the page.
        self._pdf._code.append(f"/{tag} BMC")
        self._tag = tag
        yield
        self._tag = ""
        self._pdf._code.append("EMC")

    def begin_language(self, code: str) -> None:
        """Say of what is drawn next that it is in another language than the document (ISO 32000-1, 14.9.2.2)."""
        self._pdf._code.append(f"/Span <</Lang ({code})>> BDC")

    def end_language(self) -> None:
        """Go back to the language of the document."""
        self._pdf._code.append("EMC")

    def stroke(self, subpaths: Sequence[Subpath], weight: float, dash: Sequence[float] = ()) -> None:
        """Paint polylines as one path; one that ends where it began is closed."""
        self._pen(weight, dash)
        self._pdf.drawPath(traced(self._pdf, subpaths), stroke=1, fill=0)
        self._marks.append(Line(tuple(subpaths), weight, tuple(dash), tag=self._tag))

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
        (x, y), arm = at, size / 2
        cross = (((x - arm, y), (x + arm, y)), ((x, y - arm), (x, y + arm)))
        self._marks.append(Line(cross, WEIGHT[Tag.REGISTER_MARK], (), ((at, arm * 0.66),), Tag.REGISTER_MARK))

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
        start = (x, y - shift) if turned else (x - shift, y)
        self._marks.append(Word(typeset(text), (start[0] / MM, start[1] / MM), size, bold, turned))

    def outline(self, box: Box, weight: float) -> None:
        """Stroke a rectangle that is no part, mm."""
        self._pen(weight, ())
        self._pdf.rect(box.x0 * MM, box.y0 * MM, box.width * MM, box.height * MM)
        corners = ((box.x0, box.y0), (box.x1, box.y0), (box.x1, box.y1), (box.x0, box.y1), (box.x0, box.y0))
        self._marks.append(Line((corners,), weight))

    def shade(self, box: Box, grey: float) -> None:
        """Fill a rectangle with grey: 0 is black, 1 white."""
        self._pdf.saveState()
        self._pdf.setFillGray(1.0 - grey if self._dark else grey)
        self._pdf.rect(box.x0 * MM, box.y0 * MM, box.width * MM, box.height * MM, stroke=0, fill=1)
        self._pdf.restoreState()
        self._marks.append(Area(box, grey))

    def shade_round(self, outline: Subpath, grey: float) -> None:
        """Fill what a closed polyline goes round with grey."""
        self._pdf.saveState()
        self._pdf.setFillGray(1.0 - grey if self._dark else grey)
        self._pdf.drawPath(traced(self._pdf, (outline,)), stroke=0, fill=1)
        self._pdf.restoreState()
        self._marks.append(Region(outline, grey))

    def dot(self, at: Point, radius: float, filled: bool) -> None:
        """Paint a filled dot, or a ring."""
        self._pen(FINE, ())
        self._pdf.circle(at[0] * MM, at[1] * MM, radius * MM, stroke=1, fill=int(filled))

    def clear(self, subpaths: Sequence[Subpath], weight: float) -> None:
        """Paint polylines in white, to part what is drawn on top of them from what lies below."""
        self._pdf.saveState()
        self._pdf.setStrokeGray(0.0 if self._dark else 1.0)
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

    def logo(self, logo: Logo, corner: Point) -> None:
        """Paint a logo, its lower left corner at a point."""
        paint_logo(self._pdf, logo, corner)
        self._marks += logo.at(corner)

    def _pen(self, weight: float, dash: Sequence[float]) -> None:
        self._pdf.setLineWidth(weight * MM)
        self._pdf.setDash([length * MM for length in dash])


@contextmanager
def _undated() -> Iterator[None]:
    """Hide the date that an environment sets for what is built in it: a file has the same bytes everywhere."""
    date = os.environ.pop(DATED, None)
    try:
        yield
    finally:
        if date is not None:
            os.environ[DATED] = date
