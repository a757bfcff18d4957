"""The proof in a process apart gives the very report that the proof gives here, and tells of its pages."""

from __future__ import annotations

import json
from pathlib import Path

import pikepdf
import pytest

from tests.chosen import long
from tests.proof import faults as f
from tests.reading.files import labelled_square, pdf, saved
from tiler.box import Box
from tiler.errors import EncryptedError, UnreadableError
from tiler.proof import Check, Expected, Report, prove
from tiler.proof.report.check import CheckName, Status
from tiler.proof.report.record import from_record, to_record
from tiler.proof.report.sentences import Says
from tiler.sheets.document import Document
from tiler.usecases.processes import apart
from tiler.usecases.verify.apart import Limits, prove_apart

pytestmark = pytest.mark.usefixtures("forked")


@pytest.fixture(scope="module")
def ours(sample: Document, tmp_path_factory: pytest.TempPathFactory) -> Path:
    return saved(tmp_path_factory.mktemp("apart"), "ours.pdf", sample.data)


@long
def test_the_report_is_the_same_as_here(ours: Path, tmp_path: Path) -> None:
    assert prove_apart(ours) == prove(ours)
    with pikepdf.open(ours) as file:
        f.whole_pages(f.scaled(0.996, 0.998))(file)
        file.save(tmp_path / "off.pdf")
    assert prove_apart(tmp_path / "off.pdf") == prove(tmp_path / "off.pdf")


@long
def test_what_is_expected_is_passed_on(tmp_path: Path) -> None:
    path = saved(tmp_path, "bare.pdf", pdf(labelled_square(144.0, "")))
    assert prove_apart(path).verdict == "nothing-to-measure"
    report = prove_apart(path, expected=(50.8, "2 in"))
    assert report == prove(path, expected=Expected(50.8, "2 in"))
    assert report.verdict == "true-to-scale"


def test_every_page_is_told(ours: Path) -> None:
    told: list[tuple[int, int]] = []
    report = prove_apart(ours, lambda page, pages: told.append((page, pages)))
    assert told == [(number, report.pages) for number in range(1, report.pages + 1)]


def test_faults_arrive_as_what_they_are(ours: Path, tmp_path: Path) -> None:
    with pikepdf.open(ours) as file:
        file.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(owner="owner", user="user"))
    with pytest.raises(EncryptedError, match=r"locked\.pdf"):
        prove_apart(tmp_path / "locked.pdf")
    with pytest.raises(UnreadableError, match=r"none\.pdf"):
        prove_apart(tmp_path / "none.pdf")


def test_a_fault_of_the_proof_itself_does_not_look_like_a_verdict(ours: Path) -> None:
    with pytest.raises(UnreadableError, match="fault of its own"):
        prove_apart(ours, limits=Limits(memory="much"))  # type: ignore[arg-type]


def test_an_answer_without_an_end_is_not_read(ours: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(apart, "LONGEST_ANSWER", 10)
    with pytest.raises(UnreadableError, match="broke off"):
        prove_apart(ours)


def test_a_file_may_take_less_than_twenty_seconds_and_a_gigabyte() -> None:
    assert Limits().seconds < 20
    assert Limits().memory < 2**30


def test_a_record_keeps_everything() -> None:
    checks = (
        Check(
            CheckName.SQUARE,
            Status.FAIL,
            Says.FOUND_LEANING,
            3,
            50.123456789,
            50.8,
            label="½ « \ud800",
            axis="down",
            box=Box(1.5, 2, 3, 4),
            foreign=True,
            numbers={"lean": 0.123456789},
        ),
        Check(CheckName.PAGES, Status.PASS, Says.PAGES_ALL, numbers={"pages": 3, "windows": 3}),
    )
    report = Report("ü.pdf", 3, checks, "Attic", (215.9, 279.4))
    record = json.loads(json.dumps(to_record(report)))
    again = from_record(record)
    assert again == report
    assert [check.detail for check in again.checks] == [check.detail for check in checks]
    assert again.checks[0].says is Says.FOUND_LEANING
    record["checks"][0]["nominal_mm"] = 50.0
    assert from_record(record) != report
