"""What every way draws: squares, bars, circles, with what else stands on a page; mm from the lower left corner."""

from __future__ import annotations

from collections.abc import Callable

from tests.bench.drawn.canvas import Canvas

IN = 25.4


def labelled(c: Canvas) -> None:
    c.rect(30, 200, 2 * IN, 2 * IN, 0.35)
    c.text(36, 222, "2 in")


def four_lines(c: Canvas) -> None:
    x, y, s = 40, 120, 50
    for a, b in (
        ((x, y), (x + s, y)),
        ((x + s, y + s), (x, y + s)),
        ((x, y + s), (x, y)),
        ((x + s, y), (x + s, y + s)),
    ):
        c.line(*a, *b, 0.3)
    c.text(x, y + s + 3, "Test square 5 cm")


def thick(c: Canvas) -> None:
    c.rect(40, 100, 100, 100, 3.6)
    c.text(60, 150, "10 cm x 10 cm")


def filled(c: Canvas) -> None:
    c.fill(60, 90, IN, IN, 0.6)
    c.text(60, 118, "1 inch test square")


def two_lines(c: Canvas) -> None:
    c.rect(50, 60, 4 * IN, 4 * IN, 0.5)
    c.text(56, 110, "This square measures 4 in")
    c.text(56, 105, "when printed at 100 %")


def bars(c: Canvas) -> None:
    c.line(30, 250, 130, 250, 0.4)
    c.line(30, 248, 30, 252, 0.4)
    c.line(130, 248, 130, 252, 0.4)
    c.text(70, 253, "10 cm")
    c.line(170, 50, 170, 50 + 4 * IN, 0.4)
    c.line(168, 50, 172, 50, 0.4)
    c.line(168, 50 + 4 * IN, 172, 50 + 4 * IN, 0.4)
    c.text(173, 100, "4 in")


def round_one(c: Canvas) -> None:
    c.circle(90, 150, 25, 0.4)
    c.text(76, 150, "Diameter 5 cm")


def oblong(c: Canvas) -> None:
    c.rect(50, 150, 100, 50, 0.4)
    c.text(70, 172, "10 × 5 cm")


def beside_pocket(c: Canvas) -> None:
    c.rect(20, 220, 50, 50, 0.4)
    c.text(24, 245, "test square 5 cm")
    c.rect(60, 40, 123, 123, 0.5)
    c.text(90, 110, "Pocket, cut 2")
    c.text(90, 104, "12 x 12 cm finished")


def pale(c: Canvas) -> None:
    c.rect(30, 60, 3 * IN, 3 * IN, 0.25, 0.9)
    c.text(40, 90, "3 inches")


def dashed(c: Canvas) -> None:
    x, y, s = 70, 70, 60
    for step in range(20):
        a, b = step * 3, step * 3 + 1.8
        for start, end in (
            ((x + a, y), (x + b, y)),
            ((x + a, y + s), (x + b, y + s)),
            ((x, y + a), (x, y + b)),
            ((x + s, y + a), (x + s, y + b)),
        ):
            c.line(*start, *end, 0.3)
    # the last dash ends at the corner
    for start, end in (
        ((x + 58, y), (x + s, y)),
        ((x + 58, y + s), (x + s, y + s)),
        ((x, y + 58), (x, y + s)),
        ((x + s, y + 58), (x + s, y + s)),
    ):
        c.line(*start, *end, 0.3)
    c.text(80, 100, "6 cm")


def without_label(c: Canvas) -> float:
    c.rect(30, 200, 2 * IN, 2 * IN, 0.35)
    c.rect(30, 40, 80, 120, 0.35)
    return 2 * IN


SCENES: dict[str, Callable[[Canvas], float | None]] = {
    "label inside": labelled,
    "four lines": four_lines,
    "thick": thick,
    "filled": filled,
    "two lines of words": two_lines,
    "scale bars": bars,
    "circle": round_one,
    "rectangle": oblong,
    "beside a pocket": beside_pocket,
    "pale": pale,
    "dashes apart": dashed,
    "without label": without_label,
}
