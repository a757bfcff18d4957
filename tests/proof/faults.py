"""Faulty PDFs, one fault at a time: each function changes one thing in an open file of ours.

A part is what stands between ``/Tag BMC`` and ``EMC`` (ISO 32000-1, 14.6); a change of
a part is a transformation put round it.  Lengths are mm, pages count from 1.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Any

import pikepdf
from pikepdf import Array, Dictionary, Name, Operator, Pdf

PT = 72 / 25.4
Matrix = tuple[float, float, float, float, float, float]
Instructions = list[Any]
Change = Callable[[Pdf], None]


@dataclass(frozen=True)
class Fault:
    """A change of one kind, the verdict it must get, and the check that must fail."""

    name: str
    change: Change
    verdict: str
    check: str


def moved(dx: float, dy: float = 0.0) -> Matrix:
    return (1, 0, 0, 1, dx * PT, dy * PT)


def scaled(across: float, down: float | None = None, about: tuple[float, float] = (0.0, 0.0)) -> Matrix:
    down = across if down is None else down
    x, y = about
    return (across, 0, 0, down, x * PT * (1 - across), y * PT * (1 - down))


def turned(degrees: float, about: tuple[float, float]) -> Matrix:
    c, s = cos(radians(degrees)), sin(radians(degrees))
    x, y = about[0] * PT, about[1] * PT
    return (c, s, -s, c, x - c * x + s * y, y - s * x - c * y)


def sheared(share: float) -> Matrix:
    return (1, 0, share, 1, 0, 0)


def mirrored(about: float) -> Matrix:
    return (-1, 0, 0, 1, 2 * about * PT, 0)


def code(operator: str, *operands: Any) -> tuple[list[Any], Operator]:
    return (list(operands), Operator(operator))


def read(holder: Any) -> Instructions:
    return [(list(one.operands), one.operator) for one in pikepdf.parse_content_stream(holder)]


def write(pdf: Pdf, page: int, instructions: Instructions) -> None:
    pdf.pages[page - 1].Contents = pdf.make_stream(pikepdf.unparse_content_stream(instructions))


def wrapped(instructions: Instructions, matrix: Matrix) -> Instructions:
    return [code("q"), code("cm", *matrix), *instructions, code("Q")]


def parts(instructions: Instructions, tag: str) -> list[tuple[int, int]]:
    """Give where every part of a kind begins and ends, the end not included."""
    found, start = [], None
    for index, (operands, operator) in enumerate(instructions):
        if str(operator) == "BMC" and str(operands[0]) == f"/{tag}":
            start = index
        elif str(operator) == "EMC" and start is not None:
            found.append((start, index + 1))
            start = None
    return found


def placed(instructions: Instructions) -> list[tuple[int, int]]:
    """Give where every piece is painted: from the ``q`` before its clip to the ``Q`` behind it."""
    found, start = [], 0
    for index, (_, operator) in enumerate(instructions):
        if str(operator) == "q":
            start = index
        elif str(operator) == "Do":
            found.append((start, index + 2))
    return found


def alter(
    where: Callable[[Instructions], list[tuple[int, int]]], page: int, number: int, how: Callable[..., Instructions]
) -> Change:
    """Change one stretch of a page's instructions."""

    def change(pdf: Pdf) -> None:
        instructions = read(pdf.pages[page - 1])
        start, end = where(instructions)[number]
        write(pdf, page, [*instructions[:start], *how(instructions[start:end]), *instructions[end:]])

    return change


def alter_part(tag: str, page: int, number: int, how: Callable[[Instructions], Instructions]) -> Change:
    return alter(lambda instructions: parts(instructions, tag), page, number, how)


def alter_piece(page: int, number: int, how: Callable[[Instructions], Instructions]) -> Change:
    return alter(placed, page, number, how)


