"""``tiler verify``: measure a PDF and say whether it is true to scale."""

from __future__ import annotations

import json
from pathlib import Path

import click

from tiler.commands.length_type import LENGTH
from tiler.commands.progress import page_progress


@click.command(epilog="Example: tiler verify crew.pdf")
@click.argument("pdf", type=click.Path(path_type=Path))
@click.option(
    "--expect", type=LENGTH, metavar="LENGTH", help="Side of the test square, such as '2 in', where no label says it."
)
@click.option("--json", "as_json", is_flag=True, help="Print verdict, scale and all checks as JSON, lengths in mm.")
def command(pdf: Path, expect: float | None, as_json: bool) -> int:
    """Measure PDF and say whether it is true to scale, whole and readable.

    A file of tiler is put together by its own register marks and measured line
    by line; of any other file the test squares are measured that state their
    size, or that --expect speaks of. The exit code is 0 when the file is true to scale, 3 when it is not,
    4 when there is nothing to measure.
    """
    from tiler.proof import Expected, prove
    from tiler.proof.wording import lines
    from tiler.reading.limits import bounded

    with page_progress("measuring") as progress, bounded():
        report = prove(pdf, progress, Expected(expect, f"{expect:g} mm") if expect else None)
    if as_json:
        click.echo(json.dumps(report.to_json(), indent=2, ensure_ascii=False))
    else:
        first, *others = lines(report)
        click.echo(click.style(first, bold=True))
        for line in others:
            click.echo(line)
    return report.exit_code
