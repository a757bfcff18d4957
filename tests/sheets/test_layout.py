"""Where pieces lie and which pages show them.

The page count is held against a first-fit shelf packing by decreasing width,
written out here on its own (textbook heuristic).
"""

from __future__ import annotations

from itertools import pairwise
from math import ceil

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chosen import long
from tiler.box import Box
from tiler.errors import SpecError
from tiler.paper import PAPERS, Margins, PageSize, PaperChoice, page_size
from tiler.sheets.layout.grid import GAP, arrange, row_letters
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.joints import tiles_needed


def shelf_pages(items: list[Item], page: PageSize) -> int:
    """Pages of the plain heuristic: strips stacked in rows of pages, first fit by decreasing width, best turn."""
    return min(
        shelf_pages_one_way(items, along, across, page.overlap)
        for along, across in (
            (page.window_width, page.window_height),
            (page.window_height, page.window_width),
        )
    )


def shelf_pages_one_way(items: list[Item], along: float, across: float, overlap: float) -> int:
    rows: list[list[float]] = []
    for item in sorted(items, key=lambda item: -item.width):
        columns = max(1, ceil((item.length - overlap) / (along - overlap) - 1e-9))
        for row in rows:
            if row[0] + GAP + item.width <= across:
                row[0] += GAP + item.width
                row[1] = max(row[1], columns)
                break
        else:
            rows.append([item.width, columns])
    return int(sum(columns for _, columns in rows))


WIDTHS = st.sampled_from([24.0, 33.0, 42.0, 55.0, 80.0, 140.0])
STRIPS = st.builds(
    lambda *sides: Item("p", sum(sides[:2]), sum(sides[2:])), st.just(60.0), st.floats(0, 840), WIDTHS, st.floats(0, 6)
)
JOBS = st.lists(STRIPS, min_size=1, max_size=14)


@given(paper=st.sampled_from(["letter", "a4", "tabloid"]), items=JOBS)
def test_no_more_pages_than_first_fit_shelves(paper: str, items: list[Item]) -> None:
    page = page_size(PaperChoice(paper))
    assert len(arrange(items, page).tiles) <= shelf_pages(items, page)


@given(paper=st.sampled_from(list(PAPERS)), items=JOBS)
def test_every_piece_is_shown_whole_without_overlap_and_in_one_group(paper: str, items: list[Item]) -> None:
    layout = arrange(items, page_size(PaperChoice(paper)))
    windows = {(tile.row, tile.column): tile.window for tile in layout.tiles}
    for index, box in enumerate(layout.boxes):
        assert not any(box.overlaps(other) for other in layout.boxes[index + 1 :])
        along, across = (box.height, box.width) if layout.turned else (box.width, box.height)
        assert (along, across) == pytest.approx((items[index].length, items[index].width))
        assert not hidden(box, list(windows.values()))
        assert one_group({key for key, window in windows.items() if window.overlaps(box)})
    for key, window in windows.items():
        assert any(window.overlaps(box) for box in layout.boxes), f"{key} is blank"


@given(paper=st.sampled_from(["letter", "a4"]), items=JOBS)
def test_a_strip_that_fits_one_page_lies_on_one_and_a_joint_leaves_40_mm(paper: str, items: list[Item]) -> None:
    page = page_size(PaperChoice(paper))
    layout = arrange(items, page)
    for item, box in zip(items, layout.boxes, strict=True):
        shown = [tile.window for tile in layout.tiles if tile.window.overlaps(box)]
        if item.length <= page.window_height and item.width <= page.window_width:
            assert any(window.grown(1e-6).holds(box) for window in shown), "split"
        for window in shown:
            cut = box.within(window)
            if not any(other.grown(1e-6).holds(cut) for other in shown if other is not window):
                assert max(cut.width if box.width > box.height else cut.height, 0) >= min(40.0, item.length) - 1e-6


def hidden(box: Box, windows: list[Box]) -> list[tuple[float, float]]:
    """Return a point of each part of a box that no window shows: sides of windows part it into boxes that are shown whole or not at all."""
    xs = sorted({box.x0, box.x1, *(x for w in windows for x in (w.x0, w.x1) if box.x0 < x < box.x1)})
    ys = sorted({box.y0, box.y1, *(y for w in windows for y in (w.y0, w.y1) if box.y0 < y < box.y1)})
    middles = [((a + b) / 2, (c + d) / 2) for a, b in pairwise(xs) for c, d in pairwise(ys) if min(b - a, d - c) > 1e-6]
    return [(x, y) for x, y in middles if not any(w.x0 <= x <= w.x1 and w.y0 <= y <= w.y1 for w in windows)]


