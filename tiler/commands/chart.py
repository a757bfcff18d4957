"""``tiler chart``: the cutting chart of all pieces and sizes as a PDF or a CSV file."""

from __future__ import annotations

from pathlib import Path

import click

from tiler.commands.output.wrapping import tell
from tiler.commands.typed import options
from tiler.paper import PAPERS
from tiler.sentence import counted
from tiler.usecases.chart import write_chart


@click.command(epilog="Example: tiler chart examples/saltmarsh-sizes.toml -o chart.pdf --paper a4")
@options.spec
@options.output("FILE.pdf|.csv")
@options.sizes
@options.paper(tuple(PAPERS))
@options.language
@options.force
def command(
    spec: Path, output: Path, sizes: str | None, paper: str | None, languages: tuple[str, ...] | None, force: bool
) -> None:
    """Write the cutting chart of SPEC: every piece in every size.

    Lengths are rounded to 1/16 in and to 1 mm. The name of the output says
    whether it is a PDF to print or a CSV for a spreadsheet. In two languages a
    PDF has all its pages in the first, then all again in the second.
    """
    figures = write_chart(spec, output, sizes, paper, force, languages)
    names = dict.fromkeys(one.name for one in figures)
    found = dict.fromkeys(one.size for one in figures if one.size is not None)
    in_sizes = f" in {counted(len(found), 'size')}" if found else ""
    tell(f"{output}: {counted(len(names), 'piece')}{in_sizes}.")
    for one in figures:
        for warning in one.warnings:
            tell(f"{one.name}{f' {one.size}' if one.size else ''}: {warning}", err=True)
