"""``tiler draft``: a spec becomes a PDF or a drawing that has passed its own proof."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from dataclasses import asdict
from pathlib import Path
from typing import TYPE_CHECKING

import click

from tiler.commands.output.duration import Clock
from tiler.commands.output.progress import page_progress
from tiler.commands.output.terminal import say_json
from tiler.commands.output.wrapping import tell
from tiler.commands.typed import options
from tiler.commands.typed.completion import printer_names
from tiler.commands.typed.length import LENGTH, LENGTH_OR_ZERO
from tiler.commands.typed.printer_folder import printer_folder
from tiler.declaration import Page, PageKind
from tiler.draft.figures import Figures
from tiler.draft.judged import named, warned
from tiler.paper import PAPER_NAMES, PAPER_WORDS, Arrangement, Projected
from tiler.sentence import counted
from tiler.sheets.layout.choose import Plan
from tiler.usecases.files.kinds import is_drawing
from tiler.usecases.printers.print_error import doubts
from tiler.usecases.printers.profiles import load_printer, profile_path

if TYPE_CHECKING:
    from tiler.usecases.draft import Proved

PRINT_PAGE_1 = "Print page 1 alone at 100 % and measure its squares before you cut cloth."
CHECK_SQUARES = "Cut or print both squares first and measure them before you cut cloth."


@click.command(epilog="Example: tiler draft examples/saltmarsh-crew.toml -o crew.pdf --paper a4")
@options.spec
@options.output("FILE.pdf|.svg")
@options.paper(PAPER_NAMES)
@click.option(
    "--margin",
    type=LENGTH_OR_ZERO,
    show_default="the spec's, or 10 mm",
    help="White on all four sides of a page.",
)
@click.option(
    "--overlap",
    type=LENGTH,
    show_default="the spec's, or 10 mm",
    help="Overlap between neighbouring pages.",
)
@click.option(
    "--arrange",
    type=click.Choice([one.value for one in Arrangement]),
    show_default="the spec's, or fewest",
    help="Lay out a grid of pages, or long strips cut up and stacked side by side, or whichever takes fewest pages.",
)
@options.sizes
@options.nest
@options.colour
@options.no_cover
@options.roll
@options.line_weight
@options.projector
@click.option(
    "--printer",
    metavar="NAME",
    shell_complete=printer_names,
    help="Correct for this printer; use the file on no other. See tiler printer.",
)
@options.language
@options.accept
@options.strict
@options.as_json
@options.force
def command(
    spec: Path,
    output: Path,
    paper: str | None,
    margin: float | None,
    overlap: float | None,
    arrange: str | None,
    sizes: str | None,
    nest: bool,
    colour: bool | None,
    no_cover: bool,
    roll: float | None,
    line_weight: float | None,
    projector: Projected | None,
    printer: str | None,
    languages: tuple[str, ...] | None,
    accept: tuple[str, ...],
    strict: bool,
    as_json: bool,
    force: bool,
) -> None:
    """Draw the pieces of SPEC at true size over pages of home paper.

    The new file is measured before it is put in place: a file that is not true
    to scale is never written. Print the first page alone, at 100 %, and measure
    its squares before you print the rest.

    -o piece.svg writes a drawing for vector editors and cutting plotters:
    the pieces on one plane, in mm, a group for each of them and each size.
    """
    from tiler.usecases.draft import Watch, Wishes, draft_file

    clock = Clock()
    known = load_printer(printer_folder(), printer) if printer else None
    profile = (profile_path(printer_folder(), printer),) if printer else ()
    wishes = Wishes(
        paper=paper,
        margin=margin,
        overlap=overlap,
        cover=not no_cover,
        roll=roll,
        line_weight=line_weight,
        projected=projector,
        sizes=sizes,
        nest=nest,
        colour=colour,
        arrange=arrange,
        printer=known,
        languages=languages,
        accept=accept,
        strict=strict,
    )
    with page_progress("drawing") as drawing, page_progress("proving") as proving:
        made = draft_file(spec, output, wishes, force, Watch(drawing, proving), profile)
    if as_json:
        say_json(as_told_json(made, output))
        return
    for sentence in told(made, output, clock):
        tell(sentence)
    if known:
        for warning in doubts(known):
            tell(warning, err=True)
    tell_although(made.figures)
    for warning, pieces in warned(made.figures).items():
        tell(f"{named(pieces)}: {warning}", err=True)
    if sys.stdout.isatty():
        tell(before_cutting(output))


def before_cutting(output: Path) -> str:
    """Say what to measure first of a file."""
    return CHECK_SQUARES if is_drawing(output) else PRINT_PAGE_1


def as_told_json(made: Proved, output: Path) -> str:
    """Return what was drawn as JSON: figures, pages and proof."""
    return json.dumps(
        {
            "file": str(output),
            "title": made.declaration.title,
            "paper": made.declaration.paper,
            **({"printer": made.declaration.printer} if made.declaration.printer else {}),
            "pages": made.declaration.pages[-1].number,
            "arrangement": asdict(made.plan) if made.plan else None,
            "pieces": [one.to_json() for one in made.figures],
            "proof": made.report.to_json(),
        },
        indent=2,
    )


def told(made: Proved, output: Path, clock: Clock) -> list[str]:
    """Return what was drawn, how long it took, and how its pages are arranged."""
    pages = made.declaration.pages
    if is_drawing(output):
        across, down = made.declaration.page_width_mm, made.declaration.page_height_mm
        return [f"{output}: a drawing of {across:g} × {down:g} mm, proved true to scale in {clock}."]
    only = f" on the printer {made.declaration.printer} only" if made.declaration.printer else ""
    line = (
        f"{output}: {counted(pages[-1].number, 'page')} of {PAPER_WORDS[made.declaration.paper]} ({_shown(pages)}), "
        f"proved true to scale{only} in {clock}."
    )
    return [line, *([_planned(made.plan)] if made.plan and _choice(made.plan) else [])]


def tell_although(figures: Sequence[Figures]) -> None:
    """Say which pieces are drawn although they do not pass a check."""
    failing: dict[str, list[Figures]] = {}
    for one in figures:
        if one.failed:
            failing.setdefault(", ".join(failed.short for failed in one.failed), []).append(one)
    for short, pieces in failing.items():
        tell(f"{named(pieces)}: drawn although {short}.", err=True)


def _shown(pages: Sequence[Page]) -> str:
    cover = "a first page and " if pages[0].kind is PageKind.COVER else ""
    notes = sum(page.kind is PageKind.NOTES for page in pages)
    cover = f"a first page, {counted(notes, 'page')} of notes and " if notes else cover
    codes = [page.code or "" for page in pages if page.kind not in (PageKind.COVER, PageKind.NOTES)]
    what = "pane" if pages[-1].kind is PageKind.PANE else "page"
    if len(codes) == 1:
        return f"{cover}{what} {codes[0]}"
    if len(codes) <= 8:
        return f"{cover}{what}s {', '.join(codes)}"
    return f"{cover}{what}s {codes[0]} to {codes[-1]}"


def _choice(plan: Plan) -> bool:
    """Tell whether there is anything to choose: a single page is a single page."""
    return any(count != 1 for count in (plan.grid, plan.stacked) if count is not None)


def _planned(plan: Plan) -> str:
    """Return how the pages are arranged, and what the other way would need."""
    ways = [("in a grid", plan.grid), ("with the strips cut up", plan.stacked)]
    if plan.taken == Arrangement.STACKED:
        ways.reverse()
    first, *others = [f"{counted(count, 'page')} {words}" for words, count in ways if count is not None]
    more = f", {others[0]}" if others else ""
    return f"Arranged on {first}{more}."
