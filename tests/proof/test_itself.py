"""What a file declares to be printed has the shapes that its squares, frames, marks and ruler lines must have."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.sheets.jobs import SAMPLE, drawn_once
from tiler.box import Point, Subpath
from tiler.declaration import Declaration, Tag
from tiler.printed import Line
from tiler.proof.compare.itself import compare_itself
from tiler.usecases.draft import Wishes


@pytest.fixture(scope="module")
def declared() -> Declaration:
    return drawn_once(SAMPLE, Wishes(paper="letter", arrange="grid")).declaration


def lines(tag: Tag, change: Callable[[Line], Line]) -> Callable[[Declaration], Declaration]:
    """Change all declared lines of a tag."""

    def restate(declaration: Declaration) -> Declaration:
        printed = tuple(
            tuple(change(mark) if isinstance(mark, Line) and mark.tag == tag else mark for mark in marks)
            for marks in declaration.printed
        )
        assert printed != declaration.printed
        return replace(declaration, printed=printed)

    return restate


def points(change: Callable[[Subpath], Subpath]) -> Callable[[Line], Line]:
    return lambda line: replace(line, lines=tuple(change(one) for one in line.lines))


def bow_tie(path: Subpath) -> Subpath:
    a, b, c, d, *_ = path
    return (a, c, b, d, a)


def triangle(path: Subpath) -> Subpath:
    a, b, c, *_ = path
    return (a, b, c, a)


def open_side(path: Subpath) -> Subpath:
    return path[:-1]


def leaning(path: Subpath) -> Subpath:
    return tuple((x + 0.01 * (y - path[0][1]), y) for x, y in path)


def longer(path: Subpath) -> Subpath:
    (x, y), *others = path
    return ((x - 0.5, y - 0.5), *others)


def rounded(line: Line) -> Line:
    """Let a circle stand in for the four sides."""
    (x0, y0), _, (x1, y1), *_ = line.lines[0]
    middle: Point = ((x0 + x1) / 2, (y0 + y1) / 2)
    return replace(line, lines=(), circles=((middle, (x1 - x0) / 2),))


@pytest.mark.parametrize(
    ("tag", "change"),
    [
        *((tag, points(change)) for tag in (Tag.TEST_SQUARE, Tag.PAGE_FRAME) for change in (bow_tie, triangle, open_side, leaning)),
        (Tag.TEST_SQUARE, rounded),
        (Tag.TEST_SQUARE, lambda line: replace(line, lines=(*line.lines, *line.lines))),
        (Tag.TEST_SQUARE, lambda line: replace(line, dash=(1.0, 1.0))),
        (Tag.RULE, points(longer)),
        (Tag.RULE, lambda line: replace(line, lines=line.lines[1:])),
        (Tag.REGISTER_MARK, points(leaning)),
        (Tag.REGISTER_MARK, lambda line: replace(line, circles=())),
        (Tag.REGISTER_MARK, lambda line: replace(line, lines=line.lines[:1])),
        (Tag.REGISTER_MARK, lambda line: replace(line, circles=((line.lines[0][0], 1.98),))),
    ],
)  # fmt: skip
def test_another_shape_is_found(declared: Declaration, tag: Tag, change: Callable[[Line], Line]) -> None:
    checks = list(compare_itself(lines(tag, change)(declared)))
    assert any("has not its shape" in check.detail for check in checks), [check.detail for check in checks]


def test_the_shapes_of_a_draft_are_right(declared: Declaration) -> None:
    assert [check.status for check in compare_itself(declared)] == ["pass"]
