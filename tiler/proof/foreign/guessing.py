"""Squares without a label: what a person expects them to be, and what they may be meant as; mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from tiler.proof.foreign.labelled import STRETCHED, UNSQUARE, Labelled, Rank
from tiler.proof.foreign.size_words import INCH
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says

NEAR_EXPECTED = 0.15
"""A square that differs by more than this share from what is expected is another one."""

NEAR_ROUND = 0.02
"""A guess goes no further than this share from the nearest round size."""

ROUND = (
    *((float(half * INCH) / 2, f"{half // 2}{' 1/2' if half % 2 else ''} in") for half in range(2, 11)),
    *((count * 10.0, f"{count:g} cm") for count in (2, 2.5, 3, 4, 5, 6, 7, 8, 9, 10, 12)),
)
"""Sides that test squares usually have: common practice."""


def as_expected(
    squares: Sequence[Labelled], expected: float, words: str, near: float | None = NEAR_EXPECTED
) -> list[Labelled]:
    """Take those squares for the expected one whose size is near it, whatever their labels say.

    Those whose labels say it too, or speak of a test, rank above others; what is no square comes last.
    """
    found = []
    for one in squares:
        if near is not None and (one.high or abs((one.across + one.down) / 2 / expected - 1) > near):
            continue
        unsquare = abs(one.across / one.down - 1)
        said = one.rank is Rank.NAMED or any(abs(size.wide / expected - 1) < 1e-4 for size in one.sizes)
        plain = Rank.UNUSUAL if unsquare <= UNSQUARE else Rank.PIECE
        rank = Rank.NAMED if said else plain if not one.label or one.rank is Rank.PIECE else Rank.PLAIN
        if unsquare <= STRETCHED or said:
            found.append(replace(one, nominal=expected, high=0.0, label=f"{words} as expected", sizes=(), rank=rank))
    top = max((one.rank for one in found), default=Rank.PIECE)
    return [replace(one, rank=Rank.NAMED) for one in found if one.rank is top]


def guess(square: Labelled) -> str | None:
    """Return the round size that a square without a label may be meant to have, in words; None when there is none."""
    if abs(square.across / square.down - 1) > UNSQUARE:
        return None
    side = (square.across + square.down) / 2
    near = min(ROUND, key=lambda size: abs(side / size[0] - 1))
    return near[1] if abs(side / near[0] - 1) <= NEAR_ROUND else None


def guessed(squares: Sequence[Labelled], most: int) -> Iterator[Check]:
    """Propose what squares without a label may be; a guess is not a measurement, so it only warns."""
    likely = [(square, size) for square in squares if (size := guess(square))]
    for square, size in likely[:most]:
        yield Check(
            CheckName.GUESS,
            Status.WARN,
            Says.GUESSED,
            square.page,
            (square.across + square.down) / 2,
            label=size,
            box=square.box,
            numbers={"across": square.across, "down": square.down},
        )
