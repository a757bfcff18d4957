"""The table of sizes: all of it in any width that a terminal has."""

from __future__ import annotations

from functools import partial

import pytest

from tests.chosen import over
from tiler.box import Box
from tiler.commands.output import terminal
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.report.size_table import MOST_ROWS, rows_of, size_table
from tiler.proof.report.verdict import Report


def size(measured: float, nominal: float, label: str, axis: str, name: CheckName = CheckName.SQUARE) -> Check:
    status = Status.PASS if abs(measured / nominal - 1) < 0.001 else Status.FAIL
    return Check(name, status, Says.SIZE, 1, measured, nominal, label=label, axis=axis)


def found(measured: float, nominal: float, label: str, page: int = 1) -> list[Check]:
    make = partial(Check, CheckName.SQUARE, Status.FAIL, Says.FOUND, page, measured, nominal, label=label)
    return [make(axis=axis, box=Box(121.4, 200.6, 180, 260), foreign=True) for axis in ("across", "down")]


OURS = [
    size(50.8, 50.8, "2 in", "across"),
    size(48.77, 50.8, "2 in", "down"),
    size(203.2, 203.2, "8 in", "across", CheckName.RULE),
    size(508.0, 508.0, "20 in", "down", CheckName.RULE),
]
OTHERS = [*found(47.79, 50.8, "2 in"), *found(94.07, 100.0, "10x10 centimetres", 12)]


def test_pages_that_fail_come_first_and_pages_of_ours_count_among_those_that_were_measured() -> None:
    others = found(47.79, 50.8, "2 in", 7)
    rows = [check.page for check, _ in rows_of([*OURS[:1], *others])]
    assert rows == [7, 1]
    report = Report("top.pdf", 9, (*OURS[:1], *others))
    assert report.measured_pages == (1, 7)
    assert Report("ours.pdf", 1, (*OURS[:1],)).measured_pages == ()


@pytest.mark.parametrize("width", [59, 60, 79, 80, 100])
@pytest.mark.parametrize("sizes", [OURS, OTHERS], ids=["ours", "others"])
def test_no_line_is_wider_than_asked_and_nothing_is_left_out(sizes: list[Check], width: int) -> None:
    lines = list(size_table(sizes, width))
    assert max(map(len, lines)) <= width
    text = " ".join(" ".join(lines).split())
    for check in sizes:
        for words in (f"{check.nominal_mm:.2f} mm", f"{check.measured_mm:.2f} mm", check.label):
            assert words in text
    assert text.count("wrong") == (1 if sizes is OURS else 2)


@over("width", range(30, 121, 5))
def test_a_head_stands_over_its_column_at_every_width(width: int) -> None:
    head, *lines = size_table(OTHERS, width)
    assert max(map(len, (head, *lines))) <= width
    rows = [line for line in lines if line[:4].strip().isdigit()]
    cells = {
        "left, foot": "121, 201",
        "what": "test square",
        "should be": "3.937 in",
        "across": "94.07",
        "down": "94.07",
    }
    for word, cell in cells.items():
        if word in head:
            assert rows[1].startswith(cell, head.index(word))


def test_a_row_takes_one_line_where_there_is_room_and_two_where_there_is_not() -> None:
    good = [check for check in OURS if check.status is Status.PASS and check.nominal_mm != 508.0]
    assert [len(list(size_table(good, width))) for width in (59, 60, 79, 80, 100)] == [5, 5, 3, 3, 3]
    assert list(size_table(good, 60))[1:3] == [
        "   1  test square 2 in across  100.00 %",
        "  should be 2.000 in 50.80 mm, measures 2.000 in 50.80 mm",
    ]
    assert list(size_table(OTHERS, 60))[1:4] == [
        "   1  121, 201    test square 2 in",
        "  should be 2.000 in 50.80 mm, across 47.79 mm −5.93 %,",
        "  down 47.79 mm −5.93 %, wrong",
    ]


@pytest.mark.parametrize(
    ("ratios", "words"),
    [
        ((1.0, 1.0), "2 more, all 100.00 %"),
        # equal as printed, though not quite
        ((1.00002, 0.99999), "2 more, all 100.00 %"),
        ((1.0002, 0.9998, 1.0), "3 more, 99.98 % to 100.02 %"),
        ((1.0,), "1 more, 100.00 %"),
    ],
)
def test_what_is_left_over_is_summed_up_as_it_is_printed(ratios: tuple[float, ...], words: str) -> None:
    rest = [size(100 * ratio, 100.0, "10 cm", "across") for ratio in ratios]
    assert list(size_table([*OURS[:1] * MOST_ROWS, *rest], 80))[-1] == words


def test_a_label_with_a_comma_is_written_whole() -> None:
    assert "test square 2,5 cm  " in list(size_table(found(25.0, 25.0, "2,5 cm"), 100))[1]


@pytest.mark.parametrize(
    ("columns", "wide"), [(None, 80), ("40", 60), ("60", 60), ("72", 72), ("100", 100), ("240", 100)]
)
def test_a_table_is_as_wide_as_the_terminal_within_reason(
    columns: str | None, wide: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sys.stdout.isatty", lambda: columns is not None, raising=False)
    monkeypatch.setenv("COLUMNS", columns or "240")
    assert terminal.table_width() == wide
