"""Opening a PDF and reading it page by page; mm.

Every fault of the reading library has a type of its own; they meet here in one
boundary and leave as :class:`UnreadableError` or :class:`EncryptedError`.  A page
is let go before the next is read, so that memory does not grow with the file.
"""

from __future__ import annotations

import logging
from collections.abc import Collection, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path

from pdfminer.pdfdocument import PDFEncryptionError
from pdfminer.pdftypes import PDFStream, resolve1
from pdfplumber.page import Page as PlumberPage

from tiler.declaration import FILE_NAME
from tiler.errors import EncryptedError, TilerError, UnreadableError
from tiler.files import open_file
from tiler.reading.limits import MOST_OBJECTS, OutOfMemoryError
from tiler.reading.pdf.boxes import MM_PER_UNIT, PageBoxes, page_boxes
from tiler.reading.pdf.carried import NOTHING_CARRIED, Carried, CarriedCensus
from tiler.reading.pdf.facts import Facts, attached, read_facts
from tiler.reading.pdf.fonts import FontCensus
from tiler.reading.pdf.forms import NOTHING_PAINTED, FormsRead, Painted, with_appearances
from tiler.reading.pdf.layers import layers_of_forms, with_all_layers_on
from tiler.reading.pdf.objects import doubts_of, open_pdf
from tiler.reading.pdf.painting import painted_items
from tiler.reading.pdf.strokes import Stroke
from tiler.reading.pdf.sums import checksums, content_of
from tiler.reading.pdf.text import Text

MOST_PAGES_READ = 2000
"""A file with more pages is refused."""

MOST_CONTENT = 24 * 2**20
"""A page whose drawing instructions are longer is refused, bytes."""

PAINTED = {
    "Type", "Resources", "MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox", "Rotate", "UserUnit", "Group"
}  # fmt: skip
"""Entries of a page, beside its content, that say what is on it (ISO 32000-1, Table 30)."""

UNPAINTED = {
    "Contents", "Parent", "LastModified", "Metadata", "PieceInfo", "Thumb", "StructParents", "Tabs", "Trans", "Dur"
}  # fmt: skip
"""Entries that print nothing; the content is looked at apart."""

# What the library logs is for its developers; a fault that matters is raised.
logging.getLogger("pdfminer").setLevel(logging.CRITICAL)


@dataclass(frozen=True)
class PageRead:
    """One page as it is written; pages count from 1, mm from the lower left corner of the page as shown.

    ``unembedded`` are the fonts that the page names without carrying them; ``pictures``
    counts its raster images, and ``annotated`` tells whether anything is stuck on it that
    is none of its content, ``stuck_on`` what of that is printed; ``carried`` is what else it carries.
    """

    number: int
    boxes: PageBoxes
    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...]
    unembedded: tuple[str, ...]
    pictures: int = 0
    annotated: bool = False
    stuck_on: Painted = NOTHING_PAINTED
    carried: Carried = NOTHING_CARRIED


