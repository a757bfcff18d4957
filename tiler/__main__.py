"""The console entry: ``tiler`` and ``python -m tiler``."""

from __future__ import annotations

import os
import signal
import sys

from tiler.usecases.files.ending import listen


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
    main()
