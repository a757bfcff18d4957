"""The numbers of an edge: what each part takes of the strip, its sharpest bend, and what it was before a change.

Lengths are millimetres and exact; shares are plain numbers, angles degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tiler.draft.edge.part_words import along_words, part_words
from tiler.draft.edge.shape import Outline
from tiler.languages.words import Words

ALIKE = 0.005
"""A strip that differs less from its edge, as a share of that, is as long."""


@dataclass(frozen=True)
class Part:
    """A part on the seam line and what the strip has for it, mm.

    ``tightest_mm`` and ``flat_mm`` are its own bounds, the latter none on a straight edge; above
    ``flat_limit``, a share of the part, the strip is longer than its finished edge.
    ``legs_mm`` is the strip between the part's sharp corners, ``drawn`` the drawing that the part comes from.
    A part that is ``listed`` has a name of its own, and may have a ``ratio`` that the spec states.
    """

    name: str
    edge_mm: float
    strip_mm: float
    flat_limit: float
    tightest_mm: float
    flat_mm: float | None
    legs_mm: tuple[float, ...]
    drawn: str = ""
    listed: bool = False
    ratio: float | None = None

    @property
    def words(self) -> str:
        """The name as people read it: ``front half``."""
        return part_words(self.name, self.listed)

    @property
    def along(self) -> Words:
        """Say that something is so along it: ``along the front half``."""
        return along_words(self.name, self.listed)

    @property
    def strain(self) -> float:
        """By which share the strip is stretched there."""
        return self.edge_mm / self.strip_mm - 1


@dataclass(frozen=True)
class Bend:
    """Where the strip stands furthest above its flat limit: the place in words, and over what length of edge, mm.

    ``ratio`` is the strip's own there, and ``flat_limit`` the one up to which it lies flat.
    """

    place: str
    over_mm: float
    flat_limit: float
    ratio: float

    @property
    def over_limit(self) -> float:
        """By how much of the edge the strip is above its limit there."""
        return self.ratio - self.flat_limit


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
    bend: Bend | None = None
    outline: Outline | None = None

    @property
    def listed(self) -> bool:
        """Whether the edge is given in parts of its own names."""
        return self.parts[0].listed

    @property
    def evenly(self) -> bool:
        """Whether every part gets the same share of the strip."""
        return self.ease == "even" and not any(part.ratio for part in self.parts)

    @property
    def unequal(self) -> bool:
        """Whether its parts get unequal shares of the strip."""
        strains = [part.strain for part in self.parts]
        return max(strains) - min(strains) >= ALIKE

    def ease_to_json(self) -> dict[str, Any]:
        """Return how the strip is shared out, part by part, and the sharpest bend where it is known."""
        bend = self.bend
        return {
            "rule": self.ease,
            "parts": [{"name": part.name, "strain": part.strain, "flat_limit": part.flat_limit} for part in self.parts],
            "bend": bend
            and {
                "place": bend.place,
                "over_mm": bend.over_mm,
                "flat_limit": bend.flat_limit,
                "ratio": bend.ratio,
            },
        }
