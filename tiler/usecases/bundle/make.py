"""A pattern release: every paper, every size, chart, instructions, manifest and archive in one folder.

Everything is made in a folder beside the one that is wanted, each PDF drawn and proved
there, and then takes its place by renaming: what fails or is interrupted leaves the
release that was there as it is.  The list names every file, the archive too, with its
checksum, and the next release replaces nothing but what it names.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack, closing, contextmanager
from dataclasses import dataclass
from functools import partial
from itertools import chain, groupby
from pathlib import Path

from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job
from tiler.errors import SpecError
from tiler.languages.words import speaking
from tiler.paper import ONE_SHEET, PAPER_WORDS, Projected
from tiler.proof.report.causes import paper_of
from tiler.sentence import Place
from tiler.sheets.reports.customer import customer_pdf
from tiler.usecases.bundle.archive import FileRecord, archive, manifest
from tiler.usecases.bundle.base_apart import BaseApart, base_process, placed, weighed_at_once, weighed_in
from tiler.usecases.bundle.copy_shop import HOME_PAPERS, CopyShopPaper, sheet_of
from tiler.usecases.bundle.customer import uses
from tiler.usecases.bundle.doubts import of_bases, refuse_doubtful, told_doubts
from tiler.usecases.bundle.drawing import Drawn, Kit, Task, ToRead, made, put, sizes_in
from tiler.usecases.bundle.folder import ReleaseFolder, admitted_folder, staged
from tiler.usecases.bundle.joining import Joining
from tiler.usecases.bundle.listed import LIST
from tiler.usecases.files.naming import size_words, slug
from tiler.usecases.files.replace import write_file
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
        return sizes_in(self.figures)

    @property
    def doubts(self) -> list[tuple[str, str]]:
        """What is doubtful, with the pieces or the base that it is about."""
        of_bases = [(base.path.name, doubt) for base in self.bases.values() for doubt in base.doubts]
        return [*told_doubts(self.figures), *of_bases]

    @property
    def alone(self) -> tuple[str, ...]:
        """Papers whose files stay without a base although there is one for another paper."""
        return tuple(paper for paper in RELEASED if self.bases and paper not in self.bases)

    def words(self, paper: str) -> str:
        """Name a paper, that of a copy shop as the base for it has it."""
        return self.sheet.words if self.sheet and paper == ONE_SHEET else PAPER_WORDS[paper]


@contextmanager
def plan(release: Release, force: bool, told: Told = lambda _about, _doubt: None) -> Iterator[Planned]:
    """Read the spec and weigh the bases; writes nothing.  What weighed them ends with the block.

    Every doubt about a piece is ``told``, with the piece and its sizes, before anything stops.

    Raises the errors of the spec, those of :func:`tiler.usecases.bundle.base_apart.weighed_in`, and
    :class:`CannotWriteError` when the folder must not be replaced.
    """
    bases_at = [placed(base) for base in release.bases]
    place = admitted_folder(release.folder, force, (release.spec, *(path for path, _ in bases_at)))
    if release.after is not None and not release.bases:
        raise SpecError("there is no base to follow a page of; add --with BASE.pdf", Place("--after"))
    with ExitStack() as stack:
        begun = [stack.enter_context(base_process()) for _ in bases_at]
        job = read_job(release.spec, place.spare, release.languages)
        figures = figure_job(job, release.sizes)
        for about, doubt in told_doubts(figures):
            told(about, doubt)
        refuse_doubtful(figures, release.accept)
        bases: dict[str, BaseApart] = {}
        sheet = None
        sizes, accept = sizes_in(figures), of_bases(release.accept)
        weighings = [
            partial(
                weighed_in, process, path, release.after if page is None else page, accept, sizes, release.own_layers
            )
            for process, (path, page) in zip(begun, bases_at, strict=True)
        ]
        for base in weighed_at_once(weighings, begun):
            paper = paper_of(base.size)
            if paper not in RELEASED:
                sheet = sheet_of(base, release.roll, job.edition.units)
                paper = ONE_SHEET
            if paper in bases:
                other = bases[paper].path
                both_are = "for a copy shop" if paper == ONE_SHEET else PAPER_WORDS[paper]
                raise SpecError(f"{other} and {base.path} are both {both_are}; give one of them", Place("--with"))
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
        kit = Kit(folder, name, planned.job, planned.figures, release.nest, release.colour, release.roll, planned.sheet)
        # papers of a size are laid out together, of all sizes only those for home; what takes longest is begun first
        units_of = groupby(tasks, lambda task: (task.size, task.size is None and task.paper in HOME_PAPERS))
        first, *rest = sorted((list(some) for _, some in units_of), key=lambda some: some[0].size is not None)
        places = {task.name: place for place, task in enumerate(tasks)}
        done: list[Drawn] = []
        # closed before the folder goes, since the others write into it
        with (
            closing(each(made, [first, *ToRead, *rest], (kit,))) as units,
            Joining(planned.bases, planned.job.sizes, folder) as joining,
        ):
            for one in joining.joined(chain.from_iterable(units)):
                done.append(one)
                if progress and not one.to_read:
                    progress(sum(not other.to_read for other in done), len(tasks))
        records = [one.record for one in sorted(done, key=lambda one: places.get(one.record.name, len(tasks)))]
        records.append(_put_readme(planned, folder, name, records))
        names, day = [one.name for one in records], planned.job.edition.date
        packed = put(folder / f"{name}.zip", lambda out: archive(folder, names, day, out), planned.sizes)
        # last of all: what has its list is whole
        write_file(folder / LIST, manifest(planned.job, [*records, packed], planned.doubts))
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


def _put_readme(planned: Planned, folder: Path, name: str, records: Sequence[FileRecord]) -> FileRecord:
    papers = {paper: planned.words(paper) for paper in RELEASED}
    bases = planned.bases
    first = {one.name: bases[one.paper].host.number(1) if one.base and one.paper else 1 for one in records}
    edition = planned.job.edition
    with speaking(*edition.languages):
        for_child = any(one.for_child for one in planned.figures)
        page = customer_pdf(edition, list(uses(records, papers, first)), for_child)
    return put(folder / f"{name}-readme.pdf", page, planned.sizes)
