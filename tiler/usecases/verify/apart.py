"""Proving the file of a stranger in a process apart, whose time, memory and objects are bounded."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tiler.proof.report.record import Picture, from_record
from tiler.proof.report.verdict import Report
from tiler.reading.limits import MOST_MEMORY, MOST_OBJECTS, MOST_SECONDS
from tiler.usecases.processes.apart import Apart


@dataclass(frozen=True)
class Limits:
    """What reading one file may take: seconds, bytes beyond the engines, objects painted on a page."""

    seconds: float = MOST_SECONDS
    memory: int = MOST_MEMORY
    objects: int = MOST_OBJECTS


def prove_apart(
    pdf: Path,
    progress: Callable[[int, int], None] | None = None,
    expected: tuple[float | None, str, int | None] | None = None,
    limits: Limits = Limits(),
    pictures: list[Picture] | None = None,
) -> Report:
    """Measure and judge a PDF as ``tiler.proof.prove`` does, in a process of its own.

    ``expected`` is the side of a test square, mm, the words for it, and which square is taken; pictures of the
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
        if progress:
            progress(told["page"], told["pages"])

    with Apart("tiler.usecases.verify.witness", limits.memory, limits_given=True) as witness:
        return from_record(witness.ask(pdf, request, limits.seconds, heard))
