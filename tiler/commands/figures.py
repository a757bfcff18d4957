"""``tiler figures``: the numbers to cut by."""

from __future__ import annotations

import json
from pathlib import Path

import click

from tiler.commands.output.cutting_chart import chart
from tiler.commands.output.size_table import size_tables
from tiler.commands.output.terminal import say, say_json
from tiler.commands.typed import options
from tiler.draft.compute import figure_job
from tiler.usecases.job import read_job


@click.command(epilog="Example: tiler figures examples/saltmarsh-crew.toml")
@options.spec
@options.sizes
@options.as_json
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
        say_json(json.dumps({"title": job.edition.title, "pieces": entries}, indent=2))
        return
    in_sizes = len({piece.size for piece in pieces}) > 1
    for line in (size_tables if in_sizes else chart)(job, pieces):
        say(line.text, bold=line.is_heading)
