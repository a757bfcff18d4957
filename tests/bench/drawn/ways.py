"""Libraries that draw on a page: each a canvas.  One that is not installed raises ``ImportError``."""

from __future__ import annotations

import os
import subprocess
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.bench.drawn.canvas import HIGH, PT, WIDE, Canvas


class ByHand(Canvas):
    """Content streams written by hand, and saved by pikepdf."""

    def __init__(self) -> None:
        self.content: list[str] = []

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self.content.append(
            f"{grey} G {weight * PT:.4f} w {x * PT:.4f} {y * PT:.4f} {w * PT:.4f} {h * PT:.4f} re S 0 G"
        )

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.content.append(f"{grey} g {x * PT:.4f} {y * PT:.4f} {w * PT:.4f} {h * PT:.4f} re f 0 g")

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.content.append(f"{weight * PT:.4f} w {x1 * PT:.4f} {y1 * PT:.4f} m {x2 * PT:.4f} {y2 * PT:.4f} l S")

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        k = 0.5522847498 * r
        curves = [
            ((x + r, y + k), (x + k, y + r), (x, y + r)),
            ((x - k, y + r), (x - r, y + k), (x - r, y)),
            ((x - r, y - k), (x - k, y - r), (x, y - r)),
            ((x + k, y - r), (x + r, y - k), (x + r, y)),
        ]
        path = " ".join(" ".join(f"{a * PT:.4f} {b * PT:.4f}" for a, b in curve) + " c" for curve in curves)
        self.content.append(f"{weight * PT:.4f} w {(x + r) * PT:.4f} {y * PT:.4f} m {path} h S")

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        plain = words.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")
        self.content.append(f"BT /F1 {size} Tf {x * PT:.4f} {y * PT:.4f} Td ({plain}) Tj ET")

    def saved(self) -> bytes:
        from tests.proof.foreign import _page

        return _page("\n".join(self.content), (WIDE * PT, HIGH * PT))


class ByPypdf(ByHand):
    """Content written by hand in pypdf's writer."""

    def saved(self) -> bytes:
        from pypdf import PdfWriter
        from pypdf.generic import DecodedStreamObject, DictionaryObject, NameObject

        writer = PdfWriter()
        page = writer.add_blank_page(WIDE * PT, HIGH * PT)
        stream = DecodedStreamObject()
        stream.set_data("\n".join(self.content).encode("cp1252"))
        font = {"/Type": "/Font", "/Subtype": "/Type1", "/BaseFont": "/Times-Roman", "/Encoding": "/WinAnsiEncoding"}
        named = DictionaryObject({NameObject(key): NameObject(value) for key, value in font.items()})
        fonts = DictionaryObject({NameObject("/F1"): writer._add_object(named)})
        page[NameObject("/Resources")] = DictionaryObject({NameObject("/Font"): fonts})
        page[NameObject("/Contents")] = writer._add_object(stream)
        page.compress_content_streams()
        out = BytesIO()
        writer.write(out)
        return out.getvalue()


class ByPydyf(ByHand):
    def saved(self) -> bytes:
        import pydyf

        pdf = pydyf.PDF()
        font = pydyf.Dictionary(
            {"Type": "/Font", "Subtype": "/Type1", "BaseFont": "/Courier", "Encoding": "/WinAnsiEncoding"}
        )
        pdf.add_object(font)
        stream = pydyf.Stream([line.encode("cp1252") for line in self.content])
        pdf.add_object(stream)
        resources = pydyf.Dictionary({"Font": pydyf.Dictionary({"F1": font.reference})})
        box = pydyf.Array([0, 0, WIDE * PT, HIGH * PT])
        pdf.add_page(
            pydyf.Dictionary(
                {
                    "Type": "/Page",
                    "Parent": pdf.pages.reference,
                    "MediaBox": box,
                    "Contents": stream.reference,
                    "Resources": resources,
                }
            )
        )
        out = BytesIO()
        pdf.write(out)
        return out.getvalue()


