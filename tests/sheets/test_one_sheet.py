"""One sheet for a roll: packed, what page 1 says in its corner above all, every list whole."""

from __future__ import annotations

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chosen import long
from tests.sheets.jobs import MIXED, ONE_BAND, drawn_once
from tests.specs import neckline, piece, spec, straight
from tiler.box import Box
from tiler.declaration import Declaration
from tiler.printed import Word
from tiler.sheets.cover.first_page import BLOCK_WIDTH
from tiler.sheets.layout.skyline import packed
from tiler.usecases.draft import Wishes

SIZES = [str(size) for size in range(6, 46, 2)]
TWENTY = spec(
    piece(
        "Neckband",
        "5/8 in",
        neckline({size: f"{7 + 0.25 * n} in" for n, size in enumerate(SIZES)}, "4 in"),
        ratio="80 %",
    ),
    piece("Cuff", "2 in", straight({size: f"{7 + 0.5 * n} in" for n, size in enumerate(SIZES)}), ratio="85 %"),
    piece("Hem band", "2 in", straight({size: f"{30 + 2 * n} in" for n, size in enumerate(SIZES)}), ratio="85 %"),
    title="Twenty sizes",
    sizes=SIZES,
)
TWELVE = spec(
    *(
        piece(f"Strip {n}", f"{0.4 + 0.15 * (n % 5):.2f} in", straight(f"{14 + 5 * n} in"), cut=cut)
        for n, cut in enumerate(["full-loop", "on-fold"] * 6, 1)
    ),
    title="Twelve pieces",
)


def on_one_sheet(text: str, roll: float | None = None) -> Declaration:
    return drawn_once(text, Wishes(paper="one-sheet", roll=roll)).declaration


def words(declared: Declaration) -> list[Word]:
    return [mark for mark in declared.printed[0] if isinstance(mark, Word)]


def families(declared: Declaration) -> list[Box]:
    """Give the bounds of what lies on the sheet as one, on the page."""
    window, frame = declared.pages[0].window, declared.pages[0].frame
    assert window
    assert frame
    found: dict[object, list[Box]] = {}
    for one in declared.drawn:
        found.setdefault(one.at, []).append(one.sheet_bounds())
    return [Box.enclosing(boxes).moved(frame.x0 - window.x0, frame.y0 - window.y0) for boxes in found.values()]


@long
@pytest.mark.parametrize(("text", "count"), [(ONE_BAND, 1), (MIXED, 5), (TWELVE, 12), (TWENTY, 60)])
def test_the_list_of_pieces_is_whole(text: str, count: int) -> None:
    declared = on_one_sheet(text)
    heads = [word for word in words(declared) if word.text == "Long × wide"]
    column = [word for word in words(declared) if word.at[0] == heads[0].at[0] and word.at[1] < heads[0].at[1]]
    assert len(heads) == 1
    assert len([word for word in column if " × " in word.text]) == count
    assert not [word for word in words(declared) if "other piece" in word.text]


@pytest.mark.parametrize("text", [ONE_BAND, MIXED, TWELVE, TWENTY])
def test_the_title_stands_above_all_and_pieces_keep_off_the_instructions(text: str) -> None:
    declared = on_one_sheet(text)
    title = max((word for word in words(declared) if word.bold and word.text == declared.title), key=lambda w: w.size)
    caution = next(word for word in words(declared) if "Rotary cutter" in word.text)
    block = Box(title.at[0], caution.at[1], title.at[0] + BLOCK_WIDTH, title.at[1])
    assert all(box.y1 <= title.at[1] + 7 for box in families(declared))
    assert not [box for box in families(declared) if box.overlaps(block)]
    assert len(declared.pages) == 1


def test_the_cautions_follow_the_list() -> None:
    declared = on_one_sheet(TWENTY)
    caution = next(word for word in words(declared) if "Rotary cutter" in word.text)
    last = min(word.at[1] for word in words(declared) if " × " in word.text and word.text.startswith(("2", "1")))
    assert 5 < last - caution.at[1] < 15


@pytest.mark.parametrize(
    ("text", "roll", "least"),
    [(MIXED, None, 0.6), (MIXED, 609.6, 0.6), (TWELVE, None, 0.65), (TWELVE, 609.6, 0.65), (TWENTY, None, 0.5)],
)
def test_the_sheet_is_filled(text: str, roll: float | None, least: float) -> None:
    """This test ensures a share of the page that is pieces and instructions; ours."""
    declared = on_one_sheet(text, roll)
    used = sum(box.width * box.height for box in families(declared)) + 186 * 235
    assert used / (declared.page_width_mm * declared.page_height_mm) > least
    assert declared.page_width_mm <= (roll or 914.4)


def test_more_pieces_go_beside_each_other_before_the_page_grows_long() -> None:
    """This test ensures that the roll is used across: twelve strips were 3 m long on a page of 23 cm."""
    declared = on_one_sheet(TWELVE)
    longest = max(one.cut_length_mm for one in declared.pieces)
    assert declared.page_height_mm < longest + 120


SIDES = st.tuples(st.floats(5, 400), st.floats(5, 900))


@given(st.lists(SIDES, min_size=1, max_size=14), st.floats(200, 900), SIDES)
def test_packed_boxes_lie_within_the_width_and_on_none_other(
    boxes: list[tuple[float, float]], width: float, first: tuple[float, float]
) -> None:
    found = packed(boxes, width, first)
    if found is None:
        assert max(wide for wide, _ in (*boxes, first)) > width
        return
    corners, deepest = found
    lying = [
        Box(x, y, x + wide, y + high)
        for (x, y), (wide, high) in zip([(0.0, 0.0), *corners], [first, *boxes], strict=True)
    ]
    assert all(box.x1 <= width + 1e-5 and box.x0 >= 0 and box.y0 >= 0 for box in lying)
    assert max(box.y1 for box in lying) == pytest.approx(deepest)
    assert not [pair for pair in combinations(lying, 2) if pair[0].grown(-1e-5).overlaps(pair[1])]
