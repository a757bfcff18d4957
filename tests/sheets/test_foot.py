"""The strip at the foot of every page: outside all frames, what it says and shows, and what it costs.

That a home printer leaves up to 4.3 mm (12 pt) unprinted is common practice.
"""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from tests.chosen import long
from tests.look.test_pages import faults
from tests.sheets.jobs import EXAMPLES, MIXED, PAIR, drawn, drawn_once
from tests.specs import piece, spec, straight
from tiler.box import Box
from tiler.declaration import Declaration, Page, PageKind, printed_pages
from tiler.paper import Margins, PaperChoice, page_size
from tiler.printed import Area, Line, Word
from tiler.proof import prove
from tiler.proof.compare.said import compare_said
from tiler.proof.ink.where import word_box
from tiler.sheets.layout.placed import shown_on
from tiler.sheets.page import foot_map
from tiler.usecases.draft import Wishes

UNPRINTED = 4.3
LONG = "Smock with the gathered yoke, longer sleeves and cuffs, for the whole family, and all that goes with it; "
LONG = (LONG * 2)[:199]


def at_foot(declaration: Declaration, number: int) -> list[Word]:
    """Return the words below the lowest frame of a page."""
    frames = [page.frame for page in declaration.pages if page.number == number and page.frame]
    lowest = min((frame.y0 for frame in frames), default=10.0)
    words = [mark for mark in declaration.printed[number - 1] if isinstance(mark, Word)]
    return [word for word in words if word.at[1] < lowest]


@pytest.mark.parametrize(
    "wishes", [Wishes(), Wishes(paper="a4", arrange="grid"), Wishes(margin=5.0, cover=False), Wishes(paper="one-sheet")]
)
def test_every_page_says_which_it_is_outside_of_all_frames(wishes: Wishes) -> None:
    declaration = drawn_once(MIXED, wishes).declaration
    pages = printed_pages(declaration.pages)
    for records in pages:
        number = records[0].number
        frames = [record.frame for record in records if record.frame]
        said = [word.text for word in at_foot(declaration, number)]
        assert f"page {number} of {len(pages)}" in said
        assert "Mixed pieces · 2.1 · 2026-10-04" in said
        if records[0].kind is PageKind.TILE:
            assert records[0].code in said
        for word in at_foot(declaration, number):
            # capitals of DejaVu Sans are 0.76 of the size high, and descenders reach 0.24 below
            size = word.size * 25.4 / 72
            assert word.at[1] - 0.24 * size >= UNPRINTED - 0.01 or word.size > 7
            assert all(word.at[1] + 0.76 * size < frame.y0 for frame in frames)
        lines = [rule for rule in declaration.rules if rule.page == number and rule.label in ("2 in", "5 cm")]
        assert len(lines) == (2 if frames else 0)
        assert not any(frame.overlaps(Box(*rule.at, *rule.end).grown(1.5)) for frame in frames for rule in lines)


def units_at_foot(declaration: Declaration, number: int) -> list[Word]:
    """Return the words of the ruler lines of a page, without the unit."""
    return [word for word in at_foot(declaration, number) if word.text in ("2", "5")]


def test_the_words_of_the_ruler_lines_keep_off_their_ticks() -> None:
    """This test ensures 1.2 mm, with half the weight of the last tick."""
    declaration = drawn_once(MIXED, Wishes()).declaration
    rules = [rule for rule in declaration.rules if rule.page == 2 and rule.label in ("2 in", "5 cm")]
    (two, five) = units_at_foot(declaration, 2)
    assert min(two.at[0], five.at[0]) - max(rule.end[0] for rule in rules) >= 1.2 + 0.25 / 2 - 1e-6


@pytest.mark.parametrize(
    ("page", "text", "by"),
    [
        pytest.param(2, "2", 1.5, id="the only numeral of a line, further beyond its end"),
        pytest.param(2, "5", -4.5, id="before its end"),
        pytest.param(1, "6", 2.0, id="the last of several, beyond the end"),
    ],
)
def test_a_numeral_elsewhere_is_refused(page: int, text: str, by: float) -> None:
    declaration = drawn_once(MIXED, Wishes()).declaration
    words = units_at_foot(declaration, page) if page > 1 else declaration.printed[0]
    (word,) = (one for one in words if isinstance(one, Word) and one.text == text and one.at[0] > 100)
    elsewhere = replace(word, at=(word.at[0] + by, word.at[1]))
    marks = tuple(elsewhere if mark is word else mark for mark in declaration.printed[page - 1])
    printed = (*declaration.printed[: page - 1], marks, *declaration.printed[page:])
    failed = {check.name for check in compare_said(replace(declaration, printed=printed)) if check.status == "fail"}
    assert "said-size" in failed


