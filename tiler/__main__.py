"""The console entry: ``tiler`` and ``python -m tiler``."""

from __future__ import annotations

import signal
import sys
from types import FrameType


def main() -> None:
    """Run the command line and leave with its exit code."""
    # A polite request to end tidies up as Ctrl-C does: a half-written file does not stay behind.
    signal.signal(signal.SIGTERM, _end)
    try:
        from tiler.commands import run

        code = run(sys.argv[1:])
    except KeyboardInterrupt:
        code = 130
    sys.exit(code)


def _end(_number: int, _frame: FrameType | None) -> None:
    raise KeyboardInterrupt


if __name__ == "__main__":
    main()
