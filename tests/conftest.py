"""What holds for every test."""

from __future__ import annotations

import os
import signal
import sys

# Tests start the command line many times; without its bytecode each start would compile the package anew.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# A shell lets what it starts in the background ignore Ctrl-C, and the commands that tests start would inherit that.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)
