"""What names a piece where a page shows a part of it without its label: name and sizes, along the strip; page mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.box import Box
from tiler.declaration import Page
from tiler.languages.proved import SIZE, SIZES
from tiler.languages.words import say
from tiler.sentence import span
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.placed import Placed
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.free_places import ON_TEXT, Obstacle, Places
from tiler.sheets.page.window import Window
from tiler.sheets.pieces.inside import Inside
from tiler.sheets.pieces.rows import ascent, descent
from tiler.sheets.style import LEADING, LEAST, SMALL
from tiler.sheets.typesetting import text_width, wrapped

LINES = 5
"""A name is set in so many lines at most."""

DOWN, ACROSS = 1.0, 3.0
"""Places are tried in such steps across the strip, and along it, mm."""

INSET = 1.0
"""White between a name and the sides of the part, mm."""

ROOM = 1.2
"""Places are tried in steps, so a part has a little more room than its name, mm."""


@dataclass(frozen=True)
class Nameless:
    """A piece that a window shows a part of, without its name: what names it, and the part; page mm."""

    text: str
    part: Box


@dataclass(frozen=True)
class _Name:
    """Lines of a name in a size of type, points; ``turned`` along a strip that runs up the page."""

    lines: Sequence[str]
    size: float
    turned: bool

    @property
    def leading(self) -> float:
        return LEADING * self.size / SMALL

    @property
    def shape(self) -> tuple[float, float]:
        wide = max(text_width(line, self.size) for line in self.lines)
        high = ascent(self.size) + descent(self.size) + self.leading * (len(self.lines) - 1)
        return (high, wide) if self.turned else (wide, high)

    def draw(self, canvas: Canvas, place: Box) -> None:
        for number, line in enumerate(self.lines):
            down = ascent(self.size) + self.leading * number
            at = (place.x0 + down, place.y0) if self.turned else (place.x0, place.y1 - down)
            canvas.text(at, line, self.size, turned=self.turned)


def nameless(sheet: Sheet, page: Page, window: Window) -> list[Nameless]:
    """Return the pieces of a window that nothing names in it, each with its sizes that need this window."""
    assert page.window is not None
    kin: dict[tuple[str, tuple[float, float]], list[Placed]] = {}
    for place in sheet.pieces_on([page]):
        kin.setdefault((place.declared.name, place.declared.at), []).append(place)
    found = []
    for (name, at), places in kin.items():
        drawn = ((place, place.lettered.piece) for place in places)
        bodies = [_on_sheet(place, Box(0.0, 0.0, piece.length, piece.width)) for place, piece in drawn]
        shown = [body.within(page.window) for body in bodies if body.overlaps(page.window, 2 * INSET)]
        curves = [bit for place in places for bit in place.bits]
        # round a bend there may be pages of which nothing is seen
        if not shown or (curves and not any(bit.grown(INSET / 10).overlaps(page.window) for bit in curves)):
            continue
        own = [place for place in sheet.painted if (place.declared.name, place.declared.at) == (name, at)]
        if not any(page.window.holds(box) for place in own for box in _named_at(place)):
            sizes = sizes_of(sheet, places)
            said = say(SIZES, sizes=sizes) if len(places) > 1 else say(SIZE, size=sizes)
            text = f"{name}, {said}" if sizes else name
            part = _between_curves(places[0], page.window, text) or Box.enclosing(shown)
            found.append(Nameless(text, part.moved(*window.moved)))
    return found


def _between_curves(place: Placed, window: Box, text: str) -> Box | None:
    """Return a part that has room for a name inside a piece with curved lines, so that it is not cut off; sheet mm."""
    shape = place.lettered.piece.figures.shape
    if shape is None:
        return None
    (x, y), turned = place.declared.at, place.declared.turned
    corners = ((window.x0, window.y0), (window.x1, window.y1))
    shown = Box.around((v - y, x - u) if turned else (u - x, v - y) for u, v in corners)
    inside = Inside(
        ((*shape.sewn, *reversed(shape.finished), shape.sewn[0]), ()),
        taken=[*(one.box.grown(INSET) for one in place.lettered.texts), *_around(shown)],
    )
    for way in _ways(text, False):
        wide, high = way.shape
        room = inside.place(wide + 2 * (INSET + ROOM), high + 2 * (INSET + ROOM), shown.middle)
        if room:
            return _on_sheet(place, room)
    return None


def _around(shown: Box) -> Iterator[Box]:
    """Yield all that a window does not show, as far as any piece may reach."""
    far = 1e5
    yield Box(-far, -far, shown.x0, far)
    yield Box(shown.x1, -far, far, far)
    yield Box(-far, -far, far, shown.y0)
    yield Box(-far, shown.y1, far, far)


def name_pieces(canvas: Canvas, pieces: Sequence[Nameless], taken: Sequence[Obstacle], turned: bool) -> list[Obstacle]:
    """Write the name of each piece on the part that is shown, where that has room; return the places."""
    own: list[Obstacle] = []
    for piece in pieces:
        ways = _ways(piece.text, turned)
        down, across = (ACROSS, DOWN) if turned else (DOWN, ACROSS)
        white = [one.with_white() for one in (*taken, *own)]
        places = Places(piece.part, white, inset=INSET, down=down, across=across, on_pieces=True)
        found = places.clear([way.shape for way in ways])
        if found:
            ways[found[0]].draw(canvas, found[1])
            own.append(Obstacle(found[1], ON_TEXT))
    return own


def _ways(text: str, turned: bool) -> list[_Name]:
    """Return how a name may be set: in few lines, then smaller."""
    ways = []
    for size in (SMALL, LEAST):
        whole = text_width(text, size)
        broken = (wrapped(text, whole / count + 6.0, size) for count in range(1, LINES + 1))
        ways += [_Name(lines, size, turned) for lines in broken]
    return ways


def sizes_of(sheet: Sheet, places: Sequence[Placed]) -> str:
    """Write the sizes of a piece, those that follow each other as a span."""
    sizes = [place.declared.size for place in places if place.declared.size]
    if not sizes:
        return ""
    every = [one.declared.size for one in sheet.pieces if one.declared.name == places[0].declared.name]
    first = every.index(sizes[0])
    return span(sizes[0], sizes[-1]) if every[first : first + len(sizes)] == sizes else "/".join(sizes)


def _named_at(place: Placed) -> Iterator[Box]:
    """Yield where the name stands in a label, of all its lines."""
    texts, name = place.lettered.texts, place.declared.name
    for start, text in enumerate(texts):
        # of all words few begin a name
        if not text.printed or not (text.printed.startswith(name) or name.startswith(text.printed)):
            continue
        lines = [text]
        for following in texts[start + 1 :]:
            said = " ".join(line.printed for line in lines)
            if said.startswith(name) or not name.startswith(said):
                break
            lines.append(following)
        if " ".join(line.printed for line in lines).startswith(name):
            yield _on_sheet(place, Box.enclosing(line.box for line in lines))


def _on_sheet(place: Placed, box: Box) -> Box:
    return Box.around(place.declared.on_sheet(at) for at in ((box.x0, box.y0), (box.x1, box.y1)))
