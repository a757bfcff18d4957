"""Measuring the picture of a printed page in a process apart, whose time and memory are bounded."""

from __future__ import annotations

from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from tiler.errors import SpecError
from tiler.proof.report.record import Picture, from_record
from tiler.proof.report.verdict import Report
from tiler.sentence import Place
from tiler.usecases.processes.apart import Apart
from tiler.usecases.verify.apart import Limits


@dataclass(frozen=True)
class Seen:
    """How a page was taken: its resolution where the person says it, what lies on the glass, and whether by a photo.

    Of a photo the size of the ``sheet`` may be known, mm, and by how much that may be otherwise.
    """

    dpi: float | None = None
    card: bool = False
    photo: bool = False
    sheet: tuple[float, float, float] | None = None
    ruler: bool = False

    def __post_init__(self) -> None:
        """Raise :class:`SpecError` where both are said to lie on the glass."""
        if self.card and self.ruler:
            raise SpecError("does not go with --card, which tells both axes by itself", Place("--ruler"))


def prove_scan_apart(
    file: Path,
    seen: Seen,
    limits: Limits,
    expected: tuple[float | None, str, int | None] | None = None,
    pictures: list[Picture] | None = None,
) -> Report:
    """Measure and judge a printed page in a picture, in a process of its own.

    ``expected`` is the side of a test square, mm, and the words for it; pictures of the squares are put into
    ``pictures`` where it is given. Raises :class:`UnreadableError`, :class:`EncryptedError` and
    :class:`NothingToMeasureError`, also when a limit is reached. It never outlives this call.
    """
    request = {"path": str(file), "seen": asdict(seen), "expected": expected, "pictures": pictures is not None}

    def heard(told: dict[str, Any]) -> None:
        if pictures is not None:
            pictures.append(Picture.from_record(told["picture"]))

    with Apart("tiler.usecases.scan.witness", limits.memory, limits_given=True) as witness:
        return from_record(witness.ask(file, request, limits.seconds, heard))