class Document:
    """An open PDF; use it as a context."""

    def __init__(self, source: str | Path | bytes, most_objects: int = MOST_OBJECTS, called: str | None = None) -> None:
        """Open a file or its bytes; raises :class:`UnreadableError` or :class:`EncryptedError`.

        A page that paints more than ``most_objects`` is refused when it is read.  In messages it is ``called`` so.
        """
        self.name = called or ("the file" if isinstance(source, bytes) else str(source))
        self._most_objects = most_objects
        self._stream = BytesIO(source) if isinstance(source, bytes) else open_file(Path(source), "PDF")
        try:
            with self._faults():
                header = self._stream.read(1024)
                if b"%PDF-" not in header and self.name.lower().endswith(".toml"):
                    raise UnreadableError(f"{self.name} is a spec, not a PDF; draft it, and name the PDF")
                self._pdf = open_pdf(self._stream)
                self._pages = self._pdf.pages
                self.facts: Facts = read_facts(self._pdf.doc, header, len(self._pages))
            self._refuse_odd_counts()
        except BaseException:
            self._stream.close()
            raise
        self._fonts = FontCensus()
        self._forms = FormsRead()
        self._carried = CarriedCensus()
        self._checksums = checksums()

    def __enter__(self) -> Document:
        """Return the document itself."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self._stream.close()

    @property
    def page_count(self) -> int:
        """How many pages the file has."""
        return len(self._pages)

    def declarations(self) -> tuple[bytes, ...]:
        """Return every ``tiler.json`` that is attached."""
        with self._faults():
            return attached(self._pdf.doc, (page.page_obj.attrs for page in self._pages), FILE_NAME)

    def declaration(self) -> bytes | None:
        """Return the attached ``tiler.json``; None when there is none, or more than one."""
        found = self.declarations()
        return (found[0] or None) if len(found) == 1 else None

    def refuse_doubts(self, ours: Collection[int], measured: Collection[int]) -> None:
        """Raise :class:`UnreadableError` for a file that readers may take in two ways.

        On pages of ``ours`` nothing is left in doubt, on others what may change those that are ``measured``.
        """
        doubt = doubts_of(self._pdf).first(ours, measured)
        if doubt:
            where = f" (page {doubt.page})" if doubt.page else ""
            raise UnreadableError(
                f"{self.name} can be read in two ways{where}: {doubt.what}, and programs take that differently; "
                "open it in a program that shows it as it should be, save it once as a new PDF, and try again"
            )

    def all_layers_on(self) -> bytes:
        """Return the file's bytes with every layer switched on."""
        with self._faults():
            self._stream.seek(0)
            return with_all_layers_on(self._stream.read(), self._pdf.doc)

    def pages(self, number: int | None = None) -> Iterator[PageRead]:
        """Read page after page, holding one at a time; or only the page of that number."""
        for page in self._pages if number is None else self._pages[number - 1 : number]:
            with self._faults():
                read = self._read(page)
                page.close()
            yield read

    def turned(self, number: int, rotate: int) -> PageRead:
        """Read the page of that number as if viewers were asked to turn it clockwise by ``rotate`` degrees."""
        page = self._pages[number - 1]
        with self._faults():
            page.page_obj.attrs = {**page.page_obj.attrs, "Rotate": rotate}
            page.page_obj.rotate = rotate
            read = self._read(page)
            page.close()
        return read

    def checksum(self, number: int) -> str:
        """Return the checksum of what the page of that number is made of."""
        attributes = self._pages[number - 1].page_obj.attrs
        with self._faults():
            return self._checksums.of_page(content_of(attributes), attributes.get("Resources"))

    def whole_checksum(self, number: int) -> str | None:
        """Return the checksum of all that is read of the page of that number; None where more may be on it."""
        attributes = self._pages[number - 1].page_obj.attrs
        if attributes.keys() - PAINTED - UNPAINTED:
            return None
        with self._faults():
            entries = {key: value for key, value in attributes.items() if key in PAINTED}
            return self._checksums.of_whole(content_of(attributes), entries)

    def _read(self, page: PlumberPage) -> PageRead:
        attributes = page.page_obj.attrs
        streams = [stream for one in page.page_obj.contents if isinstance(stream := resolve1(one), PDFStream)]
        if sum(len(stream.get_data()) for stream in streams) > MOST_CONTENT:
            raise UnreadableError(f"page {page.page_number} of {self.name} holds too much to be read")
        boxes = page_boxes(attributes, page.page_number)
        k = boxes.user_unit * MM_PER_UNIT
        media = boxes.media
        # the library takes the first corner for the lower left one
        page.page_obj.mediabox = (media.x0 / k, media.y0 / k, media.x1 / k, media.y1 / k)
        items = painted_items(page, self._most_objects, self._forms)
        layers = layers_of_forms(attributes.get("Resources")) if self.facts.layers.names else {}
        painted = self._forms.read(items, k, layers)
        missing = self._fonts.missing(attributes.get("Resources"))
        annotated = bool(resolve1(attributes.get("Annots")))
        carried = self._carried.of_page(attributes)
        stuck_on = self._stuck_on(page, k) if annotated else NOTHING_PAINTED
        return PageRead(
            page.page_number,
            boxes,
            painted.strokes,
            painted.texts,
            missing,
            painted.pictures,
            annotated,
            stuck_on,
            carried,
        )

    def _stuck_on(self, page: PlumberPage, k: float) -> Painted:
        """Read what the annotations of a page print."""
        content = page.page_obj
        instead = with_appearances(content)
        if instead is None:
            return NOTHING_PAINTED
        page.page_obj = instead
        try:
            items = painted_items(page, self._most_objects, FormsRead())
        finally:
            page.page_obj = content
        return FormsRead().read(items, k, {})

    def _refuse_odd_counts(self) -> None:
        if not self._pages:
            raise UnreadableError(f"{self.name} has no pages")
        if len(self._pages) > MOST_PAGES_READ:
            raise UnreadableError(f"{self.name} has {len(self._pages)} pages; at most {MOST_PAGES_READ} are read")

    @contextmanager
    def _faults(self) -> Iterator[None]:
        try:
            yield
        except TilerError:
            raise
        except OSError as fault:
            raise UnreadableError(f"{self.name} cannot be read: {fault.strerror or fault}") from fault
        except Exception as fault:
            causes = (fault, *fault.args)
            if any(isinstance(cause, MemoryError) for cause in causes):
                raise OutOfMemoryError(f"{self.name} needs more memory than it may take to be read") from fault
            if any(isinstance(cause, PDFEncryptionError) for cause in causes):
                raise EncryptedError(
                    f"{self.name} is encrypted and needs a password; save it without one and try again"
                ) from fault
            raise UnreadableError(f"{self.name} is damaged or not a PDF; make or download it again") from fault