def alter_in_piece(tag: str, number: int, how: Callable[[Instructions], Instructions], page: int = 2) -> Change:
    """Change one part of the first piece of a page, on that page alone: its form is copied for it."""

    def change(pdf: Pdf) -> None:
        target = pdf.pages[page - 1]
        name = next(str(operands[0]) for operands, operator in read(target) if str(operator) == "Do")
        form = target.Resources.XObject[name]
        copy = pdf.make_stream(form.read_bytes())
        for key, value in form.items():
            if key not in ("/Length", "/Filter", "/DecodeParms"):
                copy[key] = value
        instructions = read(copy)
        start, end = parts(instructions, tag)[number]
        copy.write(
            pikepdf.unparse_content_stream([*instructions[:start], *how(instructions[start:end]), *instructions[end:]])
        )
        own_resources(pdf, page).XObject[name] = copy

    return change


def own_resources(pdf: Pdf, page: int) -> Any:
    """Give a page resources of its own, so that a change of them stays there."""
    target = pdf.pages[page - 1]
    resources = Dictionary(dict(target.Resources.items()))
    for kind in ("/XObject", "/ExtGState", "/Properties"):
        resources[kind] = Dictionary(dict(resources.get(kind, Dictionary()).items()))
    target.Resources = resources
    return target.Resources


def by(matrix: Matrix) -> Callable[[Instructions], Instructions]:
    return lambda part: wrapped(part, matrix)


def copied(matrix: Matrix) -> Callable[[Instructions], Instructions]:
    return lambda part: [*part, *wrapped(part, matrix)]


def removed(_: Instructions) -> Instructions:
    return []


def whole_pages(matrix: Matrix, pages: Sequence[int] = ()) -> Change:
    """Transform all that stands on the pages named, or on all."""

    def change(pdf: Pdf) -> None:
        for number in pages or range(1, len(pdf.pages) + 1):
            write(pdf, number, wrapped(read(pdf.pages[number - 1]), matrix))

    return change


def before(*instructions: Any, pages: Sequence[int] = ()) -> Change:
    """Put instructions before all others."""

    def change(pdf: Pdf) -> None:
        for number in pages or range(1, len(pdf.pages) + 1):
            write(pdf, number, [*instructions, *read(pdf.pages[number - 1])])

    return change


def rectangle(x: float, y: float, width: float, height: float, grey: float) -> Instructions:
    box = (x * PT, y * PT, width * PT, height * PT)
    return [code("q"), code("g", grey), code("re", *box), code("f"), code("Q")]


def over(page: int, box: tuple[float, float, float, float], grey: float = 1.0) -> Change:
    """Paint a rectangle (x, y, width, height) over a page."""

    def change(pdf: Pdf) -> None:
        write(pdf, page, [*read(pdf.pages[page - 1]), *rectangle(*box, grey)])

    return change


def black_below(page: int) -> Change:
    return before(*rectangle(0, 0, 400, 500, 0.0), pages=[page])


def with_box(key: str, change_box: Callable[[list[float]], list[float]], pages: Sequence[int] = ()) -> Change:
    def change(pdf: Pdf) -> None:
        for number in pages or range(1, len(pdf.pages) + 1):
            page = pdf.pages[number - 1]
            page[key] = Array(change_box([float(side) for side in page.MediaBox]))

    return change


def with_entry(key: str, value: Any, pages: Sequence[int] = ()) -> Change:
    def change(pdf: Pdf) -> None:
        for number in pages or range(1, len(pdf.pages) + 1):
            pdf.pages[number - 1][key] = value

    return change


def both(*changes: Change) -> Change:
    def change(pdf: Pdf) -> None:
        for one in changes:
            one(pdf)

    return change


def transparent(page: int, alpha: float) -> Change:
    """Paint a page through an ExtGState (8.4.5) of little or no opacity."""

    def change(pdf: Pdf) -> None:
        own_resources(pdf, page).ExtGState["/Faint"] = Dictionary(Type=Name.ExtGState, CA=alpha, ca=alpha)
        before(code("gs", Name("/Faint")), pages=[page])(pdf)

    return change


