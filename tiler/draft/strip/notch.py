"""Match marks."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True)
class Notch:
    """A match mark, mm from the fold or from the left cut end; a double one marks the back, or every second join."""

    name: str
    at_mm: float
    double: bool = False
    on_end: int = 0
    """Of one that lies on a slanted end instead of the long edges -1 for the left end, 1 for the right one."""
