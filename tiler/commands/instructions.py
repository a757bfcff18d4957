"""``tiler instructions``: how the finishes of a spec are sewn, a page each."""

from __future__ import annotations

from pathlib import Path

import click

from tiler.paper import PAPER_WORDS, PAPERS


@click.command(epilog="Example: tiler instructions examples/saltmarsh-crew.toml -o sewing.pdf")
@click.argument("spec", type=click.Path(path_type=Path))
@click.option(
    "-o", "--output", required=True, type=click.Path(path_type=Path), metavar="FILE", help="The PDF to write."
)
@click.option("--paper", type=click.Choice(tuple(PAPERS)), help="Paper to print on; the spec's, else letter.")
@click.option("--force", is_flag=True, help="Replace the output when it is there already.")
def command(spec: Path, output: Path, paper: str | None, force: bool) -> None:
    """Write how to sew the finishes of SPEC, step by step, one page a finish.

    Each step shows the layers of cloth in section. The pages hold nothing to
    measure and may be printed at any size.
    """
    from tiler.usecases.instructions import write_instructions

    finishes, chosen = write_instructions(spec, output, paper, force)
    count = "1 page" if len(finishes) == 1 else f"{len(finishes)} pages"
    names = ", ".join(page.finish.words.partition(" (")[0] for page in finishes)
    click.echo(f"{output}: {count} of {PAPER_WORDS[chosen]}: {names}.")
