"""The console entry: ``tiler`` and ``python -m tiler``."""

from __future__ import annotations

import sys

from tiler.usecases.files.ending import listen


def main() -> None:
    """Run the command line and leave with its exit code."""
    # A polite request to end tidies up as Ctrl-C does: a half-written file does not stay behind.
    listen()
    try:
        from tiler.commands import run

        code = run(sys.argv[1:])
    except KeyboardInterrupt:
        code = 130
    sys.exit(code)


if __name__ == "__main__":
    main()
