"""What must not be seen on a page, each as a sentence."""

from __future__ import annotations

import re
from collections.abc import Iterator

from tests.look.printed import Area, Printed

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
        for fault in (*off_page(page), *on_each_other(page), *crossed(page), *typed(page))
    ]


def off_page(page: Printed) -> Iterator[str]:
    for words in page.words:
        if not page.size.holds(words.shown):
            yield f"off the page: {words.text!r}"


def on_each_other(page: Printed) -> Iterator[str]:
    rows = sorted(page.words, key=lambda words: words.shown.y0)
    for index, one in enumerate(rows):
        for other in rows[index + 1 :]:
            if other.shown.y0 > one.shown.y1:
                break
            if one.shown.meets(other.shown, CLOSE):
                yield f"{one.text!r} on {other.text!r}"


def crossed(page: Printed) -> Iterator[str]:
    for stroke in page.strokes:
        if stroke.grey > 0.99:
            continue
        half = stroke.weight / 2
        for line in stroke.pieces:
            shown = Area(min(line[0], line[2]), min(line[1], line[3]), max(line[0], line[2]), max(line[1], line[3]))
            if stroke.clip:
                shown = shown.cut(stroke.clip)
                if shown.x1 < shown.x0 or shown.y1 < shown.y0:
                    continue
            for words in page.words:
                if stroke.is_frame and words.of_piece:
                    # cut by the frame, it goes on on another page
                    continue
                if shown.grown(half).meets(words.shown, CLOSE) and _cuts(line, words.shown, half):
                    yield f"{words.text!r} crossed by a line at {shown.x0:.1f}, {shown.y0:.1f} of {stroke.weight:.2f} mm"
                    break


def typed(page: Printed) -> Iterator[str]:
    for words in page.words:
        for pattern, what in ASCII_TYPE:
            if pattern.search(words.text):
                yield f"{what}: {words.text!r}"


def _cuts(line: tuple[float, float, float, float], place: Area, half: float) -> bool:
    """Tell whether a slanted line meets a place: where its corners do not all lie on one side of it."""
    xa, ya, xb, yb = line
    dx, dy = xb - xa, yb - ya
    length = (dx * dx + dy * dy) ** 0.5
    if not length:
        return True
    sides = [((x - xa) * dy - (y - ya) * dx) / length for x in (place.x0, place.x1) for y in (place.y0, place.y1)]
    return min(sides) < half and max(sides) > -half
