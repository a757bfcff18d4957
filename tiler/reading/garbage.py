"""How often Python looks for garbage while pages are read."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager


@contextmanager
def seldom_collected() -> Iterator[None]:
    """Let the garbage collector look more seldom: pages are thousands of objects that die without its help."""
    before = gc.get_threshold()
    gc.set_threshold(max(before[0], 20_000), 20, 50)
    try:
        yield
    finally:
        gc.set_threshold(*before)
