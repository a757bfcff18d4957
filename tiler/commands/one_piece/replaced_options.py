"""The rows of the table about what the pattern has at the edge, which the strip replaces."""

from __future__ import annotations

from tiler.commands.interview.question import UNKNOWN, answer_is, is_band, usually
from tiler.commands.one_piece.option import PIECE, choice, option
from tiler.draft.strip.refinish import Had

REPLACED = (
    choice(
        "replaces", (*PIECE, "replaces", "finish"), "what the pattern has at this edge, which it replaces", Had
    ).asking(
        "What does your pattern have at this edge?",
        "It says how the garment is cut before the strip is sewn on.",
        "Where the pattern has the very strip that you draft, take allowance: the\n"
        "garment stays as it is. Of another finish, the finished edge stays where\n"
        "the pattern has it, and the garment is cut anew for the strip.",
        {
            "allowance": "only a seam allowance",
            UNKNOWN: "I do not know, or there is no pattern",
            Had.HEM: "a hem, turned in at its fold line",
            Had.FACING: "a facing, turned in at its seam line",
            Had.FOLDED_BAND: "a band of another width",
            Had.DOUBLE_FOLD: "a binding turned under behind",
            Had.FRENCH: "a binding of doubled cloth",
            Had.RAW_EDGE: "a binding left raw behind",
        },
        usual=lambda answers: "allowance" if is_band(answers) else UNKNOWN,
        words=("allowance", UNKNOWN, *(had.value for had in Had)),
        nothing=("allowance", UNKNOWN),
    ),
    option("replaces-width", (*PIECE, "replaces", "finished-width"), "how wide that strip is when it is done").asking(
        "How wide is that strip of the pattern when it is done?",
        "What is seen on the right side.",
        "Your pattern says it, or draws it.",
        asked=answer_is("replaces", Had.FOLDED_BAND, Had.DOUBLE_FOLD, Had.FRENCH, Had.RAW_EDGE),
        sample=usually("1 mm"),
        example="1/2 in, 1.2 cm",
    ),
)
"""What the pattern has instead of the strip."""
