"""A progress bar on stderr, for long work on a terminal only."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

LONG = 12
"""Jobs of fewer pages are done before a bar could be read."""


@contextmanager
def page_progress(label: str) -> Iterator[Callable[[int, int], None] | None]:
    """Give a function that takes pages done and pages in all; None where nobody watches."""
    if not sys.stderr.isatty():
        yield None
        return
    bar = None

    def show(done: int, total: int) -> None:
        nonlocal bar
        if total < LONG:
            return
        if bar is None:
            bar = click.progressbar(length=total, label=label, file=sys.stderr)
            bar.__enter__()
        bar.update(done - bar.pos)

    try:
        yield show
    finally:
        if bar is not None:
            bar.__exit__(None, None, None)
