"""The rows of the table about elastic in a casing."""

from __future__ import annotations

from tiler.commands.interview.question import NONE, by_unit, is_band, is_given, usually
from tiler.commands.one_piece.option import PIECE, Value, option
from tiler.draft.spec.typed import typed_share_or_length
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
        "As a percentage, or its closed length itself; its ends are lapped beyond it.",
        "Try it on: round the body, pulled as tight as is comfortable.",
        usual=usually("85 %"),
        sample=usually("85 %"),
        asked=is_given("elastic"),
        reads=typed_share_or_length,
        example="85 %, 25 in, 63 cm",
    ),
    option("elastic-length", (*PIECE, "elastic", "length"), "instead: its closed length itself"),
    option(
        "elastic-overlap",
        (*PIECE, "elastic", "overlap"),
        "how far its ends are lapped",
        default=" or ".join(OVERLAP.values()),
    ).asking(
        "How far are the ends of the elastic lapped?",
        "Over each other, where they are sewn; it is cut longer by that.",
        "A narrow elastic can do with less, a wide one is turned in easily.",
        usual=by_unit(*OVERLAP.values()),
        asked=is_given("elastic"),
        optional=True,
        example="3/4 in, 2 cm",
    ),
)
"""Elastic, and how it is cut."""
