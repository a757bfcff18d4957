"""What holds for every test."""

from __future__ import annotations

import os
import sys

# Tests start the command line many times; without its bytecode each start would compile the package anew.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False
