"""``tiler edge``: the curves of a drawing, to pick an edge from."""

from __future__ import annotations

import json
from pathlib import Path

import click

from tiler.commands.output.progress import page_progress
from tiler.commands.output.terminal import say, say_json
from tiler.commands.output.wrapping import tell
from tiler.commands.typed import options
from tiler.commands.typed.length import LENGTH
from tiler.usecases.drawings.apart import list_apart
from tiler.usecases.files.replace import Output, admitted, put


@click.command(epilog="Example: tiler edge crew.pdf --page 2 --picture curves.png")
@click.argument("file", type=options.FILE)
@options.count("--page", 1, "PAGE", "List only the curves of this page of a PDF.", show_default="all")
@click.option(
    "--least",
    type=LENGTH,
    default=0.0,
    show_default="any length",
    help="List only curves at least this long, such as '10 cm'.",
)
@click.option(
    "--picture", type=options.FILE, metavar="FILE.png", help="Draw the curves with their numbers to this picture."
)
@click.option("--scale-from-square", is_flag=True, help="Correct all lengths by the drawing's own test square.")
@options.limits
@options.force
@options.as_json
def command(
    file: Path,
    page: int | None,
    least: float,
    picture: Path | None,
    scale_from_square: bool,
    time_limit: int,
    memory_limit: int,
    force: bool,
    as_json: bool,
) -> None:
    """List the curves of FILE, an SVG or a PDF, longest first, to pick an edge from.

    Every line that is drawn has a number, or the id of its SVG element; with it
    a spec takes the length and the turn of an edge from the drawing. On a
    crowded page --picture shows which number is which. A PDF with a test square
    that is off is refused, unless --scale-from-square corrects it.
    """
    from tiler.commands.output.curve_table import table

    output: Output | None = None
    if picture is not None:
        output = admitted(picture, force, (file,), ".png")
    with page_progress("reading") as progress:
        listing, drawn = list_apart(
            file,
            page,
            least,
            scale_from_square=scale_from_square,
            picture=picture is not None,
            progress=progress,
            seconds=time_limit,
            memory=memory_limit * options.MB,
        )
    if output is not None and drawn is not None:
        put(output, drawn.png)
        if page is None and drawn.page is not None and any(row.page != drawn.page for row in listing.curves):
            shown = f"{picture} shows page {drawn.page}, which has the longest curve; see --page"
            tell(shown, err=True)
    if as_json:
        say_json(json.dumps(listing.to_json(), ensure_ascii=False))
        return
    for line in table(file, listing, all_rows=least > 0):
        say(line)
