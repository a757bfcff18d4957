"""``tiler readings``: text, JSON, chart, bad lines and exit codes."""

from __future__ import annotations

import json
import re
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest

from tests.chosen import long
from tiler.commands import run
from tiler.sheets.reports.readings import Chart, Dot, Row, readings_chart

EXAMPLE = Path(__file__).parents[2] / "examples" / "saltmarsh-readings.csv"
HEAD = "tester,printer,viewer,nominal,across,down"


def test_the_example_says_who_shrank_the_pages(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["readings", str(EXAMPLE)]) == 0
    said = capsys.readouterr()
    text = " ".join(said.out.split())
    assert "10 readings of 7 testers" in text
    assert "5 of 10 agree with nominal as closely as a ruler tells (read to 0.5 mm)" in text
    assert "line 7, Dara (Web browser): 94.3 % across" in text
    assert "refitted from A4 to Letter, without margins (94.07 %)" in text
    assert "The viewer Web browser stands out: across 94.3 %, 5.7 percentage points less than the others" in text
    assert "(one reading only, line 7)" in text
    assert "(one reading only, line 10; they are the readings of the printer Laser F too" in text
    assert "L: gapes at CF (2)" in text
    assert max(map(len, said.out.splitlines())) < 80
    assert "Left out: line 12, Hana: across: '15.2' is 2.53 times '6 in': a reading in centimetres" in text
    # her word on the fit counts all the same
    assert "S: neckband lies flat (2)" in text
    assert said.err == ""


def test_the_unit_of_bare_numbers_can_be_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["readings", str(EXAMPLE), "--unit", "cm"]) == 0
    said = capsys.readouterr()
    assert "10 readings of 7 testers" in said.out
    assert "line 12, Hana: down: '6' is 39 % of '6 in'" not in said.out
    assert "line 12, Hana: down: '6' is 0.39 times '6 in': a reading in inches" in " ".join(said.out.split())
    assert said.err == ""


def test_long_lists_are_cut_and_say_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "readings.csv"
    rows = "".join(f"Ana,I,R{number},20 cm,18.82 cm,18.82 cm\n" for number in range(50))
    file.write_text(f"{HEAD}\n{rows}", encoding="utf-8")
    assert run(["readings", str(file)]) == 0
    assert capsys.readouterr().out.count("  and 10 more; --json lists all") == 2


