"""What the list of a drawing's curves says, as a record without the engines that read it; mm, degrees."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tiler.box import Box


@dataclass(frozen=True, slots=True)
class ListedCurve:
    """What the list says of a curve; ``turning_deg`` is the net turn without its sign."""

    number: int
    id: str | None
    page: int | None
    length_mm: float
    turning_deg: float
    corners_deg: tuple[float, ...]
    closed: bool
    bounds: Box

    def to_json(self) -> dict[str, Any]:
        """Return the curve in the published form."""
        return {
            "curve": self.number,
            "id": self.id,
            "page": self.page,
            "length_mm": self.length_mm,
            "turning_deg": self.turning_deg,
            "corners": list(self.corners_deg),
            "closed": self.closed,
            "bounds_mm": [self.bounds.x0, self.bounds.y0, self.bounds.x1, self.bounds.y1],
        }

    @classmethod
    def from_json(cls, tree: dict[str, Any]) -> ListedCurve:
        """Make the curve again."""
        return cls(
            tree["curve"],
            tree["id"],
            tree["page"],
            tree["length_mm"],
            tree["turning_deg"],
            tuple(tree["corners"]),
            tree["closed"],
            Box(*tree["bounds_mm"]),
        )


@dataclass(frozen=True)
class Listing:
    """The curves of a drawing, longest first; ``corrected`` says that the squares have set their lengths.

    ``shorter`` counts the curves that were left out for their length, ``scale`` says what
    the test squares measure, ``in_px`` that the size of an SVG is stated in px.
    """

    file: str
    curves: tuple[ListedCurve, ...]
    shorter: int
    scale: str | None = None
    corrected: bool = False
    in_px: bool = False

    def to_json(self) -> dict[str, Any]:
        """Return the list in the published form."""
        return {"file": self.file, "curves": [curve.to_json() for curve in self.curves]}

    def to_record(self) -> dict[str, Any]:
        """Return everything that the list says, for another process."""
        facts = {name: getattr(self, name) for name in ("shorter", "scale", "corrected", "in_px")}
        return self.to_json() | facts

    @classmethod
    def from_record(cls, record: dict[str, Any]) -> Listing:
        """Make the list again."""
        return cls(**record | {"curves": tuple(map(ListedCurve.from_json, record["curves"]))})
