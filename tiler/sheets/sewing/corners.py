"""Corners in plan: clipped and spread, then the strip's ends mitred or lapped; page mm.

The garment is seen from its right side, its edge as a heavy line, its seam line dashed.
The slanted end is that of the strip itself (``tiler.draft.strip.corner``), only smaller.
"""

from __future__ import annotations

from math import hypot

from tiler.box import Box, Point
from tiler.draft.figures import Figures
from tiler.draft.strip.corner import Corner
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.style import HAIR, HEAVY, LEADING, MEDIUM

HEIGHT = 44.0
"""What the drawings take of the page with the words below them, mm."""

CAPTION = 2 * LEADING
WIDTH = 62.0
"""Room for each, mm."""

_REACH, _RISE = 21.0, 19.0
"""Half width and height of the garment's corner."""

_DEEP = 7.0
"""The garment's allowance where it is measured along the middle of the corner."""

_BAND = 7.0
"""Finished width of the lapped strip as drawn."""

NOISE = 1e-6
SEAM = (1.6, 0.9)
"""Dashes of what is sewn, or pressed."""


def draw_corners(canvas: Canvas, strip: Figures) -> None:
    """Draw how the corner is prepared, and how the strip's ends meet there."""
    drawings = [(_clipped, say("Stay-stitch, then clip")), (_spread, say("Spread it straight"))]
    corner = strip.end.style
    if corner is Corner.LAPPED:
        drawings.append((_lapped, say("Lap the ends: wearer's right on top")))
    for number, (draw, caption) in enumerate(drawings):
        x = number * WIDTH
        draw(canvas, (x + WIDTH / 2, CAPTION))
        canvas.text((x + WIDTH / 2, 2.0), caption, align="centre", bold=True)
    if corner is Corner.MITRE:
        x = 2 * WIDTH
        _mitred(canvas, strip, Box(x + 4.0, CAPTION, x + WIDTH - 20.0, HEIGHT - 5.0))
        caption = say("End seam: stop, pivot and clip at the fold")
        canvas.text((x + WIDTH / 2, 2.0), caption, align="centre", bold=True)


def _clipped(canvas: Canvas, foot: Point) -> None:
    """Draw a corner with its stay stitches, and the clip that ends at them."""
    x, y = foot
    raw = ((x - _REACH, y + _DEEP + _RISE), (x, y + _DEEP), (x + _REACH, y + _DEEP + _RISE))
    seam = ((x - _REACH, y + _RISE), (x, y), (x + _REACH, y + _RISE))
    canvas.stroke([raw], HEAVY)
    canvas.stroke([seam], HAIR, SEAM)
    stay = tuple((x + side * _REACH * 0.45, y + _RISE * 0.45) for side in (-1, 1))
    canvas.stroke([(stay[0], (x, y), stay[1])], HEAVY, SEAM)
    canvas.stroke([((x, y + _DEEP), (x, y + 0.8))], MEDIUM)
    _say(canvas, say("raw edge"), (x, y + _DEEP + _RISE - 3.0), (x + _REACH * 0.62, y + _DEEP + _RISE * 0.62), "centre")
    _say(canvas, say("clip"), (x, y + _DEEP + 9.0), (x, y + _DEEP * 0.6), "centre")
    _say(canvas, say("stay stitches"), (x + 11.0, y - 1.0), (x + _REACH * 0.25, y + _RISE * 0.25), "left")


def _spread(canvas: Canvas, foot: Point) -> None:
    """Draw the same corner with its seam line straight: the clip stands open."""
    x, y = foot[0], foot[1] + 10.0
    top, open_at = y + 6.0, 5.0
    for side in (-1, 1):
        canvas.stroke([((x + side * 27.0, top), (x + side * open_at, top), (x, y + 0.5))], HEAVY)
    canvas.stroke([((x - 27.0, y), (x + 27.0, y))], MEDIUM, SEAM)
    _say(canvas, say("the clip opens"), (x, top + 6.0), (x, top - 2.5), "centre")
    _say(canvas, say("seam line, now straight"), (x, y - 7.0), (x + 12.0, y), "centre")


