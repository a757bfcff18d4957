"""The rows of the table about the fabrics of strip and garment."""

from __future__ import annotations

from tiler.commands.interview.question import (
    PLACES,
    SAME,
    UNKNOWN,
    answer_is,
    by_unit,
    is_band,
    is_given,
    of_cloth,
    usually,
)
from tiler.commands.one_piece.option import GARMENT, PIECE, STRIP, Value, option
from tiler.draft.edge.seam_line import Kind
from tiler.draft.spec.typed import typed_thickness

FABRIC = (
    option("stretch", (STRIP, "stretch"), "stretch of the strip's fabric: (pulled - rest) / rest", Value.SHARE).asking(
        "By how much does the strip's fabric stretch?",
        "50 % means that 4 in can be pulled to 6 in (10 cm to 15 cm).",
        "(pulled - rest) divided by rest.",
        asked=answer_is("pull", "percent"),
        sample=usually("50 %"),
        example="50 %",
    ),
    option("rest", (STRIP, "rest"), "instead of stretch: a length marked on the fabric at rest").asking(
        "How long is the piece that you marked, at rest?",
        "Between two marks, in the direction that will lie along the edge.",
        "Any length will do; a longer one gives a better reading.",
        usual=by_unit("4 in", "10 cm"),
        asked=answer_is("pull", "pulled"),
    ),
    option("pulled", (STRIP, "pulled"), "the same length, pulled as far as it goes").asking(
        "And how long is it when you pull it?",
        "As far as it goes without hurting, between the same two marks.",
        "Pull as you would when you put it on. It must not curl into a rope, nor\nlose its shape when you let go.",
        asked=answer_is("pull", "pulled"),
        sample=lambda answers: answers.get("rest"),
        example="6 in, 15 cm",
    ),
    option("lengthwise", (STRIP, "lengthwise"), "its stretch the other way, along the cloth", Value.SHARE),
    option("recovery", (STRIP, "recovery"), "how much of the stretch goes back", Value.SHARE),
    option("thickness", (STRIP, "thickness"), "thickness of the strip's fabric").asking(
        "How thick is the strip's fabric?",
        f"Every fold takes a little of the width; {UNKNOWN} leaves that out.",
        "Measure a stack: eight layers lightly pressed, divided by eight. A light\n"
        "jersey has about 0.5 mm, a sweatshirt fleece 2 mm.",
        usual=usually(UNKNOWN),
        reads=typed_thickness,
        asked=lambda answers: not is_band(answers) and of_cloth(answers) and answers.get("pull", UNKNOWN) != UNKNOWN,
        nothing=(UNKNOWN,),
        example=f"0.8 mm, 1/32 in, {UNKNOWN}",
    ),
    option("cloth-width", (STRIP, "width"), "width of the strip's fabric, to know how much to buy").asking(
        "How wide is the strip's fabric?",
        f"A strip that is longer than that is cut in sections; {UNKNOWN} leaves it open.",
        "Across the cloth, from selvedge to selvedge, or what a remnant has.",
        usual=usually(UNKNOWN),
        asked=lambda answers: of_cloth(answers) and answers.get("pull") in ("pulled", "percent"),
        optional=True,
        nothing=(UNKNOWN,),
        sample=by_unit("60 in", "150 cm"),
        example=f"16 in, 150 cm, {UNKNOWN}",
    ),
    option("fabric", (*PIECE, "fabric"), "name of the strip's fabric on the label", Value.NAME, default="knit"),
    option("garment-stretch", (GARMENT, "stretch"), "stretch of the garment's fabric", Value.SHARE).asking(
        "By how much does the garment's own fabric stretch?",
        f"It must get through there as well; {UNKNOWN} if you have not measured it.",
        "Measured along the edge, like the strip's: (pulled - rest) divided by\nrest, such as 30 %.",
        usual=usually(UNKNOWN),
        asked=is_given("must-pass"),
        nothing=(UNKNOWN,),
        example=f"30 %, {UNKNOWN}",
    ),
    option("garment-rest", (GARMENT, "rest"), "instead: a length marked on the garment's fabric"),
    option("garment-pulled", (GARMENT, "pulled"), "the same length, pulled as far as it goes"),
    option(
        "garment-lengthwise",
        (GARMENT, "lengthwise"),
        "its stretch along the cloth: a curved edge opens with the mean",
        Value.SHARE,
    ).asking(
        "And how far does it stretch along the cloth?",
        f"A curve runs in both directions; {UNKNOWN} takes the first for both.",
        "Across the direction that stretches most. It is never more than that one.",
        usual=usually(UNKNOWN),
        asked=lambda answers: (
            answers.get("garment-stretch", UNKNOWN) != UNKNOWN and PLACES[answers["place"]] is not Kind.STRAIGHT
        ),
        nothing=(UNKNOWN,),
        example=f"20 %, {UNKNOWN}",
    ),
    option(
        "garment-thickness", (GARMENT, "thickness"), "thickness of the garment's fabric, else that of the strip"
    ).asking(
        "How thick is the garment's fabric?",
        f"The binding wraps it; {SAME} where it is as thick as the strip's.",
        "Measure a stack of it, as of the strip's fabric.",
        usual=usually(SAME),
        reads=typed_thickness,
        asked=lambda answers: (
            answers.get("thickness", UNKNOWN) != UNKNOWN and answers.get("garment-stretch", UNKNOWN) != UNKNOWN
        ),
        nothing=(SAME,),
        example=f"0.8 mm, {SAME}",
    ),
    option(
        "garment-fabric",
        (*PIECE, "garment-fabric"),
        "name of the garment's fabric; that of the strip where both are one",
        Value.NAME,
    ),
)
"""The fabrics of strip and garment."""
