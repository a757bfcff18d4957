"""A pattern release: every paper, every size, chart, instructions, manifest and archive in one folder.

Everything is made in a folder beside the one that is wanted, each PDF drawn and proved
there, and then takes its place by renaming: what fails or is interrupted leaves the
release that was there as it is.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from tiler.draft.chart import chart_csv
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job
from tiler.errors import FailedProofError, SpecError, UnreadableError
from tiler.paper import ONE_SHEET, PAPER_WORDS, PAPERS
from tiler.proof.report.causes import paper_of
from tiler.proof.report.verdict import Verdict
from tiler.sentence import Place
from tiler.usecases.bundle.archive import FileRecord, archive, manifest
from tiler.usecases.bundle.folder import refuse_folder, staged
from tiler.usecases.bundle.joined import Weighed, join_proved, weigh
from tiler.usecases.bundle.workers import each
from tiler.usecases.draft import Wishes, draw_job
from tiler.usecases.files.naming import size_words, slug
from tiler.usecases.files.replace import write_file
from tiler.usecases.job import read_job

RELEASED = ("letter", "a4", ONE_SHEET)
"""The papers of a release."""

HOME = "letter-a4"
"""Chart and instructions fit both home papers."""

Progress = Callable[[int, int], None]


@dataclass(frozen=True)
class Release:
    """What is asked for; ``after`` is the page of the base that ours follow."""

    spec: Path
    folder: Path
    bases: tuple[Path, ...] = ()
    after: int | None = None
    nest: bool = True
    roll: float | None = None
    sizes: str | None = None
    accept: tuple[str, ...] = ()


@dataclass(frozen=True)
class Base:
    """A pattern PDF that ours join: its paper, its bytes, and what becomes of it."""

    path: Path
    paper: str
    data: bytes
    weighed: Weighed


@dataclass(frozen=True)
class Planned:
    """A release that has been looked at and not been written: nothing speaks against it."""

    release: Release
    job: Job
    figures: tuple[Figures, ...]
    bases: tuple[Base, ...]

    @property
    def sizes(self) -> tuple[str, ...]:
        """The sizes, each once; none where the spec has none."""
        return tuple(dict.fromkeys(one.size for one in self.figures if one.size is not None))

    @property
    def alone(self) -> tuple[str, ...]:
        """Papers whose files stay without a base although there is one for another paper."""
        joined = {base.paper for base in self.bases}
        return tuple(paper for paper in RELEASED if joined and paper not in joined)


@dataclass(frozen=True)
class Task:
    """A PDF to draw: its name, paper, and the sizes in it (None: all)."""

    name: str
    paper: str
    size: str | None = None


@dataclass(frozen=True)
class Drawn:
    """What was made of a task."""

    data: bytes
    record: FileRecord


def plan(release: Release, force: bool) -> Planned:
    """Read the spec and weigh the bases; writes nothing.

    Raises the errors of the spec, those of :func:`tiler.usecases.bundle.joined.weigh`, and
    :class:`CannotWriteError` when the folder must not be replaced.
    """
    refuse_folder(release.folder, force, (release.spec, *release.bases))
    if release.after is not None and not release.bases:
        raise SpecError("there is no base to follow a page of; add --with BASE.pdf", Place("--after"))
    job = read_job(release.spec)
    figures = figure_job(job, release.sizes)
    bases: list[Base] = []
    for path in release.bases:
        base = _weighed(path, release.after, release.accept)
        for other in bases:
            if other.paper == base.paper:
                raise SpecError(
                    f"{other.path} and {path} are both {PAPER_WORDS[base.paper]}; give one of them", Place("--with")
                )
        bases.append(base)
    return Planned(release, job, figures, tuple(bases))


def make(planned: Planned, force: bool, progress: Progress | None = None) -> tuple[FileRecord, ...]:
    """Draw, prove, pack and put in place; gives what is in the folder.

    Raises :class:`FailedProofError` when one file is not what it should be, and
    :class:`CannotWriteError`; then nothing has changed.
    """
    release, name = planned.release, slug(planned.job.edition.title)
    tasks = _tasks(planned, name)
    with staged(release.folder, force) as folder:
        records: list[FileRecord] = []
        shared = (planned.job, planned.figures, release.nest, release.roll)
        for done, drawn in enumerate(each(_draw, tasks, shared), 1):
            finished = _joined(planned, drawn)
            write_file(folder / finished.record.name, finished.data)
            records.append(finished.record)
            if progress:
                progress(done, len(tasks))
        for record, data in _pages_to_read(planned, name):
            write_file(folder / record.name, data)
            records.append(record)
        listed = manifest(planned.job, records)
        write_file(folder / "manifest.json", listed)
        write_file(folder / f"{name}.zip", archive(folder, [*(one.name for one in records), "manifest.json"]))
    return tuple(records)


def _weighed(path: Path, after: int | None, accept: Collection[str]) -> Base:
    # a base may come from a stranger
    from tiler.reading.limits import bounded

    try:
        data = path.read_bytes()
    except OSError as fault:
        raise UnreadableError(f"{path} cannot be read: {fault.strerror or fault}") from fault
    try:
        with bounded():
            weighed = weigh(data, after, accept)
    except (SpecError, UnreadableError) as fault:
        raise type(fault)(f"{path}: {fault}") from fault
    size = weighed.survey.usual_size
    paper = paper_of(size)
    if paper in RELEASED:
        return Base(path, paper, data, weighed)
    papers = ", ".join(PAPER_WORDS[paper] for paper in RELEASED if paper in PAPERS)
    raise SpecError(
        f"the pages of {path} are {size[0]:.1f} × {size[1]:.1f} mm, and a release has {papers}", Place("--with")
    )


def _tasks(planned: Planned, name: str) -> list[Task]:
    tasks = [Task(f"{name}-{paper}.pdf", paper) for paper in RELEASED]
    if len(planned.sizes) > 1:
        words = size_words(planned.sizes)
        tasks += [
            Task(f"{name}-size-{words[size]}-{paper}.pdf", paper, size) for size in planned.sizes for paper in RELEASED
        ]
    return tasks


def _draw(task: Task, job: Job, figures: tuple[Figures, ...], nest: bool, roll: float | None) -> Drawn:
    """Draw one file and prove it; runs in a process of its own."""
    from tiler.proof import prove

    chosen = tuple(one for one in figures if task.size is None or one.size == task.size)
    wishes = Wishes(paper=task.paper, nest=nest, roll=roll if task.paper == ONE_SHEET else None)
    document = draw_job(job, chosen, wishes)
    report = prove(document.data)
    if report.verdict is not Verdict.TRUE:
        raise FailedProofError(f"{task.name} failed its own proof, so nothing was written: {report.first_failure()}")
    sizes = tuple(dict.fromkeys(one.size for one in chosen if one.size is not None))
    return Drawn(document.data, _record(task.name, document.data, task.paper, sizes, report.pages, report.verdict))


def _joined(planned: Planned, drawn: Drawn) -> Drawn:
    base = next((one for one in planned.bases if one.paper == drawn.record.paper), None)
    if base is None or len(drawn.record.sizes) != len(planned.sizes):
        return drawn
    joined, report = join_proved(base.data, drawn.data, base.weighed, planned.release.accept)
    record = drawn.record
    again = _record(record.name, joined.pdf, record.paper, record.sizes, report.pages, report.verdict)
    return Drawn(joined.pdf, replace(again, base=base.path.name))


def _pages_to_read(planned: Planned, name: str) -> Sequence[tuple[FileRecord, bytes]]:
    from tiler.sheets.reports.chart import chart_pdf
    from tiler.sheets.sewing.finishes import finishes_of
    from tiler.sheets.sewing.pages import instruction_pdf

    job, figures = planned.job, planned.figures
    finishes = finishes_of(figures, job.edition)
    made = {
        f"{name}-chart.pdf": chart_pdf(figures, job.edition, HOME),
        f"{name}-chart.csv": chart_csv(figures).encode("utf-8"),
        f"{name}-instructions.pdf": instruction_pdf(finishes, HOME),
    }
    return [(_record(file, data, None, planned.sizes, None, None), data) for file, data in made.items()]


def _record(
    name: str, data: bytes, paper: str | None, sizes: tuple[str, ...], pages: int | None, verdict: str | None
) -> FileRecord:
    return FileRecord(name, hashlib.sha256(data).hexdigest(), len(data), paper, sizes, pages, verdict)
