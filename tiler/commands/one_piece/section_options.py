"""The row of the table about the joins of a strip that is longer than its cloth is wide."""

from __future__ import annotations

from tiler.commands.interview.question import Answers, is_given, usually
from tiler.commands.one_piece.option import PIECE, choice
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.strip.bias import CutOn
from tiler.draft.strip.notches import SectionAt


def _not_sections(answers: Answers) -> tuple[str, ...]:
    """Return the seams that the edge has not."""
    place = answers.get("place", "")
    if answers.get("parts") in ("whole", "list"):
        has: tuple[SectionAt, ...] = ()
    elif place in ("neckline", "vee"):
        has = (SectionAt.SHOULDERS, SectionAt.CB)
    elif answers.get("ends", Ends.CLOSED) != Ends.CLOSED:
        has = ()
    else:
        has = (SectionAt.SHOULDERS if place == "armhole" else SectionAt.SIDES,)
    return tuple(one for one in SectionAt if one not in (*has, SectionAt.EVEN))


SECTIONS = (
    choice(
        "section",
        (*PIECE, "section"),
        "where sections are joined, of a strip that is longer than its cloth is wide",
        SectionAt,
        default="at as few seams as can be",
    ).asking(
        "Where shall a strip that is too long for its cloth be joined?",
        "At these seams of the garment, or at equal distances, never at CF.",
        "A strip that its cloth is wide enough for is cut in one all the same.",
        {
            SectionAt.SHOULDERS: "at the shoulders; of an armhole at the underarm too",
            SectionAt.SIDES: "at both sides; of a leg opening at side and inseam",
            SectionAt.CB: "at CB, where the ends meet elsewhere",
            SectionAt.EVEN: "in equal parts",
        },
        usual=usually(SectionAt.EVEN.value),
        asked=lambda answers: is_given("cloth-width")(answers) and answers.get("cut-on") != CutOn.BIAS,
        without=_not_sections,
        optional=True,
    ),
)
"""Where the sections of such a strip are joined."""
