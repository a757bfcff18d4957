"""``tiler band``: one band from options alone."""

from __future__ import annotations

from typing import Any

import click

from tiler.commands.one_piece.draft import draft_piece, file_options
from tiler.commands.one_piece.options import GroupedCommand, with_piece_options
from tiler.draft.strip.finish import Finish


@with_piece_options(band=True)
@click.command(
    cls=GroupedCommand,
    no_args_is_help=True,
    epilog="Example: tiler band --front-half '7 1/4 in' --back-half '3 3/4 in' --width '1/2 in' --stretch '50 %' "
    "-o band.pdf",
)
@file_options
def command(**given: Any) -> None:
    """Draft one band, folded in half, from what you measured: no spec needed.

    Prints the numbers to cut by. With -o it also draws the PDF, measures it and
    only then puts it in place; with --save-spec it writes the spec that says the
    same, to change later. Lengths are written as on the tape: '7 1/4 in', '18 cm'.
    -o piece.svg writes a drawing for vector editors and cutting plotters.
    """
    draft_piece(Finish.FOLDED_BAND, given)
