"""A section of a strip that is pieced: what is cut, so and so often for each strip; mm."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tiler.draft.contour.shape import Shape
from tiler.draft.fastening.buttons import Buttons
from tiler.draft.fastening.running_on import NOWHERE, RunsOn
from tiler.draft.strip.corner import StripEnd
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch


@dataclass(frozen=True)
class Section:
    """A section as it is cut, ``count`` times for each strip.

    ``name`` follows that of the strip. It is sewn to ``part`` of the edge, all of it where that is empty, or
    to one of so many equal ``shares`` of that, with these ``numbers``. ``cut_length_mm`` is the drawn length,
    from the fold where it is cut on fold; ``left`` is no end then.  ``tightest_mm`` and ``flat_mm`` bound its
    good lengths. A ``pair`` is the one and its mirror image. ``joins`` name both ends, ``seams`` the garment's
    seam at each; empty where there is none.  Something of it is ``free`` where the strip runs on beyond its edge, and
    its ``buttons`` count from its own left end.
    """

    name: str
    part: str
    shares: int
    numbers: tuple[int, ...]
    cut: Cut
    count: int
    pair: bool
    sewn_mm: float
    edge_mm: float
    tightest_mm: float
    flat_mm: float | None
    cut_length_mm: float
    left: StripEnd
    right: StripEnd
    joins: tuple[str, str]
    seams: tuple[str, str]
    notches: tuple[Notch, ...]
    free: bool = False
    buttons: Buttons | None = None
    shape: Shape | None = None
    """That of a contour band; none of a straight strip."""
    runs_on: RunsOn = NOWHERE
    """How far a piece of a contour band runs on beyond its edge."""

    @property
    def full_length_mm(self) -> float:
        """The cut length from end to end, mm."""
        return 2 * self.half_length_mm

    @property
    def half_length_mm(self) -> float:
        """Half of the cut length: what is cut on fold, mm."""
        return self.cut_length_mm if self.cut is Cut.ON_FOLD else self.cut_length_mm / 2

    @property
    def ends(self) -> tuple[str, ...]:
        """What the drawn ends are called, the left one first; on fold there is only the right one."""
        return self.joins[1:] if self.cut is Cut.ON_FOLD else self.joins

    @property
    def beyond_mm(self) -> float:
        """What the drawn length has more than the sewn one, mm."""
        return self.cut_length_mm - (self.sewn_mm / 2 if self.cut is Cut.ON_FOLD else self.sewn_mm)

    def to_json(self, name: str, quantity: int, width: float) -> dict[str, Any]:
        """Return its entry among the figures of a strip of this name, of which ``quantity`` are cut so wide, mm."""
        return {
            "name": f"{name}, {self.name}",
            "cut": self.cut.value,
            "quantity": quantity * self.count,
            "mirrored_pair": self.pair,
            "cut_length_mm": self.cut_length_mm,
            "cut_width_mm": self.shape.width if self.shape else width,
            "sewn_mm": self.sewn_mm,
            "edge_mm": self.edge_mm,
            "joins": list(self.joins),
            **({"finished_edge_mm": (2 if self.shape.on_fold else 1) * self.shape.finished_mm} if self.shape else {}),
            "notches": [{"name": notch.name, "at_mm": notch.at_mm} for notch in self.notches],
            **({"buttons": self.buttons.to_json()} if self.buttons else {}),
        }
