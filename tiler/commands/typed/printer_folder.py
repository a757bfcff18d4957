"""Where the files of printers lie: one folder of the user's own."""

from __future__ import annotations

import os
from pathlib import Path

import click

FOLDER = "TILER_PRINTERS"
"""Environment variable with the folder for the files of printers."""


def printer_folder() -> Path:
    """Return the folder that holds one file a printer."""
    return Path(os.environ.get(FOLDER) or Path(click.get_app_dir("tiler")) / "printers")
