"""The proof of files that are not ours: their squares and ruler lines decide; mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from tiler.box import Box
from tiler.languages.proved import SQUARES_NAMED
from tiler.languages.words import Words
from tiler.proof.foreign.graduated import Graduated, judge_ruler_lines, ruler_lines
from tiler.proof.foreign.labelled import Labelled, as_expected, guess, judge, judge_unseen, squares_of_page
from tiler.proof.foreign.quadrangle import quadrangles
from tiler.proof.foreign.ruler_ticks import bare_ruler_lines
from tiler.proof.ink.pixels import Pixels
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.reading.pdf.document import PageRead

MOST_GUESSES = 3

DRAFTED = {50.8, 50.0}
"""The sides of the two test squares that every drafted file prints, 2 in and 5 cm; mm."""


@dataclass(frozen=True)
class Expected:
    """The side that the person says a test square has, mm, and how it was said."""

    side: float
    words: str


@dataclass
class Others:
    """What was found so far, page by page."""

    expected: Expected | None = None
    squares: list[Labelled] = field(default_factory=list)
    bare: list[Labelled] = field(default_factory=list)
    unseen: list[Labelled] = field(default_factory=list)
    lines: list[Graduated] = field(default_factory=list)
    units: list[tuple[int, float]] = field(default_factory=list)
    pictures: list[int] = field(default_factory=list)
    annotated: list[int] = field(default_factory=list)
    named: list[tuple[int, Box]] = field(default_factory=list)

    def look(self, page: PageRead, render: Callable[[], Pixels]) -> None:
        """Measure a page; it is rendered only when something on it may be a square or a ruler line."""
        squares, lines = quadrangles(page.strokes), bare_ruler_lines(page.strokes)
        if squares or lines:
            ink = render()
            found = squares_of_page(page, ink, squares)
            self.squares += found.labelled
            self.bare += found.bare
            self.unseen += found.unseen
            self.lines += ruler_lines(page, ink, lines)
        self.named += [(page.number, text.box) for text in page.texts if text.text in SQUARES_NAMED]
        if page.boxes.user_unit != 1.0:
            self.units.append((page.number, page.boxes.user_unit))
        if page.pictures:
            self.pictures.append(page.number)
        if page.annotated:
            self.annotated.append(page.number)

    def checks(self, fault: Check | None = None) -> Iterator[Check]:
        """Yield the checks; ``fault`` is what is wrong with a declaration."""
        squares = self._named()
        yield from self.measured()
        if not squares and not self.lines:
            yield from self._guesses()
            yield from self._elsewhere()
            return
        yield from _one_axis(squares, self.lines)
        if fault:
            yield fault
        yield Check(CheckName.ASSEMBLY, Status.WARN, Says.REWRITTEN if self._drafted() else Says.ASSEMBLY_UNKNOWN)

    def measured(self) -> Iterator[Check]:
        """Yield what squares and ruler lines say: all there is to say of pages beside ours."""
        squares = self._named()
        yield from judge(squares)
        yield from judge_ruler_lines(self.lines)
        yield from judge_unseen(self.unseen)
        for number, unit in self.units if squares or self.lines else ():
            yield Check(CheckName.USER_UNIT, Status.WARN, Says.UNIT_IGNORED, number, numbers={"unit": unit})

    def measured_pages(self) -> set[int]:
        """Return the pages that hold a square or a ruler line."""
        return {one.page for found in (self.squares, self.bare, self.unseen, self.lines) for one in found}

    def _named(self) -> list[Labelled]:
        """Return the squares whose size is known; on drafted pages none but those that call themselves test squares."""
        squares = self._drafted() or self.squares
        if self.expected is None:
            return squares
        return [*squares, *as_expected(self.bare, self.expected.side, self.expected.words)]

    def _drafted(self) -> list[Labelled]:
        """Return the squares of a drafted file as it prints them, both sizes with their words inside; empty without."""
        found = [
            one for one in self.squares if any(page == one.page and one.box.holds(box) for page, box in self.named)
        ]
        return found if {one.nominal for one in found} >= DRAFTED else []

    def _guesses(self) -> Iterator[Check]:
        """Propose what squares without a label may be; a guess is not a measurement, so it only warns."""
        for square in self.bare[:MOST_GUESSES]:
            size = guess(square)
            if size:
                mean = (square.across + square.down) / 2
                yield Check(
                    CheckName.GUESS,
                    Status.WARN,
                    Says.GUESSED,
                    square.page,
                    mean,
                    label=size,
                    box=square.box,
                    numbers={"across": square.across, "down": square.down},
                )

    def _elsewhere(self) -> Iterator[Check]:
        """Say where squares may hide from the reader of lines."""
        if self.pictures:
            yield Check(CheckName.NOT_MEASURED, Status.WARN, Says.PICTURES_NOT_MEASURED, self.pictures[0])
        if self.annotated:
            what = Words("annotations")
            yield Check(CheckName.NOT_MEASURED, Status.WARN, Says.NOT_MEASURED, self.annotated[0], label=what)


def _one_axis(squares: Sequence[Labelled], lines: Sequence[Graduated]) -> Iterator[Check]:
    """Ruler lines along one axis say nothing of the other."""
    axes = {line.axis for line in lines}
    if not squares and len(axes) == 1:
        other = "down" if "across" in axes else "across"
        yield Check(CheckName.AXIS, Status.FAIL, Says.AXIS_UNMEASURED, lines[0].page, axis=other)
