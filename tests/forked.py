"""Processes that are forked from the one that runs the tests: the libraries and engines are loaded already.

Starting one anew takes most of the time of a small file. All else is as it is: the pipes,
the bounds of memory and time, the signals, and that whatever becomes of it harms nobody.
That they can be started anew is shown by the tests that start the command line as a whole.
"""

from __future__ import annotations

import faulthandler
import gc
import os
import signal
import subprocess
import sys
from collections.abc import Callable, Mapping, Sequence
from importlib import import_module
from types import ModuleType
from typing import Any

from tiler.__main__ import main
from tiler.usecases.processes import apart, witness

IGNORED = [getattr(signal, name) for name in ("SIGPIPE", "SIGXFZ", "SIGXFSZ") if hasattr(signal, name)]


def command(
    *words: object, environment: Mapping[str, str] | None = None, closed: Sequence[int] = (), **options: Any
) -> subprocess.Popen[Any]:
    """Start the command line as a process of its own, some of its streams closed.

    ``environment`` is added to that of the tests.  An interpreter that finds a stream closed has None in its place.
    """

    def begin() -> None:
        for number, (name, mode) in enumerate((("stdin", "r"), ("stdout", "w"), ("stderr", "w"))):
            if number in closed:
                os.close(number)
            setattr(sys, name, None if number in closed else open(number, mode, closefd=False))  # noqa: SIM115
        os.environ.update(environment or {})
        sys.argv = ["tiler", *map(str, words)]
        try:
            main()
        except SystemExit as end:
            sys.stdout.flush()
            os._exit(int(end.code or 0))

    return _forked(words, begin, options)


def _forked(words: Sequence[object], work: Callable[[], None], options: Mapping[str, Any]) -> subprocess.Popen[Any]:
    """Start a process that does some work, which ends it, in the place of a command."""

    def begin() -> None:
        try:
            # what the tests have open is not for it; the library waits for the end of one of these
            os.closerange(3, os.sysconf("SC_OPEN_MAX"))
            faulthandler.disable()
            for number in IGNORED:
                # restored for a program by what starts it, and ignored by every interpreter that starts
                signal.signal(number, signal.SIG_IGN)
            gc.enable()
            work()
        finally:
            os._exit(1)

    return subprocess.Popen([*map(str, words)], preexec_fn=begin, **options)  # noqa: PLW1509


class Processes(ModuleType):
    """The library's ``subprocess``, in which the command of the witness starts no interpreter."""

    def __getattr__(self, name: str) -> Any:
        return getattr(subprocess, name)

    def Popen(self, command: Sequence[str], **options: Any) -> subprocess.Popen[bytes]:  # noqa: N802
        """Fork the witness, which does its work in the place of the command."""
        *_, module, work, memory = command
        assert module == apart.WITNESS
        import_module(work)

        def answer() -> None:
            witness.main(work, int(memory))
            os._exit(0)

        return _forked(command, answer, options)
