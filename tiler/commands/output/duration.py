"""How long a command took, in words."""

from __future__ import annotations

from time import perf_counter


class Clock:
    """A clock that runs from when it is made; as text, what has passed."""

    def __init__(self) -> None:
        """Start at zero."""
        self._start = perf_counter()

    def __str__(self) -> str:
        """Return what has passed, such as ``1.3 s`` or ``2 min 5 s``."""
        return duration(perf_counter() - self._start)


def duration(seconds: float) -> str:
    """Return so many seconds in words; tenths below ten."""
    if seconds < 9.95:
        return f"{seconds:.1f} s"
    minutes, rest = divmod(round(seconds), 60)
    return f"{minutes} min {rest} s" if minutes else f"{rest} s"
