"""Tables of cases that are products of others, and random examples: the suite tries some of each.

``python tests/bench/whole.py`` tries all.  What is left out of a product here is a meeting of two things that are
both tried in other company: of every table each value is tried.  A case that guards something of its own belongs
into a list of its own.
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from itertools import cycle, islice, product
from typing import Any, TypeVar

Case = TypeVar("Case")

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
