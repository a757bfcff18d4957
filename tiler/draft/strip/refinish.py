"""Another finish than the pattern's: where the garment's new cut edge must run.

Millimetres.  A band stands inside the seam line, a binding ends at the cut edge: in
both cases the finished edge lies one finished width inside the seam line, and that
is what stays.  From there the new seam line runs one new finished width into the
garment; a band's cut edge lies its seam allowance inside that line, a binding's is
the finished edge itself.
"""

from __future__ import annotations

from dataclasses import dataclass

from tiler.draft.edge.seam_line import EdgeSpec, MeasuredOn, line_at, seam_distance
from tiler.draft.spec.table import Table
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError
from tiler.lengths import both
from tiler.sentence import Key, Place

KEYS = ("finish", "finished-width")


@dataclass(frozen=True)
class OldFinish:
    """What the pattern has, mm."""

    where: Place
    finish: Finish
    finished_width_mm: float


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
    hint = Key("finished-width", '"3/8 in"')
    return OldFinish(old.where, old.word("finish", Finish), old.length("finished-width", hint))


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