class ByReportlab(Canvas):
    def __init__(self) -> None:
        from reportlab.pdfgen.canvas import Canvas as Page

        self.out = BytesIO()
        self.page = Page(self.out, pagesize=(WIDE * PT, HIGH * PT))
        self.page.scale(PT, PT)

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self.page.setStrokeGray(grey)
        self.page.setLineWidth(weight)
        self.page.rect(x, y, w, h)
        self.page.setStrokeGray(0)

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.page.setFillGray(grey)
        self.page.rect(x, y, w, h, stroke=0, fill=1)
        self.page.setFillGray(0)

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.page.setLineWidth(weight)
        self.page.line(x1, y1, x2, y2)

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self.page.setLineWidth(weight)
        self.page.circle(x, y, r)

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.page.setFont("Helvetica", size / PT)
        self.page.drawString(x, y, words)

    def saved(self) -> bytes:
        self.page.save()
        return self.out.getvalue()


class ByPymupdf(Canvas):
    def __init__(self) -> None:
        import pymupdf

        self.mu = pymupdf
        self.pdf = pymupdf.open()
        self.page = self.pdf.new_page(width=WIDE * PT, height=HIGH * PT)

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        box = self.mu.Rect(x * PT, (HIGH - y - h) * PT, (x + w) * PT, (HIGH - y) * PT)
        self.page.draw_rect(box, color=(grey,) * 3, width=weight * PT)

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        box = self.mu.Rect(x * PT, (HIGH - y - h) * PT, (x + w) * PT, (HIGH - y) * PT)
        self.page.draw_rect(box, color=None, fill=(grey,) * 3, width=0)

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.page.draw_line((x1 * PT, (HIGH - y1) * PT), (x2 * PT, (HIGH - y2) * PT), width=weight * PT)

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self.page.draw_circle((x * PT, (HIGH - y) * PT), r * PT, width=weight * PT)

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.page.insert_text((x * PT, (HIGH - y) * PT), words, fontsize=size)

    def saved(self) -> bytes:
        return bytes(self.pdf.tobytes())


class ByMatplotlib(Canvas):
    def __init__(self) -> None:
        import matplotlib

        matplotlib.use("pdf")
        from matplotlib import patches, pyplot

        self.patches = patches
        self.figure = pyplot.figure(figsize=(WIDE / 25.4, HIGH / 25.4))
        self.axes: Any = self.figure.add_axes((0, 0, 1, 1))
        self.axes.set_xlim(0, WIDE)
        self.axes.set_ylim(0, HIGH)
        self.axes.axis("off")

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self.axes.add_patch(self.patches.Rectangle((x, y), w, h, fill=False, lw=weight * PT, ec=str(grey)))

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.axes.add_patch(self.patches.Rectangle((x, y), w, h, lw=0, fc=str(grey)))

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.axes.plot([x1, x2], [y1, y2], color="black", lw=weight * PT)

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self.axes.add_patch(self.patches.Circle((x, y), r, fill=False, lw=weight * PT))

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.axes.text(x, y, words, fontsize=size)

    def saved(self) -> bytes:
        out = BytesIO()
        self.figure.savefig(out, format="pdf")
        return out.getvalue()


