"""What an existing pattern PDF holds, as far as joining pages to it could touch it; mm.

Keys and sections are those of ISO 32000-1: catalog 7.7.2, viewer preferences 12.2,
page labels 12.4.2, outline 12.3.3, optional content 8.11, annotations 12.5, actions
12.6, forms and signatures 12.7 and 12.8, embedded files 7.11.4, metadata 14.3,
tagged structure 14.8, output intents 14.11.5.  The size of a page follows CropBox,
Rotate and UserUnit (14.11.2), as a viewer shows it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ArrayObject, DictionaryObject

from tiler.catalog.base.destinations import named_targets
from tiler.catalog.base.layers import BaseLayer, layers_of
from tiler.catalog.base.opening import Source, chunks, reading
from tiler.catalog.base.parts import has_parts
from tiler.catalog.base.preferences import ranges, stated
from tiler.catalog.trees import entry, form_fields, leaves, outline_entries, resolved
from tiler.declaration import FILE_NAME, Declaration, DeclarationError
from tiler.errors import UnreadableError

MM = 25.4 / 72

NAMESPACES = {"PDF/A": b"http://www.aiim.org/pdfa/ns/id/", "PDF/UA": b"http://www.aiim.org/pdfua/ns/id/"}
"""XMP namespaces in which a file says that it keeps to a standard (ISO 19005-1, 6.7.11; ISO 14289-1, 5)."""


@dataclass(frozen=True)
class PageSurveyed:
    """A page: its size as a viewer shows it, mm."""

    width: float
    height: float


@dataclass(frozen=True)
class Survey:
    """What a file holds; counts where only the number matters.

    ``preferences`` are the viewer preferences as they are written, ``signatures`` the
    names of the fields that are signed, ``conformance`` the standards that it claims to
    keep, ``printer`` the printer that a file of tiler was compensated for,
    ``printed_runs`` the pages that it asks to print, None where it states none or no such list.
    """

    pages: tuple[PageSurveyed, ...]
    version: str
    outline: int
    labelled: bool
    layers: tuple[BaseLayer, ...]
    links: int
    destinations: int
    fields: int
    attachments: tuple[str, ...]
    information: tuple[str, ...]
    xmp: bool
    language: str
    preferences: Mapping[str, str]
    tagged: bool
    signatures: tuple[str, ...]
    javascript: bool
    linearised: bool
    portfolio: bool
    xfa: bool
    draws_itself: bool
    revisions: int
    conformance: tuple[str, ...]
    of_tiler: bool
    printed_runs: tuple[tuple[int, int], ...] | None
    parts: bool
    printer: str | None

    @property
    def usual_size(self) -> tuple[float, float]:
        """The size that most pages have, the shorter side first, to the nearest millimetre; the first of equals."""
        sizes = [tuple(sorted((round(page.width), round(page.height)))) for page in self.pages]
        short, long = Counter(sizes).most_common(1)[0][0]
        return float(short), float(long)

    @property
    def usual_side(self) -> float:
        """The length that most pages have as a side, to the nearest millimetre; the shorter of equals.

        It is the width of the roll that pages of several lengths are for.
        """
        sides = Counter(side for page in self.pages for side in {round(page.width), round(page.height)})
        return float(min(sides, key=lambda side: (-sides[side], side)))


def survey(base: Source) -> Survey:
    """Say what a PDF holds; raises :class:`UnreadableError` or :class:`EncryptedError`."""
    with reading(base) as reader:
        return _held(reader, base)


def _count(base: Source, word: bytes) -> int:
    """Count a word in a file, piece by piece."""
    count, before = 0, b""
    for chunk in chunks(base):
        count += (before + chunk).count(word)
        before = chunk[1 - len(word) :]
    return count


def _held(reader: PdfReader, base: Source) -> Survey:
    root = reader.root_object
    linearised = b"/Linearized" in next(chunks(base))[:1024]
    notes = [note for page in reader.pages for note in _annotations(page)]
    links = [note for note in notes if entry(note, "/Subtype") == "/Link"]
    form = form_fields(entry(root, "/AcroForm"))
    attached = _attached(root)
    return Survey(
        pages=tuple(_page(page) for page in reader.pages),
        version=_version(reader),
        outline=sum(1 for _ in outline_entries(entry(root, "/Outlines"))),
        labelled=any(True for _ in leaves(entry(root, "/PageLabels"), "/Nums")),
        layers=layers_of(root),
        links=len(links),
        destinations=sum(1 for _ in named_targets(root)),
        fields=len(form),
        attachments=tuple(attached),
        information=tuple(sorted(str(key)[1:] for key in entry(reader.trailer, "/Info") or ())),
        xmp=entry(root, "/Metadata") is not None,
        language=str(entry(root, "/Lang") or ""),
        preferences=stated(root),
        tagged=entry(root, "/StructTreeRoot") is not None,
        signatures=tuple(_signatures(root, form)),
        javascript=_javascript(root, reader, notes),
        linearised=linearised,
        portfolio=entry(root, "/Collection") is not None,
        xfa=entry(root, "/AcroForm", "/XFA") is not None,
        draws_itself=bool(entry(root, "/NeedsRendering")),
        # a linearised file has two such ends from the beginning (Annex F)
        revisions=_count(base, b"startxref") - linearised,
        conformance=tuple(_conformance(root)),
        of_tiler=FILE_NAME in attached,
        printed_runs=ranges(root),
        parts=has_parts(root),
        printer=_printer(attached.get(FILE_NAME)),
    )


def _annotations(page: Any) -> list[DictionaryObject]:
    notes = entry(page, "/Annots")
    if not isinstance(notes, ArrayObject):
        return []
    return [note for one in notes if isinstance(note := resolved(one), DictionaryObject)]


def _page(page: Any) -> PageSurveyed:
    unit = float(entry(page, "/UserUnit") or 1)
    rotate = int(entry(page, "/Rotate") or 0) % 360
    media = _box(entry(page, "/MediaBox"))
    if media is None:
        raise UnreadableError("a page of the base has no size; its MediaBox is missing or empty")
    crop = _box(entry(page, "/CropBox")) or media
    shown = (max(media[0], crop[0]), max(media[1], crop[1]), min(media[2], crop[2]), min(media[3], crop[3]))
    if shown[0] >= shown[2] or shown[1] >= shown[3]:
        shown = media
    width, height = (shown[2] - shown[0]) * unit * MM, (shown[3] - shown[1]) * unit * MM
    if rotate % 180 == 90:
        width, height = height, width
    return PageSurveyed(width, height)


def _box(value: Any) -> tuple[float, float, float, float] | None:
    """Return a rectangle with its corners in order; any two opposite ones may be written (7.9.5)."""
    if not isinstance(value, ArrayObject) or len(value) != 4:
        return None
    xa, ya, xb, yb = (float(resolved(side)) for side in value)
    return (min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb))


def _version(reader: PdfReader) -> str:
    # 7.2.2: the catalog's Version wins when it is later than the header's.
    return max(reader.pdf_header[5:8], str(entry(reader.root_object, "/Version") or "/0.0")[1:])


def _attached(root: DictionaryObject) -> dict[str, Any]:
    found = {}
    for key, value in leaves(entry(root, "/Names", "/EmbeddedFiles"), "/Names"):
        name = entry(value, "/UF") or entry(value, "/F") or resolved(key)
        found[str(name)] = value
    return found


def _printer(specification: Any) -> str | None:
    stream = entry(specification, "/EF", "/UF") or entry(specification, "/EF", "/F")
    if stream is None:
        return None
    try:
        return Declaration.from_bytes(stream.get_data()).printer
    except DeclarationError:
        return None


def _signatures(root: DictionaryObject, form: list[tuple[DictionaryObject, str]]) -> Iterator[str]:
    for field, kind in form:
        if kind == "/Sig" and entry(field, "/V") is not None:
            yield str(entry(field, "/T") or "")
    for right in entry(root, "/Perms") or ():
        yield f"{str(right)[1:]} of the whole file"


def _javascript(root: DictionaryObject, reader: PdfReader, notes: list[DictionaryObject]) -> bool:
    if any(True for _ in leaves(entry(root, "/Names", "/JavaScript"), "/Names")):
        return True
    holders = [root, *reader.pages, *notes]
    actions = [entry(holder, key) for holder in holders for key in ("/A", "/OpenAction")]
    for holder in holders:
        events = entry(holder, "/AA")
        if isinstance(events, DictionaryObject):
            actions += [resolved(action) for action in events.values()]
    return any(entry(action, "/S") == "/JavaScript" for action in actions)


def _conformance(root: DictionaryObject) -> Iterator[str]:
    intents = entry(root, "/OutputIntents")
    if any(str(entry(one, "/S") or "").startswith("/GTS_PDFX") for one in intents or ()):
        yield "PDF/X"
    stream = entry(root, "/Metadata")
    # it may be written in two bytes a character
    text = stream.get_data().replace(b"\0", b"") if stream is not None else b""
    yield from (name for name, space in NAMESPACES.items() if space in text)
