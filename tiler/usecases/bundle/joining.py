"""Files of a release on their way into the pattern of their paper: base by base at the same time.

Each base has a process apart, which takes one file after the other; a thread here waits for it.
"""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

from tiler.usecases.bundle.archive import FileRecord
from tiler.usecases.bundle.base_apart import BaseApart
from tiler.usecases.bundle.drawing import Drawn


class Joining:
    """Joins files to the bases of their papers, in a folder; use it as a context, whose end ends all that is left."""

    def __init__(self, bases: Mapping[str, BaseApart], sizes: Sequence[str], folder: Path) -> None:
        """Take the base of each paper that has one, and all sizes of the job."""
        self._bases, self._sizes, self._folder = bases, sizes, folder
        self._threads = {paper: ThreadPoolExecutor(1) for paper in bases}

    def __enter__(self) -> Joining:
        """Return this."""
        return self

    def __exit__(self, kind: type[BaseException] | None, *_: object) -> None:
        """Wait for nobody after a fault: what still joins is ended, so that it writes no more."""
        if kind:
            for base in self._bases.values():
                base.process.end()
        for thread in self._threads.values():
            thread.shutdown(cancel_futures=True)

    def joined(self, drawn: Iterable[Drawn]) -> Iterator[Drawn]:
        """Yield files in their order, those that have a base when they have joined it.

        Raises what :meth:`BaseApart.join` raises.
        """
        waiting: deque[Future[Drawn]] = deque()
        for one in drawn:
            waiting.append(self._begun(one))
            while waiting and waiting[0].done():
                yield waiting.popleft().result()
        while waiting:
            yield waiting.popleft().result()

    def _begun(self, drawn: Drawn) -> Future[Drawn]:
        paper = drawn.record.paper or ""
        if drawn.declared and paper in self._bases:
            return self._threads[paper].submit(self._join, drawn, self._bases[paper])
        done: Future[Drawn] = Future()
        done.set_result(drawn)
        return done

    def _join(self, drawn: Drawn, base: BaseApart) -> Drawn:
        """Join a file to its base, where layers for other sizes than its own are switched off."""
        record = drawn.record
        assert drawn.declared
        hidden = [size for size in self._sizes if len(record.sizes) == 1 and size not in record.sizes]
        joined: FileRecord = replace(
            record, base=base.path.name, **base.join(self._folder / record.name, drawn.declared, hidden)
        )
        return replace(drawn, record=joined)
