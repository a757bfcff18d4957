"""Tasks for other processes, which import what is named here: no more than they need."""

from __future__ import annotations

import os
import signal
import time
from pathlib import Path


def times(task: int, factor: int, offset: int) -> tuple[int, int]:
    return task * factor + offset, os.getpid()


def refusing(task: int, refused: int) -> int:
    if task == refused:
        raise ValueError(f"no {task}")
    return task


def marking(task: int, folder: Path) -> int:
    """Leave a file for each task that was begun; all but the first take long."""
    (folder / str(task)).touch()
    time.sleep(60 if task else 0)
    return task


def ignores_interrupts(task: int, _folder: Path) -> bool:
    return signal.getsignal(signal.SIGINT) is signal.SIG_IGN
