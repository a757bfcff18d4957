"""The console entry: ``tiler`` and ``python -m tiler``."""

from __future__ import annotations

import gc
import os
import signal
import sys
from typing import NoReturn

from tiler.usecases.files.ending import listen

# Objects made before the collector looks for those that hold each other: a short run has made most of its own by then.
FEW = 50_000


def console() -> NoReturn:
    """Run the command line as a process of its own, which ends at once with its exit code.

    Nothing is left to be let go of then: files are closed and processes ended where they were begun.
    """
    gc.set_threshold(FEW, 50, 50)
    try:
        main()
    except SystemExit as end:
        try:
            for stream in (sys.stdout, sys.stderr):
                if stream is not None:
                    stream.flush()
        except (OSError, ValueError):
            # what takes nothing more is the interpreter's to speak of
            raise end from None
        os._exit(int(end.code or 0))
    raise AssertionError("the command line always leaves with a code")


def main() -> None:
    """Run the command line and leave with its exit code."""
    # A polite request to end tidies up as Ctrl-C does: a half-written file does not stay behind.
    listen()
    if not os.environ.get("TILER_DEBUG"):
        # what is raised while an object is let go of reaches nobody; a request to end is noted all the same
        sys.unraisablehook = lambda _: None
    try:
        from tiler.commands import run

        code = run(sys.argv[1:])
        _settle()
    except KeyboardInterrupt:
        _settle()
        code = 130
    sys.exit(code)


def _settle() -> None:
    """Take no more requests to end: what was asked for is done, and the interpreter is on its way out."""
    for number in (signal.SIGTERM, signal.SIGINT):
        # not ignored by the system, which would hand that on to whatever is started
        signal.signal(number, lambda *_: None)


if __name__ == "__main__":
    console()