class ByCairo(Canvas):
    def __init__(self) -> None:
        import cairocffi

        self.cairo = cairocffi
        self.out = BytesIO()
        self.surface = cairocffi.PDFSurface(self.out, WIDE * PT, HIGH * PT)
        self.pen = cairocffi.Context(self.surface)

    def _box(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.pen.set_source_rgb(grey, grey, grey)
        self.pen.rectangle(x * PT, (HIGH - y - h) * PT, w * PT, h * PT)

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self._box(x, y, w, h, grey)
        self.pen.set_line_width(weight * PT)
        self.pen.stroke()
        self.pen.set_source_rgb(0, 0, 0)

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self._box(x, y, w, h, grey)
        self.pen.fill()
        self.pen.set_source_rgb(0, 0, 0)

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.pen.set_line_width(weight * PT)
        self.pen.move_to(x1 * PT, (HIGH - y1) * PT)
        self.pen.line_to(x2 * PT, (HIGH - y2) * PT)
        self.pen.stroke()

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self.pen.set_line_width(weight * PT)
        self.pen.new_sub_path()
        self.pen.arc(x * PT, (HIGH - y) * PT, r * PT, 0, 6.283185307179586)
        self.pen.close_path()
        self.pen.stroke()

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.pen.set_font_size(size)
        self.pen.move_to(x * PT, (HIGH - y) * PT)
        self.pen.show_text(words)

    def saved(self) -> bytes:
        self.surface.finish()
        return self.out.getvalue()


class ByFpdf(Canvas):
    def __init__(self) -> None:
        from fpdf import FPDF

        self.pdf = FPDF(format="A4", unit="mm")
        self.pdf.add_page()

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self.pdf.set_line_width(weight)
        self.pdf.set_draw_color(round(255 * grey))
        self.pdf.rect(x, HIGH - y - h, w, h)
        self.pdf.set_draw_color(0)

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.pdf.set_fill_color(round(255 * grey))
        self.pdf.rect(x, HIGH - y - h, w, h, style="F")

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.pdf.set_line_width(weight)
        self.pdf.line(x1, HIGH - y1, x2, HIGH - y2)

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self.pdf.set_line_width(weight)
        self.pdf.ellipse(x - r, HIGH - y - r, 2 * r, 2 * r)

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.pdf.set_font("helvetica", size=size)
        self.pdf.text(x, HIGH - y, words)

    def saved(self) -> bytes:
        return bytes(self.pdf.output())


class BySkia(Canvas):
    def __init__(self) -> None:
        import skia

        self.skia = skia
        self.stream = skia.DynamicMemoryWStream()
        self.pdf = skia.PDF.MakeDocument(self.stream)
        self.page = self.pdf.beginPage(WIDE * PT, HIGH * PT)

    def _paint(self, weight: float, grey: float = 0.0) -> Any:
        level = round(255 * grey)
        style = self.skia.Paint.kStroke_Style if weight else self.skia.Paint.kFill_Style
        return self.skia.Paint(
            Color=self.skia.Color(level, level, level), Style=style, StrokeWidth=weight * PT, AntiAlias=True
        )

    def _box(self, x: float, y: float, w: float, h: float) -> Any:
        return self.skia.Rect.MakeXYWH(x * PT, (HIGH - y - h) * PT, w * PT, h * PT)

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self.page.drawRect(self._box(x, y, w, h), self._paint(weight, grey))

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.page.drawRect(self._box(x, y, w, h), self._paint(0, grey))

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.page.drawLine(x1 * PT, (HIGH - y1) * PT, x2 * PT, (HIGH - y2) * PT, self._paint(weight))

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self.page.drawCircle(x * PT, (HIGH - y) * PT, r * PT, self._paint(weight))

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        font = self.skia.Font(self.skia.Typeface.MakeFromFile(str(FONT)), size)
        self.page.drawString(words, x * PT, (HIGH - y) * PT, font, self._paint(0))

    def saved(self) -> bytes:
        self.pdf.endPage()
        self.pdf.close()
        return bytes(self.stream.detachAsData())


FONT = Path(__file__).parent.parent.parent.parent / "fonts" / "DejaVuSans.ttf"


class BySvg(Canvas):
    """A drawing in SVG, which another library turns into a PDF."""

    def __init__(self) -> None:
        self.parts: list[str] = []

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        ink = f"#{round(255 * grey):02x}" + f"{round(255 * grey):02x}" * 2
        self.parts.append(
            f'<rect x="{x}" y="{HIGH - y - h:.4f}" width="{w}" height="{h}" fill="none" stroke="{ink}" '
            f'stroke-width="{weight}"/>'
        )

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        ink = f"#{round(255 * grey):02x}" + f"{round(255 * grey):02x}" * 2
        self.parts.append(f'<rect x="{x}" y="{HIGH - y - h:.4f}" width="{w}" height="{h}" fill="{ink}"/>')

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.parts.append(f'<path d="M {x1} {HIGH - y1} L {x2} {HIGH - y2}" stroke="black" stroke-width="{weight}"/>')

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self.parts.append(
            f'<circle cx="{x}" cy="{HIGH - y}" r="{r}" fill="none" stroke="black" stroke-width="{weight}"/>'
        )

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.parts.append(
            f'<text x="{x}" y="{HIGH - y}" font-family="sans-serif" font-size="{size / PT:.4f}">{words}</text>'
        )

    @property
    def markup(self) -> str:
        return (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDE}mm" height="{HIGH}mm" '
            f'viewBox="0 0 {WIDE} {HIGH}">' + "".join(self.parts) + "</svg>"
        )


