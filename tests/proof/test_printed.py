"""All that a file of ours prints is declared, and all that is declared is printed.

Each fault changes what a reader or a cutter gets by a little; each harmless change leaves every grey as it was.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from io import BytesIO
from typing import Any

import pikepdf
import pytest
from fontTools.ttLib import TTFont
from pikepdf import Array, Dictionary, Name, Operator, Pdf

from tests.proof import faults as f
from tests.proof.conftest import changed, proved
from tiler.declaration import Declaration
from tiler.proof import Report, prove
from tiler.sheets.document import Document

COVER, A1, A2 = 1, 2, 3
Instructions = list[tuple[list[Any], Operator]]


def texts(page: int, how: Callable[[bytes], bytes], least: int = 6) -> f.Change:
    """Change the first text of at least so many characters on a page."""

    def change(pdf: Pdf) -> None:
        instructions = f.read(pdf.pages[page - 1])
        for index, (operands, operator) in enumerate(instructions):
            if str(operator) == "Tj" and len(bytes(operands[0])) >= least:
                instructions[index] = ([pikepdf.String(how(bytes(operands[0])))], operator)
                break
        f.write(pdf, page, instructions)

    return change


def in_form(how: Callable[[Instructions], Instructions]) -> f.Change:
    """Change the first piece's form."""

    def change(pdf: Pdf) -> None:
        forms = pdf.pages[-1].Resources.XObject
        form = next(iter(forms.values()))
        form.write(pikepdf.unparse_content_stream(how(list(pikepdf.parse_content_stream(form)))))

    return change


def before_each(operator: str, *added: Any) -> Callable[[Instructions], Instructions]:
    """Put instructions before each one of a kind."""
    return lambda instructions: [
        one
        for operands, name in instructions
        for one in ((*added, (operands, name)) if str(name) == operator else ((operands, name),))
    ]


def with_operands(operator: str, *operands: Any) -> Callable[[Instructions], Instructions]:
    """Give each instruction of a kind other operands."""
    return lambda instructions: [
        (list(operands), name) if str(name) == operator else (before, name) for before, name in instructions
    ]


def swapped_outlines(pdf: Pdf) -> None:
    """Let two figures of the font of the first page change their looks, text and widths as they were."""
    font = next(one for key, one in pdf.pages[0].Resources.Font.items() if key.startswith("/F1"))
    data = font.FontDescriptor.FontFile2
    with TTFont(BytesIO(data.read_bytes())) as loaded:
        glyphs = loaded["glyf"]
        order = [name for name in loaded.getGlyphOrder() if glyphs[name].numberOfContours > 0]
        for one, other in zip(order[::2], order[1::2], strict=False):
            glyphs[one], glyphs[other] = glyphs[other], glyphs[one]
        out = BytesIO()
        loaded.save(out)
    data.write(out.getvalue())
    data.Length1 = len(out.getvalue())


def written(page: int, text: str, x: float, y: float, size: float = 8) -> f.Change:
    """Write a word on a page, mm from its lower left corner."""

    def change(pdf: Pdf) -> None:
        holder = pdf.pages[page - 1]
        font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
        f.own_resources(pdf, page)[Name.Font] = Dictionary({**dict(holder.Resources.Font.items()), "/Own": font})
        at = f"{x * 72 / 25.4:.3f} {y * 72 / 25.4:.3f}"
        added = pikepdf.parse_content_stream(
            pdf.make_stream(f"q BT /Own {size} Tf 1 0 0 1 {at} Tm ({text}) Tj ET Q".encode())
        )
        f.write(pdf, page, [*f.read(holder), *added])

    return change


def annotated(pdf: Pdf) -> None:
    """Let a note of a program paint over the label of a page."""
    look = pdf.make_stream(b"1 g 0 0 100 20 re f", Type=Name.XObject, Subtype=Name.Form, BBox=Array([0, 0, 100, 20]))
    note = Dictionary(Type=Name.Annot, Subtype=Name.Stamp, F=4, Rect=Array([40, 715, 240, 740]), AP=Dictionary(N=look))
    pdf.pages[0].Annots = pdf.make_indirect(Array([note]))


def hairlines(pdf: Pdf) -> None:
    """Let every line of the first page be 0.1 mm heavy, which the engine that renders draws as wide as one of 0.25."""
    f.write(pdf, COVER, with_operands("w", 0.2913)(f.read(pdf.pages[COVER - 1])))


