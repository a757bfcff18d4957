"""Standard output and error: the one place through which every line goes to them.

Signs that steer a terminal, or turn the direction in which it writes, are shown and never
sent: names of files, words of a PDF, keys of a spec may hold them.  Signs that the
encoding lacks are written plainly; a closed or full pipe is an exit code.
"""

from __future__ import annotations

import codecs
import contextlib
import io
import json
import os
import shutil
import sys
import unicodedata

import click

from tiler.errors import CannotWriteError, ExitCode
from tiler.files import visible

NARROWEST, WIDEST = 60, 100
"""Bounds of a table, characters: a narrower one cannot be read, a wider one need not be."""

_PLAIN = {"−": "-", "–": "-", "—": "-", "→": ">", "×": "x", "″": '"', "′": "'"}


def prepare_output() -> None:
    """Let both streams write ``3/8`` where their encoding has no sign for it, and never fail on a letter.

    Where a stream was closed before the program began there is one from now on: writing to
    standard output fails, what goes to standard error is lost, and there is nothing to read.
    """
    for name, flags in (("stdin", os.O_RDONLY), ("stdout", os.O_RDONLY), ("stderr", os.O_WRONLY)):
        if getattr(sys, name) is None:
            # the lowest number that is free is that of the closed stream, and no file takes its place
            number = os.open(os.devnull, flags)
            os.set_inheritable(number, True)
            mode = "r" if name == "stdin" else "w"
            setattr(sys, name, os.fdopen(number, mode, encoding="utf-8", closefd=False))
    codecs.register_error("tiler-plain", _plain)
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="tiler-plain")


def say(line: str = "", *, err: bool = False, bold: bool = False, end: str = "\n") -> None:
    """Write one line; a line end within it is shown as any other control sign.

    Raises :class:`CannotWriteError` when standard output takes no more; what standard error
    does not take is lost, since there is nowhere else to say it.
    """
    shown = visible(line)
    _write((click.style(shown, bold=True) if bold else shown) + end, err)


def say_json(text: str) -> None:
    """Write JSON, whose strings may hold control and direction signs: as escapes, which mean the same."""
    shown = (sign if sign == "\n" or visible(sign) == sign else json.dumps(sign)[1:-1] for sign in text)
    _write("".join(shown) + "\n", err=False)


def _write(text: str, err: bool) -> None:
    try:
        click.echo(text, nl=False, err=err)
    except OSError as fault:
        if err:
            return
        if isinstance(fault, BrokenPipeError):
            raise
        why = f"cannot write the output: {fault.strerror}; free some space, or write elsewhere"
        raise CannotWriteError(why) from fault


def table_width() -> int:
    """Return how many characters a table may be wide: those of the terminal within reason, 80 in a file or a pipe."""
    if not sys.stdout.isatty():
        return 80
    return min(max(shutil.get_terminal_size().columns, NARROWEST), WIDEST)


def close_output(code: int) -> int:
    """Flush, and return the exit code: a reader of the output that has gone or a full disk turns it to 7."""
    for stream in (sys.stdout, sys.stderr):
        try:
            stream.flush()
        except (OSError, ValueError) as fault:
            if code == ExitCode.OK and not isinstance(fault, BrokenPipeError) and stream is sys.stdout:
                with contextlib.suppress(OSError, ValueError):
                    say(f"tiler: cannot write the output: {getattr(fault, 'strerror', fault)}", err=True)
            # the interpreter flushes once more on its way out, and would fail again
            with contextlib.suppress(OSError, ValueError):
                os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
            if stream is sys.stdout:
                code = ExitCode.CANNOT_WRITE
    return code


def _plain(fault: UnicodeError) -> tuple[str, int]:
    if not isinstance(fault, UnicodeEncodeError):
        raise fault
    written = ""
    for sign in fault.object[fault.start : fault.end]:
        if unicodedata.decomposition(sign).startswith("<fraction>"):
            written += " " + unicodedata.normalize("NFKC", sign).replace("⁄", "/")
        else:
            written += _PLAIN.get(sign, "?")
    return written, fault.end
