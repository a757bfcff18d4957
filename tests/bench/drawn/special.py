"""Drawings that only one way makes, or that only words, places or neighbours make hard."""

from __future__ import annotations

import subprocess
from collections.abc import Callable
from functools import partial
from io import BytesIO
from pathlib import Path
from shutil import which
from tempfile import TemporaryDirectory

from tests.bench.drawn.canvas import HIGH, PT, WIDE, Canvas
from tests.bench.drawn.ways import FONT, ByHand, ByReportlab, BySvg
from tests.proof.foreign import DRAWN, PAPERS

Made = bytes | tuple[bytes, float]
IN = 25.4


def html(body: str, style: str = "") -> bytes:
    import weasyprint

    page = f"@page {{ size: {WIDE}mm {HIGH}mm; margin: 20mm }} body {{ margin: 0; font: 10pt sans-serif }} {style}"
    return bytes(weasyprint.HTML(string=f"<style>{page}</style>{body}").write_pdf())


def typst(source: str) -> bytes:
    import typst as made

    with TemporaryDirectory() as folder:
        file = Path(folder) / "page.typ"
        file.write_text(source, encoding="utf-8")
        return bytes(made.compile(str(file)))


def groff(source: str) -> bytes:
    if not which("groff"):
        raise FileNotFoundError("groff")
    told = subprocess.run(["groff", "-p", "-Tpdf"], input=source.encode(), capture_output=True, check=False)
    if told.returncode:
        raise FileNotFoundError("groff's device for PDF")
    return told.stdout


def by(draw: Callable[[Canvas], None], way: Callable[[], Canvas] = ByHand) -> bytes:
    canvas = way()
    draw(canvas)
    return canvas.saved()


def said(words: str, side: float = 50.0, x: float = 60.0, y: float = 100.0, below: float = 8.0) -> bytes:
    """A square with words in it, in a font that has all of them."""
    from reportlab.pdfbase import pdfmetrics
    from reportlab.pdfbase.cidfonts import UnicodeCIDFont
    from reportlab.pdfbase.ttfonts import TTFont

    japanese = any(ord(sign) > 0x3000 for sign in words)
    if japanese:
        pdfmetrics.registerFont(UnicodeCIDFont("HeiseiKakuGo-W5"))
    else:
        pdfmetrics.registerFont(TTFont("Sans", str(FONT)))
    canvas = ByReportlab()
    canvas.rect(x, y, side, side, 0.4)
    canvas.page.setFont("HeiseiKakuGo-W5" if japanese else "Sans", 9 / PT)
    canvas.page.drawString(x + 3, y + side - below, words)
    return canvas.saved()


def broken_label(c: Canvas) -> None:
    c.rect(40, 150, 100, 100, 0.4)
    c.text(60, 200, "The sides of this are 10")
    c.text(60, 195.5, "cm long")


def raised(c: Canvas) -> None:
    c.rect(40, 150, 1.5 * IN, 1.5 * IN, 0.4)
    c.text(50, 160, "1", 12)
    c.text(52.6, 161.8, "1", 6)
    c.text(52.6, 159, "2", 6)
    c.text(55, 160, "in", 12)


def far(c: Canvas) -> None:
    c.rect(40, 150, 50, 50, 0.4)
    c.text(40, 132, "5 cm test square")


def far_plain(c: Canvas) -> None:
    c.rect(40, 150, 50, 50, 0.4)
    c.text(107, 175, "5 cm")


def arrows(c: Canvas) -> None:
    for turned in (False, True):
        ends = [(40, 100), (140, 100), (42.5, 100.8), (42.5, 99.2), (137.5, 100.8), (137.5, 99.2)]
        a, b, *barbs = [(y - 60, x - 20) if turned else (x, y) for x, y in ends]
        c.line(*a, *b, 0.3)
        for tip, barb in ((a, barbs[0]), (a, barbs[1]), (b, barbs[2]), (b, barbs[3])):
            c.line(*tip, *barb, 0.3)
    c.text(80, 102, "check: 10 cm")
    c.text(42, 60, "check: 10 cm")


