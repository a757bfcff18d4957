"""``tiler readings``: what the testers of a pattern printed and measured."""

from __future__ import annotations

import json
from pathlib import Path
from textwrap import wrap

import click

from tiler.commands.typed.length import LENGTH
from tiler.errors import NothingToMeasureError
from tiler.paper import PAPERS

WIDTH = 79


@click.command(epilog="Example: tiler readings examples/saltmarsh-readings.csv --chart readings.pdf")
@click.argument("csv", type=click.Path(path_type=Path))
@click.option("--unit", type=click.Choice(["mm", "cm", "in"]), help="The unit of numbers that have none.")
@click.option("--reading-error", type=LENGTH, help="How closely the rulers were read; 0.5 mm if not given.")
@click.option(
    "--chart", type=click.Path(path_type=Path), metavar="FILE", help="Draw the readings to this PDF, one page."
)
@click.option("--paper", type=click.Choice(list(PAPERS)), default="letter", help="The paper of the chart.")
@click.option("--force", is_flag=True, help="Replace the chart when it is there already.")
@click.option("--json", "as_json", is_flag=True, help="Print the result for other programs, as JSON, lengths in mm.")
def command(
    csv: Path, unit: str | None, reading_error: float | None, chart: Path | None, paper: str, force: bool, as_json: bool
) -> None:
    """Judge what the testers of a pattern printed, from the table CSV.

    Its first line names the columns, in any order: tester, printer, viewer,
    nominal, across, down, and if wanted paper, size, fit. Every other line is
    one printed test square or ruler line, as a ruler showed it. Lines that
    cannot be used are named and left out.
    """
    from tiler.usecases.files.replace import refuse_existing
    from tiler.usecases.rounds.judging import READING_ERROR, judge_round
    from tiler.usecases.rounds.report import in_lines, to_json, write_chart
    from tiler.usecases.rounds.table import read_table

    if chart is not None:
        refuse_existing(chart, force, (csv,), ".pdf")
    table = read_table(csv, unit)
    for note in table.notes:
        click.echo(f"{csv}: {note}", err=True)
    for bad in table.bad:
        click.echo(f"{csv}, line {bad.line}, left out: {bad.words}", err=True)
    if not table.readings:
        raise NothingToMeasureError(
            f"{csv} holds no reading that can be used; write one line for each square or ruler line that was measured"
        )
    result = judge_round(table.readings, reading_error or READING_ERROR)
    if chart is not None:
        write_chart(csv, result, paper, chart, force)
    if as_json:
        click.echo(json.dumps(to_json(csv, table, result), ensure_ascii=False))
        return
    for line in in_lines(result):
        click.echo(_wrapped(line) if len(line) > WIDTH else line)


def _wrapped(line: str) -> str:
    # a number and its percent sign stay together
    lines = wrap(line.replace(" %", "\u00a0%"), WIDTH, subsequent_indent="    ", break_on_hyphens=False)
    return "\n".join(lines).replace("\u00a0%", " %")
