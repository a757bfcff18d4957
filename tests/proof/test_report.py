"""What checks add up to: verdict, scale, exit code, words."""

from __future__ import annotations

import pytest

from tests.chosen import over
from tiler.errors import ExitCode
from tiler.proof import Check, Report
from tiler.proof.report.check import CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.report.wording import lines, sentence


def size(measured: float, nominal: float, axis: str, status: Status = Status.PASS) -> Check:
    return Check(CheckName.SQUARE, status, Says.SIZE, 1, measured, nominal, label=f"{nominal:g} mm", axis=axis)


def report(*checks: Check, printer: str | None = None) -> Report:
    return Report("a.pdf", 3, checks, printer)


FONTS = Check(CheckName.FONTS, Status.WARN, Says.FONTS_LOST, numbers={"lost": "Vera"})
NOTCH = Check(CheckName.NOTCH, Status.FAIL, Says.PIECE_LINES, 2, label="Neckband", numbers={"lines": "notch missing"})
UNIT = Check(CheckName.USER_UNIT, Status.FAIL, Says.UNIT, 2, numbers={"unit": 2.0})
MISSING = Check(CheckName.PAGES, Status.FAIL, Says.PAGE_MISSING, label="page A2")
TRUE_SQUARE = (size(50.8, 50.8, "across"), size(50.8, 50.8, "down"))


@over(
    ("checks", "verdict", "code"),
    [
        (TRUE_SQUARE, "true-to-scale", ExitCode.OK),
        ((*TRUE_SQUARE, FONTS), "true-to-scale", ExitCode.OK),
        ((*TRUE_SQUARE, NOTCH), "incomplete", ExitCode.OFF_SCALE),
        ((*TRUE_SQUARE, UNIT), "off-scale", ExitCode.OFF_SCALE),
        ((size(49, 50.8, "across", Status.FAIL), size(50.8, 50.8, "down")), "off-scale", ExitCode.OFF_SCALE),
        ((MISSING,), "incomplete", ExitCode.OFF_SCALE),
        ((), "nothing-to-measure", ExitCode.NOTHING_TO_MEASURE),
        ((FONTS,), "nothing-to-measure", ExitCode.NOTHING_TO_MEASURE),
    ],
)
def test_any_failed_check_decides(checks: tuple[Check, ...], verdict: str, code: ExitCode) -> None:
    assert report(*checks).verdict == verdict
    assert report(*checks).exit_code is code


def test_a_file_for_one_printer_is_compensated_until_something_fails() -> None:
    assert report(*TRUE_SQUARE, printer="study").verdict == "compensated"
    assert report(*TRUE_SQUARE, printer="study").exit_code is ExitCode.OK
    assert report(*TRUE_SQUARE, NOTCH, printer="study").verdict == "incomplete"


def test_the_scale_is_that_of_the_square_or_rule_furthest_from_one() -> None:
    far, near = (
        Check(CheckName.RULE, Status.FAIL, Says.SIZE, 2, length, 100.0, label="10 cm", axis="across")
        for length in (99.0, 100.5)
    )
    found = report(*TRUE_SQUARE, near, far).scale
    assert found == (pytest.approx(0.99), pytest.approx(1.0))
    assert report(near, far).scale == (pytest.approx(0.99), None)


def test_the_fault_that_explains_most_is_told_first() -> None:
    frame = Check(CheckName.FRAME, Status.FAIL, Says.FRAME_MISSING, 2, label="A1")
    assert report(*TRUE_SQUARE, frame, MISSING).first_failure() == "page A2 is missing"
    assert report(*TRUE_SQUARE, frame).first_failure() == "on page 2, A1 has no page frame"
    assert report(*TRUE_SQUARE).first_failure() == ""


def test_many_faults_of_one_kind_are_summed_up() -> None:
    faults = [Check(CheckName.TILE_CODE, Status.FAIL, Says.CODE_TURNED, page, label="A1") for page in range(1, 60)]
    text = list(lines(report(*TRUE_SQUARE, *faults), 80))
    assert text[0] == sentence(report(*TRUE_SQUARE, *faults))
    assert "58 more faults" in text[0]
    assert len(text) < 12
    assert any("56 more like this on 56 pages from 4 to 59" in line for line in text)


def test_every_verdict_has_one_plain_sentence() -> None:
    for checks, printer in (
        (TRUE_SQUARE, None),
        (TRUE_SQUARE, "study"),
        ((size(49, 50.8, "across", Status.FAIL),), None),
        ((NOTCH,), None),
        ((), None),
    ):
        words = sentence(report(*checks, printer=printer))
        assert words[0].isupper()
        assert words.endswith(".")
        assert "\n" not in words
