"""The proof of files that are not ours: their squares and ruler lines decide; mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field

from tiler.proof.foreign.graduated import Graduated, judge_ruler_lines, ruler_lines
from tiler.proof.foreign.labelled import Labelled, as_expected, guess, judge, judge_unseen, squares_of_page
from tiler.proof.foreign.quadrangle import quadrangles
from tiler.proof.foreign.ruler_ticks import bare_ruler_lines
from tiler.proof.ink.lines import Ink
from tiler.proof.report.verdict import FAIL, WARN, Check
from tiler.reading.pdf.document import PageRead

MOST_GUESSES = 3


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

    def look(self, page: PageRead, render: Callable[[], Ink]) -> None:
        """Measure a page; it is rendered only when something on it may be a square or a ruler line."""
        squares, lines = quadrangles(page.strokes), bare_ruler_lines(page.strokes)
        if squares or lines:
            ink = render()
            found = squares_of_page(page, ink, squares)
            self.squares += found.labelled
            self.bare += found.bare
            self.unseen += found.unseen
            self.lines += ruler_lines(page, ink, lines)
        if page.boxes.user_unit != 1.0:
            self.units.append((page.number, page.boxes.user_unit))
        if page.pictures:
            self.pictures.append(page.number)
        if page.annotated:
            self.annotated.append(page.number)

    def checks(self, fault: str = "") -> Iterator[Check]:
        """Give the checks; ``fault`` is why a declaration could not be read."""
        squares = self._named()
        yield from self.measured()
        if not squares and not self.lines:
            yield from self._guesses()
            yield from self._elsewhere()
            return
        yield from _one_axis(squares, self.lines)
        if fault:
            yield Check("declaration", WARN, None, detail=f"what the file declares cannot be read: {fault}")
        detail = "the file does not say how its pages belong together; assembly not proved"
        yield Check("assembly", WARN, None, detail=detail)

    def measured(self) -> Iterator[Check]:
        """Give what squares and ruler lines say: all there is to say of pages beside ours."""
        squares = self._named()
        yield from judge(squares)
        yield from judge_ruler_lines(self.lines)
        yield from judge_unseen(self.unseen)
        for number, unit in self.units if squares or self.lines else ():
            detail = (
                f"the page has a UserUnit of {unit:g}, which some viewers ignore: they print it {unit:g} times smaller"
            )
            yield Check("user-unit", WARN, number, detail=detail)

    def _named(self) -> list[Labelled]:
        """Give the squares whose size is known."""
        if self.expected is None:
            return self.squares
        return [*self.squares, *as_expected(self.bare, self.expected.side, self.expected.words)]

    def _guesses(self) -> Iterator[Check]:
        """Propose what squares without a label may be; a guess is no measurement, so it only warns."""
        for square in self.bare[:MOST_GUESSES]:
            size = guess(square)
            if size:
                detail = (
                    f"a square without a label measures {square.across:.2f} × {square.down:.2f} mm; if it is meant "
                    f'to be {size}, say so with --expect "{size}"'
                )
                mean = (square.across + square.down) / 2
                yield Check("guess", WARN, square.page, mean, detail=detail, box=square.box)

    def _elsewhere(self) -> Iterator[Check]:
        """Say where squares may hide from the reader of lines."""
        for numbers, what in ((self.pictures, "pictures"), (self.annotated, "annotations")):
            if numbers:
                detail = f"the page holds {what}; a test square in one of them is not measured"
                yield Check("not-measured", WARN, numbers[0], detail=detail)


def _one_axis(squares: Sequence[Labelled], lines: Sequence[Graduated]) -> Iterator[Check]:
    """Ruler lines along one axis say nothing of the other."""
    axes = {line.axis for line in lines}
    if not squares and len(axes) == 1:
        other = "down the page" if "across" in axes else "across the page"
        yield Check("axis", FAIL, lines[0].page, detail=f"nothing on it measures the scale {other}")
