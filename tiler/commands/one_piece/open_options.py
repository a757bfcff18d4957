"""The rows of the table about a strip that is no ring: its ends, and buttons along it."""

from __future__ import annotations

from tiler.commands.interview.question import (
    NONE,
    Answers,
    answer_is,
    by_unit,
    is_band,
    is_given,
    kind_of,
    usually,
)
from tiler.commands.one_piece.option import EDGE, PIECE, Value, choice, option
from tiler.draft.edge.seam_line import FRONT_AND_BACK
from tiler.draft.fastening.buttons import Direction
from tiler.draft.fastening.open_ends import FINISHED, Ends
from tiler.draft.spec.typed import named_lengths

_OPEN = answer_is("ends", *FINISHED)


def _buttons_asked(answers: Answers) -> bool:
    return is_band(answers) and _OPEN(answers)


ENDS = (
    choice("ends", (*PIECE, "ends"), "the strip is no ring: how its ends are finished", FINISHED).asking(
        "Is the strip a ring, or how are its ends finished?",
        "Turned in, left raw, or caught in the seams that cross them.",
        "A neckband is a ring. A cardigan's front band, a placket or a neckline with\nan opening has two ends.",
        {
            Ends.CLOSED: "it is a ring",
            Ends.TURNED: "open, the ends turned in",
            Ends.RAW: "open, the ends left raw",
            Ends.CAUGHT: "open, the ends caught in seams",
        },
        words=tuple(one.value for one in Ends),
        usual=usually(Ends.CLOSED.value),
        asked=lambda answers: (
            kind_of(answers) not in FRONT_AND_BACK
            and answers.get("corner", "none") == "none"
            and not is_given("elastic")(answers)
        ),
        optional=True,
        nothing=(Ends.CLOSED.value,),
    ),
    option(
        "ends-allowance",
        (*PIECE, "end-allowance"),
        "what each end has beyond the sewn length",
        default="the seam allowance; of raw ends nothing",
    ).asking(
        "How much longer shall each end be cut?",
        "Beyond the sewn length: what is turned in, or caught in a seam.",
        "Raw ends need nothing there.",
        usual=by_unit("1/4 in", "6 mm"),
        asked=_OPEN,
        optional=True,
        example="1/2 in, 1 cm",
    ),
)
"""The ends of an open strip."""

RUNNING_ON = tuple(
    option(
        f"free-{key}", (*EDGE, key), f"how far an open strip runs on {where} its edge, as a tie, a strap or a belt"
    ).asking(
        f"How far shall the strip run on {where} the edge?",
        f"A free length for a tie, a strap or a belt; {NONE} if it ends there.",
        "It is cut as long as it is to be, and a notch marks where it begins.",
        usual=usually(NONE),
        asked=_OPEN,
        optional=True,
        nothing=(NONE,),
        example=f"16 in, 40 cm, {NONE}",
    )
    for key, where in (("before", "before"), ("after", "beyond"))
)
"""Free lengths."""

BUTTONS = (
    option("buttons", (*PIECE, "buttons", "count"), "how many buttons an open band has", Value.COUNT).asking(
        "How many buttons shall the band have?",
        f"Their holes are marked on the piece, evenly apart; {NONE} if there are none.",
        "They lie along the band, or along its first part where it has parts.",
        usual=usually(NONE),
        asked=_buttons_asked,
        optional=True,
        nothing=(NONE,),
        example=f"5, 7, {NONE}",
    ),
    *(
        option(
            f"{which}-button", (*PIECE, "buttons", which), f"from the {end} to the centre of the {which} one"
        ).asking(
            f"How far from the {end} does the {which} button lie?",
            "To its centre, along the band.",
            "Half a button and a little more is the least.",
            usual=by_unit("3/4 in", "2 cm"),
            sample=by_unit("1/4 in", "6 mm"),
            asked=is_given("buttons"),
            example="3/4 in, 2 cm",
        )
        for which, end in (("first", "end"), ("last", "other end"))
    ),
    option("button-width", (*PIECE, "buttons", "diameter"), "how wide a button is").asking(
        "How wide is a button?",
        "Its diameter: the hole is 1/8 in (3 mm) longer.",
        "Thick buttons want more: add their thickness.",
        usual=by_unit("1/2 in", "12 mm"),
        sample=by_unit("1/16 in", "1 mm"),
        asked=is_given("buttons"),
        example="1/2 in, 15 mm",
    ),
    choice(
        "buttonholes", (*PIECE, "buttons", "direction"), "how the holes lie", Direction, default=Direction.ALONG
    ).asking(
        "How shall the buttonholes lie?",
        "Along the band, or across it where it is wide enough.",
        "Across, a button cannot slip out where the band is pulled.",
        {Direction.ALONG: "along the band", Direction.ACROSS: "across the band"},
        usual=usually(Direction.ALONG.value),
        asked=is_given("buttons"),
        optional=True,
    ),
    option(
        "buttons-on", (*PIECE, "buttons", "on"), "the part that has them, by its name", Value.TEXT, default="the first"
    ).asking(
        "Which part of the edge has the buttonholes?",
        "By its name, as you gave it; of several the first where nothing is said.",
        "Right over left, they lie on the right front; left over right, on the left.",
        usual=lambda answers: next((name for name, _ in named_lengths(answers.get("part", ""))), None),
        asked=lambda answers: is_given("buttons")(answers) and answers.get("parts") == "list",
        optional=True,
        example="right front",
    ),
)
"""Buttons along a band."""
