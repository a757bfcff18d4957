"""Bounds for reading files of strangers: a small PDF can unfold into gigabytes or hours.

The bounds on time and memory hold for the whole process, so only a command that reads
one file and ends sets them, or a process that was started for it.  Where the system has
no such bounds there are none.
"""

from __future__ import annotations

import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import FrameType

from tiler.errors import UnreadableError

MOST_MEMORY = 1536 * 2**20
"""How much memory may be taken beyond what is in use, bytes."""

MOST_OBJECTS = 100_000
"""How many strokes, characters, pictures and forms a page may paint."""

MOST_SECONDS = 600
"""How long one file may take."""


class OutOfTimeError(UnreadableError):
    """The file takes longer than any honest one."""


class OutOfMemoryError(UnreadableError):
    """The file unfolds into more than there is room for."""


class TooManyObjectsError(UnreadableError):
    """A page paints more than any honest one."""


@contextmanager
def bounded(seconds: int = MOST_SECONDS, memory: int = MOST_MEMORY) -> Iterator[None]:
    """Bound time and memory inside the block; raises :class:`UnreadableError` when one is used up."""
    with _time(seconds), bounded_memory(memory):
        try:
            yield
        except MemoryError as fault:
            raise OutOfMemoryError("the file needs more memory than it may take; it cannot be read") from fault


@contextmanager
def _time(seconds: int) -> Iterator[None]:
    if not hasattr(signal, "SIGALRM") or threading.current_thread() is not threading.main_thread():
        yield
        return

    def stop(_number: int, _frame: FrameType | None) -> None:
        raise OutOfTimeError(f"the file takes more than {seconds} seconds to read; it was given up")

    before = signal.signal(signal.SIGALRM, stop)
    signal.alarm(seconds)
    try:
        yield
    finally:
        signal.alarm(0)
        signal.signal(signal.SIGALRM, before)


@contextmanager
def bounded_memory(most: int) -> Iterator[None]:
    """Bound the memory inside the block, bytes beyond what is in use; what asks for more gets a ``MemoryError``."""
    statistics = Path("/proc/self/statm")
    if not statistics.exists():
        yield
        return
    import resource

    in_use = int(statistics.read_text().split()[0]) * resource.getpagesize()
    soft, hard = resource.getrlimit(resource.RLIMIT_AS)
    wanted = in_use + most
    if soft != resource.RLIM_INFINITY:
        wanted = min(wanted, soft)
    resource.setrlimit(resource.RLIMIT_AS, (wanted, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_AS, (soft, hard))
