"""What is declared to be printed, drawn again by the proof itself.

A small PDF (ISO 32000-1) with the declared marks alone, in the house's own fonts, so that
the engine that renders the file renders the declaration too and the two can be compared
pixel by pixel.  Nothing of the writer is used.
"""

from __future__ import annotations

import zlib
from base64 import b64decode
from collections.abc import Iterable, Iterator, Sequence
from functools import cache
from hashlib import sha256
from itertools import chain

from tiler.box import Box, Point, Subpath
from tiler.declaration import Declaration
from tiler.fonts import font_file
from tiler.printed import Area, Ink, Line, Picture, Placed, Printed, Region, Shape, Word, closed
from tiler.reading.glyphs import Glyphs, glyphs_of

POINTS = 72 / 25.4

ROUND = 4 * (2**0.5 - 1) / 3
"""How far the handles of a quarter circle reach (its middle lies on the circle)."""


def replica(
    declaration: Declaration, moved: Point = (0.0, 0.0), quarters: int = 0, sheet: Point | None = None
) -> bytes:
    """Return a PDF of all declared pages, each ``moved`` on its paper by mm and turned by quarters clockwise.

    With ``sheet``, its width and height, each page lies on such a paper instead of its own.
    """
    objects: list[bytes] = [b"", b""]
    resources = _resources(objects, declaration)
    wide, high = sheet or (declaration.page_width_mm, declaration.page_height_mm)
    # ours are written to four decimals; a sheet of others has its own size to the last bit of single precision
    size = " ".join(f"{side * POINTS:.{7 if sheet else 4}f}" for side in (wide, high))
    across, down = declaration.factor_across, declaration.factor_down
    pages = []
    for marks in declaration.printed:
        shift = f"{across:.6f} 0 0 {down:.6f} {moved[0] * POINTS:.4f} {moved[1] * POINTS:.4f} cm"
        content = _stream(objects, b"", "\n".join((shift, *_drawn(marks))))
        pages.append(
            _add(
                objects,
                f"<< /Type /Page /Parent 2 0 R /MediaBox [0 0 {size}] /Rotate {90 * quarters} "
                f"/Resources {resources} 0 R /Contents {content} 0 R >>".encode(),
            )
        )
    objects[0] = b"<< /Type /Catalog /Pages 2 0 R >>"
    kids = " ".join(f"{page} 0 R" for page in pages)
    objects[1] = f"<< /Type /Pages /Kids [{kids}] /Count {len(pages)} >>".encode()
    return _file(objects)


def _resources(objects: list[bytes], declaration: Declaration) -> int:
    forms = declaration.forms
    marks = [*chain.from_iterable(declaration.printed), *chain.from_iterable(form.marks for form in forms)]
    signs = {
        bold: {sign for mark in marks if isinstance(mark, Word) and mark.bold is bold for sign in mark.text}
        for bold in (False, True)
    }
    fonts = f"/Font << /R {_font(objects, False, signs[False])} 0 R /B {_font(objects, True, signs[True])} 0 R >>"
    inner = _add(objects, f"<< {fonts} >>".encode())
    named = []
    for form in forms:
        box = form.bounds
        head = (
            f"/Type /XObject /Subtype /Form /Resources {inner} 0 R /BBox [{_numbers(box.x0, box.y0, box.x1, box.y1)}] "
        )
        named.append(f"/{_form_name(form.id)} {_stream(objects, head.encode(), chr(10).join(_drawn(form.marks)))} 0 R")
    for picture in dict.fromkeys(mark for mark in marks if isinstance(mark, Picture)):
        data = b64decode(picture.samples)
        head = (
            f"<< /Type /XObject /Subtype /Image /Width {picture.columns} /Height {picture.rows} "
            f"/ColorSpace /DeviceRGB /BitsPerComponent 8 /Filter /FlateDecode /Length {len(data)} >>"
        )
        number = _add(objects, head.encode() + b"\nstream\n" + data + b"\nendstream")
        named.append(f"/{_picture_name(picture)} {number} 0 R")
    return _add(objects, f"<< {fonts} /XObject << {' '.join(named)} >> >>".encode())


def _drawn(marks: Iterable[Printed]) -> Iterator[str]:
    for mark in marks:
        match mark:
            case Line():
                yield from _line(mark)
            case Area():
                yield f"{mark.grey:.4f} g {_box(mark.area)} re f 0 g"
            case Region():
                yield f"{mark.grey:.4f} g"
                yield from _polylines((mark.outline,))
                yield "f 0 g"
            case Word():
                yield _word(mark)
            case Ink():
                colour = " ".join(f"{share:.4f}" for share in mark.colour)
                yield f"{colour} RG {colour} rg"
            case Shape():
                yield from _shape(mark)
            case Picture():
                yield f"q {_numbers(mark.area.width)} 0 0 {_numbers(mark.area.height)} "
                yield f"{_numbers(mark.area.x0, mark.area.y0)} cm /{_picture_name(mark)} Do Q"
            case Placed():
                turn = "0 1 -1 0" if mark.turned else "1 0 0 1"
                yield f"q {_box(mark.clip)} re W n {turn} {_numbers(*mark.at)} cm /{_form_name(mark.form)} Do Q"