@long
def test_the_pieces_of_a_page_are_named_at_its_foot_with_their_sizes() -> None:
    declaration = drawn_once((EXAMPLES / "saltmarsh-sizes.toml").read_text("utf-8")).declaration
    for page in declaration.pages[1:]:
        assert page.window is not None
        shown = {one.name for one in declaration.pieces if one.sheet_bounds().overlaps(page.window)}
        said = ", ".join(word.text for word in at_foot(declaration, page.number)).split(", ")
        assert {f"{name} XXS–3XL" for name in shown} <= {*said}


def test_with_usual_margins_the_foot_takes_nothing_off_the_window_and_with_small_ones_what_it_needs() -> None:
    assert page_size(PaperChoice("letter")).frame == Box(10.0, 10.0, 205.9, 269.4)
    assert page_size(PaperChoice("letter", Margins(5.0, 5.0, 5.0, 5.0))).frame == Box(5.0, 10.0, 210.9, 274.4)
    assert page_size(PaperChoice("letter", Margins(17.0, 17.0, 17.0, 17.0))).margins.bottom == 17.0


@long
def test_a_long_title_goes_on_in_the_margin_at_the_head_and_no_page_is_added(tmp_path: Path) -> None:
    long = drawn_once(spec(piece("Hem", "3 cm", straight("70 cm"), cut="full-loop"), title=LONG, units="cm"))
    short = drawn_once(spec(piece("Hem", "3 cm", straight("70 cm"), cut="full-loop"), title="Hem", units="cm"))
    assert long.declaration.pages[-1].number == short.declaration.pages[-1].number
    for number in range(2, long.declaration.pages[-1].number + 1):
        words = [mark.text for mark in long.declaration.printed[number - 1] if isinstance(mark, Word)]
        assert LONG.strip() in " ".join(words)
    assert faults(long) == []
    small = drawn(
        spec(piece("Hem", "3 cm", straight("70 cm"), cut="full-loop"), title=LONG, units="cm"),
        tmp_path,
        Wishes(margin=5.0),
    )
    assert faults(small) == []


def blacks(declaration: Declaration, number: int) -> list[Area]:
    return [mark for mark in declaration.printed[number - 1] if isinstance(mark, Area) and mark.grey == 0.0]


def test_the_map_shows_the_pages_that_are_taped_together() -> None:
    declaration = drawn_once(MIXED, Wishes(arrange="grid")).declaration
    tiles = [page for page in declaration.pages if page.kind is PageKind.TILE]
    (a1,) = blacks(declaration, tiles[0].number)
    for tile in tiles:
        (black,) = blacks(declaration, tile.number)
        assert black.area.width == pytest.approx(a1.area.width)
        assert tile.row is not None
        assert tile.column is not None
        assert black.area.x0 - a1.area.x0 == pytest.approx(tile.column * a1.area.width)
        assert a1.area.y0 - black.area.y0 == pytest.approx(tile.row * a1.area.height)
        own = [
            mark
            for mark in declaration.printed[tile.number - 1]
            if isinstance(mark, Line)
            and not mark.tag
            and any(black.area.overlaps(Box.around(line), -0.01) for line in mark.lines)
        ]
        assert own


APART = spec(
    *(
        piece(f"Strip {k}", None, straight("50 cm"), "raw-edge-binding", cut_width="6 cm", cut="full-loop")
        for k in "1234"
    ),
    title="Two by two",
    units="cm",
)


