"""Whether anybody still has a window open; seconds of one clock that never goes back.

A window is known from its first page on.  One that beats has JavaScript: it is open while
it beats, and says when it is closed.  One that never beats counts as open for a while
after its page was sent.
"""

from __future__ import annotations

import threading
from collections.abc import Callable
from dataclasses import dataclass
from time import monotonic

AFTER_LAST = 60.0
"""How long the page stays when the last window is closed."""

LOST = 180.0
"""A window that has not beaten for so long is closed: browsers let a hidden one beat once a minute."""

UNSCRIPTED = 30 * 60.0
"""How long a window without JavaScript counts as open after its last request."""

MOST_WINDOWS = 1000
"""Windows that are remembered; of more the oldest are forgotten."""


@dataclass
class _Window:
    seen: float
    beats: bool = False


class Presence:
    """The windows that are open, as far as their requests tell."""

    def __init__(self, now: Callable[[], float] = monotonic) -> None:
        """Know of no window yet."""
        self._now = now
        self._windows: dict[str, _Window] = {}
        self._last_closed: float | None = None
        self._lock = threading.Lock()

    def shown(self, window: str) -> None:
        """Take note of a page that is sent to a window."""
        with self._lock:
            self._windows[window] = _Window(self._now())
            while len(self._windows) > MOST_WINDOWS:
                del self._windows[next(iter(self._windows))]

    def beats(self, window: str) -> None:
        """Take note that a window with JavaScript is open."""
        with self._lock:
            self._windows[window] = _Window(self._now(), beats=True)

    def closed(self, window: str) -> None:
        """Take note that a window is closed, or shows another page from now on."""
        with self._lock:
            if self._windows.pop(window, None):
                self._last_closed = self._now()

    @property
    def over(self) -> bool:
        """Whether the last window has been closed for long enough; never before there was one."""
        with self._lock:
            now = self._now()
            for name, window in list(self._windows.items()):
                ends = window.seen + (LOST if window.beats else UNSCRIPTED)
                if now >= ends:
                    del self._windows[name]
                    # one that fell silent was closed when it last spoke, and one without JavaScript has had its time
                    self._last_closed = max(self._last_closed or 0.0, ends - AFTER_LAST)
            return not self._windows and self._last_closed is not None and now >= self._last_closed + AFTER_LAST
