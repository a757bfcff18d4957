"""The proof of files that are not ours: their squares and ruler lines decide; mm."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field, replace

from tiler.box import Box
from tiler.errors import SpecError
from tiler.languages.proved import SQUARES_NAMED
from tiler.languages.words import Words
from tiler.proof.foreign.bars import spans
from tiler.proof.foreign.choosing import Choice, by_edge, choose, judge, off
from tiler.proof.foreign.graduated import Graduated, judge_ruler_lines, open_lines, ruler_lines
from tiler.proof.foreign.guessing import as_expected, guessed
from tiler.proof.foreign.label_lines import label_lines, sizes_said
from tiler.proof.foreign.labelled import Labelled, Rank, in_order, shapes_of, squares_of_page
from tiler.proof.foreign.ruler_ticks import Ends, bare_ruler_lines
from tiler.proof.foreign.side_ink import Looks
from tiler.proof.ink.pixels import Pixels
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.reading.pdf.document import PageRead

MOST_GUESSES, MOST_PASSED, MOST_UNSEEN = 3, 3, 3
"""So many squares of a kind are named that do not count."""

SIDE = 1.0
"""A line that lies no further outside a square is part of it, mm."""

DRAFTED = {50.8, 50.0}
"""The sides of the two test squares that every drafted file prints, 2 in and 5 cm; mm."""


@dataclass(frozen=True)
class Expected:
    """The side that the person says a test square has, mm, and how it was said; or which square to take, from 1."""

    side: float | None = None
    words: str = ""
    only: int | None = None


@dataclass(frozen=True)
class Noted:
    """What a page tells besides its squares and lines: its size, words that drafted squares are named by, pictures."""

    size: tuple[float, float]
    named: tuple[Box, ...]
    unit: float
    pictures: bool


@dataclass
class Others:
    """What was found so far, page by page."""

    expected: Expected = field(default_factory=Expected)
    squares: list[Labelled] = field(default_factory=list)
    bare: list[Labelled] = field(default_factory=list)
    unseen: list[Labelled] = field(default_factory=list)
    lines: list[Graduated] = field(default_factory=list)
    units: list[tuple[int, float]] = field(default_factory=list)
    pictures: list[int] = field(default_factory=list)
    annotated: list[int] = field(default_factory=list)
    named: list[tuple[int, Box]] = field(default_factory=list)

    def look(self, page: PageRead, render: Callable[[int | None], Pixels]) -> Noted | None:
        """Measure a page; it is rendered only when something on it may be a square or a ruler line.

        Return what was noted of a page that has nothing of the kind, and nothing stuck on it.
        """
        strokes, texts = (*page.strokes, *page.stuck_on.strokes), (*page.texts, *page.stuck_on.texts)
        read = label_lines(texts)
        said = sizes_said(read)
        shapes, lines = shapes_of(strokes, said), bare_ruler_lines(strokes)
        if said:
            lines += spans(strokes, lines)
        if shapes or lines:
            looks = Looks(render)
            found = squares_of_page(page.number, looks, shapes, said, read)
            self.squares += found.labelled
            self.bare += found.bare
            self.unseen += found.unseen
            # words at a square are not those of a bar or a line that is part of it
            free = [one for one in said if id(one.label) not in found.used]
            squares = [one.box.grown(SIDE) for one in (*found.labelled, *found.unseen)]
            own = [line.ends is not Ends.TICKS or any(box.holds(line.along) for box in squares) for line in lines]
            graduated = [line for line, is_own in zip(lines, own, strict=True) if not is_own]
            others = [line for line, is_own in zip(lines, own, strict=True) if is_own]
            self.lines += ruler_lines(page.number, texts, said, looks, graduated)
            self.lines += ruler_lines(page.number, texts, free, looks, others)
        named = tuple(text.box for text in texts if text.text in SQUARES_NAMED)
        noted = Noted(
            (page.boxes.media.width, page.boxes.media.height), named, page.boxes.user_unit, bool(page.pictures)
        )
        self.note(page.number, noted)
        if page.annotated and not page.stuck_on.strokes:
            self.annotated.append(page.number)
        return None if shapes or lines or page.annotated else noted

    def note(self, number: int, noted: Noted) -> None:
        """Note what a page tells besides its squares and lines."""
        self.named += [(number, box) for box in noted.named]
        if noted.unit != 1.0:
            self.units.append((number, noted.unit))
        if noted.pictures:
            self.pictures.append(number)

    def checks(self, fault: Check | None = None) -> Iterator[Check]:
        """Yield the checks; ``fault`` is what is wrong with a declaration."""
        choice, lines = self._chosen()
        yield from self._measured(choice, lines)
        if not choice.judged and not choice.open and not lines:
            yield from guessed(self._numbered(self.bare), MOST_GUESSES)
            yield from self._elsewhere()
            return
        if self.expected.side and choice.judged and not any(self._is_expected(one) for one in choice.judged):
            yield Check(CheckName.GUESS, Status.WARN, Says.UNEXPECTED, label=self.expected.words)
        yield from _one_axis(choice, lines)
        if fault:
            yield fault
        yield Check(CheckName.ASSEMBLY, Status.WARN, Says.REWRITTEN if self._drafted() else Says.ASSEMBLY_UNKNOWN)

    def measured(self) -> Iterator[Check]:
        """Yield what squares and ruler lines say beside pages of ours, where what is not decided only warns."""
        choice, lines = self._chosen()
        opened = [
            replace(one, name=CheckName.PASSED, status=Status.WARN)
            for one in choice.open
            if one.name is CheckName.UNDECIDED
        ]
        yield from self._measured(replace(choice, open=opened), lines)

    def measured_pages(self) -> set[int]:
        """Return the pages that hold a square or a ruler line."""
        return {one.page for found in (self.squares, self.bare, self.unseen, self.lines) for one in found}

    def _measured(self, choice: Choice, lines: Sequence[Graduated]) -> Iterator[Check]:
        """Yield the sizes, pages that fail first, and what does not count."""
        sizes = [*judge(choice.judged), *judge_ruler_lines(lines)]
        wrong = {check.page for check in sizes if check.status is Status.FAIL}
        yield from sorted(sizes, key=lambda check: (check.page not in wrong, check.page or 0))
        yield from choice.open
        for number, square in enumerate(choice.passed):
            if number < MOST_PASSED:
                yield _passed(square)
        yield from _unseen(self.unseen[:MOST_UNSEEN])
        for page, unit in self.units if choice.judged or lines else ():
            yield Check(CheckName.USER_UNIT, Status.WARN, Says.UNIT_IGNORED, page, numbers={"unit": unit})

    def _chosen(self) -> tuple[Choice, list[Graduated]]:
        """Return the squares and lines that are measured, with lines of several sizes among what is not decided."""
        choice, lines = self._choice()
        lines = [self._as_expected(line) for line in lines]
        choice.open += open_lines([line for line in lines if len(line.sizes) > 1])
        return choice, [line for line in lines if len(line.sizes) < 2]

    def _as_expected(self, line: Graduated) -> Graduated:
        side = self.expected.side
        meant = next((size for size in line.sizes if side and abs(size.wide / side - 1) < 1e-4), None)
        return replace(line, nominal=meant.wide, label=meant.words, sizes=(meant,)) if meant else line

    def _choice(self) -> tuple[Choice, list[Graduated]]:
        """Return which squares and lines are measured."""
        drafted = self._drafted()
        squares = drafted or self._numbered(self.squares)
        if self.expected.only is not None:
            return choose([self._only(self.expected.only)]), []
        if self.expected.side:
            wanted = as_expected([*squares, *self._numbered(self.bare)], self.expected.side, self.expected.words)
            if wanted:
                return choose(wanted), [line for line in self.lines if line.sure]
        choice = choose(squares)
        best = {page: max(one.rank for one in choice.judged if one.page == page) for page in _pages(choice.judged)}
        least = Rank.PLAIN if best or any(line.rank >= Rank.PLAIN for line in self.lines) else Rank.UNUSUAL
        return choice, [line for line in self.lines if line.sure or line.rank >= best.get(line.page, least)]

    def _only(self, number: int) -> Labelled:
        """Return the square of a number; one without a label needs the size that is expected."""
        found = {one.number: one for one in self._numbered([*self.squares, *self.bare])}
        one = found.get(number)
        if one is None:
            raise SpecError(f"--only {number}: there are {len(found)} squares to choose from")
        if self.expected.side:
            (one,) = as_expected([one], self.expected.side, self.expected.words, near=False)
        if not one.label:
            raise SpecError(f"--only {number}: that square has no label; say its size as well, with --expect")
        return replace(one, rank=Rank.NAMED)

    def _numbered(self, squares: Sequence[Labelled]) -> list[Labelled]:
        """Return squares with the number that people call them by: all of the file, page by page, from the top."""
        numbers = {id(one): number for number, one in enumerate(in_order([*self.squares, *self.bare]), 1)}
        return [replace(one, number=numbers[id(one)]) for one in squares]

    def _is_expected(self, one: Labelled) -> bool:
        return one.nominal == self.expected.side

    def _drafted(self) -> list[Labelled]:
        """Return the squares of a drafted file as it prints them, both sizes with their words inside; empty without."""
        found = [
            one
            for one in self._numbered(self.squares)
            if any(page == one.page and one.box.holds(box) for page, box in self.named)
        ]
        return found if {one.nominal for one in found} >= DRAFTED else []

    def _elsewhere(self) -> Iterator[Check]:
        """Say where squares may hide from the reader of lines."""
        if self.pictures:
            yield Check(CheckName.NOT_MEASURED, Status.WARN, Says.PICTURES_NOT_MEASURED, self.pictures[0])
        if self.annotated:
            what = Words("annotations")
            yield Check(CheckName.NOT_MEASURED, Status.WARN, Says.NOT_MEASURED, self.annotated[0], label=what)


def _pages(squares: Sequence[Labelled]) -> set[int]:
    return {one.page for one in squares}


def _passed(square: Labelled) -> Check:
    """Name a square that states its size and is none to measure by."""
    numbers = {"number": square.number, "off": off(by_edge(square) or square)}
    return Check(
        CheckName.PASSED,
        Status.WARN,
        Says.PASSED,
        square.page,
        label=square.label,
        box=square.box,
        foreign=True,
        numbers=numbers,
    )


def _unseen(squares: Sequence[Labelled]) -> Iterator[Check]:
    """Name the squares that the file holds and the print does not."""
    for square in squares:
        sides = {"across": square.across, "down": square.down}
        yield Check(
            CheckName.UNSEEN,
            Status.WARN,
            Says.UNSEEN,
            square.page,
            label=square.label,
            box=square.box,
            numbers=sides,
        )


def _one_axis(choice: Choice, lines: Sequence[Graduated]) -> Iterator[Check]:
    """Ruler lines along one axis say nothing of the other."""
    axes = {line.axis for line in lines}
    if not choice.judged and not choice.open and len(axes) == 1:
        other = "down" if "across" in axes else "across"
        yield Check(CheckName.AXIS, Status.FAIL, Says.AXIS_UNMEASURED, lines[0].page, axis=other)