def heads(c: ByHand) -> None:
    """A dimension line with filled heads, which its own words interrupt."""

    def head(*corners: tuple[float, float]) -> None:
        (ax, ay), (bx, by_), (dx, dy) = ((x * PT, y * PT) for x, y in corners)
        c.content.append(f"{ax} {ay} m {bx} {by_} l {dx} {dy} l f")

    c.line(43, 200, 80, 200, 0.3)
    c.line(100, 200, 137, 200, 0.3)
    head((40, 200), (43.2, 200.9), (43.2, 199.1))
    head((140, 200), (136.8, 200.9), (136.8, 199.1))
    c.text(83, 199, "10 cm")
    c.line(30, 53, 30, 80, 0.3)
    c.line(30, 110, 30, 147, 0.3)
    head((30, 50), (29.1, 53.2), (30.9, 53.2))
    head((30, 150), (29.1, 146.8), (30.9, 146.8))
    c.text(26, 94, "10 cm")


def blocks(c: Canvas) -> None:
    for step in range(0, 10, 2):
        c.fill(40 + 10 * step, 60, 10, 4, 0)
    c.rect(40, 60, 100, 4, 0.2)
    c.text(40, 66, "0")
    c.text(136, 66, "10 cm")
    for step in range(0, 4, 2):
        c.fill(20, 60 + IN * step, 4, IN, 0)
    c.rect(20, 60, 4, 4 * IN, 0.2)
    c.text(26, 158, "4 in")


def card(c: Canvas) -> None:
    c.rect(50, 180, 85.6, 53.98, 0.3)
    c.text(60, 205, "Lay a bank card here to check the size")


def angles(c: Canvas) -> None:
    x, y, s = 50, 100, 100
    for px, py, dx, dy in ((x, y, 8, 8), (x + s, y, -8, 8), (x + s, y + s, -8, -8), (x, y + s, 8, -8)):
        c.line(px, py, px + dx, py, 0.3)
        c.line(px, py, px, py + dy, 0.3)
    c.text(80, 150, "10 cm test square")


def crosses(c: Canvas) -> None:
    x, y, s = 50, 100, 4 * IN
    for px, py in ((x, y), (x + s, y), (x + s, y + s), (x, y + s)):
        c.line(px - 4, py, px + 4, py, 0.3)
        c.line(px, py - 4, px, py + 4, 0.3)
    c.text(80, 150, "4 in between the crosses, test square")


def grid(c: Canvas) -> None:
    for step in range(11):
        c.line(50, 100 + 10 * step, 150, 100 + 10 * step, 0.2)
        c.line(50 + 10 * step, 100, 50 + 10 * step, 200, 0.2)
    c.text(50, 203, "10 x 10 cm grid, test square")


def in_a_piece(c: Canvas) -> None:
    c.rect(20, 30, 170, 230, 0.6)
    c.text(60, 220, "Front, cut 1 on fold")
    c.rect(60, 100, 50, 50, 0.3)
    c.text(64, 125, "5 cm")


def with_button(c: Canvas) -> None:
    c.rect(60, 100, 2 * IN, 2 * IN, 0.3)
    c.text(64, 125, "2 in test square")
    c.circle(150, 100, 12.2, 0.3)
    c.text(140, 84, "button, 2.5 cm")


def three(c: Canvas) -> None:
    for x, side, words in ((20, IN, "1 in"), (60, 2 * IN, "2 in"), (130, 50, "5 cm")):
        c.rect(x, 100, side, side, 0.3)
        c.text(x + 4, 110, words)


def crossed(c: Canvas) -> None:
    c.rect(60, 100, 50, 50, 0.3)
    c.line(60, 100, 110, 150, 0.3)
    c.line(60, 150, 110, 100, 0.3)
    c.text(60, 152, "Control 5 cm")


