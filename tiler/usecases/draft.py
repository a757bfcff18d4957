"""A spec becomes a proved file: compute, draw, proof, put in place."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path

from tiler.declaration import ALONE, MOST_COMPENSATED, Declaration, Host
from tiler.draft.bought import bought
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.judged import refuse_failed, refuse_free_ends
from tiler.draft.outline import Piece, draw_pieces
from tiler.draft.spec.read import Job
from tiler.drawn import OUR_LAYERS, LayerNames
from tiler.errors import FailedProofError, SpecError
from tiler.languages.words import speaking
from tiler.paper import MOST_PAGES, ONE_SHEET, Arrangement, Margins, Projected
from tiler.proof import Report, prove
from tiler.proof.report.verdict import Verdict
from tiler.proof.tolerances import FOREIGN_SCALE
from tiler.sentence import Place
from tiler.sheets.compensation import Compensation
from tiler.sheets.document import Document, Progress, draw_document, laid_out
from tiler.sheets.drawing import Drawing
from tiler.sheets.layout.choose import Plan
from tiler.sheets.layout.items import Grouped, group_items
from tiler.sheets.layout.sheet import Sheet
from tiler.usecases.files.kinds import DRAWN_AS, is_drawing, refuse_of_pages
from tiler.usecases.files.replace import Output, admitted, replacing
from tiler.usecases.job import read_job
from tiler.usecases.printers.profiles import Printer

LIGHTEST, HEAVIEST = 0.2, 1.2
"""Weights of a cut line that can be seen and that still say where to cut, mm."""


@dataclass(frozen=True)
class Wishes:
    """What the command line asks for; None leaves it to the spec.  Lengths in mm."""

    paper: str | None = None
    margin: float | None = None
    overlap: float | None = None
    cover: bool = True
    roll: float | None = None
    length: float | None = None
    """Height of the sheets of a copy shop; None on a roll."""
    line_weight: float | None = None
    sizes: str | None = None
    nest: bool = True
    colour: bool | None = None
    arrange: str | None = None
    printer: Printer | None = None
    languages: tuple[str, ...] | None = None
    accept: tuple[str, ...] = ()
    """What is drawn all the same: ties on a child's garment."""
    strict: bool = False
    """Draw nothing whose checks are not all passed."""
    host: Host = ALONE
    """Where the pages are to stand in a pattern that they join."""
    layers: LayerNames = OUR_LAYERS
    projected: Projected | None = None
    """The file is for a projector: on one sheet, in heavy lines."""


@dataclass
class Laid:
    """What is known of the same figures of a job when they are drawn on another paper.

    Sheets are known by how they are to be drawn.
    """

    sheets: dict[Drawing, Sheet] = field(default_factory=dict)
    _pieces: Sequence[Piece] = ()
    _grouped: dict[bool, Grouped] = field(default_factory=dict)

    def pieces(self, job: Job, figures: tuple[Figures, ...]) -> Sequence[Piece]:
        """Return the pieces, drawn once."""
        self._pieces = self._pieces or draw_pieces(figures, job.edition)
        return self._pieces

    def grouped(self, job: Job, figures: tuple[Figures, ...], nest: bool) -> Grouped:
        """Return the pieces, each or its sizes as one, lettered once."""
        if nest not in self._grouped:
            self._grouped[nest] = group_items(self.pieces(job, figures), nest)
        return self._grouped[nest]


@dataclass(frozen=True)
class Watch:
    """Who is told of the pages that are drawn, and of those that are measured."""

    drawing: Progress | None = None
    proving: Progress | None = None


@dataclass(frozen=True)
class Proved:
    """A file that stands in place, with its figures, its declaration and its proof."""

    figures: tuple[Figures, ...]
    declaration: Declaration
    report: Report
    plan: Plan | None = None
    """How the pages were arranged; None on one sheet."""


def drawing_of(job: Job, wishes: Wishes, figures: tuple[Figures, ...] = ()) -> Drawing:
    """Return how to draw a job of these figures; the wishes of the command line win.

    Raises :class:`SpecError` for a wish that cannot be.
    """
    paper = job.paper
    if wishes.paper is not None:
        paper = replace(paper, name=wishes.paper)
    if wishes.margin is not None:
        paper = replace(paper, margins=Margins(*[wishes.margin] * 4))
    if wishes.overlap is not None:
        paper = replace(paper, overlap=wishes.overlap)
    if wishes.arrange is not None:
        paper = replace(paper, arrange=Arrangement(wishes.arrange))
    if wishes.projected:
        if wishes.paper not in (None, ONE_SHEET):
            raise SpecError("shows all pieces on one sheet; leave --paper out", Place("--projector"))
        paper = replace(paper, name=ONE_SHEET)
    weight = wishes.line_weight or (HEAVIEST if wishes.projected else None)
    if weight is not None and not LIGHTEST <= weight <= HEAVIEST:
        raise SpecError(
            f"{weight:g} mm; take something from {LIGHTEST:g} to {HEAVIEST:g} mm, which is still a line",
            Place("--line-weight"),
        )
    if wishes.roll is not None:
        if paper.name != ONE_SHEET:
            raise SpecError(f"is for the paper one-sheet, not for {paper.name}; add --paper one-sheet", Place("--roll"))
        paper = replace(paper, roll=wishes.roll, length=wishes.length)
    made_for = compensation(wishes.printer) if wishes.printer else None
    colour = job.colour if wishes.colour is None else wishes.colour
    of = (wishes.host, wishes.layers, wishes.projected, bought(figures))
    return Drawing(paper, wishes.cover, wishes.nest, weight, made_for, colour, *of)


