"""The cutting chart on a terminal: the numbers of every piece, as wide as the terminal.

Lengths are rounded to 1/16 in and to 1 mm; a full length is twice the rounded
half, cut widths of bindings go up, what an opening opens to goes down and what
must pass goes up.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from tiler.commands.output.edge_story import (
    cloth_rows,
    direction,
    drawn_rows,
    finish_rows,
    part_rows,
    shape_rows,
    to_buy,
    trial_rows,
)
from tiler.commands.output.shaped_rows import piece_rows, seam_rows
from tiler.commands.output.wrapping import Line
from tiler.commands.output.wrapping import wrapped as _wrapped
from tiler.draft.edge.seam_line import Kind
from tiler.draft.fastening.buttons import Buttons
from tiler.draft.figures import Figures
from tiler.draft.label import good_lengths
from tiler.draft.sections.strips import strips_of
from tiler.draft.spec.read import Job
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.loop import ASSUMED_STRETCH
from tiler.draft.strip.notch import Notch
from tiler.draft.views import by_view, in_views
from tiler.lengths import both, percent

LABEL = 20
NAME = 20


def chart(job: Job, pieces: Sequence[Figures]) -> Iterator[Line]:
    """Yield the chart of a job: what to cut in short where there are several, then each in full."""
    yield from _wrapped(job.edition.heading, heading=True)
    if len(pieces) > 1:
        yield from (Line(""), Line("To cut: length × width", True))
        for piece in pieces:
            yield from _short(piece, job.edition.units)
    for piece in pieces:
        yield Line("")
        size = f", size {piece.size}" if piece.size else ""
        yield from _wrapped(f"{in_views(piece.name, piece.views)}{size}: {piece.finish_words}", heading=True)
        shaped = piece.contour_mm is not None
        if shaped:
            yield from _rows(piece_rows(piece, job.edition.units))
        else:
            yield from _to_cut(piece, job.edition.units)
            yield from _length(piece, job.edition.units)
        for warning in piece.warnings:
            yield from _wrapped(warning, "  ! ", "    ")
        yield from _rows(seam_rows(piece, job.edition.units)) if shaped else _made(piece, job.edition.units)
        yield from _to_sew(piece, job.edition.units)
        yield from _to_match(piece, job.edition.units)
        yield from _opening(piece, job.edition.units)
        if piece.bias:
            yield from _row("cloth", piece.bias.words(job.edition.units))
        yield from _rows(cloth_rows(piece, job.edition.units))
        for step in piece.instructions:
            yield from _wrapped(step, "  > ", "    ")
    cloths = {view: list(to_buy(own, job.edition.units)) for view, own in by_view(pieces).items()}
    if any(cloths.values()):
        yield from (Line(""), Line("Cloth to buy", True))
        for view, rows in cloths.items():
            yield from _rows((f"view {view}: {fabric}" if view else fabric, words) for fabric, words in rows)
        yield from _wrapped(direction(pieces), "  ", "  ")


def _short(piece: Figures, units: str) -> Iterator[Line]:
    if piece.sections:
        for section in strips_of([piece]):
            yield from _short(section, units)
        return
    text = f"{_cut_words(piece)}: {_drawn_length(piece, units)} × {_cut_width(piece, units)}"
    if len(piece.name) <= NAME:
        yield from _wrapped(text, f"  {piece.name:<{NAME}}  ", " " * (NAME + 4))
    else:
        yield from _wrapped(piece.name, "  ", "  ")
        yield from _wrapped(text, " " * (NAME + 4), " " * (NAME + 4))


def _to_cut(piece: Figures, units: str) -> Iterator[Line]:
    on_fold = piece.cut is Cut.ON_FOLD
    from_fold = " from the fold" if on_fold else ""
    if piece.section:
        yield from _row(_cut_words(piece), f"{piece.section.name}: {_drawn_length(piece, units)}{from_fold}")
        covers = f"to {both(piece.edge.edge_mm, units)} of edge"
        yield from _row("", f"({both(piece.loop_mm, units)} of sewn length {covers}; {', '.join(piece.section.ends)})")
        return
    if piece.sections:
        for section in strips_of([piece]):
            yield from _to_cut(section, units)
        yield from _row("", f"{_cut_width(piece, units)} wide")
        return
    yield from _row(_cut_words(piece), f"{_drawn_length(piece, units)} long{from_fold}")
    yield from _row("", f"{_cut_width(piece, units)} wide")
    if on_fold:
        yield from _row("", f"(full length {both(piece.half_length_mm, units, times=2)})")


def _length(piece: Figures, units: str) -> Iterator[Line]:
    """Yield the sewn length, what it may be, and where it comes from."""
    assumed = "" if piece.fabric else f" ({percent(ASSUMED_STRETCH)} stretch assumed)"
    yield from _row("sewn length", f"{both(piece.loop_mm, units)}, {percent(piece.ratio.used)} of the edge")
    yield from _row("", f"{good_lengths(piece, units)}{assumed}")
    yield from _row("", f"({piece.ratio.source})")
    yield from _rows(trial_rows(piece, units))


def _made(piece: Figures, units: str) -> Iterator[Line]:
    """Yield how the strip is made: its widths, its ends, its press lines."""
    joined = f" ({piece.join_place})" if piece.join_place else ""
    widest = f"; up to {both(piece.widest_mm, units, down=True)} has a good length" if piece.widest_mm else ""
    yield from _row(
        "height" if piece.standing.stands else "finished width", f"{both(piece.finished_width_mm, units)}{widest}"
    )
    if piece.elastic:
        yield from _row("elastic", piece.elastic.words(units).removeprefix("elastic "))
    yield from _row("seam allowance" if piece.finish.is_band else "sewn at", both(piece.seam_allowance_mm, units))
    if piece.is_open:
        yield from _row("ends", f"{piece.ends}, {_end(piece, units)} at each, in the cut length")
    elif piece.sections and not piece.pointed:
        yield from _row("joins", _end(piece, units) + joined)
    else:
        ends = "lapped end" if piece.end.style is Corner.LAPPED else "end seam"
        yield from _row(f"{ends}{joined}", _end(piece, units))
    if piece.runs_on.there:
        yield from _row("beyond", piece.runs_on.words(units))
    if piece.buttons:
        yield from _row("buttons", _buttons(piece.buttons, units))
    label = "press lines"
    for line in piece.press_lines:
        yield from _row(label, f"{line.label}, {both(line.y_mm, units)} from the edge sewn first")
        label = ""


def _to_sew(piece: Figures, units: str) -> Iterator[Line]:
    edge, ratio = piece.edge, piece.ratio
    yield from _rows(shape_rows(piece, units))
    yield from _rows(finish_rows(piece, units))
    yield from _row("edge", piece.edge_text)
    yield from _rows(drawn_rows(piece))
    if edge.kind != Kind.STRAIGHT:
        yield from _row("curve angle", f"{edge.turning_deg:.4g}°")
    if piece.contour_mm is not None:
        return
    flat = "" if ratio.flat is None else f", flat {percent(ratio.flat)}"
    others = f"advised {percent(ratio.advised)}{flat}, usual {percent(ratio.usual)}, tightest {percent(ratio.tightest)}"
    yield from _row("to compare", others)
    used = f", {percent(piece.stretch_used)} of the stretch of {piece.fabric}" if piece.stretch_used is not None else ""
    yield from _row("stretched by", f"{percent(piece.seam_strain)}{used}")


def _to_match(piece: Figures, units: str) -> Iterator[Line]:
    if piece.contour_mm is None:
        yield from _rows(part_rows(piece, units))
    label = "notches"
    for strip in strips_of([piece]):
        # of a contour band the seam line is measured, without what is cut beyond its end
        left = "the left end of the seam line" if strip.shape else "the left end"
        start = "the fold" if strip.cut is Cut.ON_FOLD else left
        of = f"{strip.section.name}: " if strip.section else ""
        for notch in strip.notches:
            yield from _row(label, f"{of}{_notch(notch, start, units)}")
            label = ""


def _end(piece: Figures, units: str) -> str:
    allowance = both(piece.join_allowance_mm, units)
    if not piece.pointed:
        return allowance
    return f"{allowance}, slanted: {both(piece.end.allowance_along, units)} along the strip"


def _buttons(buttons: Buttons, units: str) -> str:
    at = ", ".join(both(one, units) for one in buttons.at_mm)
    way = f"{buttons.direction} the strip"
    return f"{buttons.words(units)}, {way}; centres {at} from the left end of the sewn length"


def _opening(piece: Figures, units: str) -> Iterator[Line]:
    opening = piece.opening
    if opening is None:
        return
    verdict = "passes" if opening.passes else f"does not pass, the {opening.limited_by} limits it"
    yield from _row("must go over", both(opening.must_pass_mm, units, up=True))
    if opening.source:
        yield from _row("", f"({opening.source})")
    yield from _row("opens to", f"{both(opening.opens_to_mm, units, down=True)}: {verdict}")


def _cut_words(piece: Figures) -> str:
    return f"cut {piece.quantity} {piece.cut.words}"


def _drawn_length(piece: Figures, units: str) -> str:
    return both(piece.half_length_mm, units, times=1 if piece.cut is Cut.ON_FOLD else 2)


def _cut_width(piece: Figures, units: str) -> str:
    return both(piece.cut_width_mm, units, up=piece.finish.rounds_up)


def _notch(notch: Notch, start: str, units: str) -> str:
    name = f"{notch.name} (double)" if notch.double else notch.name
    if notch.on_end:
        return f"{name} in the middle of the {'left' if notch.on_end < 0 else 'right'} end"
    return f"{name} at {start}" if notch.at_mm == 0 else f"{name} {both(notch.at_mm, units)} from {start}"


def _row(label: str, text: str) -> Iterator[Line]:
    return _wrapped(text, f"  {label:<{LABEL}}", " " * (LABEL + 2))


def _rows(rows: Iterable[tuple[str, str]]) -> Iterator[Line]:
    for label, text in rows:
        yield from _row(label, text)
