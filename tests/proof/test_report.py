"""What checks add up to: verdict, scale, exit code, words."""

from __future__ import annotations

import pytest

from tiler.errors import ExitCode
from tiler.proof import Check, Report
from tiler.proof.report.verdict import FAIL, PASS, WARN
from tiler.proof.report.wording import lines, sentence


def size(measured: float, nominal: float, axis: str, status: str = PASS) -> Check:
    return Check("square", status, 1, measured, nominal, f"{nominal:g} mm {axis}", axis)


def report(*checks: Check, printer: str | None = None) -> Report:
    return Report("a.pdf", 3, checks, printer)


TRUE_SQUARE = (size(50.8, 50.8, "across"), size(50.8, 50.8, "down"))


@pytest.mark.parametrize(
    ("checks", "verdict", "code"),
    [
        (TRUE_SQUARE, "true-to-scale", ExitCode.OK),
        ((*TRUE_SQUARE, Check("fonts", WARN)), "true-to-scale", ExitCode.OK),
        ((*TRUE_SQUARE, Check("notch", FAIL, 2)), "incomplete", ExitCode.OFF_SCALE),
        ((*TRUE_SQUARE, Check("user-unit", FAIL, 2)), "off-scale", ExitCode.OFF_SCALE),
        ((size(49, 50.8, "across", FAIL), size(50.8, 50.8, "down")), "off-scale", ExitCode.OFF_SCALE),
        ((Check("pages", FAIL),), "incomplete", ExitCode.OFF_SCALE),
        ((), "nothing-to-measure", ExitCode.NOTHING_TO_MEASURE),
        ((Check("fonts", WARN),), "nothing-to-measure", ExitCode.NOTHING_TO_MEASURE),
    ],
)
def test_any_failed_check_decides(checks: tuple[Check, ...], verdict: str, code: ExitCode) -> None:
    assert report(*checks).verdict == verdict
    assert report(*checks).exit_code is code


def test_a_file_for_one_printer_is_compensated_until_something_fails() -> None:
    assert report(*TRUE_SQUARE, printer="study").verdict == "compensated"
    assert report(*TRUE_SQUARE, printer="study").exit_code is ExitCode.OK
    assert report(*TRUE_SQUARE, Check("ink", FAIL), printer="study").verdict == "incomplete"


def test_the_scale_is_that_of_the_square_or_rule_furthest_from_one() -> None:
    far = Check("rule", FAIL, 2, 99.0, 100.0, "10 cm across", "across")
    near = Check("rule", FAIL, 2, 100.5, 100.0, "10 cm across", "across")
    found = report(*TRUE_SQUARE, near, far).scale
    assert found == (pytest.approx(0.99), pytest.approx(1.0))
    assert report(near, far).scale is None


def test_the_fault_that_explains_most_is_told_first() -> None:
    missing = Check("pages", FAIL, None, detail="page A2 is missing")
    frame = Check("frame", FAIL, 2, detail="the page frame stands off")
    assert report(*TRUE_SQUARE, frame, missing).first_failure() == "page A2 is missing"
    assert report(*TRUE_SQUARE, frame).first_failure() == "on page 2, the page frame stands off"
    assert report(*TRUE_SQUARE).first_failure() == ""


def test_many_faults_of_one_kind_are_summed_up() -> None:
    faults = [Check("ink", FAIL, page, detail=f"a notch is not to be seen, {page} mm off") for page in range(1, 60)]
    text = list(lines(report(*TRUE_SQUARE, *faults)))
    assert text[0] == sentence(report(*TRUE_SQUARE, *faults))
    assert "58 more faults" in text[0]
    assert len(text) < 12
    assert any("56 more like this on 56 pages from 4 to 59" in line for line in text)


def test_every_verdict_has_one_plain_sentence() -> None:
    for checks, printer in (
        (TRUE_SQUARE, None),
        (TRUE_SQUARE, "study"),
        ((size(49, 50.8, "across", FAIL),), None),
        ((Check("notch", FAIL, 1, detail="a notch is missing"),), None),
        ((), None),
    ):
        words = sentence(report(*checks, printer=printer))
        assert words[0].isupper()
        assert words.endswith(".")
        assert "\n" not in words