class ByCairosvg(BySvg):
    def saved(self) -> bytes:
        import cairosvg

        return bytes(cairosvg.svg2pdf(self.markup.encode()))


class BySvglib(BySvg):
    def saved(self) -> bytes:
        from reportlab.graphics import renderPDF
        from svglib.svglib import svg2rlg

        return bytes(renderPDF.drawToString(svg2rlg(BytesIO(self.markup.encode()))))


class ByVlConvert(BySvg):
    def saved(self) -> bytes:
        import vl_convert

        # it writes a pixel as a point
        markup = self.markup.replace(f'width="{WIDE}mm"', f'width="{0.75 * WIDE}mm"')
        markup = markup.replace(f'height="{HIGH}mm"', f'height="{0.75 * HIGH}mm"')
        return bytes(vl_convert.svg_to_pdf(markup.replace("sans-serif", "DejaVu Sans")))


class ByMuSvg(BySvg):
    def saved(self) -> bytes:
        import pymupdf

        return bytes(pymupdf.open("svg", self.markup.encode()).convert_to_pdf())


class ByWeasySvg(BySvg):
    """SVG on a page of HTML."""

    def saved(self) -> bytes:
        import weasyprint

        style = f"<style>@page {{ size: {WIDE}mm {HIGH}mm; margin: 0 }} body {{ margin: 0 }} svg {{ display: block }}</style>"
        return bytes(weasyprint.HTML(string=style + self.markup).write_pdf())


class ByTypst(Canvas):
    def __init__(self) -> None:
        self.parts = [f"#set page(width: {WIDE}mm, height: {HIGH}mm, margin: 0mm)\n"]

    def _place(self, x: float, top: float, what: str) -> None:
        self.parts.append(f"#place(top + left, dx: {x}mm, dy: {HIGH - top:.4f}mm, {what})\n")

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self._place(x, y + h, f"rect(width: {w}mm, height: {h}mm, stroke: {weight}mm + luma({100 * grey}%))")

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self._place(x, y + h, f"rect(width: {w}mm, height: {h}mm, fill: luma({100 * grey}%))")

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        end = f"({x2 - x1}mm, {y1 - y2}mm)"
        self._place(x1, y1, f"line(end: {end}, stroke: {weight}mm)")

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self._place(x - r, y + r, f"circle(radius: {r}mm, stroke: {weight}mm)")

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self._place(x, y + 3, f"text(size: {size}pt)[{words}]")

    def saved(self) -> bytes:
        import typst

        with TemporaryDirectory() as folder:
            source = Path(folder) / "page.typ"
            source.write_text("".join(self.parts), encoding="utf-8")
            return bytes(typst.compile(str(source)))