def test_json_holds_every_reading_exactly(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["readings", str(EXAMPLE), "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert len(found["readings"]) == 10
    (chidi,) = (one for one in found["readings"] if one["line"] == 5)
    # 5 21/32 over 6
    assert chidi["across"] == pytest.approx(181 / 192, abs=1e-12)
    assert chidi["shows"] == "off"
    assert chidi["fit_to_page"][0]["factor"] == pytest.approx(16 / 17)
    # Ana's two across: 14.95 of 15 cm, and 5 of 5 cm
    (ana,) = (one for one in found["testers"] if one["name"] == "Ana")
    assert ana["across"] == pytest.approx(
        {"median": 1 - 1 / 600, "mad": 1 / 600, "least": 1 - 1 / 300, "greatest": 1.0}
    )
    assert found["skipped"][0]["line"] == 12


@pytest.mark.parametrize(
    ("text", "code", "words"),
    [
        (f"{HEAD}\nAna,I,R,5 cm,,\n", 4, "holds no reading that can be used"),
        (f"{HEAD}\n", 4, "holds no reading that can be used"),
        ("tester\nAna\n", 2, "lacks printer, viewer"),
        ("\0\0", 5, "is not text"),
    ],
)
def test_exit_codes(tmp_path: Path, capsys: pytest.CaptureFixture[str], text: str, code: int, words: str) -> None:
    file = tmp_path / "readings.csv"
    file.write_text(text, encoding="utf-8")
    assert run(["readings", str(file)]) == code
    assert words in capsys.readouterr().err
    assert run(["readings", str(file), "--json"]) == code
    assert json.loads(capsys.readouterr().out)["error"]["code"] == code


def test_the_chart_is_replaced_only_with_force(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    chart = tmp_path / "chart.pdf"
    call = ["readings", str(EXAMPLE), "--chart", str(chart)]
    assert run(call) == 0
    first = chart.read_bytes()
    assert run(call) == 7
    assert run([*call, "--paper", "a4", "--force"]) == 0
    assert chart.read_bytes() != first
    assert run(["readings", str(EXAMPLE), "--chart", str(EXAMPLE), "--force"]) == 7
    assert list(tmp_path.iterdir()) == [chart]
    with pdfplumber.open(chart) as pdf:
        (page,) = pdf.pages
        # ISO 216: 210 × 297 mm
        assert (float(page.width) * 25.4 / 72, float(page.height) * 25.4 / 72) == pytest.approx((210, 297), abs=0.01)


def dots(page: pdfplumber.page.Page) -> list[tuple[float, bool]]:
    """Give the middle of each round mark from the left, points, and whether it is filled."""
    return [((one["x0"] + one["x1"]) / 2, bool(one["fill"])) for one in page.curves]


def test_the_chart_has_two_marks_for_each_reading_at_their_places_and_no_small_type() -> None:
    rows = (
        Row("Ana", (Dot(1.0, 0.99, 0.0025), Dot(0.96, 0.97, 0.01)), "off"),
        Row("Zoë ☂ 裁", (Dot(1, 1, 0.001),), ""),
    )
    data = readings_chart(Chart("test", "facts", rows, 0.01, ("remark",)), "letter", "maker")
    with pdfplumber.open(BytesIO(data)) as pdf:
        (page,) = pdf.pages
        marks = dots(page)
        assert len(marks) == 6
        # the number of the page stands at its foot
        words = [word for word in page.extract_words() if word["bottom"] < page.height - 60]
        figures = sorted(int(word["text"]) for word in words if word["text"].isdigit())
        ticks = sorted(line["x0"] for line in page.lines if line["width"] < 0.01 and line["height"] < 6)
        assert len(figures) == len(ticks)
        percent = (ticks[-1] - ticks[0]) / (figures[-1] - figures[0])
        shares = [figures[0] + (x - ticks[0]) / percent for x, _ in marks]
        assert shares == pytest.approx([100, 99, 96, 97, 100, 100], abs=0.001)
        assert [filled for _, filled in marks] == [True, False] * 3
        assert min(round(char["size"], 3) for char in page.chars) >= 8


@long
def test_a_chart_of_many_testers_goes_on_and_keeps_a_mark_and_a_name_for_each() -> None:
    rows = tuple(Row(f"Tester {n}", (Dot(1.0, 0.5, 0.0025),), "") for n in range(120))
    data = readings_chart(Chart("test", "facts", rows, 0.01, ("remark " * 400,)), "letter", "maker")
    names: list[str] = []
    with pdfplumber.open(BytesIO(data)) as pdf:
        assert sum(len(dots(page)) for page in pdf.pages) == 240
        for page in pdf.pages:
            names += re.findall(r"Tester \d+", page.extract_text())
            assert all(char["x0"] >= 0 and char["x1"] <= page.width for char in page.chars)
            assert all(char["top"] >= 0 and char["bottom"] <= page.height for char in page.chars)
    assert names == [row.name for row in rows]


def test_a_long_name_and_a_long_file_name_are_printed_whole() -> None:
    name, file = (
        "the-tester-of-the-smock-with-the-gathered-yoke@example.org",
        f"{'readings-of-the-second-round-' * 5}x.csv",
    )
    data = readings_chart(Chart(file, "facts", (Row(name, (Dot(1, 1, 0.01),), ""),), 0.01, ()), "letter", "maker")
    with pdfplumber.open(BytesIO(data)) as pdf:
        (page,) = pdf.pages
        lines = page.extract_text().splitlines()
    said = "".join("".join(lines).split())
    assert "…" not in said
    # the lines of the field stand between those of the name
    assert all(part in said for part in ("the-tester-of-the-", "gathered-yoke@", "example.org"))
    start = next(line for line in lines if line.startswith("readings-of"))
    assert start.endswith("-"), "a heading is broken behind a hyphen, not within a word"
    assert file in said


def test_every_percentage_is_written_in_one_way(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["readings", str(EXAMPLE)]) == 0
    told = capsys.readouterr().out
    assert "Chidi           2 94.0 ± 0.3 % (93.8–94.3 %)" in told
    assert "94.3 % across, 94.3 % down, ± 0.3 %" in told
    assert "±0" not in told
    assert not re.search("[0-9]%", told)
