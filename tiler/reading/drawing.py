"""The curves of a drawing, SVG or PDF, and the one that is meant; mm, y up.

A curve has a number: its place in the order in which its page, or the SVG file, draws
it.  Numbers therefore stay the same when curves change their length, and do not
depend on what is listed.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from difflib import SequenceMatcher
from pathlib import Path
from typing import TYPE_CHECKING
from unicodedata import normalize

from tiler.curves import Curve, chain, crossing
from tiler.errors import NothingToMeasureError, SpecError, UnreadableError
from tiler.files import open_file, read_file, shown

if TYPE_CHECKING:
    from tiler.reading.pdf.document import Document, PageRead

LEAST_LENGTH = 0.01
"""A shorter curve is a point, mm."""

MOST_NAMED = 8
"""So many ids are named in a message."""


@dataclass(frozen=True)
class DrawnCurve:
    """A curve of a drawing.

    ``page`` is None in an SVG, ``id`` None in a PDF and where an element has none;
    ``groups`` are the ids of the groups around it, the outermost first.
    """

    number: int
    curve: Curve
    id: str | None = None
    page: int | None = None
    groups: tuple[str, ...] = ()


def is_pdf(file: Path) -> bool:
    """Tell whether a drawing is a PDF, by its first bytes; raises :class:`UnreadableError` when it is neither."""
    with open_file(file, "drawing") as stream:
        head = stream.read(1024)
    if b"%PDF-" in head:
        return True
    if head.startswith(b"\x1f\x8b"):
        raise UnreadableError(f"{file} is compressed; save it as plain SVG")
    # UTF-16 has a zero beside every sign
    if head.replace(b"\x00", b"").lstrip(b"\xef\xbb\xbf\xff\xfe \t\r\n").startswith(b"<"):
        return False
    raise UnreadableError(f"{file} is neither a PDF nor an SVG; export the drawing as one of them")


def page_curves(page: PageRead) -> Iterator[DrawnCurve]:
    """Yield the curves of a PDF page in painting order."""
    from tiler.reading.pdf.curves import curves_of

    for number, curve in enumerate(curves_of(page.strokes), 1):
        yield DrawnCurve(number, curve, page=page.number)


def svg_curves(file: Path) -> tuple[tuple[DrawnCurve, ...], bool, tuple[float, float]]:
    """Return the curves of an SVG, whether its size is stated in px, and its width and height in mm."""
    from tiler.reading.svg.markup import LARGEST_FILE
    from tiler.reading.svg.read import read_svg

    drawing = read_svg(read_file(file, "drawing", LARGEST_FILE), str(file))
    # ids as a spec names them, whose accents are composed
    curves = tuple(
        DrawnCurve(number, one.curve, one.id and normalize("NFC", one.id), None, _composed(one.groups))
        for number, one in enumerate(drawing.curves, 1)
    )
    return curves, drawing.in_px, (drawing.width_mm, drawing.height_mm)


def read_curves(file: Path, page: int | None = None) -> tuple[DrawnCurve, ...]:
    """Read all curves of a drawing, or those of one page of a PDF.

    Raises :class:`UnreadableError`, :class:`EncryptedError`, and :class:`SpecError` for
    a page that is not there.
    """
    if not is_pdf(file):
        refuse_page_of_svg(file, page)
        return svg_curves(file)[0]
    from tiler.reading.pdf.document import Document

    with Document(file) as document:
        refuse_missing_page(document, page)
        return tuple(drawn for read in document.pages(page) for drawn in page_curves(read))


def pick(
    file: Path,
    *,
    id: str | Sequence[str] | None = None,
    page: int | None = None,
    curve: int | Sequence[int] | None = None,
) -> Curve:
    """Return the curve that is named by id or by number; several are chained in the order given.

    Without either the drawing, or the page, must hold a single one.  Raises
    :class:`SpecError` for a name that is not there, for ends that do not meet, and for
    a curve without length or one that crosses itself; further what
    :func:`read_curves` raises.
    """
    drawn = read_curves(file, page)
    place = str(file) if page is None else f"{file}, page {page}"
    if not drawn:
        raise NothingToMeasureError(f"{place} holds no curve")
    chosen = _chosen(drawn, place, _listed(id), _listed(curve))
    names = [f"{place}, curve {one.number}" + (f" ('{shown(one.id)}')" if one.id else "") for one in chosen]
    for one, name in zip(chosen, names, strict=True):
        if one.curve.length < LEAST_LENGTH:
            raise SpecError(f"{name} has no length; name another curve")
    whole = chain([one.curve for one in chosen], names)
    refuse_crossing(whole, " and ".join(names))
    return whole


def refuse_crossing(line: Curve, name: str) -> None:
    """Raise :class:`SpecError` for a line that crosses itself."""
    crossed = crossing(line)
    if crossed is not None:
        raise SpecError(
            f"{name}: the line crosses or retraces itself at "
            f"{crossed.real:.1f} mm from the left, {crossed.imag:.1f} mm from the foot; an edge does not"
        )


def refuse_missing_page(document: Document, page: int | None) -> None:
    """Raise :class:`SpecError` for a page that a PDF does not have."""
    if page is not None and not 1 <= page <= document.page_count:
        count = "only page 1" if document.page_count == 1 else f"pages 1 to {document.page_count}"
        raise SpecError(f"{document.name} has no page {page}; it has {count}")


def refuse_page_of_svg(file: Path, page: int | None) -> None:
    """Raise :class:`SpecError` for a page where there are none."""
    if page is not None:
        raise SpecError(f"{file} is an SVG, which has no pages; leave page out")


def _composed(groups: Sequence[str]) -> tuple[str, ...]:
    return tuple(normalize("NFC", one) for one in groups)


def _listed(value: object) -> list[object]:
    if value is None:
        return []
    return list(value) if isinstance(value, Sequence) and not isinstance(value, str) else [value]


def _chosen(drawn: Sequence[DrawnCurve], place: str, ids: list[object], numbers: list[object]) -> list[DrawnCurve]:
    if ids and numbers:
        raise SpecError(f"{place}: give id or curve, not both")
    names = ids or numbers
    if len(set(names)) < len(names):
        raise SpecError(f"{place}: a curve is named twice; name each once")
    if ids:
        return [_by_id(drawn, place, str(name)) for name in ids]
    if numbers:
        return [_by_number(drawn, place, number) for number in numbers]
    if len(drawn) > 1:
        raise SpecError(f"{place} holds {len(drawn)} curves; say which: 'tiler edge' lists them with their numbers")
    return [drawn[0]]


def _by_id(drawn: Sequence[DrawnCurve], place: str, name: str) -> DrawnCurve:
    found = [one for one in drawn if one.id == name] or [one for one in drawn if name in one.groups]
    if len(found) == 1:
        return found[0]
    if found:
        numbers = ", ".join(str(one.number) for one in found[:MOST_NAMED])
        raise SpecError(f"{place}: '{shown(name)}' holds {len(found)} curves; name one by curve = {numbers}")
    ids = dict.fromkeys(one.id for one in drawn if one.id)
    nearest = sorted(ids, key=lambda one: -SequenceMatcher(None, name, one).ratio())
    if not nearest:
        raise SpecError(f"{place}: there is no drawn '{shown(name)}', and no other id; name it by curve = 1 …")
    more = f" and {len(nearest) - MOST_NAMED} more" if len(nearest) > MOST_NAMED else ""
    named = ", ".join(shown(one) for one in nearest[:MOST_NAMED])
    raise SpecError(f"{place}: there is no drawn '{shown(name)}'; there are {named}{more}")


def _by_number(drawn: Sequence[DrawnCurve], place: str, number: object) -> DrawnCurve:
    pages = {one.page for one in drawn}
    if len(pages) > 1:
        raise SpecError(f"{place} has several pages with curves; say which, as in page = {min(p for p in pages if p)}")
    found = [one for one in drawn if one.number == number]
    if not found:
        count = "is only curve 1" if len(drawn) == 1 else f"are curves 1 to {len(drawn)}"
        raise SpecError(f"{place}: there is no curve {number}; there {count}")
    return found[0]
