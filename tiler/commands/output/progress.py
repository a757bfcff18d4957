"""A progress bar on stderr, for long work on a terminal only."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import ExitStack, contextmanager
from typing import Any

import click

LONG = 12
"""Jobs of fewer pages are done before a bar could be read."""


@contextmanager
def page_progress(label: str) -> Iterator[Callable[[int, int], None] | None]:
    """Yield a function that takes pages done and pages in all; None where nobody watches."""
    if not sys.stderr.isatty():
        yield None
        return
    bars = ExitStack()
    bar: Any = None

    def show(done: int, total: int) -> None:
        nonlocal bar
        if total < LONG:
            return
        if bar is None:
            bar = bars.enter_context(click.progressbar(length=total, label=label, file=sys.stderr))
        bar.update(done - bar.pos)
        if done == total:
            bars.close()

    with bars:
        yield show
