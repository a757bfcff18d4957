"""The strip at the foot of every page: its code, the title, which page it is, its pieces, ruler lines, a map; page mm.

It stands in the lower margin, below what is cut along, so that nothing of it lies on a
piece.  What finds no room there goes on in the margin at the head.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.declaration import Page, PageKind, Rule, Tag
from tiler.draft.edition import Edition
from tiler.languages.catalogue import noted
from tiler.languages.proved import PAGE
from tiler.languages.words import listed, say, told
from tiler.paper import FOOT_HEIGHT, UNPRINTED
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.placed import Placed
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.foot_map import draw_foot_map, map_size
from tiler.sheets.page.piece_names import sizes_of
from tiler.sheets.page.rulers import FOOT_RULES_WIDTH, draw_foot_rules
from tiler.sheets.style import LEAST, LEAST_LEADING, TITLE
from tiler.sheets.typesetting import broken, text_width

WHITE = 0.3
"""Between the page frame and the strip, mm."""

RISE, DROP = 1.9, 0.6
"""How far letters reach above and below their base line, mm."""

APART = 4.5
"""White between two facts on a line, so wide that nobody, and no reader of the file, takes them for one, mm."""

NO_COVER_NOTE = noted("Print at 100 %; measure both squares before you cut cloth.")
NO_COVER_THERE = noted("Print at 100 %; measure both squares on page {number} before you cut cloth.")


@dataclass(frozen=True)
class _Room:
    """Lines for words one below the other: where they begin, how long they may be, the first base line, how many."""

    left: float
    width: float
    base: float
    lines: int


@dataclass(frozen=True)
class _Word:
    """A fact, or a line of a longer one, and where it stands."""

    x: float
    y: float
    text: str


def draw_foot(canvas: Canvas, sheet: Sheet, edition: Edition, records: Sequence[Page]) -> list[Rule]:
    """Draw the strip of a page and return its ruler lines; that of a first page has none."""
    page = records[0]
    left, right, base = _left(sheet), _right(sheet), _base(sheet, page)
    for word in _words(sheet, edition, records) or ():
        canvas.text((word.x, word.y), word.text, LEAST)
    if page.kind is PageKind.COVER:
        return []
    if page.kind is PageKind.TILE:
        with canvas.part(Tag.TILE_CODE):
            canvas.text((left, base - LEAST_LEADING), page.code or "", TITLE, bold=True)
    wide = map_size(sheet, records)[0]
    # a narrow page has less white beside its lines
    rest = right - left - _code_width(page) - FOOT_RULES_WIDTH - wide
    white = min(APART, max(rest / 2, 0.0)) if wide else 0.0
    top = base + RISE
    draw_foot_map(canvas, (right - wide, top), sheet, records)
    middle = top - (FOOT_HEIGHT - WHITE) / 2
    return draw_foot_rules(canvas, page.number, (right - wide - white - FOOT_RULES_WIDTH, middle))


def feet_fit(sheet: Sheet, edition: Edition, pages: Sequence[Sequence[Page]]) -> bool:
    """Tell whether every page has room for its title and its number."""
    return all(_words(sheet, edition, records) is not None for records in pages)


def page_of(number: int, pages: int) -> str:
    """Say which page of how many this is."""
    return say(PAGE, number=number, pages=pages)


def _code_width(page: Page) -> float:
    """Return what the code of a tile takes at the foot; those of panes stand in them."""
    return text_width(page.code or "", TITLE, bold=True) + 2.5 if page.kind is PageKind.TILE else 0.0


def _left(sheet: Sheet) -> float:
    return max(UNPRINTED, sheet.page.margins.left)


def _right(sheet: Sheet) -> float:
    return sheet.page.width - max(UNPRINTED, sheet.page.margins.right)


def _base(sheet: Sheet, page: Page) -> float:
    """Return the first base line; the first page has margins of its own."""
    margin = sheet.page.margins.bottom if page.kind is not PageKind.COVER else UNPRINTED + FOOT_HEIGHT
    return margin - WHITE - RISE


def _rooms(sheet: Sheet, records: Sequence[Page]) -> tuple[_Room, _Room]:
    """Return the lines at the foot, and those at the head."""
    page = records[0]
    left, right, base = _left(sheet), _right(sheet), _base(sheet, page)
    if page.kind is PageKind.COVER:
        return _Room(left, right - left, base, 2), _Room(left, 0.0, 0.0, 0)
    height, top = sheet.page.height, sheet.page.margins.top
    head = _Room(left, right - left, height - top + WHITE + DROP, _lines(top))
    wide = map_size(sheet, records)[0]
    taken = FOOT_RULES_WIDTH + APART + (wide + APART if wide else 0.0)
    code = _code_width(page)
    return _Room(left + code, right - left - code - taken, base, _lines(sheet.page.margins.bottom)), head


def _lines(margin: float) -> int:
    """Return how many lines have room in a margin."""
    return max(0, 1 + int((margin - UNPRINTED - WHITE - RISE - DROP) / LEAST_LEADING))


def _words(sheet: Sheet, edition: Edition, records: Sequence[Page]) -> list[_Word] | None:
    """Set what a page says of itself, the list of its pieces or its title at the head where the foot has no room.

    None when there is no room at all.
    """
    page, host = records[0], sheet.drawing.host
    foot, head = _rooms(sheet, records)
    number = page_of(host.number(page.number), host.count(sheet.pages[-1].number))
    if page.kind is PageKind.COVER:
        # the title stands at the top of that page, too
        return _flow([edition.heading, number], foot) or _flow([number], foot)
    about = [one for one in (_no_cover(sheet, page), edition.heading, sheet.drawing.only_for) if one]
    shown = sheet.pieces_on(records)
    names = _listed(sheet, shown)
    many = say("{count} piece", "{count} pieces", count=len({one.declared.name for one in shown})) if shown else ""
    ways: Sequence[tuple[Sequence[str], Sequence[str]]] = (
        ([*about, number, names], []),
        ([*about, number], [names]),
        ([number, names], about),
        ([number], [*about, names]),
        ([*about, number, many], []),
        ([number, many], about),
    )
    # beside the ruler lines of a narrow page not even its number may have room
    if foot.width < text_width(number, LEAST):
        ways = (([], [*about, number, names]), ([], [*about, number, many]), *ways)
    for below, above in ways:
        at_foot, at_head = _flow(below, foot), _flow(above, head, upwards=True)
        if at_foot is not None and at_head is not None:
            return [*at_foot, *at_head]
    return None


def _no_cover(sheet: Sheet, page: Page) -> str:
    """Return what is said of the squares where there is no first page, on theirs and on the first of all."""
    if sheet.corner or sheet.pages[0].kind is PageKind.COVER or page.number not in (1, sheet.squares_on):
        return ""
    if page.number == sheet.squares_on:
        return say(NO_COVER_NOTE)
    return say(NO_COVER_THERE, number=sheet.drawing.host.number(sheet.squares_on))


def _flow(facts: Sequence[str], room: _Room, upwards: bool = False) -> list[_Word] | None:
    """Set facts one behind the other, each on a line of its own where it is longer; None where there is no room.

    ``upwards`` lets the last of them stand on the base line of the room.
    """
    placed: list[tuple[int, float, str]] = []
    line, x = 0, 0.0
    for fact in filter(None, facts):
        wide = text_width(fact, LEAST)
        if x and x + APART + wide <= room.width:
            placed.append((line, x + APART, fact))
            x += APART + wide
            continue
        for part in broken(fact, room.width, LEAST):
            line += bool(x)
            placed.append((line, 0.0, part.strip(" ·")))
            x = text_width(part, LEAST)
    if placed and line >= room.lines:
        return None
    lift = line if upwards else 0
    return [_Word(room.left + at, room.base - (row - lift) * LEAST_LEADING, text) for row, at, text in placed]


def _listed(sheet: Sheet, shown: Sequence[Placed]) -> str:
    """Name pieces, each with its sizes."""
    names: dict[str, list[Placed]] = {}
    for place in shown:
        names.setdefault(place.declared.name, []).append(place)
    # the name of a section has a comma of its own
    named = [f"{name} {sizes_of(sheet, places)}".strip() for name, places in names.items()]
    return told(listed(named)) if any("," in name for name in names) else ", ".join(named)
