"""The pages of the map and their panes: which is which, each once, in order, in its size; mm.

Only pages that carry our tags can be of the map; the others may be those of a pattern
PDF that ours were joined to.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from itertools import pairwise

from tiler.declaration import PANE, Declaration, Page, Tag, printed_pages
from tiler.proof.report.verdict import FAIL, PASS, WARN, Check
from tiler.proof.seen.page import PageSeen, PaneSeen, row_and_column
from tiler.proof.tolerances import VECTOR

Pairs = list[tuple[Page, PaneSeen]]
"""Declared pages or panes with what was found of them."""


def identify(declaration: Declaration, seen: Sequence[PaneSeen]) -> tuple[Pairs, list[Check]]:
    """Pair declared pages and panes with ours of the file by what is printed on them; of copies the first counts.

    ``seen`` are those of the pages that carry tags of ours.
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
    if lost and len(lost) == len(free) and all(page.code not in names for page in free):
        free.sort(key=lambda page: page.number)
        for declared, page in zip(lost, free, strict=True):
            pairs.append((declared, page))
            printed = f"says {page.code}" if page.code else "has no page code"
            detail = f"the page {printed} where {_called(declared)} belongs"
            checks.append(Check("tile-code", FAIL, page.number, detail=detail))
    else:
        checks += [Check("pages", FAIL, None, detail=f"{_called(page)} is missing") for page in lost]
        checks += [_surplus(page, names) for page in free]
    if not checks:
        checks.append(Check("pages", PASS, None, detail=f"all {_count(declaration)} are there once"))
    return pairs, [*checks, *_apart(pairs), _order(pairs)]


def _count(declaration: Declaration) -> str:
    pages, windows = len(printed_pages(declaration.pages)), len(declaration.pages)
    return f"{pages} pages" if pages == windows else f"{pages} pages with {windows} panes and first pages"


def page_of(pairs: Pairs) -> dict[int, int]:
    """Give the page of the file for each declared one: where the first of its panes is."""
    numbers: dict[int, int] = {}
    for declared, seen in pairs:
        numbers.setdefault(declared.number, seen.number)
    return numbers


def _apart(pairs: Pairs) -> Iterator[Check]:
    """Hold panes of one page together, and those of different pages apart."""
    numbers = page_of(pairs)
    for declared, seen in pairs:
        if numbers[declared.number] != seen.number:
            detail = f"{_called(declared)} is on another page than the panes that it belongs with"
            yield Check("pages", FAIL, seen.number, detail=detail)


def _name(page: Page) -> str:
    return page.code or ""


def _called(page: Page) -> str:
    if page.kind == PANE:
        return f"pane {page.code}"
    return f"page {page.code}" if page.code else "the first page"


def _surplus(page: PaneSeen, names: Sequence[str]) -> Check:
    if not page.code:
        return Check("pages", FAIL, page.number, detail="a page without a page code is there besides the declared ones")
    name = f"{'page' if row_and_column(page.code) else 'pane'} {page.code}"
    twice = f"{name} is there twice" if page.code in names else f"{name} was not declared"
    return Check("pages", FAIL, page.number, detail=twice)


def _order(pairs: Pairs) -> Check:
    numbers = list(dict.fromkeys(seen.number for _, seen in sorted(pairs, key=lambda pair: pair[0].number)))
    if all(a < b for a, b in pairwise(numbers)):
        return Check("page-order", PASS, None, detail="the pages are in order")
    return Check("page-order", WARN, None, detail="the pages are not in the order of the page map")


def compare_codes(pairs: Pairs) -> Iterator[Check]:
    """Hold how the page codes are printed."""
    for declared, seen in pairs:
        if declared.code and seen.code == declared.code and not seen.code_upright:
            detail = f"the page code {declared.code} is not printed once and upright"
            yield Check("tile-code", FAIL, seen.number, detail=detail)


