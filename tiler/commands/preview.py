"""``tiler preview``: pictures of the pages and of the pages put together."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

import click

from tiler.commands.output.progress import page_progress
from tiler.commands.output.wrapping import tell
from tiler.commands.typed import options
from tiler.errors import CannotWriteError
from tiler.sentence import counted
from tiler.usecases.files.replace import admitted, put
from tiler.usecases.preview.apart import pictures_apart

ASSEMBLED = "assembled.png"


@click.command(epilog="Example: tiler preview crew.pdf -o pictures")
@click.argument("pdf", type=options.FILE)
@options.output("FOLDER", "folder")
@options.limits
@options.force
def command(pdf: Path, output: Path, time_limit: int, memory_limit: int, force: bool) -> None:
    """Make a PNG of every page of PDF, and one of the pages put together.

    assembled.png is made of the file's own pages, laid where their register
    marks meet. A file without pages to put together has none.
    """
    with (
        pictures_apart(pdf, time_limit, memory_limit * options.MB) as pictures,
        page_progress("drawing") as progress,
    ):
        folder = _folder(output)
        digits = max(2, len(str(pictures.page_count)))
        names = [f"page-{number:0{digits}}.png" for number in range(1, pictures.page_count + 1)]
        every = (*names, *([ASSEMBLED] if pictures.tile_count else []))
        outputs = [admitted(folder / name, force, (pdf,)) for name in every]
        for number, (output_file, picture) in enumerate(zip(outputs, pictures.pages(), strict=False), 1):
            put(output_file, picture)
            if progress:
                progress(number, pictures.page_count)
        if pictures.tile_count:
            put(outputs[-1], pictures.assembled())
        count = pictures.tile_count
        what = "pane" if pictures.of_panes else "page"
        whole = f", and {ASSEMBLED} of {counted(count, what)}" if count else "; there are no pages to put together"
    tell(f"{output}: {_shown(names)}{whole}.")
    if others := _others(folder, every):
        tell(f"{output} also holds {', '.join(others)} of another file.", err=True)


def _shown(names: Sequence[str]) -> str:
    """Name the first and the last of some pictures."""
    return names[0] if len(names) == 1 else f"{names[0]} to {names[-1]}"


def _others(folder: Path, every: Sequence[str]) -> list[str]:
    """Name the pictures that an earlier preview left in the folder, the first to the last page of them."""
    found = sorted(path.name for path in folder.glob("page-*.png") if re.fullmatch(r"page-\d{2,}\.png", path.name))
    pages = [name for name in found if name not in every]
    whole = [ASSEMBLED] if ASSEMBLED not in every and (folder / ASSEMBLED).exists() else []
    return [*([_shown(pages)] if pages else []), *whole]


def _folder(path: Path) -> Path:
    try:
        path.mkdir(parents=True, exist_ok=True)
    except FileExistsError:
        raise CannotWriteError(f"{path} is a file; name a folder") from None
    except OSError as fault:
        raise CannotWriteError(f"cannot make the folder {path}: {fault.strerror}") from fault
    return path
