"""What harms no file of ours: saves of four libraries, pages of others beside ours, words in the margin."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pypdfium2 as pdfium
from pypdf import PdfReader, PdfWriter

from tests.catalog import bases
from tests.proof.imposed import Laid, Sheets, merged, placed, shown, side_by_side
from tests.proof.test_faults import HARMLESS, by_pikepdf
from tests.proof.test_printed import A1, written
from tests.sheets.jobs import PAIR, drawn_once
from tiler.usecases.draft import Wishes

Save = Callable[[bytes], bytes]


def by_pdfium(data: bytes) -> bytes:
    out = BytesIO()
    pdf = pdfium.PdfDocument(data)
    pdf.save(out)
    pdf.close()
    return out.getvalue()


def by_pypdf(data: bytes, *, encrypted: bool = False) -> bytes:
    writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
    if encrypted:
        writer.encrypt(user_password="", owner_password="owner")
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


def followed(data: bytes) -> bytes:
    """Put pages of somebody else behind ours."""
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf, pikepdf.open(BytesIO(bases.plain())) as others:
        pdf.add_pages_from(others)
        pdf.save(out)
    return out.getvalue()


def joined(base: Callable[[], bytes], after: int | None) -> Save:
    def save(data: bytes) -> bytes:
        ours = drawn_once(PAIR, Wishes(paper="letter", arrange="grid"))
        assert ours.data == data
        return bases.joined(base(), ours, after)

    return save


def parted(data: bytes) -> bytes:
    """Join, and take all pages of the base out again."""
    out = BytesIO()
    with pikepdf.open(BytesIO(joined(bases.plain, 0)(data))) as pdf:
        with pikepdf.open(BytesIO(data)) as ours:
            count = len(ours.pages)
        del pdf.pages[count:]
        pdf.save(out)
    return out.getvalue()


def marked(data: bytes) -> bytes:
    """Write something into the margin."""
    return edited(data, written(A1, "copy 12", 3, 3, 5))


def twice(data: bytes) -> bytes:
    return by_pdfium(by_pypdf(data))


def imposed() -> dict[str, Save]:
    """Lay the four pages of the sample on larger sheets, at 100 %, as three libraries do."""
    wide, high = 215.9, 279.4
    pairs = [side_by_side([1, 2], wide), side_by_side([3, 4], wide)]
    spaced = [[Laid(1, 2.2, high + 7.7), Laid(2, wide + 11.3, high + 9.4), Laid(3, 1.1, 3.9), Laid(4, wide + 8.8, 0.6)]]
    room = (2 * wide + 15, 2 * high + 15)

    def by_forms(sheet: tuple[float, float], sheets: Sheets, rotate: int = 0) -> Save:
        return lambda data: edited(data, placed(sheet, sheets, rotate))

    return {
        "two pages placed on a sheet": by_forms((2 * wide, high), pairs),
        "two pages placed on a turned sheet": by_forms((2 * wide, high), pairs, 90),
        "four pages placed on a sheet with gaps": by_forms(room, spaced),
        "two pages merged into a sheet": merged((2 * wide, high), pairs),
        "four pages merged into a sheet with gaps": merged(room, spaced),
        "two pages shown on a sheet": shown((2 * wide, high), pairs),
        "four pages shown on a sheet with gaps": shown(room, spaced),
    }


def edited(data: bytes, change: Callable[[pikepdf.Pdf], None]) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        change(pdf)
        pdf.save(out)
    return out.getvalue()


def without_page_1(data: bytes) -> bytes:
    return edited(data, lambda pdf: pdf.pages.__delitem__(0))


def harmless() -> dict[str, Save]:
    """Return the ways by name."""
    empty = pikepdf.Encryption(owner="owner", user="", R=6)
    old = pikepdf.Encryption(owner="owner", user="", R=4)
    return {
        **HARMLESS,
        **imposed(),
        "without page 1": without_page_1,
        "PDFium saved": by_pdfium,
        "PDFium after pypdf": twice,
        "pypdf encrypted with an empty password": lambda data: by_pypdf(data, encrypted=True),
        "pikepdf encrypted, AES-256": by_pikepdf(encryption=empty),
        "pikepdf encrypted, AES-128": by_pikepdf(encryption=old),
        "pikepdf linearised with object streams": by_pikepdf(
            linearize=True, object_stream_mode=pikepdf.ObjectStreamMode.generate
        ),
        "pikepdf without object streams": by_pikepdf(object_stream_mode=pikepdf.ObjectStreamMode.disable),
        "pikepdf uncompressed": by_pikepdf(compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.all),
        "followed by pages of others": followed,
        "joined before a pattern": joined(bases.plain, 0),
        "joined inside a pattern": joined(bases.full, 2),
        "joined behind a pattern": joined(bases.from_mupdf, None),
        "parted from a pattern": parted,
        "words in the margin": marked,
    }