class ByQt(Canvas):
    def __init__(self) -> None:
        os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
        from PySide6 import QtCore, QtGui

        self.core, self.gui = QtCore, QtGui
        self.app = QtGui.QGuiApplication.instance() or QtGui.QGuiApplication([])
        self.buffer = QtCore.QBuffer()
        self.buffer.open(QtCore.QIODevice.OpenModeFlag.WriteOnly)
        self.writer = QtGui.QPdfWriter(self.buffer)
        self.writer.setPageSize(QtGui.QPageSize(QtGui.QPageSize.PageSizeId.A4))
        self.writer.setPageMargins(QtCore.QMarginsF(0, 0, 0, 0))
        self.writer.setResolution(1200)
        self.k = 1200 / 25.4
        self.painter = QtGui.QPainter(self.writer)

    def _pen(self, weight: float, grey: float = 0.0) -> None:
        pen = self.gui.QPen(self.gui.QColor.fromRgbF(grey, grey, grey))
        pen.setWidthF(weight * self.k)
        pen.setJoinStyle(self.core.Qt.PenJoinStyle.MiterJoin)
        self.painter.setPen(pen)

    def _box(self, x: float, y: float, w: float, h: float) -> Any:
        return self.core.QRectF(x * self.k, (HIGH - y - h) * self.k, w * self.k, h * self.k)

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self._pen(weight, grey)
        self.painter.drawRect(self._box(x, y, w, h))

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.painter.fillRect(self._box(x, y, w, h), self.gui.QColor.fromRgbF(grey, grey, grey))

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self._pen(weight)
        a, b = (self.core.QPointF(x * self.k, (HIGH - y) * self.k) for x, y in ((x1, y1), (x2, y2)))
        self.painter.drawLine(a, b)

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self._pen(weight)
        self.painter.drawEllipse(self._box(x - r, y - r, 2 * r, 2 * r))

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self._pen(0.1)
        self.gui.QFontDatabase.addApplicationFont(str(FONT))
        font = self.gui.QFont("DejaVu Sans")
        font.setPointSizeF(size)
        self.painter.setFont(font)
        self.painter.drawText(self.core.QPointF(x * self.k, (HIGH - y) * self.k), words)

    def saved(self) -> bytes:
        self.painter.end()
        self.buffer.close()
        return bytes(self.buffer.data())


class ByToyplot(Canvas):
    def __init__(self) -> None:
        import toyplot
        import toyplot.pdf

        self.plot = toyplot
        # it writes a pixel as three quarters of a point
        self.page = toyplot.Canvas(width=WIDE * PT * 4 / 3, height=HIGH * PT * 4 / 3)
        self.axes = self.page.cartesian(
            bounds=(0, WIDE * PT * 4 / 3, 0, HIGH * PT * 4 / 3),
            xmin=0,
            xmax=WIDE,
            ymin=0,
            ymax=HIGH,
            show=False,
            padding=0,
        )

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        if grey:
            raise NotImplementedError
        self.axes.rectangle(x, x + w, y, y + h, style={"fill": "none", "stroke": "black", "stroke-width": weight * PT})

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.axes.rectangle(x, x + w, y, y + h, color="gray", style={"stroke": "none"})

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.axes.plot([x1, x2], [y1, y2], color="black", style={"stroke-width": weight * PT})

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        raise NotImplementedError

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.axes.text(x, y, words, color="black", style={"font-size": f"{size}pt", "text-anchor": "start"})

    def saved(self) -> bytes:
        out = BytesIO()
        self.plot.pdf.render(self.page, out)
        return out.getvalue()


class ByDrawsvg(Canvas):
    def __init__(self) -> None:
        import drawsvg

        self.d = drawsvg
        self.page = drawsvg.Drawing(WIDE, HIGH)
        self.page.set_render_size(f"{WIDE}mm", f"{HIGH}mm")

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        ink = f"#{round(255 * grey):02x}{round(255 * grey):02x}{round(255 * grey):02x}"
        self.page.append(self.d.Rectangle(x, HIGH - y - h, w, h, fill="none", stroke=ink, stroke_width=weight))

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self.page.append(self.d.Rectangle(x, HIGH - y - h, w, h, fill="gray"))

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        self.page.append(self.d.Line(x1, HIGH - y1, x2, HIGH - y2, stroke="black", stroke_width=weight))

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        self.page.append(self.d.Circle(x, HIGH - y, r, fill="none", stroke="black", stroke_width=weight))

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.page.append(self.d.Text(words, size / PT, x, HIGH - y))

    def saved(self) -> bytes:
        import cairosvg

        return bytes(cairosvg.svg2pdf(self.page.as_svg().encode()))


