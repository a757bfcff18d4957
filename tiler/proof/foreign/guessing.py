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


COMMON = (25.4, 50.8, 76.2, 101.6, 25.0, 30.0, 40.0, 50.0, 100.0)
"""Those that nearly all of them have."""


def is_common(square: Labelled) -> bool:
    """Tell whether a square says a size that nearly only test squares have, and nothing against it."""
    return square.rank >= Rank.PLAIN and any(abs(square.nominal - size) < 1e-3 for size in COMMON)


def as_expected(squares: Sequence[Labelled], expected: float, words: str, near: bool = True) -> list[Labelled]:
    """Take those squares for the expected one whose size is near it, whatever their labels say.

    Where labels say it too, these; else those whose words speak of a test; else squares, and what is stretched last.
    """
    found: list[tuple[int, Labelled]] = []
    for one in squares:
        unsquare = abs(one.across / one.down - 1)
        far = one.high or abs((one.across + one.down) / 2 / expected - 1) > NEAR_EXPECTED
        said = any(abs(size.wide / expected - 1) < 1e-4 for size in one.sizes)
        if near and (far or (unsquare > STRETCHED and not said)):
            continue
        piece = one.label and one.rank is Rank.PIECE
        rank = 4 if said else 3 if one.rank is Rank.NAMED else 0 if piece else 2 if unsquare <= UNSQUARE else 1
        found.append((rank, replace(one, nominal=expected, high=0.0, label=f"{words} as expected", sizes=())))
    top = max((rank for rank, _ in found), default=0)
    return [replace(one, rank=Rank.NAMED) for rank, one in found if rank == top]


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
