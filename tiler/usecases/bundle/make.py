"""A pattern release: every paper, every size, chart, instructions, manifest and archive in one folder.

Everything is made in a folder beside the one that is wanted, each PDF drawn and proved
there, and then takes its place by renaming: what fails or is interrupted leaves the
release that was there as it is.  The list names every file, the archive too, with its
checksum, and the next release replaces nothing but what it names.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass, replace
from functools import partial
from gc import collect
from itertools import chain, groupby
from pathlib import Path
from typing import Any

from tiler.declaration import ALONE, Declaration, Host
from tiler.draft.chart_csv import chart_csv
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job
from tiler.drawn import OUR_LAYERS, LayerNames
from tiler.errors import FailedProofError, SpecError
from tiler.languages.words import speaking
from tiler.paper import HOME, ONE_SHEET, PAPER_WORDS, PAPERS, Projected
from tiler.proof import prove
from tiler.proof.report.causes import paper_of
from tiler.proof.report.verdict import Verdict
from tiler.sentence import Place
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.reports.customer import customer_pdf
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.bundle.archive import FileRecord, archive, manifest
from tiler.usecases.bundle.base_apart import BaseApart, placed, weighed_apart
from tiler.usecases.bundle.copy_shop import HOME_PAPERS, CopyShopPaper, sheet_of
from tiler.usecases.bundle.customer import uses
from tiler.usecases.bundle.doubts import of_bases, refuse_doubtful, told_doubts
from tiler.usecases.bundle.folder import ReleaseFolder, admitted_folder, staged
from tiler.usecases.bundle.listed import LIST
from tiler.usecases.draft import Laid, Wishes, arrangement_for, draw_job, draw_plane, drawing_of, prove_plane
from tiler.usecases.files.digest import sha256_of
from tiler.usecases.files.naming import size_words, slug
from tiler.usecases.files.replace import Writing, write_file
from tiler.usecases.job import read_job
from tiler.usecases.processes.workers import each

RELEASED = (*HOME_PAPERS, ONE_SHEET)
"""The papers of a release."""

Progress = Callable[[int, int], None]
Told = Callable[[str, str], None]


@dataclass(frozen=True)
class Release:
    """What is asked for; ``after`` is the page of a base that ours follow unless its name ends in one, ``@12``."""

    spec: Path
    folder: Path
    bases: tuple[Path, ...] = ()
    after: int | None = None
    nest: bool = True
    colour: bool | None = None
    roll: float | None = None
    sizes: str | None = None
    accept: tuple[str, ...] = ()
    own_layers: bool = False
    projector: Projected | None = None
    languages: tuple[str, ...] | None = None
    svg: bool = False


@dataclass(frozen=True)
class Planned:
    """A release that has been looked at and not been written: nothing speaks against it.

    Its bases are weighed, one for each paper.
    """

    release: Release
    place: ReleaseFolder
    job: Job
    figures: tuple[Figures, ...]
    bases: Mapping[str, BaseApart]
    sheet: CopyShopPaper | None = None
    """The paper of the base that the one sheet joins."""

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes, each once; none where the spec has none."""
        return _sizes(self.figures)

    @property
    def alone(self) -> tuple[str, ...]:
        """Papers whose files stay without a base although there is one for another paper."""
        return tuple(paper for paper in RELEASED if self.bases and paper not in self.bases)

    def words(self, paper: str) -> str:
        """Name a paper, that of a copy shop as the base for it has it."""
        return self.sheet.words if self.sheet and paper == ONE_SHEET else PAPER_WORDS[paper]


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
    """What was made of a task: the file in the list, and what it declares where it joins a base."""

    record: FileRecord
    declaration: Declaration | None = None


@contextmanager
def plan(release: Release, force: bool, told: Told = lambda _about, _doubt: None) -> Iterator[Planned]:
    """Read the spec and weigh the bases; writes nothing.  What weighed them ends with the block.

    Every doubt about a piece is ``told``, with the piece and its sizes, before anything stops.

    Raises the errors of the spec, those of :func:`tiler.usecases.bundle.base_apart.weighed_apart`, and
    :class:`CannotWriteError` when the folder must not be replaced.
    """
    bases_at = [placed(base) for base in release.bases]
    place = admitted_folder(release.folder, force, (release.spec, *(path for path, _ in bases_at)))
    if release.after is not None and not release.bases:
        raise SpecError("there is no base to follow a page of; add --with BASE.pdf", Place("--after"))
    job = read_job(release.spec, place.spare, release.languages)
    figures = figure_job(job, release.sizes)
    for about, doubt in told_doubts(figures):
        told(about, doubt)
    refuse_doubtful(figures, release.accept)
    with ExitStack() as stack:
        bases: dict[str, BaseApart] = {}
        sheet = None
        for path, page in bases_at:
            after = release.after if page is None else page
            base = stack.enter_context(
                weighed_apart(path, after, of_bases(release.accept), job.sizes, release.own_layers)
            )
            paper = paper_of(base.size)
            if paper not in RELEASED:
                sheet = sheet_of(base, release.roll, job.edition.units)
                paper = ONE_SHEET
            if paper in bases:
                other = bases[paper].path
                both_are = "for a copy shop" if paper == ONE_SHEET else PAPER_WORDS[paper]
                raise SpecError(f"{other} and {path} are both {both_are}; give one of them", Place("--with"))
            bases[paper] = base
        yield Planned(release, place, job, figures, bases, sheet)


