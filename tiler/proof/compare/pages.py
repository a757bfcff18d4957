"""The pages of the map and their panes: which is which, each once, in order, in its size; mm.

Only pages that carry our tags can be of the map; the others may be those of a pattern
PDF that ours were joined to.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from tiler.declaration import Declaration, Page, printed_pages
from tiler.languages.words import Words
from tiler.proof.compare.left_out import NOTHING_LEFT_OUT, LeftOut, called, left_out
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import PageSeen, PaneSeen, row_and_column
from tiler.proof.tolerances import VECTOR
from tiler.sentence import joined

Pairs = list[tuple[Page, PaneSeen]]
"""Declared pages or panes with what was found of them."""


def identify(
    declaration: Declaration, seen: Sequence[PaneSeen], may_be_left_out: bool = False
) -> tuple[Pairs, list[Check], LeftOut]:
    """Pair declared pages and panes with ours of the file by what is printed on them; of copies the first counts.

    ``seen`` are those of the pages that carry tags of ours; with ``may_be_left_out`` pages of whole pieces may
    be missing, and are returned too.
    """
    names = [_name(page) for page in declaration.pages]
    by_name: dict[str, list[PaneSeen]] = {}
    for page in seen:
        by_name.setdefault(page.code or "", []).append(page)
    free = [page for name, pages in by_name.items() if name not in names for page in pages]
    pairs: Pairs = []
    lost: list[Page] = []
    for declared in declaration.pages:
        waiting = by_name.get(_name(declared), [])
        if waiting:
            pairs.append((declared, waiting.pop(0)))
        else:
            lost.append(declared)
    free += [page for name, pages in by_name.items() if name in names for page in pages]
    checks: list[Check] = []
    left = left_out(declaration, lost) if lost and may_be_left_out and not free else NOTHING_LEFT_OUT
    lost = [page for page in lost if page not in left.pages]
    if lost and len(lost) == len(free) and all(page.code not in names for page in free):
        free.sort(key=lambda page: page.number)
        for declared, page in zip(lost, free, strict=True):
            pairs.append((declared, page))
            says = Says.CODE_OTHER if page.code else Says.CODE_LOST
            code = {"code": page.code or ""}
            checks.append(
                Check(CheckName.TILE_CODE, Status.FAIL, says, page.number, label=called(declared), numbers=code)
            )
    else:
        checks += [Check(CheckName.PAGES, Status.FAIL, Says.PAGE_MISSING, label=called(page)) for page in lost]
        checks += [_surplus(page, names) for page in free]
    if not checks and not left.pages:
        checks.append(_complete(declaration))
    return pairs, [*_apart(pairs), *checks, _order(pairs)], left


def _complete(declaration: Declaration) -> Check:
    counts = {"pages": len(printed_pages(declaration.pages)), "windows": len(declaration.pages)}
    says = Says.PAGES_ALL if counts["pages"] == counts["windows"] else Says.PANES_ALL
    return Check(CheckName.PAGES, Status.PASS, says, numbers=counts)


def page_of(pairs: Pairs) -> dict[int, tuple[int, int]]:
    """Return the page of the file, and its cell, for each declared one: where the first of its panes is."""
    places: dict[int, tuple[int, int]] = {}
    for declared, seen in pairs:
        places.setdefault(declared.number, seen.page)
    return places


def _apart(pairs: Pairs) -> Iterator[Check]:
    """Check that panes of one page are on one page of the file, and no other page with them."""
    places = page_of(pairs)
    for declared, seen in pairs:
        if places[declared.number] != seen.page:
            yield Check(CheckName.PAGES, Status.FAIL, Says.PANE_ELSEWHERE, seen.number, label=called(declared))
    sheets: dict[tuple[int, int], dict[int, str]] = {}
    for declared, seen in pairs:
        sheets.setdefault(seen.page, {}).setdefault(declared.number, called(declared))
    for (number, _), names in sheets.items():
        if len(names) > 1:
            yield Check(CheckName.PAGES, Status.FAIL, Says.PAGES_SHARED, number, label=_both(list(names.values())))


def _both(names: Sequence[str]) -> str:
    """Name several; the last two are joined by a word."""
    return Words("{one} and {other}", one=joined(", ", names[:-1]), other=names[-1])


def _name(page: Page) -> str:
    return page.code or ""


def _surplus(page: PaneSeen, names: Sequence[str]) -> Check:
    if not page.code:
        return Check(CheckName.PAGES, Status.FAIL, Says.PAGE_UNCODED, page.number)
    name = Words("page {code}", code=page.code) if row_and_column(page.code) else Words("pane {code}", code=page.code)
    says = Says.PAGE_TWICE if page.code in names else Says.PAGE_UNDECLARED
    return Check(CheckName.PAGES, Status.FAIL, says, page.number, label=name)


def _order(pairs: Pairs) -> Check:
    numbers = list(dict.fromkeys(seen.number for _, seen in sorted(pairs, key=lambda pair: pair[0].number)))
    if all(a < b for a, b in pairwise(numbers)):
        return Check(CheckName.PAGE_ORDER, Status.PASS, Says.ORDER_KEPT)
    return Check(CheckName.PAGE_ORDER, Status.WARN, Says.ORDER_LOST)


def compare_codes(pairs: Pairs) -> Iterator[Check]:
    """Check that the page codes are printed once and upright."""
    for declared, seen in pairs:
        if declared.code and seen.code == declared.code and not seen.code_upright:
            yield Check(CheckName.TILE_CODE, Status.FAIL, Says.CODE_TURNED, seen.number, label=declared.code)


def compare_boxes(declaration: Declaration, seen: Sequence[PageSeen]) -> Iterator[Check]:
    """Compare page sizes with the declared one, and check boxes, rotation and unit."""
    wide, high = declaration.page_width_mm, declaration.page_height_mm
    sized = whole = True
    cells = {page.number: page for page in seen if page.cell}
    for page in [*(page for page in seen if not page.cell), *cells.values()]:
        boxes = page.cell.sheet if page.cell else page.boxes
        off = max(abs(boxes.media.width - wide), abs(boxes.media.height - high))
        if off > VECTOR and not page.cell:
            sized = False
            numbers = {"high": boxes.media.height, "stated": high}
            yield Check(
                CheckName.PAGE_SIZE, Status.FAIL, Says.PAGE_SIZED, page.number, boxes.media.width, wide, numbers=numbers
            )
        shown = boxes.shown
        cut = max(shown.x0, shown.y0, boxes.width - shown.x1, boxes.height - shown.y1)
        if cut > VECTOR:
            whole = False
            yield Check(CheckName.BOXES, Status.FAIL, Says.PAGE_CROPPED, page.number, cut, 0.0)
        if max(abs(boxes.media.x0), abs(boxes.media.y0)) > VECTOR or not boxes.direct:
            yield Check(CheckName.BOXES, Status.WARN, Says.MEDIA_BOX, page.number)
        if page.turned or boxes.rotate:
            whole = False
            # a printer's errors across and down change places with the page
            right = declaration.printer is None and not boxes.rotate
            numbers = {"degrees": boxes.rotate or page.turned}
            status = Status.WARN if right else Status.FAIL
            yield Check(CheckName.ROTATION, status, Says.PAGE_TURNED, page.number, numbers=numbers)
        if boxes.user_unit != 1.0:
            whole = False
            numbers = {"unit": boxes.user_unit}
            yield Check(CheckName.USER_UNIT, Status.FAIL, Says.UNIT, page.number, numbers=numbers)
    if sized and not cells:
        yield Check(CheckName.PAGE_SIZE, Status.PASS, Says.PAGES_SIZED, None, wide, wide, label=declaration.paper)
    if whole:
        yield Check(CheckName.BOXES, Status.PASS, Says.PAGES_WHOLE)


def compare_words(seen: Sequence[PageSeen]) -> Iterator[Check]:
    """Check that words can be read; those turned with their piece are judged on the sheet."""
    twisted = Counter(page.number for page in seen for _ in page.twisted)
    for number, count in twisted.items():
        yield Check(CheckName.TEXT, Status.FAIL, Says.WORDS_TWISTED, number, numbers={"count": count})
    if not twisted:
        yield Check(CheckName.TEXT, Status.PASS, Says.WORDS_READ)
