"""What the pattern has at the edge, and where the garment's cut edge must run for the strip.

Millimetres.  A band stands inside the seam line, a binding ends at the cut edge: in
both cases the finished edge lies one finished width inside the seam line, and that
is what stays.  Of a hem or a facing it is the fold or seam line itself.  From there
the new seam line runs one new finished width into the garment; a band's cut edge lies
its seam allowance inside that line, a binding's is the finished edge itself.

Without another finish the edge stays where it is but for the allowance: a band's is
made that of its seam, and a binding takes none, so it comes off with the seam line of
the pattern as the new edge.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from tiler.draft.edge.seam_line import EdgeSpec, MeasuredOn, line_at, seam_distance
from tiler.draft.spec.table import Table
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError
from tiler.languages.words import Words
from tiler.lengths import both
from tiler.sentence import Key, Place

KEYS = ("finish", "finished-width")


class Had(StrEnum):
    """What a pattern may have at an edge: a hem, a facing, or a strip."""

    HEM = "hem"
    FACING = "facing"
    FOLDED_BAND = Finish.FOLDED_BAND.value
    DOUBLE_FOLD = Finish.DOUBLE_FOLD.value
    FRENCH = Finish.FRENCH.value
    RAW_EDGE = Finish.RAW_EDGE.value


@dataclass(frozen=True)
class OldFinish:
    """What the pattern has, mm."""

    where: Place
    had: Had
    finished_width_mm: float

    @property
    def finish(self) -> Finish:
        """The strip that it is; a hem or a facing ends as a band of no width would."""
        return Finish.FOLDED_BAND if self.turned else Finish(self.had.value)

    @property
    def turned(self) -> bool:
        """Whether the garment is turned in at its finished edge: a hem or a facing."""
        return self.had in (Had.HEM, Had.FACING)

    @property
    def line(self) -> str:
        """The pattern's line that the edge was finished from."""
        return Words("fold line") if self.had is Had.HEM else Words("seam line")


@dataclass(frozen=True)
class GarmentCut:
    """How the garment is cut for its strip, mm.

    ``trim_mm`` is what comes off the pattern's own edge, negative where some is added, unknown
    where the spec does not say where that edge runs; ``seam_mm`` is from the new edge to the
    seam, which runs ``deeper_mm`` further into the garment than the pattern's.
    """

    trim_mm: float | None
    seam_mm: float
    deeper_mm: float


@dataclass(frozen=True)
class NewCutEdge:
    """Where the garment is cut now, mm.

    ``trim_mm`` is what is trimmed off the pattern's own cut edge, negative where some is
    added, unknown where the spec does not say where that edge runs; ``inside_old_seam_mm``
    is how far the new cut edge lies inside the pattern's seam line, negative when in the garment.
    """

    old: OldFinish
    trim_mm: float | None
    inside_old_seam_mm: float
    length_mm: float
    seam_allowance_mm: float
    finished_edge_mm: float


def read_old_finish(table: Table) -> OldFinish | None:
    """Read what the piece ``replaces``."""
    if not table.has("replaces"):
        return None
    old = table.table("replaces", KEYS, "")
    had = old.word("finish", Had)
    if had not in (Had.HEM, Had.FACING):
        return OldFinish(old.where, had, old.length("finished-width", Key("finished-width", '"3/8 in"')))
    if old.has("finished-width"):
        line = "fold line" if had is Had.HEM else "seam line"
        old.refuse("finished-width", f"has no meaning for a {had}, which is finished at its {line}; leave it out")
    return OldFinish(old.where, had, 0.0)


def garment_cut(
    edge: EdgeSpec, old: OldFinish | None, new: NewCutEdge | None, finish: Finish, width: float, sewn_at: float
) -> GarmentCut | None:
    """Return how the garment is cut for a strip of this finished width; nothing where the spec does not say enough."""
    if old and new:
        return GarmentCut(new.trim_mm, new.seam_allowance_mm, width - old.finished_width_mm)
    allowance = edge.garment_allowance_mm
    if allowance is None:
        return None
    if finish.is_band:
        return GarmentCut(allowance - sewn_at, sewn_at, 0.0)
    if edge.measured_on is MeasuredOn.CUT_EDGE:
        return GarmentCut(0.0, width, 0.0)
    return GarmentCut(allowance, width, width)


def deeper_seam(edge: EdgeSpec, old: OldFinish | None, finish: Finish, width: float) -> float:
    """Return how much further into the garment the strip is sewn than on the line that was measured, mm.

    A binding ends at the pattern's seam line once the allowance beyond that is trimmed off.
    """
    if old:
        return width - old.finished_width_mm
    on_seam = edge.measured_on is MeasuredOn.SEAM_LINE and edge.garment_allowance_mm is not None
    return width if on_seam and not finish.is_band else 0.0


def new_cut_edge(
    edge: EdgeSpec, old: OldFinish, finish: Finish, width: float, seam_allowance: float, units: str
) -> NewCutEdge:
    """Find the cut edge for a strip of the finished width ``width`` that is sewn at ``seam_allowance`` mm.

    Raises :class:`SpecError` when the edge does not say where the pattern's seam
    line runs, or when nothing of the garment's edge is left.
    """
    old_seam = seam_distance(edge, old.finish, old.finished_width_mm, units)
    finished = old_seam - old.finished_width_mm
    new_seam = finished + width
    cut = new_seam - seam_allowance if finish.is_band else finished
    old_cut = _old_cut_edge(edge, old, old_seam)
    lengths = [line_at(edge, distance).length_mm for distance in (cut, new_seam, finished)]
    if min(lengths) <= 0:
        raise SpecError(
            f"a finished edge {both(old.finished_width_mm, units)} inside the seam line would have no length left; "
            "check the finished width that the pattern has",
            old.where,
        )
    return NewCutEdge(
        old,
        None if old_cut is None else cut - old_cut,
        old_seam - cut,
        lengths[0],
        new_seam - cut,
        lengths[2],
    )


def _old_cut_edge(edge: EdgeSpec, old: OldFinish, old_seam: float) -> float | None:
    if edge.measured_on is MeasuredOn.CUT_EDGE:
        return 0.0
    if not old.finish.is_band:
        return old_seam - old.finished_width_mm
    return None if edge.garment_allowance_mm is None else old_seam - edge.garment_allowance_mm
