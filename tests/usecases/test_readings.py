"""Reading the table that testers send back."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tiler.errors import SpecError, UnreadableError
from tiler.usecases.rounds.table import Table, read_table

HEAD = "tester,printer,viewer,paper,nominal,across,down,size,fit"
ROW = "Ana,Inkjet,Reader,A4,50 mm,49.9 mm,50 mm,S,lies flat"


def table(folder: Path, text: str | bytes, unit: str | None = None) -> Table:
    path = folder / "readings.csv"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return read_table(path, unit)


def test_a_line_is_a_reading_in_millimetres(tmp_path: Path) -> None:
    # 2 in is 50.8 mm exactly (NIST SP 811, App. B); 1 31/32 in 50.00625 mm
    (one,) = table(tmp_path, f"{HEAD}\nAna,Inkjet,Reader,A4,2 in,1 31/32 in,50.8 mm,S,lies flat\n").readings
    assert (one.nominal, one.across, one.down) == pytest.approx((50.8, 50.00625, 50.8), abs=1e-9)
    assert one.ratios == pytest.approx((63 / 64, 1.0))
    assert (one.line, one.tester, one.size, one.fit) == (2, "Ana", "S", "lies flat")


def test_the_header_may_stand_in_any_order_and_case_and_hold_more(tmp_path: Path) -> None:
    read = table(tmp_path, "Down,ACROSS,Mood,nominal,Tester,viewer,Printer\n5 cm,49 mm,fine,5 cm,Ana,Reader,Inkjet\n")
    assert read.readings[0].ratios == pytest.approx((0.98, 1.0))
    assert read.notes == ("not used: the column 'mood'",)


@pytest.mark.parametrize("mark", [";", "\t"])
def test_semicolons_and_tabs_go_with_a_decimal_comma(tmp_path: Path, mark: str) -> None:
    row = mark.join(["Ana", "Inkjet", "Reader", "", "5,0 cm", "4,99 cm", "50", "", ""])
    (one,) = table(tmp_path, f"{HEAD.replace(',', mark)}\n{row}\n", unit="mm").readings
    assert (one.across, one.down) == pytest.approx((49.9, 50.0))


def test_a_decimal_comma_between_commas_is_read_where_it_is_quoted(tmp_path: Path) -> None:
    (one,) = table(tmp_path, f'{HEAD}\nAna,Inkjet,Reader,A4,5 cm,"4,99 cm","4,98",,\n').readings
    assert (one.across, one.down) == pytest.approx((49.9, 49.8))


@pytest.mark.parametrize("first", ["sep=;", '"sep=;"', "SEP=;"])
def test_a_first_line_that_names_the_separator_is_read(tmp_path: Path, first: str) -> None:
    (one,) = table(tmp_path, f"{first}\n{HEAD.replace(',', ';')}\n{ROW.replace(',', ';')}\n").readings
    assert (one.line, one.across) == (3, pytest.approx(49.9))


def test_a_number_without_a_unit_has_that_of_its_nominal(tmp_path: Path) -> None:
    rows = ["Ana,I,R,,15 cm,14.95,14.9,,", "Bo,I,R,,2 in,1 31/32,2,,", 'Cy,I,R,,"2""","2",1.9,,']
    found = table(tmp_path, "\n".join([HEAD, *rows])).readings
    assert [one.across for one in found] == pytest.approx([149.5, 50.00625, 50.8])


@pytest.mark.parametrize("empty", ["", "-", "\N{EN DASH}", "?"])
def test_one_axis_is_enough(tmp_path: Path, empty: str) -> None:
    (one,) = table(tmp_path, f"{HEAD}\nAna,Inkjet,Reader,A4,15 cm,{empty},14.9 cm,,\n").readings
    assert one.ratios == (None, pytest.approx(149 / 150))


def test_what_is_said_of_the_fit_is_kept_without_a_reading(tmp_path: Path) -> None:
    rows = ["Ana,,,,,,,S,lies flat", "Bo,Inkjet,Reader,A4,15 cm,about 15,15 cm,M,gapes"]
    read = table(tmp_path, "\n".join([HEAD, *rows]))
    assert [(one.tester, one.size, one.fit) for one in read.fits] == [("Ana", "S", "lies flat"), ("Bo", "M", "gapes")]
    assert [(one.line, one.tester) for one in read.bad] == [(3, "Bo")]


def test_a_line_that_is_there_twice_counts_once(tmp_path: Path) -> None:
    read = table(tmp_path, f"{HEAD}\n{ROW}\n{ROW}\n")
    assert len(read.readings) == 1
    assert (read.bad[0].line, read.bad[0].words) == (3, "it is the same as line 2, and counts once")


@pytest.mark.parametrize(
    ("nominal", "across", "words"),
    [
        # 1 in = 2.54 cm (NIST SP 811, App. B)
        ("6 in", "15.2", "a reading in centimetres that was written as inches; write 15.2"),
        ("5 cm", "1.97", "a reading in inches that was written as centimetres"),
        ("15 cm", "20 cm", "is the length of the 20 cm line, not of '15 cm'"),
        ("20 cm", "6 in", "is the length of the 6 in line, not of '20 cm'"),
    ],
)
def test_a_slip_is_named_as_what_it_is(tmp_path: Path, nominal: str, across: str, words: str) -> None:
    read = table(tmp_path, f"{HEAD}\nAna,Inkjet,Reader,A4,{nominal},{across},,,\n")
    assert read.readings == ()
    assert words in read.bad[0].words


