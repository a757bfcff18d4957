"""Strips cut up and stacked: every stretch shown, joints clear of words and notches, never more pages than a grid.

The least number of pages is the area of the strips over that of a window: no arrangement
can print on more paper than there is.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import combinations, pairwise
from math import ceil
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.chosen import long, tries
from tests.sheets.jobs import drawn
from tests.specs import piece, spec, straight, table, written
from tiler.box import Box
from tiler.commands.draft import command
from tiler.declaration import PageKind
from tiler.draft.spec.read import read_spec
from tiler.errors import SpecError
from tiler.paper import Arrangement, PageSize, PaperChoice, page_size
from tiler.sheets.layout.choose import arrange_as, least_pages
from tiler.sheets.layout.cutting import Part, Strip, code_room, least_width
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.shelves import Shelf, filling
from tiler.sheets.layout.stack import Pane
from tiler.usecases.draft import Wishes, drawing_of

PAGE = page_size(PaperChoice("letter"))


@st.composite
def strips(draw: st.DrawFn, size: str | None = None) -> Item:
    """Give a strip with words and notches here and there."""
    length, width = draw(st.floats(60, 900)), draw(st.floats(18, 150))
    places = st.tuples(st.floats(0, length - 50), st.floats(2, width - 6), st.floats(8, 45))
    words = [Box(x, y, x + wide, y + 3.1) for x, y, wide in draw(st.lists(places, max_size=6))]
    notches = [Box(x, 2.0, x, 5.0) for x in draw(st.lists(st.floats(5, length - 5), min_size=3, max_size=3))]
    return Item("p", length, width, size, tuple(words), tuple(notches), (2.0, width - 2.0), 2.0)


JOBS = st.lists(strips(), min_size=1, max_size=9)


def of_strip(panes: tuple[Pane, ...], index: int) -> list[Pane]:
    return sorted((pane for pane in panes if pane.item == index), key=lambda pane: pane.part.number)


@long
@given(paper=st.sampled_from(["letter", "a4", "tabloid"]), overlap=st.sampled_from([8.0, 10.0, 25.0, 40.0]), items=JOBS)
def test_strips_are_shown_whole_in_parts_that_keep_their_distance_and_order(
    paper: str, overlap: float, items: list[Item]
) -> None:
    page = page_size(PaperChoice(paper, overlap=overlap))
    stacked = arrange_as(items, page, Arrangement.STACKED)
    for index, item in enumerate(items):
        parts = [pane.part for pane in of_strip(stacked.panes, index)]
        shown_from_end_to_end(parts, item, overlap)
        assert len(parts) == 1 or not (item.length <= page.window_height and item.width <= page.window_width)
        joints_away_from_the_ends(parts, item)
    for number in {pane.page for pane in stacked.panes}:
        here = [pane for pane in stacked.panes if pane.page == number]
        read_from_left_to_right_and_down(here, stacked.layout.turned)
        frames_inside_the_margins_and_apart(here, page)
    forwards_from_page_to_page(stacked.panes)
    sharing_nothing_of_the_sheet(stacked.panes)


def shown_from_end_to_end(parts: list[Part], item: Item, overlap: float) -> None:
    """Expect every stretch in one part, and joints in two that share the overlap."""
    assert parts[0].start == 0.0
    assert parts[-1].end == pytest.approx(item.length)
    assert [part.number for part in parts] == list(range(len(parts)))
    for one, following in pairwise(parts):
        assert one.end - following.start == pytest.approx(overlap)
    for part in parts:
        assert part.width >= least_width(overlap) - 1e-6
        assert part.low <= item.body[0] - item.border + 1e-6
        assert part.high >= item.body[1] + item.border - 1e-6
        for word in item.words:
            if word.x0 < part.end and word.x1 > part.start:
                assert part.low <= word.y0
                assert word.y1 <= part.high


def joints_away_from_the_ends(parts: list[Part], item: Item) -> None:
    """Expect 40 mm of the strip on either side of a joint."""
    low, high = item.ends
    for one, following in pairwise(parts):
        assert following.start - low >= 40.0 - 1e-6
        assert high - one.end >= 40.0 - 1e-6
        assert following.end - one.end >= 40.0 - 1e-6


def read_from_left_to_right_and_down(panes: list[Pane], turned: bool) -> None:
    """Expect the panes of a page in the order in which it is read."""

    def place(pane: Pane) -> tuple[float, float]:
        frame = pane.frame
        return (frame.x0, -frame.y1) if turned else (-frame.y1, frame.x0)

    codes = [(pane.part.strip, pane.part.number) for pane in sorted(panes, key=place)]
    assert codes == sorted(codes)


def forwards_from_page_to_page(panes: tuple[Pane, ...]) -> None:
    """Expect no part of a strip before the one that it joins, and no strip begun before one of a lower number."""
    parts = [pane.part for pane in sorted(panes, key=lambda pane: pane.page)]
    for strip in {part.strip for part in parts}:
        numbers = [part.number for part in parts if part.strip == strip]
        assert numbers == sorted(numbers)
    begun = [part.strip for part in parts if part.number == 0]
    assert begun == sorted(begun)


def frames_inside_the_margins_and_apart(panes: list[Pane], page: PageSize) -> None:
    """Expect frames as large as their windows, clear of the margins and of each other."""
    inside = Box(10.0, 10.0, page.width - 10.0, page.height - 10.0).grown(1e-6)
    frames = [pane.frame for pane in panes]
    for index, frame in enumerate(frames):
        assert inside.x0 <= frame.x0
        assert frame.x1 <= inside.x1
        assert inside.y0 <= frame.y0
        assert frame.y1 <= inside.y1
        assert not any(frame.grown(1.4).overlaps(other) for other in frames[index + 1 :])
    for pane in panes:
        assert (pane.window.width, pane.window.height) == pytest.approx((pane.frame.width, pane.frame.height))


def sharing_nothing_of_the_sheet(panes: Sequence[Pane]) -> None:
    """Expect windows of two strips clear of each other."""
    for one, other in combinations(panes, 2):
        assert one.part.strip == other.part.strip or not one.window.overlaps(other.window)


def test_parts_of_a_strip_follow_each_other_over_pages_where_that_costs_none() -> None:
    """This test ensures that a strip is not begun behind its second part: 1A 2B 2C, and on the next page 1B 2A."""
    items = [Item("p1", 280.0, 62.0), Item("p2", 520.0, 64.0), Item("p3", 235.0, 155.0)]
    panes = arrange_as(items, PAGE, Arrangement.STACKED).panes
    assert len({pane.page for pane in panes}) == 3
    codes = [pane.part.code for pane in panes]
    assert codes == sorted(codes)
    assert codes[0] == "1A"


def test_a_short_rest_is_not_cut_to_fill_a_shelf() -> None:
    """This test ensures that a joint leaves 40 mm behind it where the room of a shelf is used up."""
    strip = Strip(0, Item("p1", 300.0, 30.0), 10.0)
    assert filling(strip, 1, 220.0, Shelf(30.0, 76.5, []), 80.0) is None
    part = filling(strip, 1, 200.0, Shelf(30.0, 76.5, []), 100.0)
    assert part is not None
    assert part.end <= 260.0


def test_strips_are_numbered_as_they_are_read() -> None:
    """This test ensures that what stands on the first page is strip 1, whichever piece of the spec that is."""
    items = [Item("p1", 200.0, 60.0), Item("p2", 250.0, 190.0), Item("p3", 200.0, 120.0)]
    panes = arrange_as(items, PAGE, Arrangement.STACKED).panes
    assert [pane.part.strip for pane in panes] == [0, 1, 2]
    assert sorted(pane.item for pane in panes) == [0, 1, 2]
    assert [pane.item for pane in panes] != [0, 1, 2]


@long
@settings(max_examples=tries(15))
@given(items=st.lists(strips(), min_size=3, max_size=4))
def test_a_strip_with_a_number_of_two_figures_has_room_for_its_code(items: list[Item]) -> None:
    thin = [replace(item, lane=6.0) for item in items * 4]
    for pane in arrange_as(thin, PAGE, Arrangement.STACKED).panes:
        assert pane.part.high - thin[pane.item].body[1] >= code_room(pane.part.strip + 1) - 1e-6


def test_no_joint_lies_on_a_word_or_a_notch_where_it_can_stand_beside() -> None:
    words = tuple(Box(150.0 + 100 * k, 5.0, 195.0 + 100 * k, 8.0) for k in range(7))
    notches = tuple(Box(146.0 + 100 * k, 0.0, 146.0 + 100 * k, 3.0) for k in range(7))
    item = Item("p1", 900.0, 30.0, None, words, notches, (2.0, 28.0), 2.0)
    cut, start = Strip(0, item, 10.0), 0.0
    ends: list[float] = []
    while (part := cut.part(len(ends), start, 195.9)).end < item.length:
        ends.append(part.end)
        start = part.end - 10.0
    assert len(ends) > 3
    for end in ends:
        assert not any(box.x0 < end and box.x1 > end - 10.0 for box in (*words, *notches)), end


def test_where_words_leave_no_room_a_joint_spares_the_notches() -> None:
    words = tuple(Box(10.0, 5.0 + 4 * row, 690.0, 8.0 + 4 * row) for row in range(4))
    notches = (Box(190.0, 0.0, 190.0, 3.0),)
    part = Strip(0, Item("p1", 700.0, 30.0, None, words, notches, (2.0, 28.0), 2.0), 10.0).part(0, 0.0, 195.9)
    assert 100.0 < part.end < 190.0


@long
@settings(max_examples=tries(40))
@given(paper=st.sampled_from(["letter", "a4"]), items=JOBS)
def test_fewest_needs_no_more_pages_than_a_grid_and_no_fewer_than_the_area(paper: str, items: list[Item]) -> None:
    page = page_size(PaperChoice(paper))
    grid = len(arrange_as(items, page, Arrangement.GRID).layout.tiles)
    taken = arrange_as(items, page, Arrangement.FEWEST)
    pages = len({pane.page for pane in taken.panes}) or len(taken.layout.tiles)
    area = sum(item.length * (item.width - 4.0) for item in items) / (page.window_width * page.window_height)
    assert taken.plan is not None
    assert taken.plan.grid == grid
    assert taken.plan.least == ceil(area) <= pages <= grid
    assert pages == (taken.plan.stacked if taken.panes else grid)


def test_a_strip_of_24_in_fits_one_page() -> None:
    item = Item("p1", 24 * 25.4, 44.0)
    taken = arrange_as([item], PAGE, Arrangement.FEWEST)
    assert taken.plan is not None
    assert (taken.plan.grid, taken.plan.stacked, taken.plan.least) == (3, 1, 1)
    assert {pane.page for pane in taken.panes} == {0}
    assert [pane.part.code for pane in taken.panes] == [f"1{letter}" for letter in "ABCD"[: len(taken.panes)]]


def test_where_both_need_as_many_pages_the_grid_stays() -> None:
    taken = arrange_as([Item("p1", 120.0, 44.0)], PAGE, Arrangement.FEWEST)
    assert taken.panes == ()
    assert len(taken.layout.tiles) == 1


@long
@settings(max_examples=tries(20))
@given(small=st.lists(strips("S"), min_size=1, max_size=3), medium=st.lists(strips("M"), min_size=1, max_size=3))
def test_sizes_share_no_page(small: list[Item], medium: list[Item]) -> None:
    items = [*small, *medium]
    pages: dict[str | None, set[int]] = {}
    for pane in arrange_as(items, PAGE, Arrangement.STACKED).panes:
        pages.setdefault(items[pane.item].size, set()).add(pane.page)
    assert not pages["S"] & pages["M"]


def test_a_piece_wider_than_a_page_is_refused_for_stacked_and_goes_on_a_grid() -> None:
    items = [Item("p1", 500.0, 300.0)]
    with pytest.raises(SpecError, match=r"300 mm wide.*wider than a page of letter"):
        arrange_as(items, PAGE, Arrangement.STACKED)
    taken = arrange_as(items, PAGE, Arrangement.FEWEST)
    assert taken.panes == ()
    assert taken.plan is not None
    assert taken.plan.stacked is None


def test_more_than_four_hundred_pages_are_refused() -> None:
    items = [Item(f"p{k}", 5000.0, 240.0) for k in range(40)]
    for wish in (Arrangement.GRID, Arrangement.STACKED, Arrangement.FEWEST):
        with pytest.raises(SpecError, match=r"need at least [0-9]+ pages of letter, more than the 400"):
            arrange_as(items, PAGE, wish)


@long
def test_strips_that_fill_fewer_but_need_more_pages_are_refused() -> None:
    """This test ensures that the pages are counted, too: a strip wider than half a window has its own."""
    items = [Item(f"p{k}", PAGE.window_height * 12, PAGE.window_width * 0.7) for k in range(34)]
    assert least_pages(items, PAGE) < 400
    with pytest.raises(SpecError, match=r"need [0-9]+ pages of letter, more than the 400"):
        arrange_as(items, PAGE, Arrangement.STACKED)


def test_the_least_is_one_page_at_least() -> None:
    assert least_pages([Item("p1", 10.0, 10.0)], PAGE) == 1
    assert least_pages([Item("p1", PAGE.window_width, PAGE.window_height)], PAGE) == 1
    assert least_pages([Item("p1", PAGE.window_width + 1, PAGE.window_height)], PAGE) == 2


def hem(folder: Path, arrange: str) -> Path:
    strip = piece("Hem", "1.5 cm", straight("70 cm"), cut="full-loop")
    return written(spec(strip, units="cm", paper=table(arrange=arrange)), folder)


def test_the_command_line_wins_over_the_spec(tmp_path: Path) -> None:
    job = read_spec(hem(tmp_path, "grid"))
    assert drawing_of(job, Wishes()).paper.arrange == "grid"
    assert drawing_of(job, Wishes(arrange="stacked")).paper.arrange == "stacked"
    assert drawn(hem(tmp_path, "grid"), tmp_path).declaration.pages[-1].kind is not PageKind.PANE
    assert drawn(hem(tmp_path, "fewest"), tmp_path).declaration.pages[-1].kind is PageKind.PANE


def test_an_unknown_arrangement_is_refused_with_the_nearest(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match=r'paper.arrange: "stack" is not known; did you mean stacked\?'):
        read_spec(hem(tmp_path, "stack"))


def test_the_command_offers_the_three() -> None:
    option = next(one for one in command.params if one.name == "arrange")
    assert list(option.type.choices) == ["grid", "stacked", "fewest"]  # type: ignore[attr-defined]


def test_words_of_a_stacked_file_say_how_the_parts_join(tmp_path: Path) -> None:
    declaration = drawn(hem(tmp_path, "stacked"), tmp_path).declaration
    panes = [page for page in declaration.pages if page.kind is PageKind.PANE]
    assert [pane.code for pane in panes] == ["1A", "1B", "1C"]
    assert {mark.tiles for mark in declaration.marks} == {("1A", "1B"), ("1B", "1C")}
    assert len(declaration.marks) == 6
    assert declaration.page_labels() == (None, "1A 1B 1C")
