"""Work on the file of a stranger in a process apart, whose time and memory are bounded.

Whatever such a file does to the process that reads it, this one has an answer, or one
sentence.  The other process is started anew instead of forked, so that this works alike
on every system and none of the engines is loaded here.  Requests and answers are records
of JSON, a line each: nothing that comes back is run.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
import threading
from collections.abc import Callable, Iterator, Mapping
from contextlib import suppress
from contextvars import ContextVar
from pathlib import Path
from time import monotonic
from typing import Any

import tiler
from tiler.errors import (
    CannotWriteError,
    EncryptedError,
    ExitCode,
    FailedProofError,
    NothingToMeasureError,
    OffScaleError,
    SpecError,
    TilerError,
    UnreadableError,
)

WITNESS = "tiler.usecases.processes.witness"

STARTED: ContextVar[Callable[[subprocess.Popen[bytes]], None] | None] = ContextVar("started", default=None)
"""What is told of each process that is started, so that somebody else can end it."""

LONGEST_ANSWER = 64 * 2**20
"""A longer record is not read, bytes."""

FAULTS: dict[int, type[TilerError]] = {
    int(kind.code): kind
    for kind in (
        SpecError,
        OffScaleError,
        NothingToMeasureError,
        UnreadableError,
        EncryptedError,
        CannotWriteError,
        FailedProofError,
    )
}


class Apart:
    """A process that works on the files of a stranger; use it as a context, which it never outlives."""

    def __init__(self, work: str, memory: int, limits_given: bool = False) -> None:
        """Name the work, a module with a function ``answers``.

        ``memory`` is what the work may take beyond its engines, bytes; ``limits_given`` says
        that the command has options for time and memory.
        """
        self._limits_given = limits_given
        self._command = [sys.executable, "-P", "-m", WITNESS, work, str(memory)]

    def __enter__(self) -> Apart:
        """Start the process."""
        # -P and the path keep the current folder, which may be a stranger's too, out of the search for modules.
        here = str(Path(tiler.__file__).parent.parent)
        path = os.pathsep.join(filter(None, [here, os.environ.get("PYTHONPATH")]))
        self._process = subprocess.Popen(
            self._command,
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=None if os.environ.get("TILER_DEBUG") else subprocess.DEVNULL,
            env=os.environ | {"PYTHONPATH": path},
        )
        if started := STARTED.get():
            started(self._process)
        return self

    def end(self) -> None:
        """End the process at once; whoever waits for its answer gets a fault."""
        self._process.kill()

    def __exit__(self, *_: object) -> None:
        """End the process."""
        self.end()
        # Closes the pipes and waits, so that nothing is left running; a request may lie in its pipe unread.
        with suppress(BrokenPipeError):
            self._process.__exit__(None, None, None)

    def ask(
        self,
        file: Path,
        request: Mapping[str, Any],
        seconds: float,
        heard: Callable[[Any], None] | None = None,
        ends: float | None = None,
    ) -> Any:
        """Return the answer to a request about a file; ``heard`` gets what the work tells before it.

        The time may be shared with earlier requests: then it ``ends`` at a moment of the
        monotonic clock.

        Raises the fault of the work, and :class:`UnreadableError` when the time or the
        memory is used up or the process ends without an answer.
        """
        left = seconds if ends is None else max(0.0, ends - monotonic())
        with _Clock(self._process, seconds, left) as clock:
            for record in self._records(request):
                if "answer" in record:
                    return record["answer"]
                if "fault" in record:
                    raise FAULTS[record["fault"]["code"]](record["fault"]["message"])
                if "memory" in record:
                    more = "; --memory-limit gives it more" if self._limits_given else ""
                    raise UnreadableError(f"{file} needs more memory than it may take to be read{more}")
                if heard:
                    heard(record["told"])
            raise self._silence(file, clock, self._process.wait())

    @property
    def pid(self) -> int:
        """The number of the process."""
        return self._process.pid

    def _records(self, request: Mapping[str, Any]) -> Iterator[dict[str, Any]]:
        assert self._process.stdin
        assert self._process.stdout
        with suppress(BrokenPipeError):
            self._process.stdin.write(json.dumps(request).encode("ascii") + b"\n")
            self._process.stdin.flush()
        while line := self._process.stdout.readline(LONGEST_ANSWER):
            if not line.endswith(b"\n"):
                return
            yield json.loads(line)

    def _silence(self, file: Path, clock: _Clock, code: int) -> BaseException:
        """Say why the process ended without an answer."""
        if clock.rang:
            longer = "; --time-limit gives it longer" if self._limits_given else ""
            allowed = f"{clock.seconds:g} second{'' if clock.seconds == 1 else 's'}"
            return UnreadableError(f"{file} takes more than {allowed} to read; it was given up{longer}")
        if code in (-signal.SIGINT, int(ExitCode.INTERRUPTED)):
            return KeyboardInterrupt()
        if code == 1:
            return UnreadableError(
                f"{file} cannot be judged: tiler was stopped by a fault of its own; "
                "set TILER_DEBUG=1 to see where, and report it"
            )
        allowed = "--memory-limit allows" if self._limits_given else "it may take"
        return UnreadableError(
            f"{file} cannot be read: the reading broke off ({_ended(code)}); "
            f"the file is damaged, or needs more{'' if self._limits_given else ' memory'} than {allowed}"
        )


class _Clock:
    """Ends a process when its time is up, by a signal that it cannot refuse; use it as a context."""

    def __init__(self, process: subprocess.Popen[bytes], seconds: float, left: float) -> None:
        self.seconds, self.rang = seconds, False
        self._process = process
        self._timer = threading.Timer(left, self._ring)
        self._timer.daemon = True

    def __enter__(self) -> _Clock:
        self._timer.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._timer.cancel()

    def _ring(self) -> None:
        self.rang = True
        self._process.kill()


def _ended(code: int) -> str:
    try:
        return signal.Signals(-code).name
    except ValueError:
        return f"code {code}"