class ByBorb(Canvas):
    def __init__(self) -> None:
        from borb import pdf

        self.b = pdf
        self.file = pdf.Document()
        self.page = pdf.Page(width_in_points=round(WIDE * PT), height_in_points=round(HIGH * PT))
        self.file.append_page(self.page)

    def _shape(self, points: list[tuple[float, float]], weight: float, grey: float, fill: bool = False) -> None:
        ink = self.b.RGBColor(*(round(255 * grey),) * 3)
        xs, ys = [x for x, _ in points], [y for _, y in points]
        shape = self.b.Shape(
            coordinates=[(x * PT, y * PT) for x, y in points],
            stroke_color=None if fill else ink,
            fill_color=ink if fill else None,
            line_width=weight * PT,
        )
        box = (min(xs) * PT, min(ys) * PT, (max(xs) - min(xs)) * PT, (max(ys) - min(ys)) * PT)
        shape.paint(available_space=tuple(round(side) for side in box), page=self.page)

    def rect(self, x: float, y: float, w: float, h: float, weight: float, grey: float = 0.0) -> None:
        self._shape([(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)], weight, grey)

    def fill(self, x: float, y: float, w: float, h: float, grey: float) -> None:
        self._shape([(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)], 0, grey, True)

    def line(self, x1: float, y1: float, x2: float, y2: float, weight: float) -> None:
        raise NotImplementedError("it places each shape at a whole point")

    def circle(self, x: float, y: float, r: float, weight: float) -> None:
        raise NotImplementedError

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        chunk = self.b.Chunk(words, font_size=round(size))
        chunk.paint(available_space=(round(x * PT), round(y * PT), 300, 14), page=self.page)

    def saved(self) -> bytes:
        with TemporaryDirectory() as folder:
            file = Path(folder) / "page.pdf"
            self.b.PDF.write(what=self.file, where_to=str(file))
            return file.read_bytes()


class ByNode(Canvas):
    """A library of the other registry, told what to draw as JSON."""

    script = ""

    def __init__(self) -> None:
        if not Path(MODULES, self.needs).exists():
            raise ImportError(f"{self.needs} in {MODULES}")
        self.calls: list[list[Any]] = []

    needs = ""

    def rect(self, *given: float) -> None:
        self.calls.append(["rect", *given])

    def fill(self, *given: float) -> None:
        self.calls.append(["fill", *given])

    def line(self, *given: float) -> None:
        self.calls.append(["line", *given])

    def circle(self, *given: float) -> None:
        self.calls.append(["circle", *given])

    def text(self, x: float, y: float, words: str, size: float = 10) -> None:
        self.calls.append(["text", x, y, words, size])

    def saved(self) -> bytes:
        import json

        told = subprocess.run(
            ["node", "-e", self.script, json.dumps(self.calls)],
            capture_output=True,
            check=True,
            env={**os.environ, "NODE_PATH": MODULES},
        )
        return told.stdout


MODULES = os.environ.get("NODE_PATH", "node_modules")
_EACH = "const H = 297, k = 72 / 25.4; const calls = JSON.parse(process.argv[1]);"


