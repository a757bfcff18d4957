"""No fixed word is left in English: in a language of other letters only what a user gave has Latin ones."""

from __future__ import annotations

import hashlib
import re
import tomllib
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

import pymupdf
import pytest

from tests.chosen import each, long
from tests.languages.pseudo import pseudo
from tests.proof.foreign import rescaled
from tests.sheets.jobs import EXAMPLES
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import Job
from tiler.languages.words import speaking
from tiler.proof import prove
from tiler.proof.report.square_pictures import square_pictures
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.draft import Wishes, draw_job
from tiler.usecases.files.replace import Output
from tiler.usecases.job import read_job
from tiler.usecases.rounds.judging import judge_round
from tiler.usecases.rounds.report import write_chart
from tiler.usecases.rounds.table import read_table
from tiler.usecases.verify.report import write_report

SPECS = sorted(EXAMPLES.glob("*.toml"))
ALLOWED = re.compile(
    r"in|cm|mm|tiler|SHA|pdf|csv"  # units, ISO 80000-1; the names of things that are the same in every language
    r"|[A-Z]{1,2}[0-9]+|[0-9]+[A-Z]{1,2}"  # codes of pages and panes
    r"|[a-z]+(?:-[a-z]+)+|cover|ease|cut"  # keys of a spec
)
WORD = re.compile(r"[0-9]*[A-Za-z][A-Za-z0-9'’-]*")


def given(tree: Any) -> Iterator[str]:
    """Yield the words of a user: all texts and keys of a spec."""
    if isinstance(tree, Mapping):
        for key, value in tree.items():
            yield from WORD.findall(str(key))
            yield from given(value)
    elif isinstance(tree, list):
        for value in tree:
            yield from given(value)
    elif isinstance(tree, str):
        yield from WORD.findall(tree)


@cache
def job_of(file: Path) -> Job:
    return read_job(file)


def words_of(data: bytes) -> list[str]:
    """Return all words of a file; what MuPDF reads, which the project does not use."""
    with pymupdf.open(stream=data, filetype="pdf") as pages:
        return [word for page in pages for word in WORD.findall(page.get_text())]


def charted(job: Job) -> bytes:
    return chart_pdf(figure_job(job), job.edition, "a4")


def instructed(job: Job) -> bytes:
    return instruction_pdf(finishes_of(figure_job(job), job.edition), "a4").data


def drafted(job: Job) -> bytes:
    edition = replace(job.edition, languages=("de",))
    return draw_job(replace(job, edition=edition), figure_job(job), Wishes(paper="a4")).data


@pytest.mark.parametrize(
    ("made", "file"),
    [*each([charted, instructed, drafted], SPECS), (instructed, EXAMPLES / "saltmarsh-vee.toml")],
)
def test_pages_to_read_hold_no_english(
    file: Path, made: Callable[[Job], bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    with file.open("rb") as spec:
        own = {*given(tomllib.load(spec))}
    with pseudo(monkeypatch):
        data = made(job_of(file))
    assert foreign(data, own) == []


def foreign(data: bytes, own: Collection[str]) -> list[str]:
    """Return the words of a file that are neither given nor the same in every language."""
    return [word for word in words_of(data) if word not in own and not ALLOWED.fullmatch(word)]


def reported(source: Path) -> bytes:
    report = prove(source)
    target = source.with_name("report.pdf")
    write_report(source, report, square_pictures(source, report), Output(target), ("de",))
    return target.read_bytes()


@long
@pytest.mark.parametrize("true", [True, False])
def test_reports_of_proofs_hold_no_english(true: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    source = tmp_path / "b1.pdf"
    with pseudo(monkeypatch):
        data = drafted(job_of(EXAMPLES / "saltmarsh-crew.toml"))
        source.write_bytes(data if true else rescaled(data, 127 / 135))
        found = reported(source)
    digest = hashlib.sha256(source.read_bytes()).hexdigest()
    assert foreign(found, {"SHA-256", "b1", "Neckband", *WORD.findall(digest)}) == []


def test_readings_hold_no_english(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    readings, target = EXAMPLES / "saltmarsh-readings.csv", tmp_path / "readings.pdf"
    with pseudo(monkeypatch):
        write_chart(readings, judge_round(read_table(readings).readings), "a4", Output(target), ("de",))
    assert foreign(target.read_bytes(), {*WORD.findall(readings.read_text(encoding="utf-8"))}) == []


def test_an_english_word_is_found() -> None:
    with speaking("en"):
        assert "Longest" in words_of(charted(job_of(SPECS[0])))
