"""What each joint says on both of its sides: what comes there, and whether to trim or to glue; page mm.

The next page or pane is trimmed and laid over the one before: scissors stand at its left
or upper joint (of a strip that runs up the page, at its lower one), and a tab to put glue
on at the joint of the one below.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass

from tiler.box import Box, Point, Subpath
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.page.free_places import ON_TEXT, Obstacle, Places
from tiler.sheets.style import FINE, LEADING, LEAST, LEAST_LEADING, SMALL
from tiler.sheets.typesetting import text_width

SIGN = (5.0, 3.0)
"""Width and height of the scissors and of the tab, mm."""

BESIDE, ABOVE = 1.0, 0.4
"""From a sign to the words beside it, and to those below it, mm."""

REACHES = (14.0, 25.0, 40.0)
"""How far from a joint its words may begin, mm; the next where nearer to the joint all is taken."""

LOW = 0.26
"""From the foot of a line of words to their base line, share of its height."""

STEP = 0.5

INSET = 0.5
"""White between the words and the frame, mm."""

_OPPOSITE = {"left": "right", "right": "left", "above": "below", "below": "above"}

_RING: Subpath = ((0.0, -0.2), (0.8, -0.5), (1.5, 0.0), (1.3, 0.7), (0.5, 0.8), (0.0, 0.4), (0.0, -0.2))


@dataclass(frozen=True)
class Join:
    """What a page or pane meets, on which of its sides (left, right, above or below), and which of both is trimmed."""

    code: str
    side: str
    trimmed: bool


@dataclass(frozen=True)
class Told:
    """A joint with the way in which it is told, and the place; ``clear`` where that crosses neither lines nor words."""

    join: Join
    way: _Way
    place: Box
    clear: bool

    @property
    def obstacle(self) -> Obstacle:
        """What other words keep off."""
        return Obstacle(self.place, ON_TEXT)

    def draw(self, canvas: Canvas) -> None:
        """Draw the sign and write the words."""
        self.way.draw(canvas, self.place, self.join.trimmed)


def told(frame: Box, taken: Sequence[Obstacle], joins: Sequence[Join], strip: Box | None = None) -> list[Told]:
    """Return for each joint of a window where it is told what comes there: near it, off lines and words.

    Words may stand along a ``strip`` that runs up the page, inside its bounds.
    """
    found: list[Told] = []
    sides = {join.side for join in joins}
    for join in joins:
        found.append(_told(join, sides, frame, [*taken, *(one.obstacle for one in found)], strip))
    return found


def _told(join: Join, sides: Collection[str], frame: Box, taken: Sequence[Obstacle], strip: Box | None) -> Told:
    """Tell a joint in the longest way that stands clear near it; else in the shortest, where it disturbs least."""
    right = join.side == "right"

    def places(way: _Way, reach: float) -> Places:
        room = _near(frame, join.side, sides, way.shape, reach)
        room = room.within(strip) if strip and way.turned else room
        return Places(room, taken, inset=INSET, down=STEP, across=STEP, on_pieces=True)

    ways = [*_ways(join.code, strip is not None)]
    for reach in REACHES:
        for way in ways:
            if found := places(way, reach).clear([way.shape], from_right=right):
                return Told(join, way, found[1], True)
    shortest = min(ways, key=lambda way: way.shape[0] * way.shape[1])
    return Told(join, shortest, places(shortest, REACHES[0]).take([shortest.shape], from_right=right)[1], False)


@dataclass(frozen=True)
class _Way:
    """Lines of words, beside their sign or below it; ``turned`` along a strip that runs up the page."""

    lines: Sequence[str]
    below: bool = False
    turned: bool = False
    size: float = SMALL

    @property
    def leading(self) -> float:
        return LEADING if self.size == SMALL else LEAST_LEADING

    @property
    def sides(self) -> tuple[float, float]:
        """Extent along the words, and across them."""
        wide, high = max(text_width(line, self.size) for line in self.lines), len(self.lines) * self.leading
        if self.below:
            return max(wide, SIGN[0]), high + ABOVE + SIGN[1]
        return SIGN[0] + BESIDE + wide, max(high, SIGN[1])

    @property
    def shape(self) -> tuple[float, float]:
        along, across = self.sides
        return (across, along) if self.turned else (along, across)

    def draw(self, canvas: Canvas, place: Box, trimmed: bool) -> None:
        _, high = self.sides

        def at(along: float, up: float) -> Point:
            return (place.x1 - up, place.y0 + along) if self.turned else (place.x0 + along, place.y0 + up)

        middle = high - (SIGN[1] if self.below else max(self.leading, SIGN[1])) / 2
        sign = _scissors((0.0, middle)) if trimmed else _tab((0.0, middle))
        canvas.stroke([tuple(at(*point) for point in line) for line in sign], FINE)
        left = 0.0 if self.below else SIGN[0] + BESIDE
        for number, line in enumerate(reversed(self.lines)):
            canvas.text(at(left, (number + LOW) * self.leading), line, self.size, turned=self.turned)


def _ways(code: str, turned: bool) -> Iterator[_Way]:
    """Yield how a joint may be told, the longest first; where there is no room for it, in fewer words and smaller."""
    words = say("{code} joins here", code=code).split(" ")
    whole, two = [" ".join(words)], [" ".join(words[:-1]), words[-1]]
    yield from (_Way(whole), _Way(two), _Way(words), _Way(words, below=True))
    if turned:
        yield _Way(whole, turned=True)
    yield from (_Way([code]), _Way([code], below=True))
    for size in (SMALL, LEAST):
        yield from (_Way([code], size=size, turned=True), _Way([code], True, True, size)) if turned else ()
    yield from (_Way([code], size=LEAST), _Way([code], below=True, size=LEAST))


def _near(frame: Box, side: str, sides: Collection[str], shape: tuple[float, float], reach: float) -> Box:
    """Return the part of a frame where a block begins near to the joint at a side, and is nearer than to another."""
    long, own = (frame.width, shape[0]) if side in ("left", "right") else (frame.height, shape[1])
    deep = min(long, reach + own + 2 * INSET)
    if _OPPOSITE[side] in sides:
        deep = min(deep, (long + own) / 2)

    def off(corner: str) -> float:
        # where joints meet at a corner, their words keep out of it
        if corner == _OPPOSITE[side]:
            return long - deep
        return reach if corner != side and corner in sides else 0.0

    return Box(frame.x0 + off("left"), frame.y0 + off("below"), frame.x1 - off("right"), frame.y1 - off("above"))


def _scissors(at: Point) -> list[Subpath]:
    """Return two blades that cross, each with a ring at its end."""
    x, y = at
    shapes: list[Subpath] = []
    for sign in (1.0, -1.0):
        shapes.append(((x + 1.4, y + 0.6 * sign), (x + SIGN[0], y - 0.9 * sign)))
        shapes.append(tuple((x + dx, y + (0.7 + dy) * sign) for dx, dy in _RING))
    return shapes


def _tab(at: Point) -> list[Subpath]:
    """Return a tab with strokes across it, as glue is put on."""
    x, y = at
    wide, half = SIGN[0], SIGN[1] / 2 - 0.2
    outline = ((x, y - half), (x + wide, y - half), (x + wide - 0.9, y + half), (x + 0.9, y + half), (x, y - half))
    strokes = [((x + 1.2 + k, y - half + 0.5), (x + 1.6 + k, y + half - 0.5)) for k in (0.0, 1.0, 2.0)]
    return [outline, *strokes]
