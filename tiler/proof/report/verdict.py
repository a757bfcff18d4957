"""The verdict: what the checks of a file add up to, and the JSON of the report.

The words for people stand in ``sentences`` and ``wording``; the names here are those of the
machine-readable report.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from tiler.errors import ExitCode
from tiler.languages.catalogue import ENGLISH
from tiler.languages.words import Words
from tiler.proof.report.check import SIZES, Check, CheckName, Status


class Verdict(StrEnum):
    """What a file is."""

    TRUE = "true-to-scale"
    OFF = "off-scale"
    INCOMPLETE = "incomplete"
    COMPENSATED = "compensated"
    UNDECIDED = "undecided"
    NOTHING = "nothing-to-measure"


OF_SCALE = (*SIZES, CheckName.USER_UNIT, CheckName.SAID_SIZE)
"""Checks whose failure means that the print has another size."""

TELLING = (
    CheckName.USER_UNIT,
    CheckName.PAGES,
    CheckName.PAGE_SIZE,
    CheckName.BOXES,
    CheckName.ROTATION,
    CheckName.SQUARE,
    CheckName.RULE,
    CheckName.SAID_SIZE,
    CheckName.TEXT,
    CheckName.TILE_CODE,
    CheckName.INK,
    CheckName.PIECE,
    CheckName.NOTCH,
    CheckName.STRAY,
    CheckName.REGISTER_MARKS,
)
"""Names of checks by how much their failure explains; one fault often makes several fail."""

EXIT = {
    Verdict.TRUE: ExitCode.OK,
    Verdict.COMPENSATED: ExitCode.OK,
    Verdict.OFF: ExitCode.OFF_SCALE,
    Verdict.INCOMPLETE: ExitCode.OFF_SCALE,
    Verdict.UNDECIDED: ExitCode.OFF_SCALE,
    Verdict.NOTHING: ExitCode.NOTHING_TO_MEASURE,
}


@dataclass(frozen=True)
class Report:
    """What was found in a file.

    ``printer`` is set when it was made for one named printer; ``page_mm`` is the size of its first page.
    """

    file: str
    pages: int
    checks: tuple[Check, ...]
    printer: str | None = None
    page_mm: tuple[float, float] | None = None
    languages: tuple[str, ...] = (ENGLISH,)
    """Those of the file, where it is one of ours."""

    @property
    def sizes(self) -> tuple[Check, ...]:
        """The squares and rules that were measured."""
        return tuple(check for check in self.checks if check.name in SIZES and check.ratio is not None)

    @property
    def failed(self) -> tuple[Check, ...]:
        """The checks that failed."""
        return tuple(check for check in self.checks if check.status is Status.FAIL)

    @property
    def warned(self) -> tuple[Check, ...]:
        """The checks that warn."""
        return tuple(check for check in self.checks if check.status is Status.WARN)

    @property
    def scan(self) -> Check | None:
        """How a picture was measured; None for a file that is not a picture."""
        return next((check for check in self.checks if check.name is CheckName.SCAN), None)

    @property
    def scale(self) -> tuple[float | None, float | None] | None:
        """Across and down: the square or rule furthest from its nominal size; None for an axis without one.

        In a picture it is what all of them say together, as each of them is measured to a few hundredths of a percent.
        """
        if (scan := self.scan) is not None:
            return float(scan.numbers["across"]), float(scan.numbers["down"])
        furthest: list[float | None] = []
        for axis in ("across", "down"):
            ratios = [check.ratio for check in self.sizes if check.axis == axis and check.ratio is not None]
            furthest.append(max(ratios, key=lambda ratio: abs(ratio - 1)) if ratios else None)
        return (furthest[0], furthest[1]) if self.sizes else None

    @property
    def measured_pages(self) -> tuple[int, ...]:
        """The pages on which something was measured, where any of them is of others; else every page is known."""
        if not any(check.foreign for check in self.sizes):
            return ()
        return tuple(sorted({check.page for check in self.sizes if check.page}))

    @property
    def failed_pages(self) -> tuple[int, ...]:
        """The pages that fail, by number."""
        return tuple(sorted({check.page for check in self.failed if check.page}))

    @property
    def verdict(self) -> Verdict:
        """One of the six verdicts."""
        if not self.sizes and not self.failed:
            return Verdict.NOTHING
        if any(check.name in OF_SCALE for check in self.failed):
            return Verdict.OFF
        if any(check.name is CheckName.UNDECIDED for check in self.checks):
            return Verdict.UNDECIDED
        if self.failed:
            return Verdict.INCOMPLETE
        return Verdict.COMPENSATED if self.printer else Verdict.TRUE

    @property
    def exit_code(self) -> ExitCode:
        """The exit code that goes with the verdict."""
        return EXIT[self.verdict]

    @property
    def main_fault(self) -> Check | None:
        """The failed check that explains most, None when nothing failed."""
        order = {name: place for place, name in enumerate(TELLING)}
        return min(self.failed, key=lambda check: order.get(check.name, len(order)), default=None)

    def first_failure(self) -> str:
        """Return the failure that explains most, in words; empty when nothing failed."""
        check = self.main_fault
        if check is None:
            return ""
        found = Words("on page {number}, {what}", number=check.page, what=check.detail)
        return found if check.page else check.detail

    def to_json(self) -> dict[str, Any]:
        """Return the whole report in the published form."""
        scale = self.scale
        return {
            "file": self.file,
            "verdict": self.verdict,
            "scale": {axis: _rounded(ratio) for axis, ratio in zip(("across", "down"), scale, strict=True)}
            if scale
            else None,
            "pages": self.pages,
            **({"pages_measured": list(self.measured_pages)} if self.measured_pages else {}),
            **({"printer": self.printer} if self.printer else {}),
            "checks": [check.to_json() for check in self.checks],
        }


def _rounded(ratio: float | None) -> float | None:
    return None if ratio is None else round(ratio, 6)
