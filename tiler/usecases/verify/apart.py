"""Proving the file of a stranger in a process apart, whose time, memory and objects are bounded.

Whatever such a file does to the process that reads it, this one has an answer: a
report, or one sentence.  The other process is started anew instead of forked, so that
this works alike on every system and none of the engines is loaded here.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import monotonic
from typing import Any

import tiler
from tiler.errors import EncryptedError, ExitCode, TilerError, UnreadableError
from tiler.proof.report.record import Picture, from_record
from tiler.proof.report.verdict import Report
from tiler.reading.limits import MOST_OBJECTS, MOST_SECONDS

WITNESS = "tiler.usecases.verify.witness"

OPENING_SECONDS = 30
"""Time for opening a file and for its first page."""

PAGE_SECONDS = 2
"""Time for each page; an honest one takes a tenth of that."""

LONGEST_ANSWER = 64 * 2**20
"""A longer record is not read, bytes."""


WITNESS_MEMORY = 768 * 2**20
"""Memory beyond what the engines themselves take, bytes: with them it stays under a gigabyte."""


@dataclass(frozen=True)
class Limits:
    """What reading one file may take: seconds (None: by its pages), bytes, objects painted on a page."""

    seconds: float | None = None
    memory: int = WITNESS_MEMORY
    objects: int = MOST_OBJECTS

    def allowed(self, pages: int) -> float:
        """Return the seconds for a file of that many pages."""
        return self.seconds or min(OPENING_SECONDS + PAGE_SECONDS * pages, MOST_SECONDS)


def prove_apart(
    pdf: Path,
    progress: Callable[[int, int], None] | None = None,
    expected: tuple[float, str] | None = None,
    limits: Limits = Limits(),
    pictures: list[Picture] | None = None,
) -> Report:
    """Measure and judge a PDF as ``tiler.proof.prove`` does, in a process of its own.

    ``expected`` is the side of a test square, mm, and the words for it; pictures of the
    squares are put into ``pictures`` where it is given.  Raises
    :class:`UnreadableError` and :class:`EncryptedError`, also when a limit is reached or
    the process ends without an answer.  It never outlives this call.
    """
    request = {
        "path": str(pdf),
        "memory": limits.memory,
        "objects": limits.objects,
        "expected": expected,
        "pictures": pictures is not None,
    }
    with _witness(json.dumps(request)) as process, _Clock(process, limits.allowed(0)) as clock:
        for answer in _answers(process):
            if "report" in answer:
                return from_record(answer["report"])
            if "picture" in answer:
                if pictures is not None:
                    pictures.append(Picture.from_record(answer["picture"]))
                continue
            if "fault" in answer:
                raise _fault(answer["fault"])
            if answer["page"] == 1:
                clock.extend(limits.allowed(answer["pages"]))
            if progress:
                progress(answer["page"], answer["pages"])
        raise _silence(pdf, process.wait(), clock)


@contextmanager
def _witness(request: str) -> Iterator[subprocess.Popen[bytes]]:
    # -P and the path keep the current folder, which may be a stranger's too, out of the search for modules.
    here = str(Path(tiler.__file__).parent.parent)
    path = os.pathsep.join(filter(None, [here, os.environ.get("PYTHONPATH")]))
    process = subprocess.Popen(
        [sys.executable, "-P", "-m", WITNESS, request],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=None if os.environ.get("TILER_DEBUG") else subprocess.DEVNULL,
        env=os.environ | {"PYTHONPATH": path},
    )
    try:
        yield process
    finally:
        process.kill()
        # Closes the pipes and waits, so that nothing is left running.
        process.__exit__(None, None, None)


class _Clock:
    """Ends a process when its time is up; use it as a context."""

    def __init__(self, process: subprocess.Popen[bytes], seconds: float) -> None:
        self.process, self.seconds, self.rang = process, seconds, False
        self._began = monotonic()
        self._timer = self._started()

    def __enter__(self) -> _Clock:
        return self

    def __exit__(self, *_: object) -> None:
        self._timer.cancel()

    def extend(self, seconds: float) -> None:
        """Let the whole take that long instead, counted from the start."""
        if seconds > self.seconds:
            self._timer.cancel()
            self.seconds = seconds
            self._timer = self._started()

    def _started(self) -> threading.Timer:
        timer = threading.Timer(self._began + self.seconds - monotonic(), self._ring)
        timer.daemon = True
        timer.start()
        return timer

    def _ring(self) -> None:
        self.rang = True
        self.process.kill()


def _answers(process: subprocess.Popen[bytes]) -> Iterator[dict[str, Any]]:
    assert process.stdout
    while line := process.stdout.readline(LONGEST_ANSWER):
        if not line.endswith(b"\n"):
            return
        yield json.loads(line)


def _fault(fault: dict[str, Any]) -> TilerError:
    kinds = {int(kind.code): kind for kind in (UnreadableError, EncryptedError)}
    return kinds[fault["code"]](fault["message"])


def _silence(pdf: Path, code: int, clock: _Clock) -> BaseException:
    """Say why a process ended without an answer."""
    if clock.rang:
        return UnreadableError(
            f"{pdf} takes more than {clock.seconds:g} seconds to read; it was given up; --time-limit gives it longer"
        )
    if code in (-signal.SIGINT, int(ExitCode.INTERRUPTED)):
        return KeyboardInterrupt()
    if code == 1:
        return UnreadableError(
            f"{pdf} cannot be judged: tiler was stopped by a fault of its own; "
            "set TILER_DEBUG=1 to see where, and report it"
        )
    return UnreadableError(
        f"{pdf} cannot be read: the reading broke off ({_ended(code)}); "
        "the file is damaged, or needs more than --memory-limit allows"
    )


def _ended(code: int) -> str:
    try:
        return signal.Signals(-code).name
    except ValueError:
        return f"code {code}"
