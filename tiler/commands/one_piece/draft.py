"""What ``tiler band`` and ``tiler binding`` do: options become the tables of a spec, and the spec is drafted.

The reader of specs judges the options, so that every check is the same; its messages
are put into the words of the options.
"""

from __future__ import annotations

import os
import shlex
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tiler.commands.draft import as_told_json, before_cutting, tell_although, told
from tiler.commands.one_piece.options import options_of
from tiler.commands.one_piece.table import comments_of, fabric_names, piece_tables
from tiler.commands.one_piece.words import OPTIONS, OptionWords
from tiler.commands.output.cutting_chart import chart
from tiler.commands.output.duration import Clock
from tiler.commands.output.progress import page_progress
from tiler.commands.output.terminal import say, say_json
from tiler.commands.output.wrapping import tell
from tiler.commands.typed import options
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.judged import refuse_failed
from tiler.draft.spec.read import Job, read_tables
from tiler.draft.strip.finish import Finish
from tiler.errors import CannotWriteError, SpecError
from tiler.usecases.files.kinds import DRAWN_AS, is_drawing, refuse_of_pages
from tiler.usecases.files.replace import Output, admitted, put, same_place

if TYPE_CHECKING:
    from tiler.usecases.draft import Wishes

_FILE_OPTIONS = (
    options.no_cover,
    options.roll,
    options.line_weight,
    click.option(
        "-o",
        "--output",
        type=options.FILE,
        metavar="FILE.pdf|.svg",
        help="Write to this file.",
        show_default="none, only the figures are printed",
    ),
    click.option(
        "--save-spec", type=options.FILE, metavar="FILE", help="Write the spec that says the same to this file."
    ),
    options.strict,
    options.as_json,
    options.force,
)


def file_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Put the options of what comes out below a command."""
    for option in reversed(_FILE_OPTIONS):
        command = option(command)
    return command


def draft_piece(finish: Finish, given: dict[str, Any]) -> None:
    """Print the figures of the piece that the options state, and write what was asked for.

    Raises :class:`SpecError` in the words of the options, and what drafting raises.
    """
    output, saved, force = given["output"], given["save_spec"], given["force"]
    pdf = None if output is None else admitted(output, force, (), *DRAWN_AS)
    spec = None if saved is None else admitted(saved, force)
    if pdf is not None and spec is not None:
        refuse_same(pdf.path, spec.path)
    if pdf is not None and is_drawing(pdf.path):
        refuse_of_pages({f"--{option}": given[option] is not None for option in ("paper", "margin", "overlap")})
    every = [option for group in options_of(finish.is_band).values() for option in group]
    names = fabric_names(given)
    words = OptionWords(every, names, click.get_current_context().meta["typed"])
    with said_in(words):
        tables = piece_tables(every, given, finish)
        job = read_tables(tables, OPTIONS)
        pieces = tuple(words.figures(piece) for piece in figure_job(job))
    if not given["as_json"]:
        print_chart(job, pieces)
    if given["strict"]:
        refuse_failed(pieces)
    if output is None and given["as_json"]:
        _print_json(job, pieces)
    if pdf is not None:
        with said_in(words):
            draw(job, pieces, pdf, given)
    if spec is not None:
        from tiler.draft.spec.write import spec_text

        text = spec_text(
            tables, comments_of(every, names, finish), heading(spec.path, output, finish, _more_words(given))
        )
        put(spec, text.encode("utf-8"))
        if not given["as_json"]:
            say(f"{saved}: the spec of this piece, for tiler draft.")


def refuse_same(output: Path, saved: Path) -> None:
    """Raise :class:`CannotWriteError` when PDF and spec would be one file."""
    if same_place(output, saved):
        raise CannotWriteError(f"{saved} cannot be both the PDF and the spec; name two files")


@contextmanager
def said_in(words: OptionWords) -> Iterator[None]:
    """Put what the reader of specs raises into the words of what was given."""
    try:
        yield
    except SpecError as fault:
        raise words.fault(fault) from fault


def print_chart(job: Job, pieces: Sequence[Figures]) -> None:
    """Print the numbers to cut by."""
    for line in chart(job, pieces):
        say(line.text, bold=line.is_heading)


def _print_json(job: Job, pieces: Sequence[Figures]) -> None:
    import json

    say_json(json.dumps({"title": job.edition.title, "pieces": [piece.to_json() for piece in pieces]}, indent=2))


def _wishes(given: dict[str, Any]) -> Wishes:
    from tiler.usecases.draft import Wishes

    return Wishes(cover=not given["no_cover"], roll=given["roll"], line_weight=given["line_weight"])


def draw(job: Job, pieces: tuple[Figures, ...], output: Output, given: dict[str, Any]) -> None:
    """Draw and prove the file, and say so; ``given`` holds the options of :func:`file_options`."""
    from tiler.usecases.draft import Watch, draft_job

    clock = Clock()
    with page_progress("drawing") as drawing, page_progress("proving") as proving:
        made = draft_job(job, pieces, output, _wishes(given), Watch(drawing, proving))
    if given["as_json"]:
        say_json(as_told_json(made, output.path))
        return
    say()
    for sentence in told(made, output.path, clock):
        tell(sentence)
    tell_although(made.figures)
    if sys.stdout.isatty():
        say(before_cutting(output.path))


def heading(saved: Path, output: Path | None, finish: Finish, more: str = "") -> str:
    """Say above a spec how it is drafted from its folder; a name that does not print is not repeated."""
    pdf = Path("piece.pdf") if output is None else Path(os.path.relpath(output, saved.parent))
    names = [
        shlex.quote(f"./{name}" if name.startswith("-") else name) if name.isprintable() else usual
        for name, usual in ((saved.name, "spec.toml"), (str(pdf), "piece.pdf"))
    ]
    if finish.is_bought:
        return f"How long it is cut: tiler figures {names[0]}"
    # the PDF that was written with the spec is there already
    return f"Draft it: tiler draft {' -o '.join(names)}{more}{'' if output is None else ' --force'}"


def _more_words(given: dict[str, Any]) -> str:
    """Return the options of the page, as typed behind the names."""
    more = " --no-cover" if given["no_cover"] else ""
    return more + "".join(
        f' --{option.replace("_", "-")} "{given[option]:.10g} mm"'
        for option in ("roll", "line_weight")
        if given[option] is not None
    )