def one_group(cells: set[tuple[int, int]]) -> bool:
    reached, edge = set(), [min(cells)]
    while edge:
        row, column = edge.pop()
        if (row, column) in cells and (row, column) not in reached:
            reached.add((row, column))
            edge += [(row + 1, column), (row - 1, column), (row, column + 1), (row, column - 1)]
    return reached == cells


def test_neighbouring_windows_share_exactly_the_overlap() -> None:
    page = page_size(PaperChoice("letter", overlap=12.0))
    layout = arrange([Item("p1", 900, 400)], page)
    windows = {(tile.row, tile.column): tile.window for tile in layout.tiles}
    assert windows[0, 0].x1 - windows[0, 1].x0 == pytest.approx(12.0)
    assert windows[1, 0].y1 - windows[0, 0].y0 == pytest.approx(12.0)


def test_the_sheet_is_turned_when_that_saves_pages() -> None:
    # 248 mm fits the 259.4 mm height of a letter window, not its 195.9 mm width
    page = page_size(PaperChoice("letter"))
    layout = arrange([Item("p1", 248.0, 50.0)], page)
    assert layout.turned
    assert len(layout.tiles) == 1


def test_a_piece_in_the_shared_strip_needs_no_second_page() -> None:
    # window 100, step 90: up to 100 mm are shown by the first window alone
    assert list(tiles_needed(0, 100, 100, 90)) == [0]
    assert list(tiles_needed(0, 100.1, 100, 90)) == [0, 1]
    assert list(tiles_needed(95, 180, 100, 90)) == [1]


def test_a_strip_alone_needs_no_page_for_the_marks_of_a_joint_that_is_not_there() -> None:
    item = Item("p1", 527.5, 182.3, None, (), (), (2.0, 180.3), 2.0)
    assert len(arrange([item], page_size(PaperChoice("a4"))).tiles) == 2


def test_row_letters_go_on_after_z() -> None:
    assert [row_letters(k) for k in (0, 1, 25, 26, 27, 51, 52, 701, 702)] == [
        *("A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA")
    ]


@long
def test_more_than_four_hundred_pages_are_refused() -> None:
    page = page_size(PaperChoice("letter"))
    with pytest.raises(SpecError, match="more than the 400"):
        arrange([Item(f"p{k}", 5000, 250) for k in range(40)], page)


@pytest.mark.parametrize(
    ("choice", "words"),
    [
        (PaperChoice("letter", overlap=7.9), "register mark plus 2 mm"),
        (PaperChoice("a4", Margins(80, 80, 10, 10)), "window of only 50 mm width"),
        (PaperChoice("a4", Margins(10, 10, 150, 150)), "window of only 0 mm height"),
        (PaperChoice("letter", overlap=100), "smaller overlap"),
        (PaperChoice("letter", Margins(10, 0, 10, 10)), r"0 mm \(right\) is too close"),
    ],
)
def test_a_paper_without_a_window_is_refused(choice: PaperChoice, words: str) -> None:
    with pytest.raises(SpecError, match=words):
        page_size(choice)


@pytest.mark.parametrize(
    ("paper", "width", "height"),
    [
        ("a4", 210.0, 297.0),  # ISO 216:2007
        ("a3", 297.0, 420.0),  # ISO 216:2007
        ("letter", 215.9, 279.4),  # ANSI/ASME Y14.1: 8.5 x 11 in
        ("tabloid", 279.4, 431.8),  # ANSI/ASME Y14.1: 11 x 17 in
        ("legal", 215.9, 355.6),  # trade size 8.5 x 14 in
        ("letter-a4", 210.0, 279.4),  # inside both
    ],
)
def test_papers_have_their_standard_sizes(paper: str, width: float, height: float) -> None:
    page = page_size(PaperChoice(paper))
    assert (page.width, page.height) == pytest.approx((width, height), abs=1e-9)


def test_no_window_cuts_words_that_its_neighbour_shows_whole_where_that_costs_no_page() -> None:
    """This test ensures that a strip does not begin within the strip that two pages share."""
    page = page_size(PaperChoice("tabloid", overlap=15.0))
    sides = (390, 40), (640, 40), (700, 55), (700, 40), (640, 50), (300, 55), (300, 40)
    items = [Item("p", x, y, None, (Box(20, 4, 90, y - 4),), (), (2, y - 2), 2) for x, y in sides]
    layout = arrange(items, page)
    for item, box in zip(items, layout.boxes, strict=True):
        word = item.words[0]
        low, high = (box.x1 - word.y1, box.x1 - word.y0) if layout.turned else (box.y0 + word.y0, box.y0 + word.y1)
        for tile in layout.tiles:
            edges = (tile.window.x0, tile.window.x1) if layout.turned else (tile.window.y0, tile.window.y1)
            assert not any(low < edge < high for edge in edges), (tile.code, box)