CHANGES: dict[str, f.Change] = {
    "two characters change places": texts(COVER, lambda text: text[1::-1] + text[2:]),
    "a figure is another": texts(COVER, lambda text: text.replace(b"1", b"2", 1).replace(b"8", b"9", 1), 20),
    "a word is lost": texts(COVER, lambda text: text[:-3]),
    "a word of the label is lost": in_form(with_operands("Tj", pikepdf.String(b""))),
    "words are larger": in_form(before_each("Tj", f.code("Tz", 103))),
    "words are paler": in_form(before_each("Tj", f.code("g", 0.15))),
    "words stand higher": in_form(before_each("Tj", f.code("Ts", 0.4))),
    "a word is added": written(A1, "CUT 2", 60, 60),
    "a dot is added": f.over(A1, (60, 60, 0.4, 0.4), 0.0),
    "lines are paler": in_form(before_each("m", f.code("G", 0.12))),
    "lines are thinner": in_form(with_operands("w", 0.5)),
    "lines have no width": in_form(with_operands("w", 0)),
    "lines have gaps": in_form(before_each("m", f.code("d", [4, 1], 0))),
    "lines are a little thinner": in_form(with_operands("w", 0.8)),
    "ruler lines are hairlines": hairlines,
    "gaps are others": in_form(with_operands("d", Array([2, 3]), 0)),
    "outlines of characters change places": swapped_outlines,
    "a note lies over the title": annotated,
    "a stamp lies over a window": written(A1, "DRAFT", 70, 120, 60),
}


OF_FIRST_PAGE = {
    "two characters change places",
    "a figure is another",
    "a word is lost",
    "ruler lines are hairlines",
    "outlines of characters change places",
    "a note lies over the title",
}
"""The others are as well found where there is no first page, which is read in less time; page 2 is a tile of both."""


@pytest.mark.parametrize("name", CHANGES)
def test_what_prints_otherwise_than_declared_is_found(letter: Document, tiles: Document, name: str) -> None:
    report = proved(letter if name in OF_FIRST_PAGE else tiles, CHANGES[name])
    assert report.verdict == "incomplete"
    assert "ink" in {check.name for check in report.failed}, [check.detail for check in report.failed]


def test_what_stands_beside_the_window_warns(letter: Document) -> None:
    report = proved(letter, written(A1, "copy", 3, 3, 5))
    assert report.verdict == "true-to-scale"
    assert "ink" in {check.name for check in report.warned}


def declared(document: Document, change: Callable[[dict[str, Any]], None]) -> Report:
    """Prove a file that declares something else of itself."""
    tree = json.loads(document.declaration.to_bytes())
    change(tree)
    data = json.dumps(tree).encode()
    Declaration.from_bytes(data)

    def attach(pdf: Pdf) -> None:
        del pdf.attachments["tiler.json"]
        pdf.attachments["tiler.json"] = data

    return prove(changed(document, attach))


def lose(tree: dict[str, Any], tag: str) -> None:
    for marks in (*tree["printed"], *(form["marks"] for form in tree["forms"])):
        marks[:] = [mark for mark in marks if mark.get("tag") != tag]


@pytest.mark.parametrize("tag", ["CutLine", "Notch", "TestSquare", "Rule", "PageFrame", "RegisterMark"])
def test_lines_that_are_declared_and_not_printed_are_found(letter: Document, tag: str) -> None:
    report = declared(letter, lambda tree: lose(tree, tag))
    assert {"declaration", "ink"} <= {check.name for check in report.failed}


def test_another_nominal_size_than_the_label_says_is_found(letter: Document) -> None:
    # 2 in printed at 95 % measures 48.26 mm, and a file may say that this is what it wants
    report = declared(letter, lambda tree: tree["squares"][0].update(nominal_mm=48.26))
    assert "what is printed as" in " ".join(check.detail for check in report.failed)


def test_a_grey_area_over_a_line_is_found(letter: Document) -> None:
    area = {"area": {"x0": 0.0, "y0": 0.0, "x1": 200.0, "y1": 250.0}, "grey": 1.0}
    report = declared(letter, lambda tree: tree["printed"][1].append(area))
    assert "declaration" in {check.name for check in report.failed}


def other_meanings(pdf: Pdf) -> None:
    """Let two figures of the fonts of the first page be read for each other, looks as they were."""
    for font in pdf.pages[0].Resources.Font.values():
        data = font.ToUnicode.read_bytes()
        one, other = b"<31> <0031>", b"<32> <0032>"
        if one in data and other in data:
            font.ToUnicode.write(data.replace(one, b"<31> <0032>").replace(other, b"<32> <0031>"))


def test_words_that_are_read_otherwise_than_they_are_printed_are_found(letter: Document) -> None:
    """This test ensures that what a search, a reading aid and the proof itself take for words is what is printed."""
    report = proved(letter, other_meanings)
    assert report.exit_code == 3
    assert "words" in {check.name for check in report.failed}, [check.detail for check in report.failed]
