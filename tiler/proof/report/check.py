"""One thing that the proof looked at, as a record; the names are those of the machine-readable report."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from typing import Any

from tiler.box import Box
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.proof.report.effect import effect, where
from tiler.proof.report.sentences import Says

AXES = noted("across"), noted("down")


class Status(StrEnum):
    """How a check came out."""

    PASS = "pass"
    WARN = "warn"
    FAIL = "fail"


class CheckName(StrEnum):
    """What is looked at."""

    SQUARE = "square"
    RULE = "rule"
    USER_UNIT = "user-unit"
    PAGES = "pages"
    PAGE_SIZE = "page-size"
    BOXES = "boxes"
    ROTATION = "rotation"
    TEXT = "text"
    TILE_CODE = "tile-code"
    INK = "ink"
    PIECE = "piece"
    NOTCH = "notch"
    STRAY = "stray"
    REGISTER_MARKS = "register-marks"
    SQUARE_PLACE = "square-place"
    SQUARE_LABEL = "square-label"
    RULE_PLACE = "rule-place"
    GRADUATION = "graduation"
    FRAME = "frame"
    FRAME_SIZE = "frame-size"
    ASSEMBLY = "assembly"
    COVERAGE = "coverage"
    PAGE_ORDER = "page-order"
    HOST = "host"
    LAYERS = "layers"
    CARRIED = "carried"
    PRINTER = "printer"
    PREFERENCES = "preferences"
    DOCUMENT = "document"
    FONTS = "fonts"
    SAID_SIZE = "said-size"
    WORDS = "words"
    DECLARATION = "declaration"
    UNCHANGED = "unchanged"
    AXIS = "axis"
    UNSEEN = "unseen"
    GUESS = "guess"
    UNDECIDED = "undecided"
    PASSED = "passed"
    MEASURED = "measured"
    NOT_MEASURED = "not-measured"
    SCAN = "scan"
    SCANNER = "scanner"
    MIRROR = "mirror"
    LEAN = "lean"


SIZES = (CheckName.SQUARE, CheckName.RULE, CheckName.FRAME_SIZE)
"""Checks that carry a measured size to hold against a nominal one."""


@dataclass(frozen=True, slots=True)
class Check:
    """One thing that was looked at; ``page`` counts from 1, sizes in mm.

    ``label`` is the stated size of a square or ruler line ("2 in"), or the name of the page, piece or
    line that is spoken of; ``axis`` is "across" or "down" for what has one; ``box`` is where on the page
    it stands.  ``foreign`` marks a size that is not of our pages, so that its place must be told.
    ``numbers`` are what else the sentence needs.
    """

    name: CheckName
    status: Status
    says: Says
    page: int | None = None
    measured_mm: float | None = None
    nominal_mm: float | None = None
    label: str = field(default="", kw_only=True)
    axis: str = field(default="", kw_only=True)
    box: Box | None = field(default=None, kw_only=True, repr=False)
    foreign: bool = field(default=False, kw_only=True, repr=False)
    numbers: Mapping[str, float | str] = field(default_factory=dict, kw_only=True)

    @property
    def ratio(self) -> float | None:
        """Measured over nominal."""
        if self.measured_mm is None or not self.nominal_mm:
            return None
        return self.measured_mm / self.nominal_mm

    @property
    def detail(self) -> str:
        """The sentence of the check."""
        given = {
            "label": self.label,
            "axis": Words(self.axis) if self.axis else "",
            "measured": self.measured_mm,
            "nominal": self.nominal_mm,
            "where": where(self.box) if self.box else "",
            "effect": effect(self.ratio) if self.ratio else "",
        }
        return Words(self.says.value, **given, **self.numbers)

    def to_json(self) -> dict[str, Any]:
        """Return the check as it stands in the report; sizes to 0.0001 mm."""
        return {
            "name": self.name,
            "status": self.status,
            "page": self.page,
            "measured_mm": None if self.measured_mm is None else round(self.measured_mm, 4),
            "nominal_mm": None if self.nominal_mm is None else round(self.nominal_mm, 4),
            "detail": self.detail,
        }
