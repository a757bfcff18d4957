"""``tiler binding``: one binding from options alone."""

from __future__ import annotations

from typing import Any

import click

from tiler.commands.one_piece.draft import draft_piece, file_options
from tiler.commands.one_piece.options import GroupedCommand, with_piece_options
from tiler.commands.one_piece.strip_options import BINDINGS
from tiler.draft.spec.table import nearest
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError
from tiler.sentence import Place


@with_piece_options(band=False)
@click.command(
    cls=GroupedCommand,
    no_args_is_help=True,
    epilog="Example: tiler binding --finish raw-edge --front '21 cm' --back '22.5 cm' --width '1 cm' --stretch '35 %' "
    "-o armhole.pdf",
)
@file_options
def command(**given: Any) -> None:
    """Draft one binding, wrapped around the edge, from what you measured: no spec needed.

    Prints the numbers to cut by. With -o it also draws the PDF, measures it and
    only then puts it in place; with --save-spec it writes the spec that says the
    same, to change later. Lengths are written as on the tape: '7 1/4 in', '18 cm'.
    -o piece.svg writes a drawing for vector editors and cutting plotters.
    """
    draft_piece(_finish(given["finish"]), given)


def _finish(word: str | None) -> Finish:
    """Return the binding for its word, with or without "-binding"."""
    option = Place("--finish")
    if word is None:
        raise SpecError(f"is missing; write {', '.join(BINDINGS[:-1])} or {BINDINGS[-1]}", option)
    if word == Finish.FOLDED_BAND:
        raise SpecError("a folded-band is not a binding; for one there is tiler band", option)
    short = word.removesuffix("-binding")
    if short not in BINDINGS:
        raise SpecError(f'"{word}" is not known; {nearest(word, BINDINGS)}', option)
    return Finish(short if short in list(Finish) else f"{short}-binding")
