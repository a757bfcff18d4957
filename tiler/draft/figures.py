"""The numbers of one piece: what to cut, where to match, what to expect.

Lengths are millimetres and exact; rounding is for the tables that people read.
Shares are plain numbers, angles degrees.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from tiler.draft.contour.shape import Shape
from tiler.draft.edge.numbers import ALIKE, Before, Edge
from tiler.draft.edge.seam_line import FRONT_AND_BACK, Kind
from tiler.draft.fastening.buttons import Buttons
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.fastening.running_on import NOWHERE, RunsOn
from tiler.draft.sections.section import Section
from tiler.draft.strip.bias import Bias
from tiler.draft.strip.cloth import Cloth, ShapedCloth
from tiler.draft.strip.corner import Corner, StripEnd
from tiler.draft.strip.elastic import Elastic
from tiler.draft.strip.finish import Cut, Finish, PressLine
from tiler.draft.strip.fittings import Fitting
from tiler.draft.strip.notch import Notch
from tiler.draft.strip.refinish import NewCutEdge
from tiler.draft.strip.standing import Standing
from tiler.languages.words import Words

CONTOUR = Words("contour band, shaped like the edge")
"""What a band is called that is cut to the shape of its edge."""


@dataclass(frozen=True)
class Ratio:
    """Loop divided by edge: the one used, and those to compare it with.

    ``flat`` and ``tightest`` bound the lengths that are good; ``flat`` is ``None`` for a straight edge.
    Above ``flat_limit`` the strip is longer than its finished edge.
    """

    used: float
    advised: float
    flat: float | None
    usual: float
    tightest: float
    flat_limit: float
    source: str


@dataclass(frozen=True)
class Opening:
    """What the finished edge opens to, and what must pass, mm; ``limited_by`` is "strip" or "garment".

    ``source`` says whose measure must pass, where the spec refers to one.
    """

    opens_to_mm: float
    must_pass_mm: float
    passes: bool
    limited_by: str
    source: str | None = None


@dataclass(frozen=True)
class FailedCheck:
    """A check that a piece does not pass: what was judged, the judgement in a few words, and in a sentence.

    ``on_paper`` is the sentence for who cuts, and has neither the spec nor its figures at hand.
    """

    check: str
    short: str
    text: str
    on_paper: str


@dataclass(frozen=True)
class Figures:
    """All numbers of one piece.

    ``cut_length_mm`` is the drawn length: half of the strip and one end seam on
    fold, else all of it with both.  ``seam_allowance_mm`` is what the strip is
    sewn at: the band's allowance, or a binding's finished width.  ``join_place``
    is empty where the place of the end seam is free.  ``end`` is the strip's right end; the left one
    is alike but for a section's ``start``.  A strip that is pieced has the lengths and notches that it would have in
    one, ``sections`` are what is cut of it, and ``piecing`` says how they are joined; a ``section`` that has figures of
    its own is ``pieced_from`` a strip.  ``widest_mm`` is the widest finished width that has a good length, 0 where none
    has and ``None`` where there is no limit.  ``stretch_used`` is the part of the fabric's stretch that sewing takes.
    ``cut_words`` say how the garment is cut, ``corner_steps`` what is done at its corners.
    ``warnings`` begin with the ``failed`` checks; ``doubts`` are those about the numbers that were given.
    """

    name: str
    size: str | None
    finish: Finish
    cut: Cut
    quantity: int
    edge: Edge
    ratio: Ratio
    loop_mm: float
    cut_length_mm: float
    cut_width_mm: float
    finished_width_mm: float
    widest_mm: float | None
    seam_allowance_mm: float
    join_allowance_mm: float
    join_place: str
    cover_mm: float
    thickness_mm: float
    press_lines: tuple[PressLine, ...]
    sewn_edges: tuple[str, ...]
    notches: tuple[Notch, ...]
    seam_strain: float
    stretch_used: float | None
    opening: Opening | None
    fabric: str | None
    fabric_stretch: float | None
    edge_text: str
    end: StripEnd
    fittings: tuple[Fitting, ...]
    trial_change_mm: float
    new_cut_edge: NewCutEdge | None
    cloth: Cloth | ShapedCloth | None
    cut_words: str
    corner_steps: tuple[str, ...]
    warnings: tuple[str, ...]
    failed: tuple[FailedCheck, ...] = ()
    doubts: tuple[str, ...] = ()
    slips: tuple[str, ...] = ()
    """Which of its lengths are out of line with the sizes beside it; they stand among the warnings too."""
    before: Before | None = None
    for_child: bool = False
    views: tuple[str, ...] = ()
    for_sewing: tuple[str, ...] = ()
    """The warnings besides failed checks, as far as they speak of no key, and so to whoever has only the paper."""
    sections: tuple[Section, ...] = ()
    piecing: str = ""
    section: Section | None = None
    pieced_from: Figures | None = None
    start: StripEnd | None = None
    standing: Standing = Standing.FLAT
    elastic: Elastic | None = None
    ends: Ends = Ends.CLOSED
    buttons: Buttons | None = None
    runs_on: RunsOn = NOWHERE
    bias: Bias | None = None
    """The cloth for a strip that is cut on the bias."""
    free_ends: str = ""
    """What is said of free ends at the neck of a child's garment."""
    contour_mm: float | None = None
    """The finished edge of a band that is cut to the shape of its edge, mm; its sections have the shapes."""

    @property
    def shape(self) -> Shape | None:
        """The shape of a piece of a contour band."""
        return self.section.shape if self.section else None

    @property
    def left_end(self) -> StripEnd:
        """The left end of the strip."""
        return self.start or self.end

    @property
    def paired(self) -> bool:
        """Whether half of what is cut is the mirror image of the other half."""
        section = self.section
        return section is not None and section.pair and (self.shape is not None or not self.finish.making.doubled)

    @property
    def strip_name(self) -> str:
        """The name of the whole strip."""
        return self.pieced_from.name if self.pieced_from else self.name

    @property
    def front_first(self) -> bool:
        """Whether one end of the strip lies on the front and the other on the back: the front is drawn left."""
        at_shoulder = self.edge.kind == Kind.NECKLINE and self.join_place == "shoulder"
        return (self.edge.kind in FRONT_AND_BACK or at_shoulder) and not self.edge.listed

    @property
    def first_part(self) -> str:
        """The part of the edge that begins at the strip's left end; empty where the strip lies the same way round."""
        if self.edge.listed and len(self.edge.parts) > 1:
            return self.edge.parts[0].words
        return Words("front") if self.front_first and len(self.edge.parts) > 1 else ""

    @property
    def is_open(self) -> bool:
        """Whether the strip is no ring."""
        return self.ends is not Ends.CLOSED

    @property
    def even(self) -> bool:
        """Whether the strip is as long as its edge all along, so that nothing is stretched."""
        return abs(self.ratio.used - 1) < ALIKE and (self.section is not None or not self.edge.unequal)

    @property
    def finish_words(self) -> str:
        """The finish as people read it."""
        return CONTOUR if self.contour_mm is not None else self.standing.words(self.finish)

    @property
    def instructions(self) -> tuple[str, ...]:
        """What is done to the garment, in the order of work."""
        return (*([self.cut_words] if self.cut_words else []), *self.corner_steps)

    @property
    def half_length_mm(self) -> float:
        """Half of the strip with one end seam: what is cut on fold, mm."""
        return self.cut_length_mm if self.cut is Cut.ON_FOLD else self.cut_length_mm / 2

    @property
    def pointed(self) -> bool:
        """Tell whether the ends are slanted to meet at a sharp corner."""
        return self.end.style is not Corner.NONE

    def to_json(self) -> dict[str, Any]:
        """Return the entry of this piece in ``tiler figures --json``."""
        edge, ratio, opening = self.edge, self.ratio, self.opening
        return {
            "name": self.name,
            "size": self.size,
            "finish": self.finish.value,
            "cut": self.cut.value,
            "quantity": self.quantity,
            "edge_mm": edge.edge_mm,
            "turning_deg": edge.turning_deg,
            "parts": [{"name": part.name, "edge_mm": part.edge_mm, "strip_mm": part.strip_mm} for part in edge.parts],
            "ratio": {
                "used": ratio.used,
                "advised": ratio.advised,
                "flat": ratio.flat,
                "usual": ratio.usual,
                "tightest": ratio.tightest,
                "flat_limit": ratio.flat_limit,
                "source": ratio.source,
            },
            "loop_mm": self.loop_mm,
            "cut_length_mm": self.cut_length_mm,
            "cut_width_mm": self.cut_width_mm,
            "finished_width_mm": self.finished_width_mm,
            "widest_mm": self.widest_mm,
            "notches": [{"name": notch.name, "at_mm": notch.at_mm} for notch in self.notches],
            "seam_strain": self.seam_strain,
            "stretch_used": self.stretch_used,
            "opening": opening
            and {
                "opens_to_mm": opening.opens_to_mm,
                "must_pass_mm": opening.must_pass_mm,
                "passes": opening.passes,
                "limited_by": opening.limited_by,
            },
            "warnings": list(self.warnings),
            **({} if self.contour_mm is None else {"contour": {"finished_edge_mm": self.contour_mm}}),
            **self._asked_for(),
        }

    def _asked_for(self) -> dict[str, Any]:
        """Return the entries that only some specs have; lengths in mm."""
        found: dict[str, Any] = {}
        if self.failed:
            found["failed"] = [{"check": one.check, "text": one.text} for one in self.failed]
        if self.fittings:
            found["trial_change_mm"] = self.trial_change_mm
        if self.before:
            before = self.before
            found["before_change"] = {
                "edge_mm": before.edge_mm,
                "loop_mm": before.loop_mm,
                "cut_length_mm": before.cut_length_mm,
            }
        if self.edge.bend or self.edge.ease == "by-curve" or self.edge.listed:
            found["ease"] = self.edge.ease_to_json()
        if self.new_cut_edge:
            new = self.new_cut_edge
            found["new_cut_edge"] = {
                "trim_mm": new.trim_mm,
                "inside_old_seam_mm": new.inside_old_seam_mm,
                "length_mm": new.length_mm,
                "finished_edge_mm": new.finished_edge_mm,
            }
        if self.sections:
            width, times = self.cut_width_mm, self.quantity
            found["sections"] = [section.to_json(self.name, times, width) for section in self.sections]
        if self.standing.stands:
            found["standing"] = self.standing.value
        if self.elastic:
            found["elastic"] = self.elastic.to_json()
        if self.is_open:
            free = self.runs_on.to_json() if self.runs_on.there else {}
            found["ends"] = {"finish": self.ends.value, "allowance_mm": self.join_allowance_mm, **free}
        if self.buttons:
            found["buttons"] = self.buttons.to_json()
        if self.bias:
            found["bias"] = self.bias.to_json()
        if self.cloth:
            found["cloth"] = self.cloth.to_json()
        return found
