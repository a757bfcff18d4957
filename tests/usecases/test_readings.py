"""Reading the table that testers send back."""

from __future__ import annotations

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


def test_a_decimal_comma_between_commas_is_refused_with_what_to_write(tmp_path: Path) -> None:
    read = table(tmp_path, f'{HEAD}\nAna,Inkjet,Reader,A4,5 cm,"4,99 cm",5 cm,,\n')
    assert read.readings == ()
    assert "write 4.99 cm" in read.bad[0].words


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
        (ROW.replace("49.9 mm", "49.9"), "across: '49.9' has no unit; write for instance '49.9 mm'"),
        (ROW.replace("49.9 mm", ""), "across is empty"),
        (ROW.replace("49.9 mm", "about 5"), "across: 'about 5' is not a length"),
        (ROW.replace("50 mm,S", "-50 mm,S"), "down: '-50 mm' is negative"),
        (ROW.replace("49.9 mm", "4.99 mm"), "check the numbers and their units"),
        (ROW.replace("Inkjet", " "), "printer is empty"),
        (ROW + ",more", "it has 10 cells, the first line 9"),
        (ROW.replace("lies flat", '"lies'), "its quotes do not match"),
        (ROW.replace("49.9 mm", '"2" in"'), "its quotes do not match"),
        ("Ana", "printer is empty"),
        (ROW.replace("Ana", "A" * 200_000), "a cell is far too long"),
    ],
)
def test_a_bad_line_is_named_and_costs_no_other(tmp_path: Path, row: str, words: str) -> None:
    read = table(tmp_path, f"{HEAD}\n{ROW}\n{row}\n\n{ROW}\n{ROW}\n")
    assert [one.line for one in read.readings] == [2, 5, 6]
    assert [one.line for one in read.bad] == [3]
    assert words in read.bad[0].words


def test_a_text_over_two_lines_keeps_the_count_of_lines(tmp_path: Path) -> None:
    read = table(
        tmp_path, f"{HEAD}\n{ROW.replace('lies flat', chr(34) + 'lies' + chr(10) + 'flat' + chr(34))}\n{ROW}\n"
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
    assert len(table(tmp_path, f"{HEAD}\n" + f"{ROW}\n" * 999).readings) == 999
    with pytest.raises(UnreadableError, match="has 1001 lines; at most 1000 are read, so judge it in parts"):
        table(tmp_path, f"{HEAD}\n" + f"{ROW}\n" * 1000)


def test_a_first_line_of_far_too_long_a_name_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="the first line is far too long to name columns"):
        table(tmp_path, "tester," + "a" * 200_000)
