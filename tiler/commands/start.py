"""``tiler start``: one piece from questions in plain words, for whoever has a tape measure and no spec yet."""

from __future__ import annotations

import shlex
from collections.abc import Callable
from pathlib import Path

import click

from tiler.commands.interview.answers import kept_beside, load_answers, remove_answers, save_answers
from tiler.commands.interview.asking import BACK, GO_ON, NO, YES, QuitError, introduce
from tiler.commands.interview.dialogue import Conversation, answered, confirmed, taken_up
from tiler.commands.interview.path import path
from tiler.commands.interview.piece import StartedPiece, started_piece
from tiler.commands.interview.question import Answers
from tiler.commands.one_piece.draft import draw, heading, print_chart, refuse_same, said_in
from tiler.commands.one_piece.table import comments_of
from tiler.commands.output.terminal import say
from tiler.commands.typed import options
from tiler.draft.spec.write import spec_text
from tiler.errors import ExitCode, TilerError
from tiler.usecases.files.replace import Output, admitted, put, replacing


@click.command(epilog="Example: tiler start -o neckband.pdf")
@click.option(
    "-o",
    "--output",
    type=options.FILE,
    default=Path("strip.pdf"),
    metavar="FILE.pdf",
    help="Write to this file.",
)
@click.option(
    "--spec",
    type=options.FILE,
    metavar="FILE",
    help="Write the spec to this file.",
    show_default="beside the PDF, as .toml",
)
@click.option("--answers", type=options.FILE, metavar="FILE", help="Take the answers from this file; ask nothing.")
@options.force
def command(output: Path, spec: Path | None, answers: Path | None, force: bool) -> int:
    """Draft one band or binding by answering a few questions: the place to begin.

    Shows the numbers to cut by before anything is drawn, then writes the PDF and
    the spec that says the same. Every answer is kept at once: after Ctrl-C the
    next tiler start goes on from there. A file of answers has a line for each,
    such as front-half = "18 cm"; a missing one gets its usual value.
    """
    target = output.with_suffix(".toml") if spec is None else spec
    kept = kept_beside(target)
    inputs = (kept if answers is None else answers,)
    pdf, saved = admitted(output, force, inputs, ".pdf"), admitted(target, force, inputs)
    refuse_same(output, target)
    if answers is not None:
        piece = _from_file(answers)
        print_chart(piece.job, piece.figures)
        _write(piece, pdf, saved)
        return ExitCode.OK
    again = _call(output, spec, force)
    try:
        drawn = _talk(kept, lambda piece: _write(piece, pdf, saved))
    except (KeyboardInterrupt, EOFError, QuitError):
        # all three leave nothing drawn, so that what a script does next must not follow
        say(err=True)
        _tell_kept(kept, again, "Stopped. ")
        return ExitCode.INTERRUPTED
    except TilerError:
        _tell_kept(kept, again)
        raise
    if drawn:
        remove_answers(kept)
    else:
        _tell_kept(kept, again, "Nothing was drawn. ")
    return ExitCode.OK


def _talk(kept: Path, write: Callable[[StartedPiece], None]) -> bool:
    """Ask, show the figures, and write when told to; tells whether it was written."""
    introduce()
    earlier = _kept_answers(kept)
    talk = Conversation(taken_up(earlier), earlier, lambda given: save_answers(kept, given))
    while True:
        talk.interview()
        piece = started_piece(talk.answers)
        say(err=True)
        print_chart(piece.job, piece.figures)
        reply = talk.confirm()
        if reply == YES:
            write(piece)
            return True
        if reply == NO:
            return False


def _kept_answers(kept: Path) -> dict[str, str]:
    """Return the answers of another time, where they are there and wanted."""
    if not kept.exists():
        return {}
    found = load_answers(kept)
    count = "1 answer is" if len(found) == 1 else f"{len(found)} answers are"
    say(err=True)
    say(f"{count} kept in {kept} from another time:", err=True)
    for key, answer in found.items():
        say(f"  {key:<18} {answer}", err=True)
    while (reply := confirmed(GO_ON)) == BACK:
        say("  There is no question before this one.", err=True)
    return found if reply == YES else {}


def _from_file(file: Path) -> StartedPiece:
    given = load_answers(file)
    answers = answered(given, file.name)
    _tell_unasked(given, answers, file)
    return started_piece(answers)


def _tell_unasked(given: Answers, answers: Answers, file: Path) -> None:
    """Name the answers to questions that do not arise after the others."""
    asked = {question.key for question in path(answers)}
    unasked = [key for key in given if key not in asked]
    if unasked:
        say(f"{file.name}: not asked after the other answers, so left out: {', '.join(unasked)}.", err=True)


def _write(piece: StartedPiece, pdf: Output, saved: Output) -> None:
    """Write PDF and spec: the spec stands ready before the PDF is in place."""
    above = heading(saved.path, pdf.path, piece.finish)
    text = spec_text(piece.tables, comments_of(piece.options, piece.names, piece.finish), above)
    if piece.finish.is_bought:
        put(saved, text.encode("utf-8"))
        say(f"{saved.path}: the spec. Only a length is cut, so there is no piece to draw; tiler chart prints it.")
        return
    with replacing(saved, text.encode("utf-8")), said_in(piece.words):
        draw(piece.job, piece.figures, pdf, _AS_USUAL)
    say(f"{saved.path}: the spec of this piece, to change later and draft again.")


_AS_USUAL = {"no_cover": False, "roll": None, "line_weight": None, "as_json": False}


def _tell_kept(kept: Path, again: str, before: str = "") -> None:
    """Say where the answers are and how to go on."""
    if kept.is_file():
        say(f"{before}Your answers are kept in {kept}.", err=True)
        say(f"Go on with: {again}", err=True)
    elif before:
        say(f"{before}There were no answers yet.", err=True)


def _call(output: Path, spec: Path | None, force: bool) -> str:
    """Return the line that goes on from the kept answers."""
    words = ["tiler", "start", "-o", str(output), *([] if spec is None else ["--spec", str(spec)])]
    return shlex.join([*words, *(["--force"] if force else [])])
