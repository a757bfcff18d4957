"""The files of a release, each drawn and proved, or set to be read, in a process that may be one of several."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from gc import collect
from pathlib import Path

from tiler.declaration import ALONE, Host
from tiler.draft.chart_csv import chart_csv
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job
from tiler.drawn import OUR_LAYERS, LayerNames
from tiler.errors import FailedProofError
from tiler.languages.words import speaking
from tiler.paper import HOME, ONE_SHEET, Projected
from tiler.proof import prove
from tiler.proof.report.verdict import Verdict
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.bundle.archive import FileRecord
from tiler.usecases.bundle.copy_shop import HOME_PAPERS, CopyShopPaper
from tiler.usecases.draft import Laid, Wishes, arrangement_for, draw_job, draw_plane, drawing_of, prove_plane
from tiler.usecases.files.digest import sha256_of
from tiler.usecases.files.replace import Writing, write_file


@dataclass(frozen=True)
class Kit:
    """What all files of a release have in common: their folder and first word, and what is drawn in which way.

    ``roll`` is the width of a roll for the one sheet, mm, and ``sheet`` the paper of the base that it joins.
    """

    folder: Path
    slug: str
    job: Job
    figures: tuple[Figures, ...]
    nest: bool
    colour: bool | None
    roll: float | None
    sheet: CopyShopPaper | None

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes, each once; none where the spec has none."""
        return sizes_in(self.figures)


@dataclass(frozen=True)
class Task:
    """A file to draw: its name, the sizes in it (None: all), and of a base where its pages stand, and layers.

    A PDF has a paper; what has none is a drawing on one plane.
    """

    name: str
    paper: str | None
    size: str | None = None
    host: Host | None = None
    layers: LayerNames = OUR_LAYERS
    projected: Projected | None = None


@dataclass(frozen=True)
class Drawn:
    """What was made: the file in the list, and what it declares where it joins a base."""

    record: FileRecord
    declared: bytes | None = None
    to_read: bool = False


class ToRead(StrEnum):
    """Pages to read beside the pieces."""

    CHART = "chart"
    INSTRUCTIONS = "instructions"


Unit = Sequence[Task] | ToRead
"""What one process does in one go: the files of the same pieces, or pages to read."""


def made(unit: Unit, kit: Kit) -> list[Drawn]:
    """Make the files of a unit, one after the other."""
    if isinstance(unit, ToRead):
        return [Drawn(record, to_read=True) for record in _read(unit, kit)]
    laid = Laid()
    return [_draw(task, laid, kit) for task in unit]


def _draw(task: Task, laid: Laid, kit: Kit) -> Drawn:
    """Draw one file and prove it."""
    job, sheet = kit.job, kit.sheet
    chosen = tuple(one for one in kit.figures if task.size is None or one.size == task.size)
    wishes = Wishes(
        paper=task.paper,
        nest=kit.nest,
        colour=kit.colour,
        projected=task.projected,
        host=task.host or ALONE,
        layers=task.layers,
    )
    if task.paper == ONE_SHEET and sheet and task.host:
        wishes = replace(wishes, roll=sheet.width, length=sheet.height)
    elif task.paper in (ONE_SHEET, None):
        wishes = replace(wishes, roll=kit.roll)
    else:
        # whoever has the other paper tapes in the same way
        arrange = arrangement_for(job, chosen, wishes, HOME_PAPERS, laid)
        drawn = laid.sheets.get(drawing_of(job, wishes, chosen))
        # what is laid out as both papers are need not be again
        as_it_is = drawn and (drawn.plan is None or drawn.plan.taken == arrange)
        wishes = wishes if as_it_is else replace(wishes, arrange=arrange)
    document = draw_job(job, chosen, wishes, laid=laid) if task.paper else draw_plane(job, chosen, wishes)
    record = replace(put(kit.folder / task.name, document.data, sizes_in(chosen)), paper=task.paper)
    if task.host:
        # what joins a base is proved in there
        return Drawn(record, document.declaration.to_bytes())
    proof = partial(prove, document.data, as_made=True) if task.paper else partial(prove_plane, document.data, document)
    # what drew all sizes at once is much, and its parts hold each other
    del document
    if task.size is None:
        collect()
    report = proof()
    if report.verdict is not Verdict.TRUE:
        failure = report.first_failure()
        raise FailedProofError(f"{task.name} failed its own proof, so nothing was written: {failure}")
    return Drawn(replace(record, pages=report.pages if task.paper else None, verdict=report.verdict))


def _read(what: ToRead, kit: Kit) -> Iterator[FileRecord]:
    """Set pages to read, in the languages of the job."""
    job, figures, sizes = kit.job, kit.figures, kit.sizes
    path = kit.folder / f"{kit.slug}-{what}.pdf"
    with speaking(*job.edition.languages):
        if what is ToRead.CHART:
            yield put(path, chart_pdf(figures, job.edition, HOME), sizes)
            yield put(path.with_suffix(".csv"), chart_csv(figures).encode("utf-8"), sizes)
        else:
            pages = instruction_pdf(finishes_of(figures, job.edition), HOME, job.edition.logo)
            yield put(path, pages.data, sizes)


def put(target: Path, data: bytes | Writing, sizes: tuple[str, ...]) -> FileRecord:
    """Write a file, and return its line in the list."""
    write_file(target, data)
    return FileRecord(target.name, sha256_of(target), target.stat().st_size, sizes=sizes)


def sizes_in(figures: Sequence[Figures]) -> tuple[str, ...]:
    """Return the sizes of figures, each once; none where the spec has none."""
    return tuple(dict.fromkeys(one.size for one in figures if one.size is not None))
