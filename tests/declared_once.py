"""What the proof makes of a declaration alone, made once for all files that hold the same one.

Most tests of the proof change one thing in a file and leave its declaration as it was.  What follows from that
alone, however often it is asked for, is the record that is read, what is found in the record itself, and the
file in which what it declares is drawn again.  A declaration that is changed is another one, and a process that is started anew
goes the whole way.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import Any, TypeVar

from tiler.box import Point
from tiler.declaration import Declaration
from tiler.proof import proving
from tiler.proof.compare import print as looking
from tiler.proof.compare.print import Expectation
from tiler.proof.ink.rendering import Rendering
from tiler.proof.ink.where import Mark
from tiler.proof.report.check import Check

Made = TypeVar("Made")

MOST = 8
"""Declarations that are remembered at a time; a test module uses few."""

_KEPT: dict[tuple[bytes, ...], tuple[Declaration | None, Check | None]] = {}
_MADE: dict[int, dict[Any, Any]] = {}
"""Of each declaration that is remembered, by its identity, what was made of it."""


def remember() -> None:
    """Let the proof look up what it has made of a declaration before."""
    proving._declared = _reading(proving._declared)
    proving.compare_itself = _finding(proving.compare_itself)
    proving.compare_said = _finding(proving.compare_said)
    looking.marks_on = _laying(looking.marks_on)  # type: ignore[assignment]
    Expectation._rendering = _drawing(Expectation._rendering)  # type: ignore[method-assign]


def _reading(read: Callable[..., Any]) -> Callable[..., Any]:
    def declared(attached: Sequence[bytes]) -> tuple[Declaration | None, Check | None]:
        key = tuple(attached)
        if key not in _KEPT:
            if len(_KEPT) == MOST:
                oldest, _ = _KEPT.pop(next(iter(_KEPT)))
                for made in _MADE.pop(id(oldest), {}).values():
                    if isinstance(made, Rendering):
                        made.__exit__()
            _KEPT[key] = read(attached)
            _MADE[id(_KEPT[key][0])] = {}
        return _KEPT[key]

    return declared


def _once(declaration: Declaration, key: Any, make: Callable[[], Made]) -> Made:
    made = _MADE.get(id(declaration))
    if made is None:
        return make()
    if key not in made:
        made[key] = make()
    found: Made = made[key]
    return found


def _finding(compare: Callable[[Declaration], Iterator[Check]]) -> Callable[[Declaration], Iterator[Check]]:
    def found(declaration: Declaration) -> Iterator[Check]:
        return iter(_once(declaration, compare, lambda: list(compare(declaration))))

    return found


def _laying(lay: Callable[..., Iterator[Mark]]) -> Callable[..., Iterator[Mark]]:
    def laid(declaration: Declaration, number: int, moved: Point) -> Iterator[Mark]:
        return iter(_once(declaration, (lay, number, moved), lambda: list(lay(declaration, number, moved))))

    return laid


def _drawing(draw: Callable[..., Rendering]) -> Callable[..., Rendering]:
    def drawn(self: Expectation, moved: Point, quarters: int, size: Point | None) -> Rendering:
        def make() -> Rendering:
            rendering = draw(self, moved, quarters, size)
            # it outlives the one proof
            self._stack.pop_all()
            return rendering

        if id(self.declaration) not in _MADE:
            return draw(self, moved, quarters, size)
        return _once(self.declaration, (moved, quarters, size), make)

    return drawn
