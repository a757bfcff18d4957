"""No fixed word is left in English: in a language of other letters only what a user gave has Latin ones."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import pymupdf
import pytest

from tests.languages.pseudo import pseudo
from tests.sheets.jobs import EXAMPLES
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import Job
from tiler.languages.words import speaking
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.job import read_job

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


@pytest.mark.parametrize("made", [charted, instructed])
@pytest.mark.parametrize("file", SPECS, ids=lambda file: file.stem)
def test_pages_to_read_hold_no_english(
    file: Path, made: Callable[[Job], bytes], monkeypatch: pytest.MonkeyPatch
) -> None:
    with file.open("rb") as spec:
        own = {*given(tomllib.load(spec))}
    with pseudo(monkeypatch):
        data = made(job_of(file))
    assert [word for word in words_of(data) if word not in own and not ALLOWED.fullmatch(word)] == []


def test_an_english_word_is_found() -> None:
    with speaking("en"):
        assert "Longest" in words_of(charted(job_of(SPECS[0])))