def sketch(c: Canvas) -> None:
    c.rect(20, 220, 4 * IN, 4 * IN * 0.6, 0.3)
    c.rect(60, 100, 4 * IN, 4 * IN, 0.3)
    c.text(64, 150, "scale check 4 in")
    c.rect(20, 30, 48, 48, 0.3)
    c.text(24, 50, "5 cm patch, sketch not to scale")


def double(c: Canvas) -> None:
    c.rect(60, 100, 100, 100, 0.3)
    c.rect(61, 101, 98, 98, 0.3)
    c.text(90, 150, "10 cm")


def cropped() -> bytes:
    import cairosvg

    markup = (
        '<svg xmlns="http://www.w3.org/2000/svg" width="50mm" height="50mm" viewBox="0 0 50 50">'
        '<rect x="0" y="0" width="50" height="50" fill="none" stroke="black" stroke-width="1"/>'
        '<text x="12" y="26" font-size="5">5 cm</text></svg>'
    )
    return bytes(cairosvg.svg2pdf(markup.encode()))


def cropped_plot() -> bytes:
    from matplotlib import patches, pyplot

    figure = pyplot.figure(figsize=(4, 4))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.axis("off")
    axes.set_xlim(0, 4)
    axes.set_ylim(0, 4)
    axes.add_patch(patches.Rectangle((0, 0), 4, 4, fill=False, lw=2))
    axes.text(1, 2, "4 in")
    out = BytesIO()
    figure.savefig(out, format="pdf")
    return out.getvalue()


def stuck_on() -> bytes:
    import pymupdf

    pdf = pymupdf.open()
    page = pdf.new_page(width=WIDE * PT, height=HIGH * PT)
    page.insert_text((110, 130), "2 in")
    note = page.add_polygon_annot([(100, 100), (100 + 144, 100), (244, 244), (100, 244)])
    note.set_border(width=1)
    note.update()
    return bytes(pdf.tobytes())


def in_curves() -> tuple[bytes, float]:
    """A label whose letters are curves."""
    from matplotlib import patches, pyplot, textpath

    figure = pyplot.figure(figsize=(8, 11))
    axes = figure.add_axes((0, 0, 1, 1))
    axes.axis("off")
    axes.set_xlim(0, 8)
    axes.set_ylim(0, 11)
    axes.add_patch(patches.Rectangle((2, 5), 2, 2, fill=False, lw=1))
    axes.add_patch(patches.PathPatch(textpath.TextPath((2.4, 6), "2 in", size=0.3), lw=0))
    out = BytesIO()
    figure.savefig(out, format="pdf")
    return out.getvalue(), 2 * IN


def many_pages() -> bytes:
    import pymupdf

    pdf = pymupdf.open(stream=by(three), filetype="pdf")
    for number in range(2, 13):
        pdf.new_page(width=WIDE * PT, height=HIGH * PT).insert_text((90, 90), f"Step {number}: sew 1 cm from the edge")
    return bytes(pdf.tobytes())


def ring_svg() -> bytes:
    """A square as drawing programs write a line that was turned into a shape."""
    import cairosvg

    canvas = BySvg()
    canvas.parts.append(
        '<path fill-rule="evenodd" d="M39.75 99.75 h50.5 v50.5 h-50.5 z M40.25 100.25 h49.5 v49.5 h-49.5 z"/>'
    )
    canvas.text(50, HIGH - 120, "test 5 cm")
    return bytes(cairosvg.svg2pdf(canvas.markup.encode()))


_BORDER = "border: 1px solid black; padding: 6px"

