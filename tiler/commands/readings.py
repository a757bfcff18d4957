"""``tiler readings``: what the testers of a pattern printed and measured."""

from __future__ import annotations

import json
from pathlib import Path

import click

from tiler.commands.output.terminal import say, say_json
from tiler.commands.output.wrapping import broken, tell, width
from tiler.commands.typed import options
from tiler.errors import NothingToMeasureError
from tiler.languages.catalogue import ENGLISH
from tiler.paper import PAPERS
from tiler.usecases.files.replace import Output, admitted
from tiler.usecases.rounds.judging import READING_ERROR, judge_round
from tiler.usecases.rounds.record import to_json
from tiler.usecases.rounds.report import in_lines, write_chart
from tiler.usecases.rounds.table import read_table


@click.command(epilog="Example: tiler readings examples/saltmarsh-readings.csv --chart readings.pdf")
@click.argument("csv", type=options.FILE)
@click.option("--unit", type=click.Choice(["mm", "cm", "in"]), help="Take numbers without a unit in this one.")
@options.reading_error(READING_ERROR)
@click.option(
    "--chart",
    type=options.FILE,
    metavar="FILE.pdf",
    help="Draw the readings to this file, one page; of two languages, in the first.",
)
@options.paper(tuple(PAPERS), "letter")
@options.language
@options.force
@options.as_json
def command(
    csv: Path,
    unit: str | None,
    reading_error: float,
    chart: Path | None,
    paper: str,
    languages: tuple[str, ...] | None,
    force: bool,
    as_json: bool,
) -> None:
    """Judge what the testers of a pattern printed, from the table CSV.

    Its first line names the columns, in any order: tester, printer, viewer,
    nominal, across, down, and if wanted paper, size, fit. Every other line is
    one printed test square or ruler line, as a ruler showed it; one axis is
    enough, and a number without a unit has that of its nominal. Lines that
    cannot be used are named and left out, and what they say of the fit counts.
    """
    output: Output | None = None
    if chart is not None:
        output = admitted(chart, force, (csv,), ".pdf")
    table = read_table(csv, unit)
    for note in table.notes:
        tell(f"{csv}: {note}", err=True)
    if as_json or not table.readings:
        for bad in table.bad:
            tell(f"{csv}, line {bad.line}, left out: {bad.words}", err=True)
    if not table.readings:
        raise NothingToMeasureError(
            f"{csv} holds no reading that can be used; write one line for each square or ruler line that was measured"
        )
    result = judge_round(table.readings, reading_error, table.fits)
    if output is not None:
        write_chart(csv, result, paper, output, languages or (ENGLISH,), table.bad)
    if as_json:
        say_json(json.dumps(to_json(csv, table, result), ensure_ascii=False))
        return
    for line in in_lines(result, width(), table.bad):
        for part in broken(line) if len(line) > width() else [line]:
            say(part)
