"""A spec becomes a file of instruction pages, one for every finish that it uses."""

from __future__ import annotations

from pathlib import Path

from tiler.draft.compute import figure_job
from tiler.paper import HOME, ONE_SHEET
from tiler.sheets.sewing.finishes import FinishSteps, finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.files.replace import admitted, put
from tiler.usecases.job import read_job


def write_instructions(spec: Path, target: Path, paper: str | None, force: bool) -> tuple[tuple[FinishSteps, ...], str]:
    """Write the instruction pages of a spec, and return their finishes and the paper; ``None`` takes the spec's paper.

    Raises the errors of the spec and :class:`CannotWriteError`; what fails leaves
    ``target`` as it was.
    """
    output = admitted(target, force, (spec,), ".pdf")
    job = read_job(spec, output.spare)
    chosen = paper or job.paper.name
    chosen = HOME if chosen == ONE_SHEET else chosen
    finishes = finishes_of(figure_job(job), job.edition)
    data = instruction_pdf(finishes, chosen)
    put(output, data)
    return finishes, chosen
