"""What an instruction page says: before the first cut, then step by step for each finish.

Stitch types are numbered by ISO 4915.  A figure of the strip stands in the
sentence where all strips of the page share it; otherwise plain words do.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from tiler.draft.edge.seam_line import Kind
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.finish import Finish
from tiler.lengths import both
from tiler.sheets.sewing.finishes import FinishSteps, shared

STITCHES = (
    "Stitches by ISO 4915: 301 lockstitch (plain straight), 304 zigzag, 401 chainstitch, 406 two-needle coverstitch, "
    "504 and 514 overlock."
)

GOLDEN_RULE = "Stretch the strip to the edge. Never stretch the garment's edge: it would stay wavy."


_PER = {"in": "inch", "cm": "cm"}


@dataclass(frozen=True)
class Step:
    """What is done, in short and in full."""

    name: str
    text: str


def before_cutting(page: FinishSteps) -> tuple[str, ...]:
    """Say what is done before the good cloth is cut."""
    length = shared(page, lambda strip: strip.loop_mm, "pin it to a ring of {}", "pin it to a ring of its sewn length")
    return (
        "Wash and dry both fabrics the way the garment will be washed, then press them: knits shrink, not all alike.",
        f"Sew a scrap of both fabrics with all layers of the finish, and pull the seam as far as the cloth goes. If a "
        f"thread breaks: more stitches to the {_PER[page.units]}, stretch thread or a stretchier stitch; no plain "
        "lockstitch where a seam must stretch by over a quarter.",
        f"Cut one strip from a scrap of the same fabric, {length}, and {_trial(page)} and come back. Correct the "
        "length now, not later.",
    )


def garment_first(page: FinishSteps) -> tuple[str, ...]:
    """Say how the garment is cut, each way with the strips that it is for, and how it is made ready, corners too."""
    cut = dict.fromkeys(strip.cut_words for strip in page.strips)
    ways = [way if len(cut) == 1 else f"{_cut_so(page, way)}: {way}" for way in cut if way]
    kinds = {strip.edge.kind for strip in page.strips}
    shoulders = not kinds or kinds & {Kind.NECKLINE, Kind.ARMHOLE}
    return (
        *(ways or ["Cut the garment's edge as the pattern says; the strip is stretched to its seam line."]),
        *(["Stabilise the shoulder seams with tape before the strip is sewn on."] if shoulders else []),
        *dict.fromkeys(step for strip in page.strips for step in strip.corner_steps),
    )


def _cut_so(page: FinishSteps, way: str) -> str:
    """Name the pieces that the garment is cut for in one way; sizes only of those that are cut for in several."""
    names = []
    for name, group in groupby(page.strips, lambda strip: strip.name):
        strips = list(group)
        sizes = [strip.size or "" for strip in strips if strip.cut_words == way]
        if sizes:
            names.append(name if len(sizes) == len(strips) else f"{name} {', '.join(sizes)}")
    return "; ".join(names)


def before_sewing(page: FinishSteps) -> tuple[str, ...]:
    """Say how strip and garment are matched, and what may be sewn flat."""
    mark = "Mark rib that runs with chalk or pins; snip nothing there."
    if page.corner is not Corner.NONE:
        return (mark,)
    return (
        "Quarter the loop from its end seam, and the garment's edge likewise; pin mark to mark. Notches on the piece "
        "are such marks.",
        mark,
        "Or sew it flat: leave one seam of the garment open, sew the strip on with the same lengths, and close seam "
        "and strip in one, last.",
    )


def _trial(page: FinishSteps) -> str:
    """Say what the trial strip must do: go over something only where something must pass."""
    if not page.strips or any(strip.opening for strip in page.strips):
        return f"pull it over the head, hand or heel that must pass{_must_pass(page)}. It must go over without force"
    if any(strip.edge.kind == Kind.NECKLINE for strip in page.strips):
        return "pull it over the head. It must go over without force"
    return "pull it out to the length of the edge. It must reach that without force"


def steps(page: FinishSteps) -> tuple[Step, ...]:
    """Return the steps of a finish in the order of work, one for every section of it."""
    close = _close(page)
    match page.finish:
        case Finish.FOLDED_BAND if page.corner is Corner.LAPPED:
            *work, topstitch = _folded_band(page)
            return (*work, _lap(page), topstitch)
        case Finish.FOLDED_BAND:
            return (close, *_folded_band(page))
        case Finish.DOUBLE_FOLD:
            return (close, _turn_under(page), *_bound(page), _catch_fold(page))
        case Finish.FRENCH:
            return (close, _press_in_half(), *_bound(page), _catch_fold(page))
        case Finish.RAW_EDGE:
            return (close, *_bound(page), *_catch_raw(page))


def _width(page: FinishSteps) -> str:
    return shared(page, lambda strip: strip.finished_width_mm, "{}", "one finished width")


def _must_pass(page: FinishSteps) -> str:
    """Say what the opening must go over, where all strips that have one agree."""
    found = {both(strip.opening.must_pass_mm, page.units, up=True) for strip in page.strips if strip.opening}
    return f" ({found.pop()})" if len(found) == 1 else ""


def _pull(page: FinishSteps) -> str:
    pairs = {(both(one.loop_mm, page.units), both(one.edge.edge_mm, page.units)) for one in page.strips}
    if len(pairs) == 1:
        ((loop, edge),) = pairs
        return f"stretch {loop} of strip to {edge} of edge, notch to notch"
    return "stretch the strip from notch to notch until it is as long as the edge"


def _close(page: FinishSteps) -> Step:
    allowance = shared(page, lambda strip: strip.join_allowance_mm, "{} from the ends", "at the end seam's line")
    places = {strip.join_place for strip in page.strips}
    place = places.pop() if len(places) == 1 else ""
    pivot = " Stop and pivot at the fold, and clip there." if page.corner is Corner.MITRE else ""
    return Step(
        "Close the strip" + (f" ({place})" if place else ""),
        f"Lay the ends right sides together, the strip not twisted, and sew {allowance}: lockstitch 301 or chainstitch "
        f"401.{pivot} Press the seam open.",
    )


def _lap(page: FinishSteps) -> Step:
    places = {strip.join_place for strip in page.strips}
    place = places.pop() if len(places) == 1 else ""
    return Step(
        "Lap the ends" + (f" ({place})" if place else ""),
        "Lay one end over the other at the clip: on women's clothes the wearer's right over the left, or as the "
        "pattern says. Bring each slanted end into the seam of the other arm and sew it there, lockstitch 301, up to "
        "the clip.",
    )


def _pin(page: FinishSteps, what: str) -> Step:
    lapped = page.corner is Corner.LAPPED
    free = "; both ends hang free beyond the clip" if lapped else ""
    return Step(
        "Pin it to the garment",
        f"Lay the strip on the right side of the garment, {what} on the garment's raw edge. Pin "
        f"{'' if lapped else 'the end seam and '}every notch to its place{free}. Between the pins the strip is shorter "
        "than the edge, and the garment lies slack.",
    )


def _folded_band(page: FinishSteps) -> tuple[Step, ...]:
    allowance = shared(page, lambda strip: strip.seam_allowance_mm, "{}", "one seam allowance")
    width = shared(page, lambda strip: strip.finished_width_mm, " It is now {} wide.", "")
    return (
        Step(
            "Press it in half",
            "Fold along the line “press in half”, wrong sides together, both raw edges even. Set the iron down and "
            "lift it again: pushed along, it stretches the strip.",
        ),
        _pin(page, "both raw edges of the strip"),
        Step(
            "Sew, stretching the strip only",
            f"Strip uppermost, sew {allowance} from the raw edges{_from_clip(page)}: overlock 514 or 504, or a narrow "
            f"zigzag 304. From pin to pin, {_pull(page)}. Guide the garment's edge flat under the foot; never pull it.",
        ),
        Step(
            "Turn it out and press",
            f"Turn the band away from the garment and the allowances into the garment.{width} Hover with steam, pat "
            "the seam flat and let it cool before you move it: steam draws the band in again.",
        ),
        Step(
            "Topstitch, if you like",
            "From the right side, on the garment close to the seam, through the allowances and not through the band: "
            "coverstitch 406, a twin needle or a narrow zigzag 304. Do not stretch anything here.",
        ),
    )


def _from_clip(page: FinishSteps) -> str:
    return ", each arm up to the clip" if page.corner is Corner.LAPPED else ""


def _turn_under(page: FinishSteps) -> Step:
    return Step(
        "Press one edge under",
        f"Along the line “turn under”, press {_width(page)} of the edge that is not sewn first to the wrong side. "
        "Leave the other press lines: they are pressed as they are sewn. Set the iron down and lift it, do not push.",
    )


def _press_in_half() -> Step:
    return Step(
        "Press it in half",
        "Fold along the line “press in half”, wrong sides together, both raw edges even; from here on it is one, two "
        "layers thick. Set the iron down and lift it, do not push.",
    )


def _bound(page: FinishSteps) -> tuple[Step, ...]:
    """Return the steps that all bindings share, from the first pin to the wrapped edge."""
    doubled = page.finish is Finish.FRENCH
    line = "" if doubled else "on the line “sew, press over”, "
    return (
        _pin(page, "both raw edges of the strip" if doubled else "the edge that is sewn first"),
        Step(
            "Sew, stretching the strip only",
            f"Strip uppermost, sew {line}{_width(page)} from the raw edges, through {3 if doubled else 2} layers: "
            "narrow zigzag 304, chainstitch 401, or lockstitch 301 with a short stitch and stretch thread; "
            f"{_pull(page)}, never the garment.",
        ),
        Step(
            "Press over the seam",
            f"Turn the {'doubled strip' if doubled else 'strip'} up over the seam and press it towards the raw edges. "
            "Do not trim them: they fill the binding and give it its width.",
        ),
        Step("Fold over the edge", _wrap_words(page)),
    )


def _wrap_words(page: FinishSteps) -> str:
    if page.finish is Finish.RAW_EDGE:
        back = "Its raw edge lies flat on the wrong side, past the first seam"
    elif page.in_ditch:
        back = "Its fold lies on the wrong side and passes the first seam by " + shared(
            page, lambda strip: strip.cover_mm, "{}", "the cover"
        )
    elif any(strip.cover_mm for strip in page.strips):
        back = "Its fold meets the first seam on the wrong side, or passes it by the cover"
    else:
        back = "Its fold just meets the first seam on the wrong side"
    line = "" if page.finish is Finish.FRENCH else ": they reach the line “fold over the edge”"
    return (
        f"Wrap the strip firmly round the raw edges to the back{line}. {back}. Press lightly and pin from the "
        "right side. Do not stretch strip or garment now."
    )


def _catch_fold(page: FinishSteps) -> Step:
    if page.in_ditch:
        return Step(
            "Catch the back in the ditch",
            "From the right side, stitch on the garment right beside the binding, so that the thread sinks into the "
            "seam and holds the back fold: lockstitch 301, short stitch, stretch thread, or chainstitch 401. Press.",
        )
    return Step(
        "Catch the back fold",
        "From the right side, stitch on the binding, a thread's breadth from its inner fold, through all layers, so "
        "that the back fold is held: narrow zigzag 304, chainstitch 401, coverstitch 406 or a twin needle. Press.",
    )


def _catch_raw(page: FinishSteps) -> tuple[Step, ...]:
    width = shared(page, lambda strip: strip.finished_width_mm, " The binding shows {} wide.", "")
    return (
        Step(
            "Stitch in the ditch",
            "From the right side, stitch on the garment right beside the binding, so that the thread sinks into the "
            "seam: lockstitch 301 with a short stitch and stretch thread, or chainstitch 401, which gives more.",
        ),
        Step(
            "Trim the back",
            "Trim the raw back edge along the stitching with small scissors, held flat so that they cannot bite into "
            f"the garment; leave a little beyond the thread. Press.{width}",
        ),
    )
