"""``tiler figures``: the numbers to cut by."""

from __future__ import annotations

import json
from pathlib import Path

import click

from tiler.commands.output.cutting_chart import chart
from tiler.commands.typed.completion import size_names
from tiler.draft.compute import figure_job
from tiler.usecases.job import read_job


@click.command(epilog="Example: tiler figures examples/saltmarsh-crew.toml")
@click.argument("spec", type=click.Path(path_type=Path))
@click.option("--sizes", metavar="S,M", shell_complete=size_names, help="Only these sizes of the spec, such as 'S,M'.")
@click.option("--json", "as_json", is_flag=True, help="Print exact numbers for other programs, as JSON, lengths in mm.")
def command(spec: Path, sizes: str | None, as_json: bool) -> None:
    """Print the numbers to cut by: a cutting chart of every piece in SPEC.

    Lengths stand in the spec's unit first and in the other beside it, rounded
    to 1/16 in and to 1 mm. A spec with sizes gives a table of each piece with a
    row for each size; a single one is shown in full, with all its notches.
    """
    job = read_job(spec)
    pieces = figure_job(job, sizes)
    if as_json:
        entries = [piece.to_json() for piece in pieces]
        click.echo(json.dumps({"title": job.edition.title, "pieces": entries}, indent=2))
        return
    lines = chart(job, pieces)
    if len({piece.size for piece in pieces}) > 1:
        # most specs have no sizes, and starting is to stay quick
        from tiler.commands.output.size_table import size_tables

        lines = size_tables(job, pieces)
    for line in lines:
        click.echo(click.style(line.text, bold=True) if line.is_heading else line.text)
