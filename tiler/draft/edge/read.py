"""The ``edge`` table of a piece: an edge that was measured, or a neckline described by its shape."""

from __future__ import annotations

from dataclasses import replace
from math import radians, tan

from tiler.draft.edge import measured, point, shape
from tiler.draft.edge.from_drawing import FindCurve
from tiler.draft.edge.measured import read_measured, read_slope
from tiler.draft.edge.neckline import along
from tiler.draft.edge.seam_line import EdgeSpec, Kind, MeasuredOn
from tiler.draft.edge.shape import Outline, halves, read_outline
from tiler.draft.spec.table import Table
from tiler.sentence import Key

KEYS = ("kind", *measured.KEYS, *shape.KEYS, "measured-on", "garment-allowance", "shoulder-slope", "before", "after")


def read_edge(table: Table, find: FindCurve) -> EdgeSpec:
    """Read the edge of a piece, drawn curves through ``find``; raises :class:`SpecError` for an edge that cannot be."""
    edge = _read(table, find)
    slope = read_slope(table) if table.has("shoulder-slope") else None
    return replace(edge, line_assumed=not table.has("measured-on"), slope_deg=slope)


def _read(table: Table, find: FindCurve) -> EdgeSpec:
    kind = table.word("kind", Kind)
    measured_on = table.word("measured-on", MeasuredOn, MeasuredOn.SEAM_LINE)
    allowance = table.optional_length("garment-allowance", zero_ok=True)
    if table.has("shape"):
        return _read_shaped(table, kind, measured_on, allowance)
    for key in shape.KEYS:
        if table.has(key) and key not in point.LENGTHS:
            table.refuse(key, "belongs to an edge with a shape; write ", Key("shape", '"scoop"'), ', "vee" or "square"')
    parts, turn, point_deg = read_measured(table, kind, find)
    return EdgeSpec(table.where, kind, parts, measured_on, allowance, turn, point_deg)


def _read_shaped(table: Table, kind: Kind, measured_on: MeasuredOn, allowance: float | None) -> EdgeSpec:
    if kind is not Kind.NECKLINE:
        table.refuse("shape", f'is for a neckline, not for an edge of kind "{kind}"; measure this edge')
    for key in measured.KEYS:
        if table.has(key):
            table.refuse(key, "contradicts ", Key("shape"), ", which says the whole edge; leave it out")
    slope = read_slope(table)

    def edge(outline: Outline) -> EdgeSpec:
        drawn = along(*halves(outline, slope), slope)
        return EdgeSpec(table.where, kind, drawn.parts, measured_on, allowance, drawn.turn, drawn.point_deg, outline)

    outline, change = read_outline(table)
    changed = change.of(outline)
    if changed == outline:
        return edge(outline)
    drop = change.widen_mm * tan(radians(slope))
    return replace(edge(changed), before=edge(outline), neck_drop_mm=drop)
