"""``tiler instructions``: how the finishes of a spec are sewn, a page each."""

from __future__ import annotations

from pathlib import Path

import click

from tiler.commands.output.wrapping import tell
from tiler.commands.typed import options
from tiler.paper import PAPER_WORDS, PAPERS
from tiler.sentence import counted


@click.command(epilog="Example: tiler instructions examples/saltmarsh-crew.toml -o sewing.pdf")
@options.spec
@options.output("FILE.pdf")
@options.paper(tuple(PAPERS))
@options.language
@options.force
def command(spec: Path, output: Path, paper: str | None, languages: tuple[str, ...] | None, force: bool) -> None:
    """Write how to sew the finishes of SPEC, for each finish and way of its ends:
    the garment first, all strips in all sizes, then step by step.

    Each step shows the layers of cloth in section. The pages hold nothing to
    measure and may be printed at any size. In two languages all of them come in
    the first, then all again in the second.
    """
    from tiler.usecases.instructions import write_instructions

    finishes, chosen, pages = write_instructions(spec, output, paper, force, languages)
    names = ", ".join(page.words.partition(" (")[0] + (f" ({page.ends})" if page.ends else "") for page in finishes)
    tell(f"{output}: {counted(pages, 'page')} of {PAPER_WORDS[chosen]}: {names}.")