class ByPdfkit(ByNode):
    needs = "pdfkit"
    script = (
        _EACH
        + """
    const P = require('pdfkit'); const d = new P({size: [210 * k, 297 * k], margin: 0}); d.pipe(process.stdout);
    for (const [what, ...a] of calls) {
      if (what == 'rect') d.lineWidth(a[4] * k).strokeColor([255*(a[5]||0),255*(a[5]||0),255*(a[5]||0)])
        .rect(a[0]*k, (H-a[1]-a[3])*k, a[2]*k, a[3]*k).stroke().strokeColor('black');
      if (what == 'fill') d.rect(a[0]*k, (H-a[1]-a[3])*k, a[2]*k, a[3]*k).fill('gray').fillColor('black');
      if (what == 'line') d.lineWidth(a[4]*k).moveTo(a[0]*k, (H-a[1])*k).lineTo(a[2]*k, (H-a[3])*k).stroke();
      if (what == 'circle') d.lineWidth(a[3]*k).circle(a[0]*k, (H-a[1])*k, a[2]*k).stroke();
      if (what == 'text') d.fontSize(a[3]).text(a[2], a[0]*k, (H-a[1])*k - a[3], {lineBreak: false});
    } d.end();"""
    )


class ByPdfLib(ByNode):
    needs = "pdf-lib"
    script = (
        _EACH
        + """
    const {PDFDocument, grayscale} = require('pdf-lib');
    (async () => { const d = await PDFDocument.create(); const p = d.addPage([210 * k, 297 * k]);
    for (const [what, ...a] of calls) {
      if (what == 'rect') p.drawRectangle({x: a[0]*k, y: a[1]*k, width: a[2]*k, height: a[3]*k, borderWidth: a[4]*k,
        borderColor: grayscale(a[5] || 0)});
      if (what == 'fill') p.drawRectangle({x: a[0]*k, y: a[1]*k, width: a[2]*k, height: a[3]*k, color: grayscale(a[4])});
      if (what == 'line') p.drawLine({start: {x: a[0]*k, y: a[1]*k}, end: {x: a[2]*k, y: a[3]*k}, thickness: a[4]*k});
      if (what == 'circle') p.drawCircle({x: a[0]*k, y: a[1]*k, size: a[2]*k, borderWidth: a[3]*k,
        borderColor: grayscale(0)});
      if (what == 'text') p.drawText(a[2], {x: a[0]*k, y: a[1]*k, size: a[3]});
    } process.stdout.write(await d.save()); })();"""
    )


class ByJspdf(ByNode):
    needs = "jspdf"
    script = (
        _EACH
        + """
    const {jsPDF} = require('jspdf'); const d = new jsPDF({unit: 'mm', format: 'a4'});
    for (const [what, ...a] of calls) {
      if (what == 'rect') { d.setLineWidth(a[4]); d.setDrawColor(Math.round(255 * (a[5] || 0)));
        d.rect(a[0], H-a[1]-a[3], a[2], a[3]); d.setDrawColor(0); }
      if (what == 'fill') { d.setFillColor(150); d.rect(a[0], H-a[1]-a[3], a[2], a[3], 'F'); }
      if (what == 'line') { d.setLineWidth(a[4]); d.line(a[0], H-a[1], a[2], H-a[3]); }
      if (what == 'circle') { d.setLineWidth(a[3]); d.circle(a[0], H-a[1], a[2]); }
      if (what == 'text') { d.setFontSize(a[3]); d.text(a[2], a[0], H-a[1]); }
    } process.stdout.write(Buffer.from(d.output('arraybuffer')));"""
    )


WAYS: dict[str, Callable[[], Canvas]] = {
    "by hand": ByHand,
    "pypdf": ByPypdf,
    "pydyf": ByPydyf,
    "reportlab": ByReportlab,
    "pymupdf": ByPymupdf,
    "matplotlib": ByMatplotlib,
    "cairo": ByCairo,
    "fpdf2": ByFpdf,
    "borb": ByBorb,
    "skia": BySkia,
    "qt": ByQt,
    "typst": ByTypst,
    "toyplot": ByToyplot,
    "drawsvg": ByDrawsvg,
    "cairosvg": ByCairosvg,
    "svglib": BySvglib,
    "vl-convert": ByVlConvert,
    "mupdf svg": ByMuSvg,
    "html svg": ByWeasySvg,
    "pdfkit": ByPdfkit,
    "pdf-lib": ByPdfLib,
    "jspdf": ByJspdf,
}
