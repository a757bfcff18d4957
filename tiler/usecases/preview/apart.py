"""Pictures of the pages of a file, and of the pages put together, made in a process apart; each comes as a PNG."""

from __future__ import annotations

from base64 import b64decode
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import monotonic
from typing import Any

from tiler.usecases.processes.apart import Apart


@dataclass(frozen=True)
class PicturesApart:
    """The pictures of one file, made as they are asked for; all of them share the time."""

    path: Path
    page_count: int
    tile_count: int
    of_panes: bool
    """What is put together are panes, of which a page shows several."""
    process: Apart
    seconds: float
    ends: float
    """When the time is up, by the monotonic clock."""

    def pages(self) -> Iterator[bytes]:
        """Yield one picture a page."""
        for number in range(1, self.page_count + 1):
            yield self._picture({"page": number})

    def assembled(self) -> bytes:
        """Return the tiles put together; there must be some."""
        return self._picture({"assembled": True})

    def _picture(self, request: dict[str, Any]) -> bytes:
        return b64decode(self.process.ask(self.path, request, self.seconds, ends=self.ends))


@contextmanager
def pictures_apart(path: Path, seconds: float, memory: int) -> Iterator[PicturesApart]:
    """Open and measure a file in a process of its own, which ends with the block.

    Raises :class:`UnreadableError` and :class:`EncryptedError`, also when a limit is
    reached or the process ends without an answer.
    """
    ends = monotonic() + seconds
    with Apart("tiler.usecases.preview.witness", memory, limits_given=True) as process:
        told = process.ask(path, {"path": str(path)}, seconds, ends=ends)
        yield PicturesApart(path, told["pages"], told["tiles"], told["panes"], process, seconds, ends)
