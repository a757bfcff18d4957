"""What must not be seen on a page, each as a sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator
from math import hypot

from tests.look.printed import Area, Line, Printed, Stroke

WHITE = 0.99

SIZES = (7.0, 8.0, 9.0, 10.0, 14.0)
"""Of type, points: 7 pt on narrow strips, elsewhere 8 pt at least."""

WEIGHTS = (0.18, 0.25, 0.35, 0.5)
"""Of lines, mm: members of the series of ISO 128-20, 4.1."""

GREYS = (0.0, 0.8, 0.88)
"""12 % of ink at least: a home printer with 600 dots to the inch makes it of 8 dots in a cell of 64 (ours)."""

BAND = 4.0
"""Lines are looked for in bands across the page, mm."""

CUT = 0.3
"""What a frame may take of the white around letters, mm."""

CLOSE = 0.05
"""Touching by less than this is not seen, mm."""

ASCII_TYPE = (
    (re.compile(r"[0-9½¼¾⅛⅜⅝⅞] ?x ?[0-9]"), "the letter x between numbers"),
    (re.compile(r"[0-9½¼¾⅛⅜⅝⅞]\s?[\"']"), "a quote for a prime"),
    (re.compile(r"[0-9]/[0-9]+[ \u00a0](in|of)\b"), "a fraction on one line"),
    (re.compile(r"(?<![0-9A-Za-z])-[0-9]"), "a hyphen for a minus"),
    (re.compile(r"\.\.\.|--"), "dots or hyphens for a sign"),
)


def page_faults(page: Printed) -> list[str]:
    """Name all faults of a page."""
    return [
        f"page {page.number}: {fault}"
        for fault in (*off_page(page), *cut(page), *on_each_other(page), *crossed(page), *typed(page))
    ]


def style_faults(page: Printed) -> Iterator[str]:
    """Name sizes of type, line weights and greys that are not of the scales, and words that are not black."""
    for words in page.words:
        if min(abs(words.size - size) for size in SIZES) > 0.01:
            yield f"page {page.number}: type of {words.size:g} pt: {words.text!r}"
        if words.grey:
            yield f"page {page.number}: grey type: {words.text!r}"
    weights = {stroke.weight for stroke in page.strokes if stroke.grey < WHITE}
    for weight in weights:
        if min(abs(weight - one) for one in WEIGHTS) > 0.002:
            yield f"page {page.number}: a line of {weight:.3f} mm"
    for grey in {stroke.grey for stroke in page.strokes} - {0.0, 1.0}:
        yield f"page {page.number}: a grey line: {grey:.2f}"
    for grey in {grey for grey, _ in page.fills}:
        if min(abs(grey - one) for one in GREYS) > 0.002:
            yield f"page {page.number}: a grey of {grey:.2f}"


def off_page(page: Printed) -> Iterator[str]:
    for words in page.words:
        if not page.size.holds(words.shown):
            yield f"off the page: {words.text!r}"


def cut(page: Printed) -> Iterator[str]:
    """Name words that a page frame cuts, and what is left out with an ellipsis."""
    for words in page.words:
        missing = max(abs(a - b) for a, b in zip(words.place, words.shown, strict=True))
        if words.of_piece and missing > CUT:
            yield f"cut at a page frame: {words.text!r}"
        # behind a blank it stands for what a list goes on with
        if re.search(r"\S…\s*$", words.text):
            yield f"left out: {words.text!r}"


def on_each_other(page: Printed) -> Iterator[str]:
    rows = sorted(page.words, key=lambda words: words.shown.y0)
    for index, one in enumerate(rows):
        for other in rows[index + 1 :]:
            if other.shown.y0 > one.shown.y1:
                break
            if one.shown.meets(other.shown, CLOSE):
                yield f"{one.text!r} on {other.text!r}"


def crossed(page: Printed) -> Iterator[str]:
    bands: dict[int, list[tuple[Line, Stroke]]] = {}
    for stroke in page.strokes:
        if stroke.grey < WHITE:
            for line in _shown(stroke):
                low, high = sorted((line[1], line[3]))
                for band in range(_band(low - stroke.weight), _band(high + stroke.weight) + 1):
                    bands.setdefault(band, []).append((line, stroke))
    for words in page.words:
        near = {
            id(stroke): stroke
            for band in range(_band(words.shown.y0), _band(words.shown.y1) + 1)
            for line, stroke in bands.get(band, ())
            # what a frame cuts off goes on on another page
            if not (stroke.is_frame and words.of_piece) and _cuts(line, words.shown, stroke.weight / 2)
        }
        for stroke in near.values():
            x, y, *_ = stroke.pieces[0]
            yield f"{words.text!r} crossed by a line of {stroke.weight:.2f} mm from {x:.0f}, {y:.0f}"


def _band(y: float) -> int:
    return int(y // BAND)


def _shown(stroke: Stroke) -> Iterator[Line]:
    """Give the lines of a stroke, each cut to its frame."""
    for line in stroke.pieces:
        if stroke.clip is None:
            yield line
        elif line[0] == line[2] or line[1] == line[3]:
            around = Area(*_sorted(line)).cut(stroke.clip)
            if around.x0 <= around.x1 and around.y0 <= around.y1:
                yield tuple(around)
        elif shown := _clipped(line, stroke.clip):
            yield shown


def _clipped(line: Line, clip: Area) -> Line | None:
    """Return the part of a line within a frame (Liang and Barsky, 1984), None where nothing is."""
    xa, ya, xb, yb = line
    start, end = 0.0, 1.0
    for step, room in (
        (xa - xb, xa - clip.x0),
        (xb - xa, clip.x1 - xa),
        (ya - yb, ya - clip.y0),
        (yb - ya, clip.y1 - ya),
    ):
        if step == 0:
            if room < 0:
                return None
        elif step < 0:
            start = max(start, room / step)
        else:
            end = min(end, room / step)
    if start > end:
        return None
    return xa + start * (xb - xa), ya + start * (yb - ya), xa + end * (xb - xa), ya + end * (yb - ya)


def _sorted(line: Line) -> Line:
    return (min(line[0], line[2]), min(line[1], line[3]), max(line[0], line[2]), max(line[1], line[3]))


def typed(page: Printed) -> Iterator[str]:
    for words in page.words:
        for pattern, what in ASCII_TYPE:
            if pattern.search(words.text):
                yield f"{what}: {words.text!r}"


def _cuts(line: Line, place: Area, half: float) -> bool:
    """Tell whether a line meets a place: their extents do, and the corners do not all lie on one side of the line."""
    xa, ya, xb, yb = line
    near = half - CLOSE
    if max(xa, xb) + near < place.x0 or min(xa, xb) - near > place.x1:
        return False
    if max(ya, yb) + near < place.y0 or min(ya, yb) - near > place.y1:
        return False
    dx, dy = xb - xa, yb - ya
    length = hypot(dx, dy) or 1.0
    sides = [((x - xa) * dy - (y - ya) * dx) / length for x in (place.x0, place.x1) for y in (place.y0, place.y1)]
    return min(sides) < half and max(sides) > -half
