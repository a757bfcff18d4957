"""Register marks: 8 mm off the lines that are cut where there is room, else 2 mm; two a joint at least."""

from __future__ import annotations

from collections import Counter
from itertools import pairwise
from math import hypot

import pytest

from tests.chosen import each, long
from tests.sheets.jobs import EXAMPLES, MIXED, drawn_once
from tests.specs import piece, spec, straight
from tiler.box import Box, Point, Subpath
from tiler.declaration import Declaration, Tag
from tiler.paper import MARK_SIZE
from tiler.usecases.draft import Wishes

REACH = MARK_SIZE / 2


def off(at: Point, line: Subpath) -> float:
    """Return how far a point lies off a straight piece of line."""
    (xa, ya), (xb, yb) = line
    long = hypot(xb - xa, yb - ya)
    along = max(0.0, min(long, ((at[0] - xa) * (xb - xa) + (at[1] - ya) * (yb - ya)) / long))
    return hypot(at[0] - xa - along * (xb - xa) / long, at[1] - ya - along * (yb - ya) / long)


def whites(declaration: Declaration) -> list[float]:
    cuts = [
        (piece.on_sheet(a), piece.on_sheet(b))
        for piece in declaration.pieces
        for part in piece.parts
        if part.tag in (Tag.CUT_LINE, Tag.FOLD_LINE)
        for a, b in pairwise(part.subpaths[0])
    ]
    return [min(off(mark.at, cut) for cut in cuts) - REACH for mark in declaration.marks]


def strip(width: str) -> str:
    return spec(
        piece("Binding", None, straight("70 cm"), "raw-edge-binding", cut_width=width, cut="full-loop"), units="cm"
    )


@pytest.mark.parametrize(
    ("width", "arrange"), each(["17 mm", "21 mm", "24 mm", "3 cm", "5 cm", "12 cm"], ["grid", "stacked"])
)
def test_marks_keep_off_what_is_cut(width: str, arrange: str) -> None:
    declaration = drawn_once(strip(width), Wishes(arrange=arrange)).declaration
    assert min(whites(declaration)) >= 2.0
    assert set(Counter(mark.tiles for mark in declaration.marks).values()) <= {2, 3}


def nested(finish: str, width: str, whole: int, step: int, count: int, cut: str = "full-loop") -> str:
    """Return a strip of many sizes, whose ends lie near each other."""
    sizes = {f"{30 + 2 * k}": f"{whole + k * step} mm" for k in range(count)}
    own = piece("Binding", width, straight(sizes), finish, cut=cut, ratio="usual")
    return spec(own, title="Sizes", units="cm", sizes=list(sizes))


@long
@pytest.mark.parametrize(
    ("text", "paper", "overlap"),
    [
        (nested("folded-band", "21 mm", 470, 37, 12), "letter", 20.0),
        (nested("raw-edge-binding", "11 mm", 600, 18, 12), "letter", 20.0),
        (nested("french-binding", "11 mm", 730, 15, 12), "a4", 15.0),
    ],
)
def test_marks_give_way_to_the_end_of_a_smaller_size(text: str, paper: str, overlap: float) -> None:
    margin = 15.0 if paper == "a4" else None
    wishes = Wishes(paper=paper, margin=margin, overlap=overlap, arrange="stacked", cover=False)
    declaration = drawn_once(text, wishes).declaration
    assert min(whites(declaration)) >= 1.99
    windows = {page.code: page.window for page in declaration.pages}
    for mark in declaration.marks:
        for window in map(windows.get, mark.tiles):
            # whole in both panes
            assert window is not None
            assert window.grown(-REACH).holds(Box(*mark.at, *mark.at)), mark


def test_marks_keep_8_mm_where_the_shared_strip_has_room() -> None:
    assert min(whites(drawn_once(strip("12 cm"), Wishes(arrange="grid")).declaration)) >= 8.0


@long
@pytest.mark.parametrize("arrange", ["grid", "fewest"])
def test_marks_of_many_pieces_keep_off_what_is_cut(arrange: str) -> None:
    assert min(whites(drawn_once(MIXED, Wishes(arrange=arrange)).declaration)) >= 2.0


@pytest.mark.parametrize(
    ("paper", "changed"), each(["letter", "a4"], [{}, {'"2 cm"': '"3.5 cm"', '"19 cm"': '"22 cm"'}])
)
def test_marks_keep_off_the_slanted_ends_of_a_vee(paper: str, changed: dict[str, str]) -> None:
    text = (EXAMPLES / "saltmarsh-vee.toml").read_text(encoding="utf-8")
    for old, new in changed.items():
        text = text.replace(old, new)
    declaration = drawn_once(text, Wishes(paper=paper, arrange="stacked")).declaration
    # the mitred neckband, and the lapped one
    assert len({mark.tiles for mark in declaration.marks}) == 2
    assert min(whites(declaration)) >= 2.0
    assert set(Counter(mark.tiles for mark in declaration.marks).values()) <= {2, 3}
