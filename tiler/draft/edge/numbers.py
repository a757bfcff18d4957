"""The numbers of an edge: what each part takes of the strip, its tightest bend, and what it was before a change.

Lengths are millimetres and exact; shares are plain numbers, angles degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tiler.draft.edge.shape import Outline


@dataclass(frozen=True)
class Part:
    """A part on the seam line and what the strip has for it, mm.

    Above ``flat_limit``, a share of the part, the strip stands away there.
    ``legs_mm`` is the strip between the part's sharp corners, ``drawn`` the drawing that the part comes from.
    """

    name: str
    edge_mm: float
    strip_mm: float
    flat_limit: float
    legs_mm: tuple[float, ...]
    drawn: str = ""

    @property
    def strain(self) -> float:
        """By which share the strip is stretched there."""
        return self.edge_mm / self.strip_mm - 1


@dataclass(frozen=True)
class Tightest:
    """The tightest bend of the seam line: its part, radius (mm), place as a share of the part, and flat limit."""

    part: str
    radius_mm: float
    along: float
    flat_limit: float
    drawn: bool = False

    @property
    def place(self) -> str:
        """The place in words."""
        if self.drawn:
            return f"{self.along * 100:.0f} % along the curve of the {self.part.replace('-', ' ')} as drawn"
        centre = "CF" if self.part == "front-half" else "CB"
        if self.along < 0.02:
            return f"at {centre}"
        if self.along > 0.98:
            return f"at the shoulder, on the {self.part.removesuffix('-half')}"
        return f"{self.along * 100:.0f} % of the way from {centre} to the shoulder"


@dataclass(frozen=True)
class Before:
    """The same piece on the edge before the spec changed it, mm.

    ``neck_drop_mm`` is how far down the shoulder seam the change moves the neck points.
    """

    outline: Outline
    neck_drop_mm: float
    edge_mm: float
    loop_mm: float
    cut_length_mm: float


@dataclass(frozen=True)
class Edge:
    """The edge on its seam line, mm; ``label`` is its name for people."""

    kind: str
    edge_mm: float
    turning_deg: float
    parts: tuple[Part, ...]
    label: str
    ease: str
    tightest: Tightest | None = None
    outline: Outline | None = None

    def ease_to_json(self) -> dict[str, Any]:
        """Return how the strip is shared out, part by part, and the tightest bend where it is known."""
        bend = self.tightest
        return {
            "rule": self.ease,
            "parts": [{"name": part.name, "strain": part.strain, "flat_limit": part.flat_limit} for part in self.parts],
            "tightest": bend and {"place": bend.place, "radius_mm": bend.radius_mm, "flat_limit": bend.flat_limit},
        }