def hidden_layer(page: int) -> Change:
    """Put the pieces of a page into an optional content group (8.11) that is off."""

    def change(pdf: Pdf) -> None:
        group = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="hidden"))
        pdf.Root.OCProperties = Dictionary(OCGs=[group], D=Dictionary(OFF=[group], Order=[group]))
        for form in own_resources(pdf, page).XObject.values():
            form.OC = group

    return change


def unprinted_layer(page: int) -> Change:
    """Put the pieces of a page into a group that is seen on the screen and not printed (8.11.4.4)."""

    def change(pdf: Pdf) -> None:
        group = pdf.make_indirect(
            Dictionary(Type=Name.OCG, Name="screen", Usage=Dictionary(Print=Dictionary(PrintState=Name.OFF)))
        )
        event = Dictionary(Event=Name.Print, OCGs=[group], Category=[Name.Print])
        pdf.Root.OCProperties = Dictionary(OCGs=[group], D=Dictionary(ON=[group], Order=[group], AS=[event]))
        for form in own_resources(pdf, page).XObject.values():
            form.OC = group

    return change


def white_ink(page: int) -> Change:
    return before(code("G", 1), code("g", 1), pages=[page])


def clipped(page: int, box: tuple[float, float, float, float]) -> Change:
    return before(code("re", *(side * PT for side in box)), code("W"), code("n"), pages=[page])


def small_form_bounds(page: int) -> Change:
    """Cut the bounds of a piece's form (8.10.2) to half its width."""

    def change(pdf: Pdf) -> None:
        form = next(iter(pdf.pages[page - 1].Resources.XObject.values()))
        x0, y0, x1, y1 = (float(side) for side in form.BBox)
        form.BBox = Array([x0, y0, x1, (y0 + y1) / 2])

    return change


def annotation_over(page: int, box: tuple[float, float, float, float]) -> Change:
    """Lay a white square annotation (12.5.6.8) over a page."""

    def change(pdf: Pdf) -> None:
        x, y, width, height = (side * PT for side in box)
        look = pdf.make_stream(f"1 g 0 0 {width} {height} re f".encode())
        look.Type, look.Subtype = Name.XObject, Name.Form
        look.BBox = Array([0, 0, width, height])
        note = Dictionary(
            Type=Name.Annot,
            Subtype=Name.Square,
            Rect=Array([x, y, x + width, y + height]),
            F=4,
            AP=Dictionary(N=look),
        )
        pdf.pages[page - 1].Annots = Array([pdf.make_indirect(note)])

    return change


def lost_page(page: int) -> Change:
    def change(pdf: Pdf) -> None:
        del pdf.pages[page - 1]

    return change


def doubled_page(page: int) -> Change:
    def change(pdf: Pdf) -> None:
        pdf.pages.append(pdf.pages[page - 1])

    return change


def replaced_page(page: int, other: int) -> Change:
    """Let one page show what another shows."""

    def change(pdf: Pdf) -> None:
        write(pdf, page, read(pdf.pages[other - 1]))

    return change


def swapped_pages(pdf: Pdf) -> None:
    """Put the last page first."""
    last = pdf.pages[-1]
    pdf.pages.insert(0, last)
    del pdf.pages[-1]


def untagged(tag: str, page: int) -> Change:
    """Paint the first part of a kind of the page's first piece once more, 12 mm aside and without its tag."""

    def change(pdf: Pdf) -> None:
        target = pdf.pages[page - 1]
        instructions = read(target)
        start, end = placed(instructions)[0]
        name = next(str(operands[0]) for operands, operator in instructions if str(operator) == "Do")
        inner = read(target.Resources.XObject[name])
        first, last = parts(inner, tag)[0]
        place = next(part for part in instructions[start:end] if str(part[1]) == "cm")
        ghost = wrapped(wrapped(inner[first + 1 : last - 1], moved(12.0)), tuple(float(v) for v in place[0]))
        write(pdf, page, [*instructions, *ghost])

    return change
