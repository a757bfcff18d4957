"""``tiler verify``: measure a PDF and say whether it is true to scale."""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tiler.commands.output.progress import page_progress
from tiler.commands.output.terminal import printable, table_width
from tiler.commands.typed.count import CountType
from tiler.commands.typed.length import LENGTH

if TYPE_CHECKING:
    from tiler.proof.report.record import Picture


@click.command(epilog="Example: tiler verify crew.pdf")
@click.argument("pdf", type=click.Path(path_type=Path))
@click.option(
    "--expect", type=LENGTH, metavar="LENGTH", help="Side of the test square, such as '2 in', where no label says it."
)
@click.option("--time-limit", type=CountType(1), metavar="SECONDS", help="Time for the file; without: by its pages.")
@click.option("--memory-limit", type=CountType(1), metavar="MB", help="Memory for the file; without: 768.")
@click.option("--object-limit", type=CountType(1), metavar="COUNT", help="What one page may paint; without: 100000.")
@click.option(
    "--report",
    "report_file",
    type=click.Path(path_type=Path),
    metavar="FILE.pdf",
    help="Write one page with the verdict and pictures of the squares.",
)
@click.option("--force", is_flag=True, help="Replace the report when it is there already.")
@click.option(
    "--json",
    "as_json",
    is_flag=True,
    help="Print verdict, scale and all checks for other programs, as JSON, lengths in mm.",
)
def command(
    pdf: Path,
    expect: float | None,
    time_limit: int | None,
    memory_limit: int | None,
    object_limit: int | None,
    report_file: Path | None,
    force: bool,
    as_json: bool,
) -> int:
    """Measure PDF and say whether it is true to scale, whole and readable.

    A file of tiler is put together by its own register marks and measured line
    by line; of any other file the test squares are measured that state their
    size, or that --expect speaks of. The exit code is 0 when the file is true to scale, 3 when it is not,
    4 when there is nothing to measure. The file is read apart from tiler itself; one
    that needs more than the limits is given up, with exit code 5.
    """
    from tiler.proof.report.wording import lines
    from tiler.usecases.verify.apart import Limits, prove_apart

    default = Limits()
    limits = Limits(
        time_limit,
        memory_limit * 2**20 if memory_limit else default.memory,
        object_limit or default.objects,
    )
    expected = (expect, f"{expect:g} mm") if expect else None
    pictures: list[Picture] | None = None
    if report_file:
        from tiler.usecases.files.replace import refuse_existing

        refuse_existing(report_file, force, (pdf,), ".pdf")
        pictures = []
    with page_progress("measuring") as progress:
        report = prove_apart(pdf, progress, expected, limits, pictures)
    if report_file:
        from tiler.usecases.verify.report import write_report

        write_report(pdf, report, pictures or [], report_file, force)
    if as_json:
        click.echo(json.dumps(report.to_json(), indent=2, ensure_ascii=False))
    else:
        first, *others = lines(report, table_width())
        click.echo(click.style(printable(first), bold=True))
        for line in others:
            click.echo(printable(line))
    return report.exit_code
