"""Bounds for reading files of strangers: a small PDF can unfold into gigabytes or hours.

The bound on memory holds for the whole process, so only a process that was started for one
file sets it.  Where the system has no such bound there is none.  Time is kept by the
process that asked, since no library can hold that one up.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from tiler.errors import UnreadableError

MOST_MEMORY = 768 * 2**20
"""How much memory reading one file may take beyond its engines, bytes: with them it stays under a gigabyte."""

MOST_OBJECTS = 100_000
"""How many strokes, characters, pictures and forms a page may paint."""

MOST_SECONDS = 18
"""How long one file may take: with what it takes to start and to tell it, a command stays under 20 s."""


class OutOfMemoryError(UnreadableError):
    """The file unfolds into more than there is room for."""


class TooManyObjectsError(UnreadableError):
    """A page paints more than any honest one."""


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
