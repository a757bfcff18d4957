"""``tiler bundle``: a whole pattern release, each file proved."""

from __future__ import annotations

import json
from dataclasses import asdict
from pathlib import Path

import click

from tiler.commands.output.duration import Clock
from tiler.commands.output.progress import page_progress
from tiler.commands.output.terminal import say_json
from tiler.commands.output.wrapping import tell
from tiler.commands.typed import options
from tiler.paper import PAPER_WORDS, Projected
from tiler.sentence import counted


@click.command(epilog="Example: tiler bundle examples/saltmarsh-sizes.toml -o release --sizes S,M")
@click.argument("spec", type=options.FILE, required=False)
@options.output("FOLDER", "folder")
@click.option(
    "--with",
    "bases",
    multiple=True,
    type=options.FILE,
    metavar="BASE.pdf[@PAGE]",
    help="Join the pieces to this pattern PDF, after PAGE; one for each paper, home or copy shop.",
)
@options.count(
    "--after", 0, "PAGE", "Place them after this page of every base without one of its own.", show_default="its last"
)
@options.nest
@options.colour
@options.roll
@options.sizes
@options.language
@options.accept
@click.option("--own-layers", is_flag=True, help="Keep our sizes on layers apart from those of the base.")
@options.projector
@click.option("--svg", is_flag=True, help="Add a drawing for vector editors and cutting plotters, as tiler draft does.")
@click.option("--mend", "only_mend", is_flag=True, help="Set right what a killed run left in FOLDER; needs no SPEC.")
@options.as_json
@options.force
def command(
    spec: Path | None,
    output: Path,
    bases: tuple[Path, ...],
    after: int | None,
    nest: bool,
    colour: bool | None,
    roll: float | None,
    sizes: str | None,
    languages: tuple[str, ...] | None,
    accept: tuple[str, ...],
    own_layers: bool,
    projector: Projected | None,
    svg: bool,
    only_mend: bool,
    as_json: bool,
    force: bool,
) -> None:
    """Write a pattern release of SPEC into a folder.

    For letter, A4 and one sheet: all sizes in one file with a layer for each,
    and a file for each size; cutting chart, instructions, a list of all files,
    and everything in one zip. Each file is proved first, and a second run gives the
    same bytes. An interrupted run leaves an earlier release as it was, and --force
    replaces nothing but the files of one, unchanged. What is doubtful about the pieces
    is told; a check that is not passed, or a size out of line, stops before drawing.
    """
    from tiler.usecases.bundle.mend import mend

    if spec is None and not only_mend:
        context = click.get_current_context()
        raise click.MissingParameter(ctx=context, param=context.command.params[0])
    mended = mend(output)
    if spec is None or only_mend:
        if as_json:
            say_json(json.dumps({"folder": str(output), "mended": mended}, indent=2))
        for words in () if as_json else mended or (f"{output}: nothing to mend",):
            tell(words)
        return
    for words in mended:
        _say(words)

    from tiler.proof.report.verdict import Verdict
    from tiler.usecases.bundle.make import Release, make, plan

    clock = Clock()
    asked = Release(
        spec, output, bases, after, nest, colour, roll, sizes, accept, own_layers, projector, languages, svg
    )
    with plan(asked, force, lambda about, doubt: _say(f"{about}: {doubt}")) as planned:
        for paper, base in planned.bases.items():
            place = f"follow page {base.forecast.after}" if base.forecast.after else "come first"
            _say(f"{base.path}: {planned.words(paper)}; our pages {place}")
            for line in base.forecast.told:
                _say(f"  {line}")
            for doubt in base.doubts:
                _say(f"  {doubt}")
        if planned.alone:
            papers = " and ".join(PAPER_WORDS[paper] for paper in planned.alone)
            _say(f"No base for {papers}: these files hold our pages alone.")
        with page_progress("bundling") as progress:
            records = make(planned, progress)
    if as_json:
        told = [{"about": about, "text": doubt} for about, doubt in planned.doubts]
        files = [asdict(one) for one in records]
        say_json(json.dumps({"folder": str(output), "doubts": told, "files": files}, indent=2))
        return
    proved = [one for one in records if one.pages]
    pages = sum(one.pages or 0 for one in proved)
    drawing = "a drawing, " if svg else ""
    what = f"{len(proved)} PDFs with {pages} pages, {drawing}each proved true to scale, chart, instructions, zip"
    tell(f"{output}: {what}; made in {clock}.")
    doubted = [one for one in proved if one.verdict != Verdict.TRUE]
    if doubted:
        doubtful = " and ".join(dict.fromkeys(one.base for one in doubted if one.base))
        tell(f"Of files joined to {doubtful} that holds for our pages alone; see what is said of the pattern itself.")
    for one in records:
        count = f", {counted(one.pages, 'page')}" if one.pages else ""
        tell(f"  {one.name}{count}{f', joined to {one.base}' if one.base else ''}")


def _say(words: str) -> None:
    tell(words, err=True)
