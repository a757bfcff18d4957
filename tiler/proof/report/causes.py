"""What may have put a file off scale, with the factor that each cause has.

Refitting a page shrinks or enlarges it by the smaller of both quotients of sides,
paper less its margins over page.  Two causes can have almost the same factor, 94.07 %
and 94.12 % for example; one reading cannot tell them apart, and this says so.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from tiler.languages.catalogue import noted
from tiler.languages.words import Words, listed
from tiler.paper import IN, PAPER_WORDS, PAPERS

EQUAL = 0.0006
"""Factors that differ by no more than this share fit a reading about equally well."""

SAME_PAPER = 1.0
"""A page that differs less from a paper on both sides is of that paper, mm."""

INCH = float(IN)

MARGINS: tuple[tuple[float, str], ...] = (
    (0.0, noted("without margins")),
    (INCH / 8, noted("with 1/8 in margins")),
    (INCH / 6, noted("with 1/6 in (12 pt) margins")),
    (5.0, noted("with 5 mm margins")),
    (INCH / 4, noted("with 1/4 in margins")),
    (10.0, noted("with 10 mm margins")),
    (INCH / 2, noted("with 1/2 in margins")),
)
"""Margins that printers and print dialogs leave: common practice."""

UNITS: tuple[tuple[float, str], ...] = (
    (72 / 96, noted("drawn in units of 1/96 in and read as 1/72 in")),
    (96 / 72, noted("drawn in units of 1/72 in and read as 1/96 in")),
    (25.4, noted("drawn in inches and read as millimetres")),
    (1 / 25.4, noted("drawn in millimetres and read as inches")),
    (2.54, noted("drawn in inches and read as centimetres")),
    (1 / 2.54, noted("drawn in centimetres and read as inches")),
    (2.0, noted("enlarged by a UserUnit of 2")),
    (0.5, noted("drawn for a UserUnit of 2 and shown without it")),
)

WRONG_UNIT = 0.003
"""A size that is off by a unit is so within this share."""

FIXED = {name: paper.size for name, paper in PAPERS.items() if paper.has_tray}
"""Width and height of the papers that lie in a printer, mm."""


@dataclass(frozen=True)
class Cause:
    """A cause in words, and the factor that it would have given."""

    words: str
    factor: float

    @property
    def named(self) -> str:
        """The cause with its factor, for people."""
        return Words("{cause} ({share:.2f} %)", cause=self.words, share=100 * self.factor)


def causes(across: float, down: float, page: tuple[float, float] | None = None) -> list[Cause]:
    """Return the causes that fit a reading, measured over nominal, the best first; none when nothing fits.

    ``page`` is the size of the page as it is now, mm.
    """
    if abs(across / down - 1) > EQUAL:
        return list(_one_axis(across, down))
    ratio = (across + down) / 2
    if abs(ratio - 1) <= EQUAL:
        return []
    fits = [cause for cause in _all(page) if abs(ratio / cause.factor - 1) <= EQUAL]
    return sorted(fits, key=lambda cause: abs(ratio / cause.factor - 1))


def by_unit(ratio: float) -> bool:
    """Tell whether measured over nominal size is just what a wrong unit gives."""
    return any(abs(ratio / factor - 1) <= WRONG_UNIT for factor, _ in UNITS)


def in_words(found: list[Cause]) -> str:
    """Say which causes fit, and plainly when several fit equally."""
    if not found:
        return Words("This matches no common print setting.")
    if len(found) == 1:
        return Words("What fits: {cause}.", cause=found[0].named)
    return Words(
        "{count} causes fit about equally well, and one reading cannot tell them apart: {causes}.",
        count=len(found),
        causes=listed(cause.named for cause in found),
    )


def paper_of(page: tuple[float, float] | None) -> str | None:
    """Name the paper that a page has the size of, mm, upright or not."""
    if page is None:
        return None
    small, large = sorted(page)
    for name, (width, height) in FIXED.items():
        if abs(small - width) <= SAME_PAPER and abs(large - height) <= SAME_PAPER:
            return name
    return None


def fit_factor(page: tuple[float, float], paper: tuple[float, float], margin: float = 0.0) -> float:
    """Return the factor by which a page is refitted to a paper with equal margins, all mm."""
    return min((side - 2 * margin) / of for of, side in zip(page, paper, strict=True))


def refits(paper: str | None, sources: Iterable[str] = tuple(FIXED)) -> Iterator[Cause]:
    """Yield the factors by which a page of one of the source papers is fitted to a paper; None: to any of them."""
    for name in [paper] if paper else FIXED:
        for other in sources:
            for margin, words in MARGINS:
                if other == name and margin == 0:
                    continue
                paper, source = Words(PAPER_WORDS[name]), Words(PAPER_WORDS[other])
                shrunk = Words("shrunk on {paper}, {margins}", paper=paper, margins=Words(words))
                fitted = Words(
                    "refitted from {source} to {paper}, {margins}", source=source, paper=paper, margins=Words(words)
                )
                yield Cause(shrunk if other == name else fitted, fit_factor(FIXED[other], FIXED[name], margin))


def _all(page: tuple[float, float] | None) -> Iterator[Cause]:
    yield from refits(paper_of(page))
    for factor, words in UNITS:
        yield Cause(Words(words), factor)


def _one_axis(across: float, down: float) -> Iterator[Cause]:
    if abs(down - 1) <= EQUAL:
        yield Cause(Words("scaled across only, as a stretched placement does"), across)
    elif abs(across - 1) <= EQUAL:
        yield Cause(Words("scaled down the page only, as a stretched placement or a slipping feed does"), down)
    else:
        yield Cause(Words("scaled differently across and down, as a placement without fixed proportions does"), across)