def make(planned: Planned, progress: Progress | None = None) -> tuple[FileRecord, ...]:
    """Draw, prove, pack and put in place; return what is in the folder.

    Raises :class:`FailedProofError` when one file is not what it should be, and
    :class:`CannotWriteError`; then nothing has changed.
    """
    release, name = planned.release, slug(planned.job.edition.title)
    tasks = list(_tasks(planned, name))
    with staged(planned.place) as folder:
        records: list[FileRecord] = []
        # both home papers of a size are laid out together
        units = [list(some) for _, some in groupby(tasks, lambda task: (task.size, task.paper in PAPERS))]
        shared = (folder, planned.job, planned.figures, release, planned.sheet)
        # closed before the folder goes, since the others write into it
        with closing(each(_draw_all, units, shared)) as drawn:
            for done, one in enumerate(chain.from_iterable(drawn), 1):
                records.append(_joined(planned, one, folder))
                if progress:
                    progress(done, len(tasks))
        records += _put_pages_to_read(planned, folder, name)
        records.append(_put_readme(planned, folder, name, records))
        names, day = [one.name for one in records], planned.job.edition.date
        packed = _put(folder / f"{name}.zip", lambda out: archive(folder, names, day, out), planned.sizes)
        # last of all: what has its list is whole
        write_file(folder / LIST, manifest(planned.job, [*records, packed], list(told_doubts(planned.figures))))
    return tuple(records)


def _tasks(planned: Planned, name: str) -> Iterator[Task]:
    words = size_words(planned.sizes)
    for size in (None, *(planned.sizes if len(planned.sizes) > 1 else ())):
        for paper in RELEASED:
            base = planned.bases.get(paper)
            file = f"{name}-{paper}.pdf" if size is None else f"{name}-size-{words[size]}-{paper}.pdf"
            yield Task(file, paper, size, base.host, base.layers) if base else Task(file, paper, size)
    if planned.release.projector:
        yield Task(f"{name}-projector.pdf", ONE_SHEET, projected=planned.release.projector)
    if planned.release.svg:
        yield Task(f"{name}.svg", None)


def _draw_all(tasks: Sequence[Task], *shared: Any) -> list[Drawn]:
    """Draw the files of the same pieces one after the other; runs in a process of its own."""
    laid: Laid = {}
    return [_draw(task, laid, *shared) for task in tasks]


def _draw(
    task: Task,
    laid: Laid,
    folder: Path,
    job: Job,
    figures: tuple[Figures, ...],
    release: Release,
    sheet: CopyShopPaper | None,
) -> Drawn:
    """Draw one file into a folder and prove it."""
    chosen = tuple(one for one in figures if task.size is None or one.size == task.size)
    wishes = Wishes(
        paper=task.paper,
        nest=release.nest,
        colour=release.colour,
        projected=task.projected,
        host=task.host or ALONE,
        layers=task.layers,
    )
    own = None
    if task.paper == ONE_SHEET and sheet and task.host:
        wishes = replace(wishes, roll=sheet.width, length=sheet.height)
    elif task.paper in (ONE_SHEET, None):
        wishes = replace(wishes, roll=release.roll)
    else:
        # whoever has the other paper tapes in the same way
        arrange = arrangement_for(job, chosen, wishes, HOME_PAPERS, laid)
        drawn = laid.get(drawing_of(job, wishes, chosen))
        # what is laid out as both papers are need not be again
        own = drawn if drawn and (drawn.plan is None or drawn.plan.taken == arrange) else None
        wishes = wishes if own else replace(wishes, arrange=arrange)
    document = draw_job(job, chosen, wishes, sheet=own) if task.paper else draw_plane(job, chosen, wishes)
    record = replace(_put(folder / task.name, document.data, _sizes(chosen)), paper=task.paper)
    if task.host:
        # what joins a base is proved in there
        return Drawn(record, document.declaration)
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


def _joined(planned: Planned, drawn: Drawn, folder: Path) -> FileRecord:
    """Join a file to the base of its paper, where there is one; layers of the base for other sizes are switched off."""
    record = drawn.record
    base = planned.bases.get(record.paper or "")
    if base is None or drawn.declaration is None:
        return record
    hidden = [size for size in planned.job.sizes if len(record.sizes) == 1 and size not in record.sizes]
    return replace(record, base=base.path.name, **base.join(folder / record.name, drawn.declaration, hidden))


def _put_pages_to_read(planned: Planned, folder: Path, name: str) -> Iterator[FileRecord]:
    job, figures = planned.job, planned.figures
    with speaking(*job.edition.languages):
        chart = chart_pdf(figures, job.edition, HOME)
        instructions = instruction_pdf(finishes_of(figures, job.edition), HOME, job.edition.logo).data
    yield _put(folder / f"{name}-chart.pdf", chart, planned.sizes)
    yield _put(folder / f"{name}-chart.csv", chart_csv(figures).encode("utf-8"), planned.sizes)
    yield _put(folder / f"{name}-instructions.pdf", instructions, planned.sizes)


def _put_readme(planned: Planned, folder: Path, name: str, records: Sequence[FileRecord]) -> FileRecord:
    papers = {paper: planned.words(paper) for paper in RELEASED}
    bases = planned.bases
    first = {one.name: bases[one.paper].host.number(1) if one.base and one.paper else 1 for one in records}
    edition = planned.job.edition
    with speaking(*edition.languages):
        for_child = any(one.for_child for one in planned.figures)
        page = customer_pdf(edition, list(uses(records, papers, first)), for_child)
    return _put(folder / f"{name}-readme.pdf", page, planned.sizes)


def _put(target: Path, data: bytes | Writing, sizes: tuple[str, ...]) -> FileRecord:
    write_file(target, data)
    return FileRecord(target.name, sha256_of(target), target.stat().st_size, sizes=sizes)


def _sizes(figures: Sequence[Figures]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(one.size for one in figures if one.size is not None))
