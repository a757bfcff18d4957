"""Work that is shared out over processes: the fonts of the drawing library are global, so threads will not do."""

from __future__ import annotations

import gc
import os
import signal
import threading
from collections import deque
from collections.abc import Callable, Generator, Sequence
from concurrent.futures import Future, ProcessPoolExecutor
from multiprocessing import get_context, parent_process
from typing import Any, TypeVar

from tiler.usecases.files.ending import go_on

T = TypeVar("T")
R = TypeVar("R")

FEW = 3
"""So few tasks are done here: other processes take a while to start."""

SELDOM = 20_000
"""Objects made before the collector looks for those that hold each other."""

_shared: tuple[Any, ...] = ()


def each(
    work: Callable[..., R], tasks: Sequence[T], shared: tuple[Any, ...], processes: int | None = None
) -> Generator[R, None, None]:
    """Yield ``work(task, *shared)`` for each task, in their order; few results wait at a time.

    An error of one task is raised here and ends the others; so do an interrupt and closing.
    """
    count = min(processes or os.cpu_count() or 1, len(tasks))
    if count < 2 or len(tasks) <= FEW:
        for task in tasks:
            yield work(task, *shared)
        return
    pool = ProcessPoolExecutor(count, get_context("spawn"), _begin, (shared,))
    try:
        waiting: deque[Future[R]] = deque()
        rest = iter(tasks)
        for task in rest:
            waiting.append(pool.submit(_do, work, task))
            if len(waiting) >= 2 * count:
                yield waiting.popleft().result()
                go_on()
        while waiting:
            yield waiting.popleft().result()
            go_on()
    except BaseException:
        for process in list((pool._processes or {}).values()):
            process.terminate()
        raise
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


def _begin(shared: tuple[Any, ...]) -> None:
    # Ctrl-C goes to all processes of a terminal; the one that asked ends the others.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    threading.Thread(target=_end_with_parent, daemon=True).start()
    # what is loaded stays to the end, and what a file leaves behind is looked for after some files
    gc.freeze()
    gc.set_threshold(SELDOM, 10, 10)
    globals()["_shared"] = shared


def _end_with_parent() -> None:
    """End this process when the one that asked is killed: nobody else would, and it would write and wait for ever."""
    if parent := parent_process():
        parent.join()
        os._exit(0)


def _do(work: Callable[..., R], task: Any) -> R:
    return work(task, *_shared)
