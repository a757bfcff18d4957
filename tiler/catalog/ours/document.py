"""The document around the pages: preferences, labels, outline, title, attachment.

Names and sections are those of ISO 32000:
viewer preferences (12.2, Enforce from 32000-2 and, for a 1.7 header, the ADBE
extension level 3), page labels (12.4.2), outline (12.3.3), attachment (7.11.4).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from io import BytesIO

from pypdf import PdfReader, PdfWriter
from pypdf.generic import ArrayObject, BooleanObject, DictionaryObject, NameObject, NumberObject, TextStringObject

from tiler import __version__
from tiler.catalog.ours.size_layers import layer_forms
from tiler.catalog.ours.sums import page_checksums
from tiler.declaration import FILE_NAME, Declaration, Page, PageKind
from tiler.languages.words import languages, say
from tiler.paper import NO_TRAY


def finish_document(
    pages: BytesIO,
    declaration: Declaration,
    copyright_text: str | None,
    shown: Mapping[str, Sequence[Page]],
    layers: Mapping[str, Sequence[str]] | None = None,
) -> tuple[bytes, Declaration]:
    """Return the finished file, the drawn pages with their catalog, and the declaration that is attached to it.

    ``shown`` gives by its id the pages or panes that each piece needs, ``layers`` the layers of each form that is on
    any.  The checksums are those of the pages as they are written.
    """
    writer = _opened(pages)
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject(languages()[0])
    root[NameObject("/Extensions")] = _names(
        {"/ADBE": _names({"/BaseVersion": NameObject("/1.7"), "/ExtensionLevel": NumberObject(3)})}
    )
    root[NameObject("/ViewerPreferences")] = _preferences(declaration.paper)
    root[NameObject("/PageLabels")] = _page_labels(declaration)
    _outline(writer, declaration, shown)
    if layers:
        layer_forms(writer, layers)
    subject = say("Pattern pieces at true size: print at 100 %, then measure the test squares")
    writer.metadata = _information(_title(declaration), subject, copyright_text)
    declaration = replace(declaration, checksums=page_checksums(writer))
    writer.add_attachment(FILE_NAME, declaration.to_bytes())
    return _written(writer), declaration


def finish_chart(
    pages: BytesIO, title: str, copyright_text: str | None, names: Sequence[tuple[str, int]] = ()
) -> bytes:
    """Return the finished cutting chart; nothing in it is to scale, so it asks for none.

    The outline has names with their pages, as that of a leaflet.
    """
    return _to_read(pages, _information(title, say("What to cut, in every size"), copyright_text), names)


def finish_leaflet(pages: BytesIO, title: str, names: Sequence[tuple[str, int]]) -> bytes:
    """Return a finished file of pages to read, which hold nothing to measure: the outline has names with their pages.

    Pages count from 1.
    """
    return _to_read(pages, _information(title), names)


def _to_read(pages: BytesIO, information: dict[str, str], names: Sequence[tuple[str, int]]) -> bytes:
    writer = _opened(pages)
    for name, number in names:
        writer.add_outline_item(title=name, page_number=number - 1)
    root = writer.root_object
    root[NameObject("/Lang")] = TextStringObject(languages()[0])
    root[NameObject("/ViewerPreferences")] = _names({"/DisplayDocTitle": BooleanObject(True)})
    writer.metadata = information
    return _written(writer)


def _opened(pages: BytesIO) -> PdfWriter:
    writer = PdfWriter(clone_from=PdfReader(pages))
    writer.pdf_header = "%PDF-1.7"
    for page in writer.pages:
        page.pop("/Trans", None)
    return writer


def _information(title: str, subject: str | None = None, copyright_text: str | None = None) -> dict[str, str]:
    return {
        "/Title": title,
        **({"/Subject": subject} if subject else {}),
        "/Creator": f"tiler {__version__}",
        "/Producer": f"tiler {__version__}",
        **({"/Author": copyright_text} if copyright_text else {}),
    }


def _written(writer: PdfWriter) -> bytes:
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def _title(declaration: Declaration) -> str:
    if declaration.printer is None:
        return declaration.title
    return say("{title} (only for the printer {printer})", title=declaration.title, printer=declaration.printer)


def _names(items: dict[str, object]) -> DictionaryObject:
    return DictionaryObject({NameObject(key): value for key, value in items.items()})


def _preferences(paper: str) -> DictionaryObject:
    preferences = {
        "/PrintScaling": NameObject("/None"),
        "/Enforce": ArrayObject([NameObject("/PrintScaling")]),
        "/Duplex": NameObject("/Simplex"),
        "/DisplayDocTitle": BooleanObject(True),
    }
    if paper not in NO_TRAY:
        preferences["/PickTrayByPDFSize"] = BooleanObject(True)
    return _names(preferences)


def _page_labels(declaration: Declaration) -> DictionaryObject:
    numbers = ArrayObject()
    for number, label in enumerate(declaration.page_labels()):
        numbers.append(NumberObject(number))
        numbers.append(_names({"/P": TextStringObject(label or say("print first"))}))
    return _names({"/Nums": numbers})


def _outline(writer: PdfWriter, declaration: Declaration, shown: Mapping[str, Sequence[Page]]) -> None:
    if declaration.pages[0].kind is PageKind.COVER:
        writer.add_outline_item(title=say("Print this page first"), page_number=0)
    for piece in declaration.pieces:
        pages = shown[piece.id]
        name = piece.name if piece.size is None else say("{name}, size {size}", name=piece.name, size=piece.size)
        codes = ", ".join(page.code or "" for page in pages)
        writer.add_outline_item(title=f"{name} ({codes})", page_number=pages[0].number - 1)
