"""The rows of the table about elastic in a casing."""

from __future__ import annotations

from tiler.commands.interview.question import NONE, by_unit, is_band, is_given, usually
from tiler.commands.one_piece.option import PIECE, Value, option
from tiler.draft.strip.elastic import OVERLAP
from tiler.draft.strip.standing import Standing

ELASTIC = (
    option("elastic", (*PIECE, "elastic", "width"), "the band is a casing: how wide the elastic in it is").asking(
        "How wide is the elastic that goes into the band?",
        f"The band is then a casing, at least 2 mm wider; {NONE} if there is none.",
        "The casing is as long as the edge, and the elastic draws it in.",
        usual=by_unit("3/8 in", "1 cm"),
        asked=lambda answers: is_band(answers) and answers.get("sits") != Standing.OVER,
        optional=True,
        nothing=(NONE,),
        example=f"3/8 in, 1 cm, {NONE}",
    ),
    option(
        "elastic-ratio",
        (*PIECE, "elastic", "ratio"),
        "how long the closed elastic is, as a share of the edge",
        Value.SHARE,
    ).asking(
        "Which share of the edge shall the closed elastic have?",
        "As a percentage; its ends are lapped beyond that.",
        "Try it on: round the body, pulled as tight as is comfortable.",
        usual=usually("85 %"),
        sample=usually("85 %"),
        asked=is_given("elastic"),
        example="85 %, 90 %",
    ),
    option("elastic-length", (*PIECE, "elastic", "length"), "instead: its closed length itself"),
    option(
        "elastic-overlap",
        (*PIECE, "elastic", "overlap"),
        "how far its ends are lapped",
        default=" or ".join(OVERLAP.values()),
    ),
)
"""Elastic, and how it is cut."""
