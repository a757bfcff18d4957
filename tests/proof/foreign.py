"""Files that are not ours: each true to scale, each with its test square or ruler lines drawn another way.

Every content stream is written by hand here, or by a library other than the one that
draws our files; lengths are mm, 1 in = 25.4 mm exactly (NIST SP 811, App. B) and a
unit is 1/72 in (ISO 32000-1, 8.3.2.3).
"""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from math import cos, radians, sin, sqrt

import pymupdf
from pikepdf import Array, Dictionary, Name, Pdf
from reportlab.pdfgen.canvas import Canvas

PT = 72 / 25.4
PAPERS = {"letter": (612.0, 792.0), "a4": (210 * PT, 297 * PT)}
Paper = tuple[float, float]


def by_rectangle(paper: Paper) -> bytes:
    """``re`` and ``S``, the label above."""
    x, y, s = 40 * PT, 150 * PT, 50.8 * PT
    return _page(f"1 w {x} {y} {s} {s} re S {_words(x, y + s + 6, '2 in')}", paper)


def by_four_lines(paper: Paper) -> bytes:
    """Four paths in no order, two of them drawn backwards."""
    x, y, s = 60 * PT, 90 * PT, 25.4 * PT
    sides = [(x, y, x + s, y), (x + s, y + s, x, y + s), (x, y + s, x, y), (x + s, y, x + s, y + s)]
    drawn = " ".join(f"{a} {b} m {c} {d} l S" for a, b, c, d in sides)
    return _page(f"0.7 w {drawn} {_words(x + 4, y - 11, '1 inch square')}", paper)


