"""Proving the file of a stranger in a process apart, whose time, memory and objects are bounded."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tiler.proof.report.record import Picture, from_record
from tiler.proof.report.verdict import Report
from tiler.reading.limits import MOST_OBJECTS, MOST_SECONDS
from tiler.usecases.processes.apart import Apart

OPENING_SECONDS = 30
"""Time for opening a file and for its first page."""

PAGE_SECONDS = 2
"""Time for each page; an honest one takes a tenth of that."""

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
    request = {"path": str(pdf), "objects": limits.objects, "expected": expected, "pictures": pictures is not None}

    def heard(told: dict[str, Any]) -> None:
        if "picture" in told:
            if pictures is not None:
                pictures.append(Picture.from_record(told["picture"]))
            return
        if told["page"] == 1:
            witness.extend(limits.allowed(told["pages"]))
        if progress:
            progress(told["page"], told["pages"])

    with Apart("tiler.usecases.verify.witness", pdf, limits.memory, limits_given=True) as witness:
        return from_record(witness.ask(request, limits.allowed(0), heard))
