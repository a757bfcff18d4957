"""Several of our pages on one larger sheet, as three common libraries lay them there; mm.

A placed page is the form XObject of its content (ISO 32000-1, 8.10); a merged one is its content
under a translation (8.3.3).  The sheets stand in the file of the pages, so what it declares stays.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from io import BytesIO

import pikepdf
import pymupdf
from pikepdf import Pdf
from pypdf import PageObject, PdfReader, PdfWriter, Transformation

from tests.proof import faults as f

Save = Callable[[bytes], bytes]


@dataclass(frozen=True)
class Laid:
    """A page of the file (from 1), where its lower left corner lies on the sheet, and how it is changed first."""

    page: int
    x: float
    y: float = 0.0
    matrix: f.Matrix = (1, 0, 0, 1, 0, 0)


Sheets = Sequence[Sequence[Laid]]


def side_by_side(pages: Sequence[int], wide: float, gap: float = 0.0) -> list[Laid]:
    return [Laid(page, index * (wide + gap)) for index, page in enumerate(pages)]


def placed(size: tuple[float, float], sheets: Sheets, rotate: int = 0) -> f.Change:
    """Place pages as forms; those that are placed go, the others stay before the sheets."""

    def change(pdf: Pdf) -> None:
        count = len(pdf.pages)
        forms = [page.as_form_xobject() for page in pdf.pages]
        for laid in sheets:
            sheet = pdf.add_blank_page(page_size=(size[0] * f.PT, size[1] * f.PT))
            content = []
            for one in laid:
                name = sheet.add_resource(forms[one.page - 1], pikepdf.Name.XObject)
                a, b, c, d, e, g = one.matrix
                matrix = (a, b, c, d, e + one.x * f.PT, g + one.y * f.PT)
                content += f.wrapped([f.code("Do", name)], matrix)
            f.write(pdf, len(pdf.pages), content)
            if rotate:
                sheet.Rotate = rotate
        gone = {one.page for laid in sheets for one in laid}
        for page in sorted(gone, reverse=True):
            del pdf.pages[page - 1]
        assert len(pdf.pages) == count - len(gone) + len(sheets)

    return change


def merged(size: tuple[float, float], sheets: Sheets) -> Save:
    """Merge the content of pages under a translation, by pypdf."""

    def save(data: bytes) -> bytes:
        reader = PdfReader(BytesIO(data))
        writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
        for laid in sheets:
            sheet = PageObject.create_blank_page(width=size[0] * f.PT, height=size[1] * f.PT)
            for one in laid:
                moved = Transformation().translate(one.x * f.PT, one.y * f.PT)
                sheet.merge_transformed_page(reader.pages[one.page - 1], moved)
            writer.add_page(sheet)
        for page in sorted({one.page for laid in sheets for one in laid}, reverse=True):
            writer.remove_page(page - 1)
        out = BytesIO()
        writer.write(out)
        return out.getvalue()

    return save


def shown(size: tuple[float, float], sheets: Sheets) -> Save:
    """Show pages on new ones of the same file, by PyMuPDF."""

    def save(data: bytes) -> bytes:
        with pymupdf.open(stream=data) as pdf, pymupdf.open(stream=data) as source:
            for laid in sheets:
                sheet = pdf.new_page(width=size[0] * f.PT, height=size[1] * f.PT)
                for one in laid:
                    rect = source[one.page - 1].rect
                    x, y = one.x * f.PT, size[1] * f.PT - one.y * f.PT - rect.height
                    sheet.show_pdf_page(pymupdf.Rect(x, y, x + rect.width, y + rect.height), source, one.page - 1)
            pdf.delete_pages([one.page - 1 for laid in sheets for one in laid])
            return bytes(pdf.tobytes(garbage=3))

    return save
