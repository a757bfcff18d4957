"""What each joint says on both of its sides: what comes there, and whether to trim or to glue; page mm.

The next page or pane is trimmed and laid over the one before: scissors stand at its left
or upper joint (of a strip that runs up the page, at its lower one), and a tab to put glue
on at the joint of the one below.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tiler.box import Box, Point, Subpath
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.page.free_places import ON_TEXT, Obstacle, Places
from tiler.sheets.style import FINE, LEADING, SMALL
from tiler.sheets.typesetting import text_width

SIGN = (5.0, 3.0)
"""Width and height of the scissors and of the tab, mm."""

BESIDE = 1.0
"""From a sign to its words, mm."""

DEEP, WIDE = 14.0, 44.0
"""How far from an upper or lower joint, and from one at the left or right, its words may stand, mm."""

WHITE = 0.8
"""Above and below the words, mm."""

STEP = 0.5

_RING: Subpath = ((0.0, -0.2), (0.8, -0.5), (1.5, 0.0), (1.3, 0.7), (0.5, 0.8), (0.0, 0.4), (0.0, -0.2))


@dataclass(frozen=True)
class Join:
    """What a page or pane meets, on which of its sides (left, right, above or below), and which of both is trimmed."""

    code: str
    side: str
    trimmed: bool


def draw_joints(canvas: Canvas, frame: Box, taken: Sequence[Obstacle], joins: Iterable[Join]) -> list[Obstacle]:
    """Write at each joint of a window what comes there, where that disturbs least, and return the places."""
    own: list[Obstacle] = []
    for join in joins:
        ways = _ways(join.code)
        shapes = [way.shape for way in ways]
        right = join.side == "right"
        for room in (_near(frame, join.side), frame):
            places = Places(room, [*taken, *own], inset=0.5, down=STEP, across=STEP, on_pieces=True)
            found = places.clear(shapes, from_right=right)
            if found:
                break
        index, place = found or (len(ways) - 1, places.take(shapes[-1:], from_right=right)[1])
        ways[index].draw(canvas, place, join.trimmed)
        own.append(Obstacle(place, ON_TEXT))
    return own


@dataclass(frozen=True)
class _Way:
    """Lines of words, beside their sign or below it."""

    lines: Sequence[str]
    below: bool = False

    @property
    def shape(self) -> tuple[float, float]:
        wide, high = max(map(text_width, self.lines)), len(self.lines) * LEADING
        return (max(wide, SIGN[0]), high + SIGN[1] + 0.4) if self.below else (SIGN[0] + BESIDE + wide, high)

    def draw(self, canvas: Canvas, place: Box, trimmed: bool) -> None:
        middle = place.y1 - (SIGN[1] / 2 + 0.2 if self.below else LEADING / 2)
        canvas.stroke(_scissors((place.x0, middle)) if trimmed else _tab((place.x0, middle)), FINE)
        left = place.x0 if self.below else place.x0 + SIGN[0] + BESIDE
        for number, line in enumerate(reversed(self.lines)):
            canvas.text((left, place.y0 + number * LEADING + WHITE + 0.2), line, SMALL)


def _ways(code: str) -> list[_Way]:
    """Return how a joint may be told, the longest first; where there is no room for it, in fewer words."""
    words = say("{code} joins here", code=code).split(" ")
    whole, two = [" ".join(words)], [" ".join(words[:-1]), words[-1]]
    return [_Way(whole), _Way(two), _Way(words), _Way(words, below=True), _Way([code]), _Way([code], below=True)]


def _near(frame: Box, side: str) -> Box:
    wide, deep = min(WIDE, frame.width), min(DEEP, frame.height)
    return {
        "left": Box(frame.x0, frame.y0, frame.x0 + wide, frame.y1),
        "right": Box(frame.x1 - wide, frame.y0, frame.x1, frame.y1),
        "above": Box(frame.x0, frame.y1 - deep, frame.x1, frame.y1),
        "below": Box(frame.x0, frame.y0, frame.x1, frame.y0 + deep),
    }[side]


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
