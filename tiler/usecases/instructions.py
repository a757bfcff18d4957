"""A spec becomes a file of instruction pages, one for every finish that it uses."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from tiler.draft.compute import figure_job
from tiler.languages.words import speaking
from tiler.paper import HOME, ONE_SHEET
from tiler.sheets.sewing.finishes import FinishSteps, finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.files.replace import admitted, put
from tiler.usecases.job import read_job


class Written(NamedTuple):
    """The finishes that have pages, the paper, and how many pages there are."""

    finishes: tuple[FinishSteps, ...]
    paper: str
    pages: int


def write_instructions(
    spec: Path, target: Path, paper: str | None, force: bool, languages: tuple[str, ...] | None = None
) -> Written:
    """Write the instruction pages of a spec, and return what was written; ``paper`` ``None`` takes the spec's.

    Raises the errors of the spec and :class:`CannotWriteError`; what fails leaves
    ``target`` as it was.
    """
    output = admitted(target, force, (spec,), ".pdf")
    job = read_job(spec, output.spare, languages)
    chosen = paper or job.paper.name
    chosen = HOME if chosen == ONE_SHEET else chosen
    finishes = finishes_of(figure_job(job), job.edition)
    with speaking(*job.edition.languages):
        leaflet = instruction_pdf(finishes, chosen, job.edition.logo)
    put(output, leaflet.data)
    return Written(finishes, chosen, leaflet.pages)
