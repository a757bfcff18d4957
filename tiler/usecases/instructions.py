"""A spec becomes a file of instruction pages, one for every finish that it uses."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job
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
    data, written = instructions_of(job, figure_job(job), paper)
    put(output, data)
    return written


def instructions_of(job: Job, figures: Sequence[Figures], paper: str | None = None) -> tuple[bytes, Written]:
    """Return the instruction pages of a job, and what they are; ``paper`` ``None`` takes that of the job."""
    chosen = paper or job.paper.name
    chosen = HOME if chosen == ONE_SHEET else chosen
    finishes = finishes_of(figures, job.edition)
    with speaking(*job.edition.languages):
        leaflet = instruction_pdf(finishes, chosen, job.edition.logo)
    return leaflet.data, Written(finishes, chosen, leaflet.pages)
