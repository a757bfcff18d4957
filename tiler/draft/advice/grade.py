"""The grade: how a length goes from size to size, and which size is out of line; mm.

With the lengths v[0], v[1] ... of the sizes in order, the steps are s[i] = v[i+1] - v[i].
A mistyped length makes the step before its size too large and the step after it too
small, or the other way round, so its second difference is twice the mistake.  A size is
out of line when

- its two steps lie on opposite sides of the median of the steps around it, each by
  more than 1/16 in and by a quarter of that median or more; or
- a step beside it goes against the direction of the median step; or
- a step is more than three times both its neighbours and larger by more than 1/8 in; or
- it is the first or the last, the next three, or both, are alike within 1/16 in, and it is more than twice as
  large as they are, by more than 1/16 in.

Of three sizes whose steps go one up and one down, each by more than 1/16 in, it is the one between.

The median is the lower one, a step that really occurs.  So a grade that changes its
step once, or that goes to and fro between two steps since it was rounded, is never
flagged by the first rule.  Fewer than three sizes have no grade.  Rule and limits are ours.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise
from statistics import median_low

from tiler.draft.figures import Figures
from tiler.draft.spec.piece import PieceSpec
from tiler.languages.words import Words
from tiler.lengths import both, tape
from tiler.paper import IN
from tiler.sentence import Sentence, joined

FEWEST = 3
"""Sizes from which on steps can be compared."""

READING = float(IN / 16)
"""What a tape is read to, mm: a smaller difference is not a slip."""

SHARE = 0.25
JUMP = 3.0
NOISE = 1e-6


@dataclass(frozen=True)
class Slip:
    """A size that is out of line: its place, its steps on both sides (one at either end), and the usual step there."""

    index: int
    steps: tuple[float, ...]
    usual: float


def slips(lengths: Sequence[float]) -> tuple[Slip, ...]:
    """Return the sizes whose length is out of line with its neighbours; lengths in mm."""
    if len(lengths) < FEWEST:
        return ()
    steps = [after - before for before, after in pairwise(lengths)]
    if len(steps) == 2 and min(map(abs, steps)) > READING + NOISE and steps[0] * steps[1] < 0:
        # one length at fault explains both, and the sizes beside it say what their step is
        return (Slip(1, tuple(steps), sum(steps) / 2),)
    found = {index for index in range(1, len(steps)) if _out_of_line(steps, index)}
    for index, step in enumerate(steps):
        astray = _turns_back(steps, step) or _jumps(steps, index) or _ends_astray(steps, index)
        if not found & {index, index + 1} and astray:
            # beyond the first step all steps are alike, so it is the first size that stands apart
            found.add(index + 1 if index else 0)
    return tuple(
        Slip(index, tuple(steps[max(0, index - 1) : index + 1]), _usual(steps, index)) for index in sorted(found)
    )


def with_slips(figures: Sequence[Figures], pieces: Sequence[PieceSpec], units: str) -> tuple[Figures, ...]:
    """Return the same figures, of one piece in all its sizes, with a warning at each size that is out of line.

    ``pieces`` are what the spec states of each size: its lengths are told as they are typed there.
    """
    warnings: list[list[str]] = [[] for _ in figures]
    for what, lengths in _graded(figures, pieces):
        for slip in slips(lengths):
            warnings[slip.index].append(_words(what, figures, lengths, slip, units))
    return tuple(_with(one, own) for one, own in zip(figures, warnings, strict=True))


def _with(figures: Figures, slips: Sequence[str]) -> Figures:
    """Return the figures with these warnings behind those of the checks that are not passed."""
    failed = len(figures.failed)
    warnings = (*figures.warnings[:failed], *slips, *figures.warnings[failed:])
    return replace(figures, warnings=warnings, slips=tuple(slips))


def _graded(figures: Sequence[Figures], pieces: Sequence[PieceSpec]) -> Iterator[tuple[str, list[float]]]:
    """Yield the lengths that are compared; the sewn length only where nothing else explains it."""
    names = [tuple(part.name for part in one.edge.parts) for one in figures]
    slipped = False
    if len(set(names)) == 1:
        for index in range(len(names[0])):
            part = figures[0].edge.parts[index].words
            typed = [piece.edge.parts[index].typed_mm for piece in pieces]
            if all(typed):
                what, lengths = Words("{part} in the spec", part=part), [length or 0.0 for length in typed]
            else:
                what = Words("{part} of the seam line", part=part)
                lengths = [one.edge.parts[index].edge_mm for one in figures]
            slipped = slipped or bool(slips(lengths))
            yield what, lengths
    # the sewn length follows the edge, and where the width changes from size to size, that too
    if not slipped and len({one.finished_width_mm for one in figures}) == 1:
        yield Words("sewn length"), [one.loop_mm for one in figures]
    yield Words("cut width"), [one.cut_width_mm for one in figures]
    if all(one.opening for one in figures):
        yield Words("length that must pass"), [one.opening.must_pass_mm for one in figures if one.opening]


def _words(what: str, figures: Sequence[Figures], lengths: Sequence[float], slip: Slip, units: str) -> str:
    # at either end both neighbours lie on one side
    first = min(max(0, slip.index - 1), len(lengths) - FEWEST)
    shown = range(first, first + FEWEST)
    numbers = joined(", ", (Sentence(f"{figures[index].size} ", both(lengths[index], units)) for index in shown))
    steps, usual = [tape(step, units) for step in slip.steps], tape(slip.usual, units)
    if len(steps) == 1:
        return Words(
            "Out of line with the sizes beside it: the {what} is {numbers}. Its step is {step}, and the sizes around "
            "it have {usual}. Check the length in the spec.",
            what=what,
            numbers=numbers,
            step=steps[0],
            usual=usual,
        )
    return Words(
        "Out of line with the sizes beside it: the {what} is {numbers}. Its steps are {step} and {next}, and the sizes "
        "around it have {usual}. Check the length in the spec.",
        what=what,
        numbers=numbers,
        step=steps[0],
        next=steps[1],
        usual=usual,
    )


def _usual(steps: Sequence[float], index: int) -> float:
    return median_low(steps[max(0, index - 2) : index + 2])


def _out_of_line(steps: Sequence[float], index: int) -> bool:
    usual = _usual(steps, index)
    before, after = steps[index - 1] - usual, steps[index] - usual
    least = min(abs(before), abs(after))
    return before * after < 0 and least > READING + NOISE and least >= SHARE * abs(usual) - NOISE


def _turns_back(steps: Sequence[float], step: float) -> bool:
    return abs(step) > READING + NOISE and step * median_low(steps) < 0


def _ends_astray(steps: Sequence[float], index: int) -> bool:
    others = steps[1:4] if index == 0 else steps[-4:-1]
    if index not in (0, len(steps) - 1) or len(others) < 2 or max(others) - min(others) > READING + NOISE:
        return False
    usual = median_low(others)
    return steps[index] * usual > 0 and abs(steps[index]) > 2 * abs(usual) + READING + NOISE


def _jumps(steps: Sequence[float], index: int) -> bool:
    beside = max(abs(step) for step in (*steps[max(0, index - 1) : index], *steps[index + 1 : index + 2]))
    step = abs(steps[index])
    return beside > NOISE and step > JUMP * beside + NOISE and step - beside > 2 * READING + NOISE