def _lapped(canvas: Canvas, foot: Point) -> None:
    """Draw a point with one end over the other, each in the seam of the other arm."""
    x, y = foot[0], foot[1] + 1.0
    length = hypot(_REACH, _RISE)
    ux, uy = _REACH / length, _RISE / length

    def right(along: float, inside: float = 0.0) -> Point:
        """Return a point of the right arm: so far from the point of the vee, so far inside the seam line."""
        return (x + along * ux - inside * uy, y + along * uy + inside * ux)

    def left(along: float, inside: float = 0.0) -> Point:
        px, py = right(along, inside)
        return (2 * x - px, py)

    # the inside of the upper arm meets the seam line of the other where that is a width away from its own
    cross = _BAND / (2 * ux * uy)
    upper = (left(length), (x, y), right(cross), left(length, _BAND))
    lower = (right(cross), right(length), right(length, _BAND), (x, y + _BAND / ux))
    canvas.stroke([upper[:3], upper[2:]], HEAVY)
    canvas.stroke([lower[:2], lower[2:]], HAIR)
    canvas.stroke([(right(0.6), right(cross))], MEDIUM, SEAM)
    _say(canvas, say("right, on top"), left(length * 0.97, _BAND + 9.0), left(length * 0.75, _BAND / 2), "left")
    _say(canvas, say("left, below"), right(length * 0.55, -9.0), right(length * 0.75, _BAND / 2), "left")
    _say(canvas, say("sewn here"), (x + 10.0, y - 0.5), right(cross * 0.6), "left")


def _mitred(canvas: Canvas, strip: Figures, room: Box) -> None:
    """Draw the unfolded end of the strip: the end seam as far as it is sewn, with its pivots, and the clips there."""
    end, width = strip.end, strip.cut_width_mm
    scale = min(room.height / width, room.width / (end.depth + end.allowance_along + width / 2))
    reach = max(reach for _, reach in end.seam) + end.allowance_along

    def at(y: float, along: float) -> Point:
        return (room.x1 + (along - reach) * scale, room.y0 + y * scale)

    upper = end.open_below if "upper" in strip.sewn_edges else 0.0
    sewn = [(y, along) for y, along in end.seam if end.open_below - NOISE <= y <= width - upper + NOISE]
    seam, cut = ([at(y, along + more) for y, along in sewn] for more in (0.0, end.allowance_along))
    outline = [at(y, along + end.allowance_along) for y, along in end.seam]
    canvas.stroke([((room.x0, outline[0][1]), *outline, (room.x0, outline[-1][1]))], HEAVY)
    canvas.stroke([tuple(seam)], MEDIUM, SEAM)
    turns = range(1, len(seam) - 1)
    canvas.stroke([(seam[turn], cut[turn]) for turn in turns], MEDIUM)
    canvas.stroke([((room.x0, seam[turn][1]), seam[turn]) for turn in turns], HAIR, (3.5, 1.5))
    if turns:
        first = turns[0]
        clip = tuple((a + b) / 2 for a, b in zip(seam[first], cut[first], strict=True))
        _say(canvas, say("clip"), (room.x1 + 3.0, clip[1]), (clip[0], clip[1]), "left")
        _say(canvas, say("pivot at the fold"), (seam[first][0], room.y1 + 1.5), seam[first], "centre")
    low = tuple((a + b) / 2 for a, b in zip(seam[0], seam[1], strict=True))
    _say(canvas, say("end seam"), (room.x1 + 3.0, room.y0 + 2.0), (low[0], low[1]), "left")


def _say(canvas: Canvas, text: str, at: Point, tip: Point, align: str) -> None:
    """Write words with a leader to what they name, that begins beside or below them."""
    x, y = at
    start = (x - 0.8, y + 1.0) if align == "left" else (x, y - 0.9 if tip[1] < y else y + 3.0)
    canvas.stroke([(start, tip)], HAIR)
    canvas.text(at, text, align=align)