SPECIAL: dict[str, Callable[[], Made]] = {
    **{f"known: {name}": partial(draw, PAPERS["letter"]) for name, draw in DRAWN.items()},
    "words: broken label": partial(by, broken_label),
    "words: raised figures": partial(by, raised),
    "words: far": partial(by, far),
    "words: far and plain": partial(by, far_plain),
    "words: cms": partial(said, "5 cms x 5 cms"),
    "words: no unit": partial(said, "1 × 1", IN),
    "words: no unit, cm": partial(said, "5 x 5 square"),
    "words: one sign": partial(said, "2½″", 2.5 * IN),
    "words: Cyrillic": partial(said, "Контрольный квадрат 5 см"),
    "words: Cyrillic inches": partial(said, "2 дюйма", 2 * IN),
    "words: Japanese": partial(said, "確認用 5センチ角"),
    "words: Japanese wide": partial(said, "５ｃｍ × ５ｃｍ"),
    "words: German": partial(said, "Testquadrat: zehn Zentimeter", 100),
    "words: French": partial(said, "Carré de contrôle : deux pouces", 2 * IN),
    "words: Spanish": partial(said, "Cuadro de prueba de cinco centímetros"),
    "words: Italian": partial(said, "Quadrato di prova, dieci centimetri", 100),
    "words: Dutch": partial(said, "Testvierkant twee inch", 2 * IN),
    "words: Swedish": partial(said, "Kontrollruta 5 centimeter"),
    "words: Finnish": partial(said, "Testineliö viisi cm"),
    "words: Polish": partial(said, "Kwadrat kontrolny dwa cale", 2 * IN),
    "words: Portuguese": partial(said, "Quadrado de teste duas polegadas", 2 * IN),
    "words: both units": partial(said, "2 in (5.08 cm)", 2 * IN),
    "bar: arrows": partial(by, arrows),
    "bar: heads": lambda: by(heads),
    "bar: blocks": partial(by, blocks),
    "shape: card": partial(by, card),
    "shape: angles": partial(by, angles),
    "shape: crosses": partial(by, crosses),
    "shape: grid": partial(by, grid),
    "shape: crossed": partial(by, crossed),
    "shape: double line": partial(by, double),
    "shape: ring": ring_svg,
    "page: in a piece": partial(by, in_a_piece),
    "page: with a button": partial(by, with_button),
    "page: three squares": partial(by, three),
    "page: with a sketch": partial(by, sketch),
    "page: first of twelve": many_pages,
    "page: cropped drawing": cropped,
    "page: cropped plot": cropped_plot,
    "page: annotation": stuck_on,
    "page: label in curves": in_curves,
    "html: border box": lambda: html(
        f'<div style="box-sizing: border-box; width: 2in; height: 2in; {_BORDER}">2 in</div>'
    ),
    "html: border box 3px": lambda: html(
        '<div style="box-sizing: border-box; width: 4in; height: 4in; border: 3px solid black">4 in test square</div>'
    ),
    "html: content box": lambda: html('<div style="width: 10cm; height: 10cm; border: 0.5pt solid black">10 cm</div>'),
    "html: background": lambda: html('<div style="width: 5cm; height: 5cm; background: #bbb">5 cm</div>'),
    "html: outline": lambda: html('<div style="width: 3in; height: 3in; outline: 1px solid">3 inch</div>'),
    "html: dashed": lambda: html(
        '<div style="box-sizing: border-box; width: 5cm; height: 5cm; border: 1px dashed black">5 cm</div>'
    ),
    "html: table": lambda: html(
        "<table><tr><td>test square 4 in</td></tr></table>",
        "table { border-collapse: collapse } td { width: 4in; height: 4in; padding: 0; border: 0.3mm solid }",
    ),
    "typst: square": lambda: typst("#square(size: 5cm, stroke: 0.5pt)[5 cm]"),
    "typst: box": lambda: typst("#box(width: 2in, height: 2in, stroke: 1pt)[2 in test square]"),
    "typst: table": lambda: typst("#table(columns: (5cm,), rows: (5cm,), stroke: 0.4pt)[5 cm]"),
    "groff: box": lambda: groff('.PS\nbox wid 2 ht 2 "2 in"\n.PE\n'),
    "groff: lines": lambda: groff('.PS\nline right 4\nline up 4\nline left 4\nline down 4\n"4 in" at (2, 2)\n.PE\n'),
    "groff: circle": lambda: groff('.PS\ncircle rad 1 "diameter 2 in"\n.PE\n'),
}
