"""Where pieces lie and which pages show them.

The page count is held against a first-fit shelf packing by decreasing width,
written out here on its own (textbook heuristic).
"""

from __future__ import annotations

import random
from math import ceil

import pytest

from tiler.errors import SpecError
from tiler.paper import PAPERS, Margins, PageSize, PaperChoice, page_size
from tiler.sheets.layout.grid import GAP, Item, arrange, row_letters, tiles_needed


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


def jobs(count: int) -> list[list[Item]]:
    chance = random.Random(7)
    return [
        [
            Item(f"p{k}", chance.uniform(60, 900), chance.choice((24, 33, 42, 55, 80, 140)) + chance.uniform(0, 6))
            for k in range(chance.randint(1, 14))
        ]
        for _ in range(count)
    ]


@pytest.mark.parametrize("paper", ["letter", "a4", "tabloid"])
def test_no_more_pages_than_first_fit_shelves(paper: str) -> None:
    page = page_size(PaperChoice(paper))
    for items in jobs(60):
        assert len(arrange(items, page).tiles) <= shelf_pages(items, page), items


@pytest.mark.parametrize("paper", PAPERS)
def test_every_piece_is_shown_whole_without_overlap_and_in_one_group(paper: str) -> None:
    page = page_size(PaperChoice(paper))
    for items in jobs(25):
        layout = arrange(items, page)
        windows = {(tile.row, tile.column): tile.window for tile in layout.tiles}
        for index, box in enumerate(layout.boxes):
            assert not any(box.overlaps(other) for other in layout.boxes[index + 1 :])
            along, across = (box.height, box.width) if layout.turned else (box.width, box.height)
            assert (along, across) == pytest.approx((items[index].length, items[index].width))
            # the shown parts of an upright box in a grid of windows: each of its points lies in a printed window
            xs = [box.x0 + k * box.width / 40 for k in range(41)]
            ys = [box.y0 + k * box.height / 40 for k in range(41)]
            slack = 1e-6
            for x in xs:
                for y in ys:
                    assert any(
                        w.x0 - slack <= x <= w.x1 + slack and w.y0 - slack <= y <= w.y1 + slack
                        for w in windows.values()
                    )
            touched = {key for key, window in windows.items() if window.overlaps(box)}
            assert one_group(touched)
        for key, window in windows.items():
            assert any(window.overlaps(box) for box in layout.boxes), f"{key} is blank"


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


def test_row_letters_go_on_after_z() -> None:
    assert [row_letters(k) for k in (0, 1, 25, 26, 27, 51, 52, 701, 702)] == [
        *("A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA")
    ]


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
    assert (page.width, page.height) == (pytest.approx(width, abs=1e-9), pytest.approx(height, abs=1e-9))
