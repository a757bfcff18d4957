"""What was made for somebody, held in memory under a key that nobody guesses, until a few more have been made."""

from __future__ import annotations

import secrets
import threading
from typing import Generic, TypeVar

from tiler.browser.refusal import GoneError

T = TypeVar("T")

MOST_KEPT = 8
"""Works that are held; of more the oldest are forgotten."""


class Kept(Generic[T]):
    """What is held, by its key."""

    def __init__(self) -> None:
        """Hold nothing yet."""
        self._held: dict[str, T] = {}
        self._lock = threading.Lock()

    def put(self, made: T) -> str:
        """Hold it, and return its key."""
        key = secrets.token_urlsafe(12)
        with self._lock:
            self._held[key] = made
            while len(self._held) > MOST_KEPT:
                del self._held[next(iter(self._held))]
        return key

    def get(self, key: str) -> T:
        """Return what has this key; raises :class:`GoneError` when it is not held, or not any more."""
        with self._lock:
            if key not in self._held:
                raise GoneError("This is no longer kept; go back and make it again.")
            return self._held[key]