def test_advice_shows_a_text_that_is_read(tmp_path: Path) -> None:
    row = 'Ana,Inkjet,Reader,A4,50 mm,50 mm,"49,5",,'
    bad = table(tmp_path, f"{HEAD}\n{row.replace('50 mm', '50')}\n").bad[0].words
    (advised,) = re.findall(r"for instance '([^']+)'", bad)
    again = row.replace("50 mm", advised).replace('"49,5"', advised)
    assert len(table(tmp_path, f"{HEAD}\n{again}\n").readings) == 1


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_marked_encodings_are_known(tmp_path: Path, encoding: str) -> None:
    read = table(tmp_path, f"{HEAD}\n{ROW.replace('Ana', 'Zoë')}\n".encode(encoding))
    assert (read.readings[0].tester, read.notes) == ("Zoë", ())


def test_another_encoding_is_named_as_a_guess(tmp_path: Path) -> None:
    read = table(tmp_path, f"{HEAD}\n{ROW.replace('Ana', 'Zoë')}\n".encode("cp1252"))
    assert read.readings[0].tester == "Zoë"
    assert "guess" in read.notes[0]


@pytest.mark.parametrize(
    ("row", "words"),
    [
        (ROW.replace("50 mm,49.9 mm", "50,49.9"), "nominal: '50' has no unit; write for instance '50 mm'"),
        (ROW.replace("49.9 mm,50 mm", ",").replace("lies flat", ""), "across and down are empty"),
        (ROW.replace("49.9 mm", "about 5"), "across: 'about 5' is not a length"),
        (ROW.replace("50 mm,S", "-50 mm,S"), "down: '-50 mm' is negative"),
        (ROW.replace("49.9 mm", "4.99 mm"), "check the numbers and their units"),
        (ROW.replace("Inkjet", " "), "printer is empty"),
        (ROW + ",more", "it has 10 cells, the first line 9"),
        (ROW.replace("lies flat", '"lies'), "its quotes do not match"),
        (ROW.replace("49.9 mm", '"2" in"'), "its quotes do not match"),
        ("Bea", "printer is empty"),
        (ROW.replace("Ana", "A" * 200_000), "a cell is far too long"),
    ],
)
def test_a_bad_line_is_named_and_costs_no_other(tmp_path: Path, row: str, words: str) -> None:
    more = [ROW.replace("Ana", name) for name in ("Bo", "Cy")]
    read = table(tmp_path, "\n".join([HEAD, ROW, row, "", *more]))
    assert [one.line for one in read.readings] == [2, 5, 6]
    assert [one.line for one in read.bad] == [3]
    assert words in read.bad[0].words


def test_a_text_over_two_lines_keeps_the_count_of_lines(tmp_path: Path) -> None:
    read = table(
        tmp_path,
        f"{HEAD}\n{ROW.replace('lies flat', chr(34) + 'lies' + chr(10) + 'flat' + chr(34))}\n{ROW.replace('Ana', 'Bo')}\n",
    )
    assert [(one.line, one.fit) for one in read.readings] == [(2, "lies flat"), (4, "lies flat")]


def test_signs_that_steer_a_terminal_are_taken_off(tmp_path: Path) -> None:
    row = ROW.replace("Ana", "A\x1b[2Jna")
    assert table(tmp_path, f"{HEAD}\n{row}\n").readings[0].tester == "A [2Jna"


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "is empty"),
        ("tester,printer,across\nAna,Inkjet,5 cm\n", "lacks viewer, nominal, down"),
        (f"{HEAD},Across\n{ROW}\n", "names across twice"),
    ],
)
def test_a_file_without_the_columns_is_refused(tmp_path: Path, text: str, words: str) -> None:
    with pytest.raises(SpecError, match=words):
        table(tmp_path, text)


@pytest.mark.parametrize("data", [b"PK\x03\x04\0\0", b"\xff\xfea", b"\x81\x8d\xff", b"a" * (8 * 2**20 + 1)])
def test_what_is_no_text_is_unreadable(tmp_path: Path, data: bytes) -> None:
    with pytest.raises(UnreadableError):
        table(tmp_path, data)


def test_a_missing_file_is_unreadable(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError, match="there is no such file"):
        read_table(tmp_path / "none.csv")


def test_a_table_of_far_too_many_lines_is_refused(tmp_path: Path) -> None:
    rows = "".join(f"{ROW.replace('Ana', f'Ana {number}')}\n" for number in range(999))
    assert len(table(tmp_path, f"{HEAD}\n{rows}").readings) == 999
    with pytest.raises(UnreadableError, match="has 1001 lines; at most 1000 are read, so judge it in parts"):
        table(tmp_path, f"{HEAD}\n" + f"{ROW}\n" * 1000)


def test_a_first_line_of_far_too_long_a_name_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="the first line is far too long to name columns"):
        table(tmp_path, "tester," + "a" * 200_000)
