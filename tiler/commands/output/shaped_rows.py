"""Rows of the cutting chart about a contour band: its pieces, its two edges, its seams; on a terminal."""

from __future__ import annotations

from collections.abc import Iterator

from tiler.commands.output.edge_story import Row
from tiler.draft.figures import Figures
from tiler.draft.sections.strips import strips_of
from tiler.draft.strip.finish import Cut
from tiler.lengths import both


def piece_rows(band: Figures, units: str) -> Iterator[Row]:
    """Yield what is cut, with its extents and its part of the edge, and the two edges of the band."""
    for piece in strips_of([band]):
        on_fold = piece.cut is Cut.ON_FOLD
        long = both(piece.half_length_mm, units, times=1 if on_fold else 2)
        name = piece.section.name if piece.section else ""
        wide = both(piece.cut_width_mm, units)
        yield (
            f"cut {piece.quantity} {piece.cut.words}",
            f"{name}: {long}{' from the fold' if on_fold else ''} × {wide}, at most",
        )
        ends = ", ".join(piece.section.ends) if piece.section else ""
        yield "", f"({both(piece.loop_mm, units)} of seam line; {ends})"
    yield "seam line", f"{both(band.loop_mm, units)}, as long as the edge"
    yield "finished edge", both(band.contour_mm or 0.0, units)


def seam_rows(band: Figures, units: str) -> Iterator[Row]:
    """Yield the widths of the band, and how its pieces are joined."""
    yield "finished width", both(band.finished_width_mm, units)
    yield "seam allowance", f"{both(band.seam_allowance_mm, units)} along both edges"
    if not band.is_open:
        yield "end seams", both(band.join_allowance_mm, units)
    else:
        if len(band.sections) > 1:
            yield "end seams", both(band.seam_allowance_mm, units)
        yield "ends", f"{band.ends}, {both(band.join_allowance_mm, units)} at each, in the cut size"
    if band.runs_on.there:
        begins = f"; the edge begins, as drawn, at the {'right' if band.runs_on.turned else 'left'} end"
        told = len(band.sections) == 1 and band.edge.parts[0].drawn and not band.runs_on.alike
        yield "beyond", f"{band.runs_on.words(units)}{begins if told else ''}"
    yield "made", band.piecing