def by_open_path(paper: Paper) -> bytes:
    """One path that comes back to its start without closing."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=paper)
    x, y, s = 30 * PT, 60 * PT, 100 * PT
    path = canvas.beginPath()
    path.moveTo(x, y + s)
    for corner in ((x, y), (x + s, y), (x + s, y + s), (x, y + s)):
        path.lineTo(*corner)
    canvas.drawPath(path)
    canvas.drawString(x + 20, y + s / 2, "10x10cm")
    canvas.save()
    return out.getvalue()


def by_straight_curves(paper: Paper) -> bytes:
    """Sides written as Bézier segments with their control points on the side."""
    x, y, s = 25 * PT, 200 * PT, 50 * PT
    corners = [(x, y), (x + s, y), (x + s, y + s), (x, y + s)]
    drawn = f"{x} {y} m"
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        third = ((bx - ax) / 3, (by - ay) / 3)
        drawn += f" {ax + third[0]} {ay + third[1]} {bx - third[0]} {by - third[1]} {bx} {by} c"
    return _page(f"0.5 w {drawn} h S {_words(x + s + 8, y + s / 2, '5 cm')}", paper)


def by_solid_fill(paper: Paper) -> bytes:
    """A grey square without an outline."""
    x, y, s = 120 * PT, 30 * PT, 25 * PT
    return _page(f"0.4 g {x} {y} {s} {s} re f 0 g {_words(x - 10, y + s + 5, '2.5 cm test square')}", paper)


def by_thin_fills(paper: Paper) -> bytes:
    """Four filled bars with the sides along their middles, as programs write rules."""
    x, y, s, t = 20 * PT, 70 * PT, 100 * PT, 0.6
    bars = [
        (x - t / 2, y - t / 2, s + t, t),
        (x - t / 2, y + s - t / 2, s + t, t),
        (x - t / 2, y - t / 2, t, s + t),
        (x + s - t / 2, y - t / 2, t, s + t),
    ]
    drawn = " ".join(f"{a} {b} {c} {d} re f" for a, b, c, d in bars)
    return _page(f"{drawn} {_words(x + 10, y + 10, '100 mm')}", paper)


def by_ring(paper: Paper) -> bytes:
    """An outline turned into a filled shape: a square within a square, filled by the even-odd rule."""
    x, y, s, t = 50 * PT, 130 * PT, 76.2 * PT, 1.4
    outer = f"{x - t / 2} {y - t / 2} {s + t} {s + t} re"
    inner = f"{x + t / 2} {y + t / 2} {s - t} {s - t} re"
    return _page(f"{outer} {inner} f* {_words(x + 30, y + 40, '3 inches')}", paper)


def by_dashes(paper: Paper) -> bytes:
    """A dashed outline."""
    x, y, s = 90 * PT, 180 * PT, 50.8 * PT
    return _page(f"1.2 w [4 3] 0 d {x} {y} {s} {s} re S [] 0 d {_words(x + 5, y + 5, '2″ × 2″')}", paper)


def by_form(paper: Paper) -> bytes:
    """Drawn ten times too large inside a form that is placed at a tenth."""
    pdf = _blank(paper)
    s = 50 * PT * 10
    content = f"8 w 100 100 {s} {s} re S BT /F1 110 Tf 200 300 Td (5 cm) Tj ET".encode()
    form = pdf.make_stream(content, Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 3000, 3000]))
    form.Resources = pdf.pages[0].Resources
    pdf.pages[0].Resources.XObject = Dictionary(Fm=form)
    pdf.pages[0].Contents = pdf.make_stream(b"q 0.1 0 0 0.1 150 300 cm /Fm Do Q")
    return _saved(pdf)


def by_turned_matrix(paper: Paper) -> bytes:
    """A square that stands on its corner."""
    s, c = 50.8 * PT, cos(radians(45))
    square = f"0.8 w q {c} {c} {-c} {c} 300 300 cm 0 0 {s} {s} re S Q"
    return _page(f"{square} {_words(290, 300 + s / sqrt(2), '2 in')}", paper)


def by_turned_page(paper: Paper) -> bytes:
    """A page turned by Rotate whose MediaBox names the other two corners and is off the origin."""
    pdf = _blank(paper)
    page = pdf.pages[0]
    x, y, s = 60 + 40 * PT, -200 + 80 * PT, 50 * PT
    page.MediaBox = Array([60 + paper[0], -200, 60, -200 + paper[1]])
    page.Rotate = 90
    page.Contents = pdf.make_stream(f"{x} {y} {s} {s} re S {_words(x + 20, y + 30, '5 cm')}".encode("cp1252"))
    return _saved(pdf)


def by_user_unit(paper: Paper) -> bytes:
    """Drawn at half its size on a page whose unit is doubled."""
    pdf = _blank((paper[0] / 2, paper[1] / 2))
    page = pdf.pages[0]
    page.UserUnit = 2
    s = 101.6 * PT / 2
    page.Contents = pdf.make_stream(f"0.4 w 50 60 {s} {s} re S {_words(60, 70, '4 x 4 inch', 6)}".encode("cp1252"))
    return _saved(pdf)


def by_rounded_corners(paper: Paper) -> bytes:
    """A square with rounded corners, written by another library."""
    with pymupdf.open() as pdf:
        page = pdf.new_page(width=paper[0], height=paper[1])
        side = 101.6 * PT
        page.draw_rect(pymupdf.Rect(70, 120, 70 + side, 120 + side), radius=0.06, width=0.9)
        page.insert_text((90, 150), "test square: 4 in")
        return bytes(pdf.tobytes())


def by_ruler_lines(paper: Paper) -> bytes:
    """No square: one graduated line across and one down, each with its length."""
    with pymupdf.open() as pdf:
        page = pdf.new_page(width=paper[0], height=paper[1])
        step = 10 * PT
        page.draw_line((80, 100), (80 + 10 * step, 100), width=0.6)
        page.draw_line((80, 160), (80, 160 + 15 * step), width=0.6)
        for tick in range(11):
            page.draw_line((80 + tick * step, 100), (80 + tick * step, 94), width=0.4)
        for tick in range(16):
            page.draw_line((80, 160 + tick * step), (74, 160 + tick * step), width=0.4)
        page.insert_text((90, 114), "10 cm")
        page.insert_text((88, 200), "15 cm")
        return bytes(pdf.tobytes())


DRAWN: dict[str, Callable[[Paper], bytes]] = {
    "rectangle": by_rectangle,
    "four lines": by_four_lines,
    "open path": by_open_path,
    "straight curves": by_straight_curves,
    "solid fill": by_solid_fill,
    "thin fills": by_thin_fills,
    "ring": by_ring,
    "dashes": by_dashes,
    "form": by_form,
    "turned by 45°": by_turned_matrix,
    "turned page": by_turned_page,
    "user unit": by_user_unit,
    "rounded corners": by_rounded_corners,
    "ruler lines": by_ruler_lines,
}


def foreign_files(paper: str = "letter") -> dict[str, bytes]:
    """Give all of them on one paper, by how they are drawn."""
    return {name: draw(PAPERS[paper]) for name, draw in DRAWN.items()}


def rescaled(data: bytes, across: float, down: float | None = None, degrees: float = 0.0) -> bytes:
    """Give the file with everything on its pages scaled, or turned, about the corner of the MediaBox."""
    down = across if down is None else down
    c, s = cos(radians(degrees)), sin(radians(degrees))
    with Pdf.open(BytesIO(data)) as pdf:
        for page in pdf.pages:
            box = [float(side) for side in page.MediaBox]
            x, y = min(box[0], box[2]), min(box[1], box[3])
            a, b, k, d = across * c, down * s, -across * s, down * c
            matrix = (a, b, k, d, x - a * x - k * y, y - b * x - d * y)
            page.contents_add(
                " ".join(f"{number:.9f}" for number in matrix).join(("q ", " cm ")).encode(), prepend=True
            )
            page.contents_add(b" Q", prepend=False)
        return _saved(pdf)


def _words(x: float, y: float, words: str, size: float = 9) -> str:
    # WinAnsi has no primes; programs that write it use the straight quotation mark for inches
    plain = words.replace("″", '"').replace("(", "\\(").replace(")", "\\)")
    return f"BT /F1 {size} Tf {x} {y} Td ({plain}) Tj ET"


def _page(content: str, paper: Paper) -> bytes:
    pdf = _blank(paper)
    pdf.pages[0].Contents = pdf.make_stream(content.encode("cp1252"))
    return _saved(pdf)


def _blank(paper: Paper) -> Pdf:
    pdf = Pdf.new()
    pdf.add_blank_page(page_size=paper)
    font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica, Encoding=Name.WinAnsiEncoding)
    pdf.pages[0].Resources = Dictionary(Font=Dictionary(F1=pdf.make_indirect(font)))
    return pdf


def _saved(pdf: Pdf) -> bytes:
    out = BytesIO()
    pdf.save(out, deterministic_id=True)
    return out.getvalue()
