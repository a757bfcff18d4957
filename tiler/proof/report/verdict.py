"""The verdict: single checks, what they add up to, and their JSON.

The words for people stand in ``wording``; the names here are those of the
machine-readable report.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

from tiler.box import Box
from tiler.errors import ExitCode

PASS, WARN, FAIL = "pass", "warn", "fail"

TRUE, OFF, INCOMPLETE = "true-to-scale", "off-scale", "incomplete"
COMPENSATED, NOTHING = "compensated", "nothing-to-measure"

SIZES = ("square", "rule")
"""Checks that carry a measured size to hold against a nominal one."""

OF_SCALE = (*SIZES, "user-unit")
"""Checks whose failure means that the print has another size."""

TELLING = (
    "user-unit",
    "pages",
    "page-size",
    "boxes",
    "rotation",
    "square",
    "rule",
    "text",
    "tile-code",
    "ink",
    "piece",
    "notch",
    "stray",
    "register-marks",
)
"""Names of checks by how much their failure explains; one fault often makes several fail."""

EXIT = {
    TRUE: ExitCode.OK,
    COMPENSATED: ExitCode.OK,
    OFF: ExitCode.OFF_SCALE,
    INCOMPLETE: ExitCode.OFF_SCALE,
    NOTHING: ExitCode.NOTHING_TO_MEASURE,
}


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at; ``page`` counts from 1, sizes in mm.

    ``axis`` is "across" or "down" for a size, and empty otherwise; ``box`` is where on
    the page a square, or a ruler line of a file of others, was found.
    """

    name: str
    status: str
    page: int | None = None
    measured_mm: float | None = None
    nominal_mm: float | None = None
    detail: str = ""
    axis: str = field(default="", repr=False)
    box: Box | None = field(default=None, repr=False)

    @property
    def ratio(self) -> float | None:
        """Measured over nominal."""
        if self.measured_mm is None or not self.nominal_mm:
            return None
        return self.measured_mm / self.nominal_mm

    def to_json(self) -> dict[str, Any]:
        """Give the check as it stands in the report; sizes to 0.0001 mm."""
        return {
            "name": self.name,
            "status": self.status,
            "page": self.page,
            "measured_mm": None if self.measured_mm is None else round(self.measured_mm, 4),
            "nominal_mm": None if self.nominal_mm is None else round(self.nominal_mm, 4),
            "detail": self.detail,
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

    @property
    def sizes(self) -> tuple[Check, ...]:
        """The squares and rules that were measured."""
        return tuple(check for check in self.checks if check.name in SIZES and check.ratio is not None)

    @property
    def failed(self) -> tuple[Check, ...]:
        """The checks that failed."""
        return tuple(check for check in self.checks if check.status == FAIL)

    @property
    def warned(self) -> tuple[Check, ...]:
        """The checks that warn."""
        return tuple(check for check in self.checks if check.status == WARN)

    @property
    def scale(self) -> tuple[float, float] | None:
        """Across and down: the square or rule furthest from its nominal size; None without one on either axis."""
        furthest = []
        for axis in ("across", "down"):
            ratios = [check.ratio for check in self.sizes if check.axis == axis and check.ratio is not None]
            if not ratios:
                return None
            furthest.append(max(ratios, key=lambda ratio: abs(ratio - 1)))
        return furthest[0], furthest[1]

    @property
    def verdict(self) -> str:
        """One of the five verdicts."""
        if not self.sizes and not self.failed:
            return NOTHING
        if any(check.name in OF_SCALE for check in self.failed):
            return OFF
        if self.failed:
            return INCOMPLETE
        return COMPENSATED if self.printer else TRUE

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
        """Give the failure that explains most, in words; empty when nothing failed."""
        check = self.main_fault
        if check is None:
            return ""
        return f"on page {check.page}, {check.detail}" if check.page else check.detail

    def to_json(self) -> dict[str, Any]:
        """Give the whole report in the published form."""
        scale = self.scale
        return {
            "file": self.file,
            "verdict": self.verdict,
            "scale": {"across": round(scale[0], 6), "down": round(scale[1], 6)} if scale else None,
            "pages": self.pages,
            **({"printer": self.printer} if self.printer else {}),
            "checks": [check.to_json() for check in self.checks],
        }