def compare_boxes(declaration: Declaration, seen: Sequence[PageSeen]) -> Iterator[Check]:
    """Hold page sizes, boxes, rotation and unit."""
    wide, high = declaration.page_width_mm, declaration.page_height_mm
    sized = whole = True
    for page in seen:
        boxes = page.boxes
        off = max(abs(boxes.media.width - wide), abs(boxes.media.height - high))
        if off > VECTOR:
            sized = False
            detail = f"the page is {boxes.media.width:.1f} × {boxes.media.height:.1f} mm instead of "
            detail += f"{wide:.1f} × {high:.1f} mm"
            yield Check("page-size", FAIL, page.number, boxes.media.width, wide, detail)
        shown = boxes.shown
        cut = max(shown.x0, shown.y0, boxes.width - shown.x1, boxes.height - shown.y1)
        if cut > VECTOR:
            whole = False
            yield Check("boxes", FAIL, page.number, cut, 0.0, f"the CropBox cuts {cut:.1f} mm off the page")
        if max(abs(boxes.media.x0), abs(boxes.media.y0)) > VECTOR or not boxes.direct:
            yield Check("boxes", WARN, page.number, detail="the MediaBox is not written directly at the origin")
        if boxes.rotate:
            whole = False
            yield Check("rotation", FAIL, page.number, detail=f"the page is turned by {boxes.rotate} degrees")
        if boxes.user_unit != 1.0:
            whole = False
            yield Check("user-unit", FAIL, page.number, detail=f"the page has a UserUnit of {boxes.user_unit:g}")
    if sized:
        yield Check("page-size", PASS, None, wide, wide, f"all pages are {declaration.paper}")
    if whole:
        yield Check("boxes", PASS, None, detail="no page is cropped, turned or in another unit")


def compare_words(seen: Sequence[PageSeen]) -> Iterator[Check]:
    """Hold how words are turned; those turned with their piece are a matter of the sheet."""
    twisted = Counter(page.number for page in seen for _ in page.twisted)
    for number, count in twisted.items():
        yield Check(
            "text", FAIL, number, detail=f"{count} lines of text are mirrored, or turned so that nobody can read"
        )
    if not twisted:
        yield Check("text", PASS, None, detail="all words can be read")


INK_NAMES: dict[str, str] = {
    Tag.CUT_LINE: "a cut line",
    Tag.FOLD_LINE: "a fold line",
    Tag.PRESS_LINE: "a press line",
    Tag.JOIN_LINE: "an end seam line",
    Tag.NOTCH: "a notch",
    Tag.STRETCH_ARROW: "a stretch arrow",
    Tag.TEST_SQUARE: "a side of a test square",
    Tag.RULE: "a stroke of a ruler line",
    Tag.REGISTER_MARK: "a stroke of a register mark",
    Tag.PAGE_FRAME: "a side of the page frame",
    "text": "a word",
}

INK_WORDS = {
    "hidden": "is not to be seen",
    "pale": "is paler than it is drawn",
    "without contrast": "does not stand out from what is round it",
    "too sparse": "has too little ink",
    "displaced": "is printed beside its place",
}


def compare_ink(seen: Sequence[PageSeen]) -> Iterator[Check]:
    """Give one check for each page, kind of line and kind of fault."""
    clean = True
    for page in seen:
        counts = Counter((fault.what, fault.kind) for fault in page.ink)
        places = {(fault.what, fault.kind): fault.segment[0] for fault in reversed(page.ink)}
        for (what, kind), count in counts.items():
            clean = False
            x, y = places[what, kind]
            name = INK_NAMES[what]
            where = f"{'first ' if count > 1 else ''}{x:.0f} mm from the left and {y:.0f} mm from the foot"
            shown = f"{name} {INK_WORDS[kind]}{f' in {count} places' if count > 1 else ''}"
            yield Check("ink", FAIL, page.number, detail=f"{shown}, {where}")
    if clean:
        yield Check("ink", PASS, None, detail="every line and word is to be seen in the rendered pages")
