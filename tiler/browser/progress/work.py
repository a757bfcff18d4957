"""One work in a thread beside its request, which tells how far it is and can be stopped at any time.

What it does finds it by :func:`current`, and it knows each process that is started for it,
so that a stop ends these at once; drawing in this process ends with the next page.
"""

from __future__ import annotations

import secrets
import subprocess
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from contextvars import ContextVar, copy_context

from tiler.browser.refusal import GoneError
from tiler.errors import TilerError
from tiler.usecases.processes.apart import STARTED

MOST_AT_ONCE = 2
"""Works that are done at the same time; each may take as much memory as a file is allowed."""

MOST_KNOWN = 16
"""Works that are remembered; of more the oldest that are done are forgotten."""

_CURRENT: ContextVar[Work | None] = ContextVar("work", default=None)


class StoppedError(TilerError):
    """Somebody has stopped the work."""


class Work:
    """What is done, how far it is, and where it leads or what is in its way."""

    def __init__(self, back: str) -> None:
        """Lead back to a page when it fails or is stopped."""
        self.back = back
        self.told, self.step, self.steps = "Waiting for another work to end …", 0, 0
        self.leads_to: str | None = None
        self.fault: BaseException | None = None
        self.done = threading.Event()
        self._stopped = False
        self._processes: list[subprocess.Popen[bytes]] = []
        self._lock = threading.Lock()

    def tells(self, doing: str) -> Callable[[int, int], None]:
        """Return what takes note of a page that is done, out of so many; it raises in a work that is stopped."""

        def page(number: int, pages: int) -> None:
            if self._stopped:
                raise StoppedError
            self.told, self.step, self.steps = f"{doing}: page {number} of {pages}", number, pages

        return page

    def stop(self) -> None:
        """End it."""
        with self._lock:
            self._stopped = True
            for process in self._processes:
                process.kill()

    def run(self, do: Callable[[], str]) -> None:
        """Do it, and keep where it leads or what it raises."""
        _CURRENT.set(self)
        STARTED.set(self._started)
        self.told = "At work …"
        try:
            if self._stopped:
                raise StoppedError
            self.leads_to = do()
        except BaseException as fault:
            # what was ended says of itself that it broke off
            self.fault = StoppedError() if self._stopped else fault

    def _started(self, process: subprocess.Popen[bytes]) -> None:
        with self._lock:
            self._processes.append(process)
            if self._stopped:
                process.kill()


def current(doing: str) -> Callable[[int, int], None]:
    """Return what takes note of the pages of the work that this thread does; where it does none, of nothing."""
    work = _CURRENT.get()
    return work.tells(doing) if work else lambda _page, _pages: None


class Works:
    """All works of one server, by their keys."""

    def __init__(self) -> None:
        """Know of none yet."""
        self._known: dict[str, Work] = {}
        self._lock = threading.Lock()
        # the same threads again and again: each new one would begin a memory of its own
        self._pool = ThreadPoolExecutor(MOST_AT_ONCE)

    def begin(self, do: Callable[[], str], back: str, ends: Callable[[], None] = lambda: None) -> tuple[str, Work]:
        """Begin a work, and return its key and the work; ``ends`` tidies up after it."""
        work, key = Work(back), secrets.token_urlsafe(12)
        with self._lock:
            self._known[key] = work
            old = [one for one, known in self._known.items() if known.done.is_set()]
            for one in old[: max(0, len(self._known) - MOST_KNOWN)]:
                del self._known[one]

        def whole() -> None:
            try:
                work.run(do)
            finally:
                with suppress(OSError):
                    ends()
                work.done.set()

        self._pool.submit(copy_context().run, whole)
        return key, work

    def get(self, key: str) -> Work:
        """Return the work of a key; raises :class:`GoneError`."""
        with self._lock:
            if key not in self._known:
                raise GoneError("This work is no longer known; go back and begin it again.")
            return self._known[key]

    def stop(self, patience: float) -> None:
        """Stop every work, and wait until it has tidied up, for as long as ``patience``, s, each."""
        with self._lock:
            works = list(self._known.values())
        for work in works:
            work.stop()
        for work in works:
            work.done.wait(patience)
