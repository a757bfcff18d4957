"""The row of the table about the form of a band: cut straight, or to the shape of its edge."""

from __future__ import annotations

from tiler.commands.interview.question import may_be_shaped, usually
from tiler.commands.one_piece.option import PIECE, choice
from tiler.draft.contour.form import Form

FORM = (
    choice(
        "form",
        (*PIECE, "form"),
        "cut straight, or to the shape of the edge, where no straight strip lies flat",
        Form,
        default=Form.STRIP,
    ).asking(
        "Shall the band be cut straight, or to the shape of the edge?",
        "A wide band on a sharp bend lies flat only if it is cut to its shape.",
        "A contour band has two layers, seamed along the finished edge, and is as\n"
        "long as the edge. It needs the shape: a described neckline, or an edge\n"
        "that bends like an arc of a circle; a drawn one is for a spec.",
        {Form.STRIP: "straight, and stretched", Form.CONTOUR: "to the shape of the edge"},
        usual=usually(Form.STRIP),
        asked=may_be_shaped,
        optional=True,
    ),
)
"""How a band is cut."""