def compensation(printer: Printer) -> Compensation:
    """Return the factors that undo a printer's error, to 0.01 %.

    Raises :class:`SpecError` for more than a printer's own error can be, and for less
    than could be told from a plain file.
    """
    factors = [round(1 / axis.scale, 4) for axis in (printer.across, printer.down)]
    off = max(abs(factor - 1) for factor in factors)
    if off > MOST_COMPENSATED:
        raise SpecError(
            f"{printer.name} is off by {100 * off:.1f} %, more than paper and feed can do; that is a page "
            'fitted to the paper: switch "fit" off, print the first page again at 100 % and measure it',
            Place("--printer"),
        )
    if off <= FOREIGN_SCALE:
        raise SpecError(
            f"{printer.name} prints true to {100 * FOREIGN_SCALE:g} %, so there is nothing to undo; "
            "draft without --printer",
            Place("--printer"),
        )
    return Compensation(printer.name, *factors)


def draw_job(
    job: Job,
    figures: tuple[Figures, ...],
    wishes: Wishes,
    progress: Progress | None = None,
    laid: Laid | None = None,
) -> Document:
    """Draw all pieces of a job in memory; what was ``laid`` out before, of the same figures, is not again."""
    drawing = drawing_of(job, wishes, figures)
    with speaking(*job.edition.languages):
        if laid is None:
            return draw_document(draw_pieces(figures, job.edition), job.edition, drawing, progress)
        pieces, sheet = laid.pieces(job, figures), laid.sheets.get(drawing)
        grouped = None if sheet else laid.grouped(job, figures, drawing.nest)
        return draw_document(pieces, job.edition, drawing, progress, sheet, grouped)


def draw_plane(job: Job, figures: tuple[Figures, ...], wishes: Wishes) -> Document:
    """Draw all pieces of a job as SVG on one plane, in memory.

    Raises :class:`SpecError` for a wish that is about pages.
    """
    asked = {
        "--paper": wishes.paper not in (None, ONE_SHEET),
        "--margin": wishes.margin is not None,
        "--overlap": wishes.overlap is not None,
        "--arrange": wishes.arrange is not None,
        "--no-cover": not wishes.cover,
        "--printer": wishes.printer is not None,
        "--projector": wishes.projected is not None,
    }
    refuse_of_pages(asked)
    # pages need none of it
    from tiler.sheets.svg.document import draw_svg

    drawing = drawing_of(job, replace(wishes, paper=ONE_SHEET))
    with speaking(*job.edition.languages):
        return draw_svg(draw_pieces(figures, job.edition), job.edition, drawing)


def prove_plane(file: Path | bytes, document: Document) -> Report:
    """Read a drawing back and hold it against what is declared of it."""
    # what reads an SVG takes its time to load
    from tiler.proof.svg.proving import prove_svg

    return prove_svg(file, document.declaration)


def arrangement_for(
    job: Job, figures: tuple[Figures, ...], wishes: Wishes, papers: Sequence[str], laid: Laid | None = None
) -> Arrangement:
    """Return the arrangement that needs fewest pages on all of these papers together; the grid where both do.

    One that the spec or the wishes ask for stays.  What was ``laid`` out before, of the same figures, is not again.
    """
    asked = drawing_of(job, wishes).paper.arrange
    if asked != Arrangement.FEWEST:
        return asked
    with speaking(*job.edition.languages):
        laid = laid or Laid()
        drawings = [drawing_of(job, replace(wishes, paper=paper), figures) for paper in papers]
        for drawing in drawings:
            if drawing not in laid.sheets:
                laid.sheets[drawing] = laid_out(laid.grouped(job, figures, drawing.nest), job.edition, drawing)
        plans = [laid.sheets[drawing].plan for drawing in drawings]
    taken = {plan.taken for plan in plans if plan}
    if len(taken) < 2:
        return next(iter(taken), asked)
    stacked = [plan.stacked if plan and plan.stacked is not None else MOST_PAGES for plan in plans]
    grid = [plan.grid if plan and plan.grid is not None else MOST_PAGES for plan in plans]
    return Arrangement.STACKED if sum(stacked) < sum(grid) else Arrangement.GRID


def draft_file(
    spec: Path,
    target: Path,
    wishes: Wishes,
    force: bool = False,
    watch: Watch = Watch(),
    more_inputs: tuple[Path, ...] = (),
) -> Proved:
    """Draft the spec and put the file, a PDF or an SVG by its name, in place once it has passed its own proof.

    ``more_inputs``, beside the spec and its drawings, are not to be replaced.

    Raises the errors of the spec, :class:`CannotWriteError`, and
    :class:`FailedProofError` when the new file is not what it should be.
    """
    output = admitted(target, force, (spec, *more_inputs), *DRAWN_AS)
    job = read_job(spec, output.spare, wishes.languages)
    return draft_job(job, figure_job(job, wishes.sizes), output, wishes, watch)


def draft_job(job: Job, figures: tuple[Figures, ...], output: Output, wishes: Wishes, watch: Watch = Watch()) -> Proved:
    """Draw a job whose figures are known and put the file in place, as :func:`draft_file` does."""
    if wishes.strict:
        refuse_failed(figures)
    refuse_free_ends(figures, wishes.accept)
    plane = is_drawing(output.path)
    document = draw_plane(job, figures, wishes) if plane else draw_job(job, figures, wishes, watch.drawing)
    with replacing(output, document.data) as part:
        found = prove_plane(part, document) if plane else prove(part, watch.proving, as_made=True)
        report = replace(found, file=str(output.path))
        if report.verdict is not (Verdict.COMPENSATED if wishes.printer else Verdict.TRUE):
            raise FailedProofError(
                f"the new file failed its own proof and was not written to {output.path}: {report.first_failure()}"
            )
    return Proved(figures, document.declaration, report, document.plan)
