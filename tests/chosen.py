"""Tables of cases that are products of others, and random examples: the suite tries some of each.

``python tests/bench/whole.py`` tries all.  What is left out of a product here is a meeting of two things that are
both tried in other company: of every table each value is tried.  A case that guards something of its own belongs
into a list of its own.

Tables of quick cases, :func:`over` which a test is one instead of many, are tried whole.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from itertools import cycle, islice, product
from typing import Any, TypeVar

import pytest

Case = TypeVar("Case")

long = pytest.mark.long
"""A test that takes more than a fifth of a second: ``.ci/run`` runs these behind the suite, ``pytest -m long`` alone."""

WHOLE = "TILER_WHOLE_TABLES"
"""Set in the surroundings, it asks for every case."""


def each(*tables: Iterable[Any]) -> list[tuple[Any, ...]]:
    """Return cases of a value from each table, in which every value occurs; where all are asked for, the product."""
    held = [list(table) for table in tables]
    if os.environ.get(WHOLE):
        return list(product(*held))
    return list(islice(zip(*map(cycle, held), strict=False), max(map(len, held))))


def tries(count: int) -> int:
    """Return how many of so many random examples are tried: two of five, or all; they are the same in every run."""
    return count if os.environ.get(WHOLE) else max(3, 2 * count // 5)


def some(cases: Sequence[Case], step: int, start: int = 0) -> list[Case]:
    """Return one of every ``step`` cases; where all are asked for, all."""
    return list(cases) if os.environ.get(WHOLE) else list(cases)[start::step]


def over(
    names: str | Sequence[str], cases: Iterable[Any], ids: Callable[[Any], object] = ascii
) -> Callable[[Callable[..., None]], Callable[[], None]]:
    """Make one test of all cases of a table, which takes half a thousandth of a second a case instead of three.

    It is called as ``pytest.mark.parametrize`` is, for tests without fixtures; every case is tried, and each that
    fails is named with what it fails of.
    """
    single = isinstance(names, str) and "," not in names

    def of_all(test: Callable[..., None]) -> Callable[[], None]:
        def try_all() -> None:
            failed = []
            for case in cases:
                values = (case,) if single else tuple(case)
                try:
                    test(*values)
                except (Exception, pytest.fail.Exception) as fault:
                    failed.append(f"{', '.join(str(ids(one)) for one in values)}: {type(fault).__name__}: {fault}")
            assert not failed, "\n".join([f"{len(failed)} of the cases fail", *failed])

        try_all.__name__, try_all.__doc__ = test.__name__, test.__doc__
        return try_all

    return of_all
