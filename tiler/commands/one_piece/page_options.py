"""The rows of the table about the pages: their title, units and paper."""

from __future__ import annotations

from tiler.commands.interview.question import Answers, by_unit, is_band, usually
from tiler.commands.one_piece.option import Value, choice, option
from tiler.draft.edition import Units
from tiler.paper import IN, ONE_SHEET, PAPER_NAMES, PAPERS, PaperChoice

_USUAL = PaperChoice()
_EDGES = {
    "vee": "vee neckline",
    "leg": "leg opening",
    "leg-opening": "leg opening",
    "straight": "straight edge",
    "curved": "curved edge",
}


def _usual_title(answers: Answers) -> str | None:
    place = answers.get("place", "")
    edge = _EDGES.get(place, place)
    article = "an" if edge[:1] in "aeiou" else "a"
    return f"{'Band' if is_band(answers) else 'Binding'} for {article} {edge}"


def _size(paper: str) -> str:
    """Return the size of a paper in whole millimetres, or in inches and halves: ``8 1/2 x 11 in``."""
    sides = PAPERS[paper].width, PAPERS[paper].height
    if all(side.denominator == 1 for side in sides):
        return f"{' x '.join(map(str, sides))} mm"
    halves = (divmod(round(2 * side / IN), 2) for side in sides)
    return f"{' x '.join(f'{whole} 1/2' if half else f'{whole}' for whole, half in halves)} in"


TITLE = option(
    "title", ("title",), "title printed on every page", Value.TEXT, default="'Band for a neckline' and the like"
).asking(
    "What shall stand above on every page?",
    "So that you find the right pages again: the garment, for whom, the size.",
    "One line of your own words.",
    usual=_usual_title,
)

PAPER = (
    choice("units", ("units",), "the unit that is shown first", Units, default="that of the edge").asking(
        "Do you measure in inches or in centimetres?",
        "Your unit stands first in all figures; the other one stands beside it.",
        "A number without a unit, such as 7 1/4, is taken in this unit.\n"
        "You can still write the other one wherever you like: 18 cm, 7 1/4 in.",
        {Units.IN: "inches", Units.CM: "centimetres"},
        usual=usually(Units.IN.value),
    ),
    choice("paper", ("paper", "size"), "paper to print on", PAPER_NAMES, default=_USUAL.name).asking(
        "Which paper do you print on?",
        "All pages are made for it; print them at 100 %.",
        "letter-a4 prints true on both papers. One sheet is a single page, as\nlarge as needed, for a copy shop.",
        {paper: _size(paper) for paper in PAPERS}
        | {"letter-a4": "fits on either of these two", ONE_SHEET: "one page, as large as needed"},
        usual=by_unit("letter", "a4"),
    ),
    option(
        "language",
        ("language",),
        "print in this language: en, de, fr, es, nl; or in two, such as en,de",
        Value.TEXT,
        default="en",
    ),
    option("margin", ("paper", "margin"), "white on all four sides of a page", default=f"{_USUAL.margins.left:g} mm"),
    option("overlap", ("paper", "overlap"), "overlap between neighbouring pages", default=f"{_USUAL.overlap:g} mm"),
)
"""What is printed on."""
