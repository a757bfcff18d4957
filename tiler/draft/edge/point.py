"""The point of a vee that was measured with a tape: its corner from lengths that a tape can take.

Millimetres, degrees.  The two arms enclose the angle 2 beta, tan beta = (neck width / 2) / front
depth, and the edge turns by 180 - 2 beta at the point.  Who has the pattern can measure that
angle itself; a corner as such is for those who know what it is.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, degrees, hypot

from tiler.draft.edge.seam_line import Kind, MeasuredPart
from tiler.draft.spec.table import Table
from tiler.lengths import both
from tiler.sentence import Key, Sentence

SHARPEST_CORNER = 170.0
FLATTEST_POINT = 10.0
"""A point that turns by less, degrees, is none."""

KEYS = ("point-angle", "corners")
LENGTHS = ("neck-width", "front-depth")

LEAST_ARM, LONGEST_ARM = 0.97, 1.08
"""An arm against the straight line from the point to the shoulder: a tape errs, an arm is nearly straight.

Half of a round neckline has more: a quarter circle 1.11.
"""


def asked(*within: str) -> Sentence:
    """Return what tells the angle of a point, as it is asked for; ``within`` leads to the table of the edge."""
    width, depth, angle = (Key(key, within=within) for key in (*LENGTHS, "point-angle"))
    return Sentence(width, " and ", depth, ", or ", angle)


def read_corners(table: Table, kind: Kind) -> tuple[float, ...]:
    """Read the sharp corners of a measured edge, degrees, from the one way in which they are stated."""
    lengths = next((key for key in LENGTHS if table.has(key)), "neck-width")
    way = table.only_one("corners", "point-angle", lengths)
    if way == "corners":
        return table.angles("corners", -SHARPEST_CORNER, SHARPEST_CORNER)
    if way == "point-angle":
        if kind not in (Kind.NECKLINE, Kind.CURVED):
            table.refuse("point-angle", f'has no meaning for an edge of kind "{kind}"; leave it out')
        return (180 - table.angle("point-angle", 180 - SHARPEST_CORNER, 180 - FLATTEST_POINT),)
    if way is None:
        return ()
    if kind is not Kind.NECKLINE:
        table.refuse(way, f'is for the vee of a neckline, not for an edge of kind "{kind}"; leave it out')
    width, depth = _lengths(table)
    corner = 180 - 2 * degrees(atan2(width / 2, depth))
    if corner > SHARPEST_CORNER:
        table.refuse("front-depth", "makes a slit rather than a vee; check it, and ", Key("neck-width"))
    if corner < FLATTEST_POINT:
        table.refuse("front-depth", "makes no point; leave it out, and ", Key("neck-width"))
    return (corner,)


def check_arms(table: Table, parts: Sequence[MeasuredPart]) -> None:
    """Hold the arms of a vee against the straight line from its point to the shoulder.

    Raises :class:`SpecError` where they are not those of the vee that neck width and front depth tell of.
    """
    if not table.has("neck-width") or parts[0].drawn:
        return
    width, depth = _lengths(table)
    straight, arm = hypot(width / 2, depth), parts[0].length_mm / (2 if len(parts) == 1 else 1)
    told = f"the straight line from the point of the vee to the shoulder would be {both(straight, table.units)}, and "
    if parts[0].name == "front-half" and arm > LONGEST_ARM * straight:
        table.refuse(
            "front-depth",
            told,
            Key("front-half"),
            f" has {both(arm, table.units)} between its seams: a rounded neckline has no point, so leave ",
            Key("neck-width"),
            " and ",
            Key("front-depth"),
            " out, or check the three lengths",
        )
    if arm < LEAST_ARM * straight:
        table.refuse(
            "front-depth",
            told,
            Key(parts[0].name),
            f" has only {both(arm, table.units)} for it; check the three lengths",
        )


def _lengths(table: Table) -> tuple[float, float]:
    return (
        table.length("neck-width", Key("neck-width", '"7 in"')),
        table.length("front-depth", Key("front-depth", '"8 in"')),
    )
