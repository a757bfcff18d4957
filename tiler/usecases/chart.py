"""A spec becomes its cutting chart, a PDF to print or a CSV for a spreadsheet."""

from __future__ import annotations

from pathlib import Path

from tiler.draft.chart_csv import chart_csv
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.errors import SpecError
from tiler.languages.words import speaking
from tiler.sentence import Place
from tiler.usecases.files.replace import admitted, put
from tiler.usecases.job import read_job


def write_chart(
    spec: Path,
    target: Path,
    sizes: str | None,
    paper: str | None,
    force: bool,
    languages: tuple[str, ...] | None = None,
) -> tuple[Figures, ...]:
    """Write the cutting chart of a spec, of the kind that the name of ``target`` says, and return its figures.

    ``paper`` is for a PDF alone, and ``None`` takes the spec's. Raises the errors of the
    spec and :class:`CannotWriteError`; what fails leaves ``target`` as it was.
    """
    kind = target.suffix.casefold()
    if kind not in (".pdf", ".csv"):
        raise SpecError(f"{target}: a chart is a PDF or a CSV; give it a name that ends in .pdf or .csv")
    if kind == ".csv" and paper:
        raise SpecError("a CSV has no paper; leave it out, or write a .pdf", Place("--paper"))
    output = admitted(target, force, (spec,))
    job = read_job(spec, output.spare, languages)
    figures = figure_job(job, sizes)
    if kind == ".csv":
        data = chart_csv(figures).encode("utf-8")
    else:
        # a table in plain text needs nothing of what makes a PDF
        from tiler.sheets.reports.chart import chart_pdf

        with speaking(*job.edition.languages):
            data = chart_pdf(figures, job.edition, paper or job.paper.name)
    put(output, data)
    return figures
