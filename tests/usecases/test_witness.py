"""The process that reads for another one, its work done here: what it answers, and when it ends."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from tests.chosen import long
from tests.reading.files import labelled_square, pdf, saved
from tests.reading.hostile import forms_in_forms
from tiler.errors import EncryptedError, ExitCode, UnreadableError
from tiler.proof import Expected, prove
from tiler.proof.report.record import from_record
from tiler.sheets.document import Document
from tiler.usecases.processes.witness import Request, serve
from tiler.usecases.verify.witness import answers

PLENTY = 2**32
"""Memory that nothing here needs, bytes."""

ROOT = Path(__file__).parents[2]


def served(
    work: Callable[[Iterator[Request], Callable[[Any], None]], Iterator[Any]], *requests: Request, memory: int = PLENTY
) -> list[dict[str, Any]]:
    """Give the records that are written for some requests."""
    out = BytesIO()
    serve(work, iter(requests), memory, out)
    return [json.loads(line) for line in out.getvalue().splitlines()]


def doubling(requests: Iterator[Request], tell: Callable[[Any], None]) -> Iterator[Any]:
    for one in requests:
        tell({"heard": one["number"]})
        yield 2 * one["number"]


def test_each_request_is_answered_in_turn_after_what_is_told_on_the_way() -> None:
    assert served(doubling, {"number": 2}, {"number": 5}) == [
        *({"told": {"heard": 2}}, {"answer": 4}),
        *({"told": {"heard": 5}}, {"answer": 10}),
    ]


@pytest.mark.parametrize("kind", [UnreadableError, EncryptedError])
def test_a_fault_is_the_last_record(kind: type[UnreadableError | EncryptedError]) -> None:
    def faulty(requests: Iterator[Request], tell: Callable[[Any], None]) -> Iterator[Any]:
        yield next(requests)["number"]
        raise kind("½ a file")

    records = served(faulty, {"number": 1}, {"number": 2})
    assert records == [{"answer": 1}, {"fault": {"code": int(kind.code), "message": "½ a file"}}]


def test_a_request_that_needs_too_much_memory_says_how_much_it_had() -> None:
    def hungry(requests: Iterator[Request], tell: Callable[[Any], None]) -> Iterator[Any]:
        yield len(bytearray(next(requests)["bytes"]))

    least = 64 * 2**20
    assert served(hungry, {"bytes": 2**20}, memory=least) == [{"answer": 2**20}]
    assert served(hungry, {"bytes": 2**30}, memory=least) == [{"memory": least}]


def test_a_fault_of_the_work_itself_is_not_answered() -> None:
    def broken(requests: Iterator[Request], tell: Callable[[Any], None]) -> Iterator[Any]:
        yield 1 // next(requests)["number"]

    with pytest.raises(ZeroDivisionError):
        served(broken, {"number": 0})


def wanted(path: Path, **changes: object) -> Request:
    return {"path": str(path), "objects": 10**6, "expected": None, "pictures": False, **changes}


@long
def test_a_file_is_measured_page_by_page_and_reported(sample: Document, tmp_path: Path) -> None:
    path = saved(tmp_path, "ours.pdf", sample.data)
    *told, last = served(answers, wanted(path))
    report = prove(path)
    assert told == [{"told": {"page": page, "pages": report.pages}} for page in range(1, report.pages + 1)]
    assert from_record(last["answer"]) == report


def test_wanted_pictures_are_told_before_the_report(tmp_path: Path) -> None:
    path = saved(tmp_path, "square.pdf", pdf(labelled_square(144.0, "")))
    *told, last = served(answers, wanted(path, expected=[50.8, "2 in"], pictures=True))
    assert list(told[0]["told"]) == ["page", "pages"]
    assert {tuple(one["told"]) for one in told[1:]} == {("picture",)}
    assert from_record(last["answer"]) == prove(path, expected=Expected(50.8, "2 in"))


def test_a_limit_that_was_reached_comes_with_what_raises_it(tmp_path: Path) -> None:
    path = saved(tmp_path, "forms.pdf", forms_in_forms(3, 10))
    (record,) = [one for one in served(answers, wanted(path, objects=50)) if "told" not in one]
    assert record["fault"]["code"] == ExitCode.UNREADABLE
    assert record["fault"]["message"].endswith("; --object-limit lets it")


WORK = """
def answers(requests, tell):
    print("a library prints", flush=True)
    for one in requests:
        yield one["number"] + 1
"""


@pytest.fixture
def process(tmp_path: Path) -> Iterator[subprocess.Popen[bytes]]:
    """Start the process with work of its own, over real pipes."""
    saved(tmp_path, "adding.py", WORK.encode())
    command = [sys.executable, "-m", "tiler.usecases.processes.witness", "adding", str(PLENTY)]
    environment = os.environ | {"PYTHONPATH": os.pathsep.join([str(ROOT), str(tmp_path)])}
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, stderr=pipe, env=environment) as started:
        yield started
        started.kill()


def test_the_process_answers_line_by_line_and_ends_with_the_one_that_asked(process: subprocess.Popen[bytes]) -> None:
    assert process.stdin is not None
    assert process.stdout is not None
    assert process.stderr is not None
    for number in (1, 41):
        process.stdin.write(json.dumps({"number": number}).encode() + b"\n")
        process.stdin.flush()
        assert json.loads(process.stdout.readline()) == {"answer": number + 1}
    process.stdin.close()
    assert process.wait(timeout=60) == ExitCode.INTERRUPTED
    assert (process.stdout.read(), process.stderr.read()) == (b"", b"a library prints\n")
