"""Draw the base of an invented pattern, to join edge pieces to: ``python examples/make_base.py FILE.pdf``.

Front and back of a top in eight sizes, nested, a layer for each size; a test square, an
outline and page labels.  Nothing here is a garment that anybody should sew.
"""

from __future__ import annotations

import sys
from pathlib import Path

from pypdf import PdfReader, PdfWriter
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    StreamObject,
    TextStringObject,
)

SIZES = ("XXS", "XS", "S", "M", "L", "XL", "2XL", "3XL")
INCH = 72.0
LETTER = (8.5 * INCH, 11 * INCH)
PIECES = (("Front", 3.5, 1.4), ("Back", 1.2, 1.5))
"""Name, depth of the neckline and of the shoulder, in; drawn at a third of true size."""


def outline(size: int, neck: float, slope: float) -> str:
    """Give half a piece as a path: centre line, neckline, shoulder, armhole, side, hem."""
    k = INCH / 3
    wide, high = (9.0 + 0.5 * size) * k, (24.0 + 0.25 * size) * k
    x, y = 2 * INCH, 1 * INCH
    across = (3.2 + 0.1 * size) * k
    shoulder = wide - 1.2 * k
    low, top = high - neck * k, y + high
    points = [
        f"{x} {y} m {x} {y + low} l",
        f"{x + across * 0.55} {y + low} {x + across} {top - neck * k * 0.45} {x + across} {top} c",
        f"{x + shoulder} {y + high - slope * k} l",
        f"{x + shoulder - k} {y + high - 6 * k} {x + wide - k} {y + high - 8 * k} {x + wide} {y + high - 8.5 * k} c",
        f"{x + wide} {y} l h S",
    ]
    return " ".join(points)


def page_content(name: str, neck: float, slope: float, square: bool) -> str:
    """Give the drawing of a page: each size under its layer, and on the first page a square of 2 in."""
    lines = ["0.6 w"]
    for size in range(len(SIZES)):
        lines.append(f"/OC /L{size} BDC [{6 - size % 4} {size % 3}] 0 d {outline(size, neck, slope)} EMC")
    lines.append(
        f"[] 0 d BT /F1 14 Tf {2 * INCH} {10.2 * INCH} Td ({name}, sizes XXS to 3XL, a third of its size) Tj ET"
    )
    if square:
        lines.append(f"0.8 w {6 * INCH} {7.5 * INCH} {2 * INCH} {2 * INCH} re S")
        lines.append(f"BT /F1 10 Tf {6.1 * INCH} {8.4 * INCH} Td (2 in test square) Tj ET")
    return "\n".join(lines)


def make_base(target: Path) -> None:
    """Write the pattern."""
    writer = PdfWriter()
    layers = [_layer(writer, f"Top {size}") for size in SIZES]
    font = DictionaryObject(
        {
            NameObject("/Type"): NameObject("/Font"),
            NameObject("/Subtype"): NameObject("/Type1"),
            NameObject("/BaseFont"): NameObject("/Helvetica"),
        }
    )
    named = DictionaryObject({NameObject(f"/L{number}"): layer for number, layer in enumerate(layers)})
    for number, (name, neck, slope) in enumerate(PIECES):
        page = writer.add_blank_page(*LETTER)
        page[NameObject("/Resources")] = DictionaryObject(
            {NameObject("/Font"): DictionaryObject({NameObject("/F1"): font}), NameObject("/Properties"): named}
        )
        content = StreamObject()
        content.set_data(page_content(name, neck, slope, number == 0).encode("ascii"))
        page[NameObject("/Contents")] = writer._add_object(content.flate_encode())
        writer.add_outline_item(title=name, page_number=number)
    order = ArrayObject(layers)
    shown = DictionaryObject({NameObject("/Name"): TextStringObject("Sizes"), NameObject("/Order"): order})
    root = writer.root_object
    root[NameObject("/OCProperties")] = DictionaryObject({NameObject("/OCGs"): order, NameObject("/D"): shown})
    label = DictionaryObject({NameObject("/P"): TextStringObject("top-"), NameObject("/S"): NameObject("/D")})
    root[NameObject("/PageLabels")] = DictionaryObject({NameObject("/Nums"): ArrayObject([NumberObject(0), label])})
    root[NameObject("/Lang")] = TextStringObject("en")
    writer.metadata = {"/Title": "Saltmarsh top, base pattern", "/Author": "Saltmarsh Knits"}
    with target.open("wb") as file:
        writer.write(file)
    assert len(PdfReader(target).pages) == len(PIECES)


def _layer(writer: PdfWriter, name: str) -> IndirectObject:
    group = DictionaryObject({NameObject("/Type"): NameObject("/OCG"), NameObject("/Name"): TextStringObject(name)})
    return writer._add_object(group)


if __name__ == "__main__":
    make_base(Path(sys.argv[1] if len(sys.argv) > 1 else "saltmarsh-top-letter.pdf"))