def _form_name(declared: str) -> str:
    """Return a name that PDF can hold, whatever a stranger declares."""
    return "F" + declared.encode("utf-8").hex()


def _picture_name(picture: Picture) -> str:
    return "P" + sha256(picture.samples.encode("ascii")).hexdigest()


def _shape(shape: Shape) -> Iterator[str]:
    colour = " ".join(f"{share:.4f}" for share in shape.colour)
    yield f"q {colour} RG {colour} rg {shape.weight * POINTS:.6f} w [] 0 d"
    yield from _polylines(shape.outlines)
    yield "S Q" if shape.weight else "f* Q" if shape.even_odd else "f Q"


def _polylines(lines: Iterable[Subpath]) -> Iterator[str]:
    for points in lines:
        yield f"{_numbers(*points[0])} m"
        for point in points[1:-1] if closed(points) else points[1:]:
            yield f"{_numbers(*point)} l"
        if closed(points):
            yield "h"


def _line(line: Line) -> Iterator[str]:
    yield f"{line.weight * POINTS:.6f} w [{_numbers(*line.dash)}] 0 d"
    yield from _polylines(line.lines)
    for (x, y), radius in line.circles:
        handle = ROUND * radius
        yield f"{_numbers(x + radius, y)} m"
        for (ax, ay), (bx, by) in (((1, 0), (0, 1)), ((0, 1), (-1, 0)), ((-1, 0), (0, -1)), ((0, -1), (1, 0))):
            first = x + radius * ax + handle * bx, y + radius * ay + handle * by
            second = x + radius * bx + handle * ax, y + radius * by + handle * ay
            yield f"{_numbers(*first, *second, x + radius * bx, y + radius * by)} c"
    yield "S"


def _word(word: Word) -> str:
    numbers = glyphs(word.bold).numbers
    codes = "".join(f"{numbers.get(ord(sign), 0):04X}" for sign in word.text)
    turn = "0 1 -1 0" if word.turned else "1 0 0 1"
    return f"BT /{'B' if word.bold else 'R'} {word.size:.4f} Tf {turn} {_numbers(*word.at)} Tm <{codes}> Tj ET"


@cache
def glyphs(bold: bool) -> Glyphs:
    """Return the glyphs of a font of the house."""
    return glyphs_of(font_file(bold))


def _font(objects: list[bytes], bold: bool, signs: Iterable[str]) -> int:
    """Add a font whole, characters by the numbers of their glyphs, and the widths of ``signs`` (ISO 32000-1, 9.7)."""
    known = glyphs(bold)
    used = sorted({known.numbers.get(ord(sign), 0) for sign in signs})
    widths = " ".join(f"{number} [{known.widths.get(number, 0.0):.4f}]" for number in used)
    name = font_file(bold).stem
    data = font_file(bold).read_bytes()
    file = _add(objects, b"<< /Length %d >>\nstream\n" % len(data) + data + b"\nendstream")
    descriptor = _add(
        objects,
        f"<< /Type /FontDescriptor /FontName /{name} /Flags 4 /FontBBox [-1000 -500 2000 1500] /ItalicAngle 0 "
        f"/Ascent 900 /Descent -250 /CapHeight 700 /StemV 80 /FontFile2 {file} 0 R >>".encode(),
    )
    below = _add(
        objects,
        f"<< /Type /Font /Subtype /CIDFontType2 /BaseFont /{name} /CIDToGIDMap /Identity /DW 0 /W [{widths}] "
        f"/CIDSystemInfo << /Registry (Adobe) /Ordering (Identity) /Supplement 0 >> "
        f"/FontDescriptor {descriptor} 0 R >>".encode(),
    )
    return _add(
        objects,
        f"<< /Type /Font /Subtype /Type0 /BaseFont /{name} /Encoding /Identity-H "
        f"/DescendantFonts [{below} 0 R] >>".encode(),
    )


def _box(box: Box) -> str:
    return _numbers(box.x0, box.y0, box.x1 - box.x0, box.y1 - box.y0)


def _numbers(*lengths: float) -> str:
    return " ".join(f"{length * POINTS:.6f}" for length in lengths)


def _stream(objects: list[bytes], head: bytes, content: str) -> int:
    packed = zlib.compress(content.encode("ascii"), 1)
    data = b"<< " + head + b"/Filter /FlateDecode /Length %d >>\nstream\n" % len(packed) + packed + b"\nendstream"
    return _add(objects, data)


def _add(objects: list[bytes], data: bytes) -> int:
    objects.append(data)
    return len(objects)


def _file(objects: Sequence[bytes]) -> bytes:
    out = bytearray(b"%PDF-1.7\n")
    places = []
    for number, data in enumerate(objects, 1):
        places.append(len(out))
        out += b"%d 0 obj\n" % number + data + b"\nendobj\n"
    start = len(out)
    out += b"xref\n0 %d\n0000000000 65535 f \n" % (len(objects) + 1)
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    out += b"trailer\n<< /Size %d /Root 1 0 R >>\nstartxref\n%d\n%%%%EOF\n" % (len(objects) + 1, start)
    return bytes(out)
