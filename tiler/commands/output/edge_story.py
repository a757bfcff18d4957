"""Rows of the cutting chart about the edge: its shape and changes, its parts, corners, fittings and cloth."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from math import ceil, fsum

from tiler.draft.edge.numbers import Before, Part
from tiler.draft.edge.shape import Outline
from tiler.draft.figures import Figures
from tiler.draft.strip.cloth import ShapedCloth
from tiler.draft.strip.fittings import ChangedOn, Fitting
from tiler.lengths import both, percent, tape
from tiler.paper import IN

Row = tuple[str, str]
"""A label, empty where it goes on, and a text."""

DIRECTIONS = {
    False: "Lay the strips with their arrow along the greatest stretch of the cloth, which on most knits is from "
    "selvage to selvage.",
    True: "Lay shaped pieces with their grain along the length of the cloth, those on fold on a fold in it. They are "
    "counted by the boxes around them, so laid into each other they take less.",
}
"""How strips lie on the cloth, and how shaped pieces do."""


def shape_rows(piece: Figures, units: str) -> Iterator[Row]:
    """Yield the described shape, before and after a change, and what the change does to the strip."""
    outline, before = piece.edge.outline, piece.before
    if outline is None:
        return
    if before is None:
        yield outline.shape.value, _outline(outline, units)
        return
    yield f"{outline.shape} as it was", _outline(before.outline, units)
    yield "", f"edge {both(before.edge_mm, units)}, sewn length {both(before.loop_mm, units)}"
    yield "as changed", _outline(outline, units)
    yield "", f"edge {both(piece.edge.edge_mm, units)}, sewn length {both(piece.loop_mm, units)}"
    if before.neck_drop_mm:
        way = "down" if before.neck_drop_mm > 0 else "up"
        moved = f"{both(abs(before.neck_drop_mm), units)} {way} the slope of the shoulder"
        yield "neck points", f"{moved}; depths count from there, so CF and CB go with them"
    yield "the change", _changed(piece, before, units)


def finish_rows(piece: Figures, units: str) -> Iterator[Row]:
    """Yield where the garment is cut when the pattern had another finish."""
    new = piece.new_cut_edge
    if new is None:
        return
    old = new.old
    if old.turned:
        yield "instead of", f"{old.had}, finished at its {old.line}"
    else:
        yield "instead of", f"{old.finish.words}, {both(old.finished_width_mm, units)} finished"
    trim = new.trim_mm
    if trim is not None:
        moved = "trimmed off" if trim >= 0 else "added to"
        yield "new cut edge", f"{both(abs(trim), units)} {moved} the pattern's cut edge, all along"
    else:
        side = "inside" if new.inside_old_seam_mm >= 0 else "beyond"
        yield "new cut edge", f"{both(abs(new.inside_old_seam_mm), units)} {side} the pattern's {old.line}, all along"
    yield "", f"{both(new.length_mm, units)} long"
    yield "new seam line", f"{both(new.seam_allowance_mm, units)} inside the new cut edge"
    yield "finished edge", f"stays where the pattern has it, {both(new.finished_edge_mm, units)} long"


def drawn_rows(piece: Figures) -> Iterator[Row]:
    """Yield which drawings the edge was taken from."""
    label = "as drawn in"
    for part in piece.edge.parts:
        if part.drawn:
            name = "" if part.name == "whole" else f"{part.words}: "
            yield label, f"{name}{part.drawn}"
            label = ""


def part_rows(piece: Figures, units: str) -> Iterator[Row]:
    """Yield for each part its edge, its strip, by how much it is stretched there, and its own flat limit."""
    edge = piece.edge
    if len(edge.parts) > 1:
        rule = "by the curve: less strip where the edge bends" if edge.ease == "by-curve" else "evenly"
        yield (
            "eased",
            rule if all(not part.ratio for part in edge.parts) else "each part as the spec says, else " + rule,
        )
        for part in edge.parts:
            yield part.words, f"{both(part.edge_mm, units)} of edge, {_share(part, units)}"
    bend = edge.bend
    if bend:
        limit = _limit(bend.flat_limit) if bend.flat_limit > 0 else "nothing lies flat"
        over = f"over {both(bend.over_mm, units)} {bend.place}"
        yield "sharpest bend", f"{over}: {limit}, and the strip has {percent(bend.ratio)}"


def trial_rows(piece: Figures, units: str) -> Iterator[Row]:
    """Yield the sewn length from the starting ratio to the last fitting."""
    if not piece.fittings:
        return
    first = piece.loop_mm - piece.trial_change_mm
    yield "started at", f"{both(first, units)}, {percent(first / piece.edge.edge_mm)} of the edge"
    for count, fitting in enumerate(piece.fittings, 1):
        yield f"fitting {count}", _fitting(fitting, units)


def cloth_rows(piece: Figures, units: str) -> Iterator[Row]:
    """Yield how the strips lie on the cloth; of shaped pieces it is told how they are made."""
    cloth = piece.cloth
    if piece.piecing and piece.contour_mm is None:
        yield "in sections", piece.piecing
    if cloth is None or isinstance(cloth, ShapedCloth):
        return
    what = "section" if cloth.extra_seams else "strip"
    most = f"{cloth.abreast}" if cloth.alike or cloth.abreast == 1 else f"up to {cloth.abreast}"
    yield (
        f"{what}s on cloth",
        f"{most} to a row on {cloth.fabric} {both(cloth.width_mm, units)} wide, "
        f"{cloth.rows} row{'s' if cloth.rows > 1 else ''}: "
        f"{both(piece.cut_width_mm, units, times=cloth.rows, up=True)} of its length",
    )


def to_buy(pieces: Iterable[Figures], units: str) -> Iterator[Row]:
    """Yield what length of each cloth all pieces take, each row at the width to which it is really cut."""
    lengths: dict[str, tuple[float, float]] = {}
    shaped = set()
    for piece in pieces:
        if cloth := piece.cloth:
            inches, centimetres = lengths.get(cloth.fabric, (0.0, 0.0))
            rows = cloth.rows_mm if isinstance(cloth, ShapedCloth) else [piece.cut_width_mm] * cloth.rows
            inches += fsum(_up(row, float(IN / 16)) for row in rows)
            centimetres += fsum(_up(row, 1.0) for row in rows)
            lengths[cloth.fabric] = (inches, centimetres)
            shaped |= {cloth.fabric} if isinstance(cloth, ShapedCloth) else set()
    for fabric, (inches, centimetres) in lengths.items():
        both_units = [tape(inches, "in"), tape(centimetres, "cm")]
        first, second = both_units if units == "in" else reversed(both_units)
        # shaped pieces lie by the boxes around them
        how = "allow" if fabric in shaped else "at least"
        yield fabric, f"{how} {first} ({second}) of its length, edges straightened"


def direction(pieces: Sequence[Figures]) -> str:
    """Say how strips and shaped pieces lie on the cloth."""
    kinds = {isinstance(piece.cloth, ShapedCloth) for piece in pieces if piece.cloth}
    return " ".join(words for shaped, words in DIRECTIONS.items() if shaped in kinds)


def _up(mm: float, step: float) -> float:
    return step * ceil(mm / step - 1e-6)


def _outline(outline: Outline, units: str) -> str:
    return (
        f"{both(outline.neck_width_mm, units)} wide, {both(outline.front_depth_mm, units)} deep in front, "
        f"{both(outline.back_depth_mm, units)} behind"
    )


def _changed(piece: Figures, before: Before, units: str) -> str:
    edge, strip = piece.edge.edge_mm - before.edge_mm, piece.loop_mm - before.loop_mm
    cut = piece.cut_length_mm - before.cut_length_mm
    drawn = piece.cut.words
    return f"edge {_more(edge, units)}, sewn length {_more(strip, units)}, cut {drawn} {_more(cut, units)}"


def _more(change: float, units: str) -> str:
    return f"{both(abs(change), units)} {'longer' if change >= 0 else 'shorter'}"


def _share(part: Part, units: str) -> str:
    stretched = f"stretched by {percent(part.strain)}" if part.strain >= 0 else f"held in by {percent(-part.strain)}"
    limit = f"; {_limit(part.flat_mm / part.edge_mm)}" if part.flat_mm is not None else ""
    return f"{both(part.strip_mm, units)} of strip, {stretched}{limit}"


def _limit(ratio: float) -> str:
    return f"lies flat up to {percent(ratio, down=True)} of the edge"


def _fitting(fitting: Fitting, units: str) -> str:
    trial = fitting.trial
    change = _more(trial.measured_mm, units)
    change += " on the fold, which counts twice" if trial.on is ChangedOn.FOLD else " on the loop"
    note = f" ({trial.note})" if trial.note else ""
    return f"{change}{note}: {both(fitting.loop_mm, units)}, {percent(fitting.ratio)} of the edge"