@long
def test_pages_beside_each_other_that_no_piece_runs_across_are_not_on_one_map(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    wishes = Wishes(arrange="grid")
    declaration = drawn_once(APART, wishes).declaration
    assert {mark.tiles for mark in declaration.marks} == {("A1", "B1"), ("A2", "B2")}
    areas = [blacks(declaration, page.number)[0].area for page in declaration.pages[1:]]
    # each column of two pages is a map of its own
    assert len({area.x0 for area in areas}) == 1
    assert len({round(area.y0, 3) for area in areas}) == 2
    # and the proof says the same: with all tiles on one map it fails
    monkeypatch.setattr(foot_map, "_taped", lambda *_: {(row, column) for row in (0, 1) for column in (0, 1)})
    report = prove(drawn(APART, tmp_path, wishes).data)
    assert "map at the foot" in (report.first_failure() or "")


@pytest.mark.parametrize("margin", [5.0, 10.0, 15.0, 30.0])
def test_the_foot_lies_where_printers_print_and_inside_the_margins_at_the_sides(margin: float) -> None:
    declaration = drawn_once(PAIR, Wishes(margin=margin, arrange="grid")).declaration
    for page in declaration.pages[1:]:
        assert page.frame is not None
        marks = declaration.printed[page.number - 1]
        words = [mark for mark in marks if isinstance(mark, Word)]
        # a code has no letter that reaches below its line
        drops = [0.0 if word.bold else 0.6 for word in words]
        boxes = [replace(word_box(word), y0=word.at[1] - drop) for word, drop in zip(words, drops, strict=True)]
        boxes += [mark.area for mark in marks if isinstance(mark, Area)]
        boxes += [Box.around(line) for mark in marks if isinstance(mark, Line) for line in mark.lines]
        foot = [box for box in boxes if box.y1 < page.frame.y0]
        assert len(foot) > 5
        side = max(UNPRINTED, margin)
        room = Box(side, UNPRINTED, declaration.page_width_mm - side, page.frame.y0)
        assert all(room.grown(0.3).holds(box) for box in foot), margin


def test_a_large_map_shows_what_is_round_its_page() -> None:
    taped = {(row, column) for row in range(12) for column in range(30)}
    shown = foot_map._round(taped, (11, 0))
    assert shown == {(row, column) for row in range(7, 12) for column in range(14)}
    assert len(foot_map._sides(shown)) == 6 + 15


def test_a_page_that_shows_a_bit_of_a_piece_which_others_show_too_does_not_list_it() -> None:
    """Of a piece over two pages of a column the pages beside them show a sliver in their shared strip alone."""
    pages = [
        Page(
            number,
            PageKind.TILE,
            f"{'AB'[row]}{column + 1}",
            row,
            column,
            Box(*corner, corner[0] + 100, corner[1] + 100),
        )
        for number, (row, column, corner) in enumerate(
            [(0, 0, (0, 90)), (0, 1, (90, 90)), (1, 0, (0, 0)), (1, 1, (90, 0))], 2
        )
    ]
    long = Box(95.0, 20.0, 120.0, 170.0)
    assert [one.code for one in shown_on([long], pages)] == ["A2", "B2"]
    assert [one.code for one in shown_on([Box(60.0, 20.0, 120.0, 170.0)], pages)] == ["A1", "A2", "B1", "B2"]
    assert [one.code for one in shown_on([Box(92.0, 92.0, 98.0, 98.0)], pages)] == ["A1"]


@long
def test_squares_without_a_first_page_stand_where_nothing_crosses_them_and_page_1_says_where() -> None:
    widths = (("10.4 mm", "321 mm"), ("7.5 mm", "848 mm"), ("13.4 mm", "871 mm"), ("6.4 mm", "923 mm"))
    widths += (("6.8 mm", "437 mm"), ("13.5 mm", "946 mm"), ("7.3 mm", "1005 mm"))
    finishes = ["raw-edge-binding"] * 6 + ["double-fold-binding"]
    finishes[1] = "french-binding"
    pieces = [
        piece(f"Binding {number}", width, straight(edge), finish, cut="on-fold" if number > 1 else "full-loop")
        for number, ((width, edge), finish) in enumerate(zip(widths, finishes, strict=True), 1)
    ]
    text = spec(*(one | {"ratio": "usual"} for one in pieces), title="Full pages", units="cm")
    document = drawn_once(text, Wishes("a4", 15.0, 15.0, cover=False))
    (page,) = {square.page for square in document.declaration.squares}
    assert page > 1
    assert [fault for fault in faults(document) if "test square" in fault or "5 cm ×" in fault] == []
    said = [[mark.text for mark in marks if isinstance(mark, Word)] for marks in document.declaration.printed]
    assert f"Print at 100 %; measure both squares on page {page} before you cut cloth." in said[0]
    assert "Print at 100 %; measure both squares before you cut cloth." in said[page - 1]
    assert prove(document.data).verdict == "true-to-scale"
