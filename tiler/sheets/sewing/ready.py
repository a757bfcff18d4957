"""What is made ready before the work: the trial, the garment, and how strip and garment are matched."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import groupby

from tiler.draft.bought import told_marks
from tiler.draft.edge.numbers import ALIKE
from tiler.draft.edge.seam_line import Kind
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.figures import Figures
from tiler.draft.strip.corner import Corner
from tiler.languages.catalogue import noted
from tiler.languages.words import Words, listed, say, told
from tiler.lengths import both, percent
from tiler.sheets.sewing.finishes import FinishSteps, shared


def before_cutting(page: FinishSteps) -> tuple[str, ...]:
    """Say what is done before the good cloth is cut."""
    of_length, of_its_own = (
        noted("Cut one strip from a scrap of the same fabric, pin it to a ring of {length}, and {trial}"),
        noted("Cut one strip from a scrap of the same fabric, pin it to a ring of its sewn length, and {trial}"),
    )
    if page.finish.is_bought:
        of_length, of_its_own = (
            noted("Before you cut the elastic, pin it to a ring of {length}, and {trial}"),
            noted("Before you cut the elastic, pin it to a ring of its sewn length, and {trial}"),
        )
    ring = shared(page, lambda strip: strip.loop_mm, of_length, of_its_own, trial=_trial(page))
    along = say(
        "Cut one strip from a scrap of the same fabric, pin it along its edge, mark to mark, and look whether it lies "
        "flat. Correct the length now, not later."
    )
    on_edge = say(
        "Cut one layer from a scrap, lay it on the garment's edge, seam line on seam line, and look whether it meets "
        "the edge all along and its end seams lie at those of the garment. Mend the drawing now, not the band later."
    )
    inch, metric = (
        noted(
            "Sew a scrap of both fabrics with all layers of the finish, and pull the seam as far as the cloth goes. If "
            "a thread breaks: more stitches to the inch, stretch thread or a stretchier stitch; no plain lockstitch "
            "where a seam must stretch by over a quarter."
        ),
        noted(
            "Sew a scrap of both fabrics with all layers of the finish, and pull the seam as far as the cloth goes. If "
            "a thread breaks: more stitches to the cm, stretch thread or a stretchier stitch; no plain lockstitch "
            "where a seam must stretch by over a quarter."
        ),
    )
    knits, woven = (
        noted(
            "Wash and dry both fabrics the way the garment will be washed, then press them: knits shrink, not all "
            "alike."
        ),
        noted(
            "Wash and dry both fabrics the way the garment will be washed, then press them: cloth shrinks, not all "
            "alike."
        ),
    )
    # what is as long as its edge is tried in a ring only where it must pass something
    flat = page.even and not page.finish.is_bought and not any(strip.opening for strip in page.strips)
    return (
        say(woven if page.on_bias else knits),
        say(inch if page.units == "in" else metric),
        on_edge if page.shaped else along if page.is_open or flat else ring,
    )


def garment_first(page: FinishSteps) -> tuple[str, ...]:
    """Say how the garment is cut, each way with the strips that it is for, and how it is made ready, corners too."""
    cut = dict.fromkeys(strip.cut_words for strip in page.strips)
    ways = [
        told(way) if len(cut) == 1 else say("{about}: {text}", about=_cut_so(page, way), text=way) for way in cut if way
    ]
    kinds = {strip.edge.kind for strip in page.strips}
    shoulders = not kinds or kinds & {Kind.NECKLINE, Kind.ARMHOLE}
    plain = say("Cut the garment's edge as the pattern says; the strip is stretched to its seam line.")
    if page.even:
        plain = say("Cut the garment's edge as the pattern says; the strip is as long as its seam line.")
    if page.shaped:
        plain = say("Cut the garment's edge as the pattern says; the band has the shape of its seam line.")
    return (
        *(ways or [plain]),
        *([say("Stabilise the shoulder seams with tape before the strip is sewn on.")] if shoulders else []),
        *dict.fromkeys(told(step) for strip in page.strips for step in strip.corner_steps),
    )


def _cut_so(page: FinishSteps, way: str) -> str:
    """Name the pieces that the garment is cut for in one way; sizes only of those that are cut for in several."""
    names = []
    for name, group in groupby(page.strips, lambda strip: strip.name):
        strips = list(group)
        sizes = [strip.size or "" for strip in strips if strip.cut_words == way]
        if sizes:
            names.append(name if len(sizes) == len(strips) else f"{name} {', '.join(sizes)}")
    return told(listed(names))


def before_sewing(page: FinishSteps) -> tuple[str, ...]:
    """Say how strip and garment are matched, and what may be sewn flat."""
    if page.shaped:
        return (
            say("Interface one layer, or both, where the edge must not grow in wear; the grain runs along CF."),
            say("Mark rib that runs with chalk or pins; snip nothing there."),
            *([_of_ends(page)] if page.is_open else []),
        )
    if page.is_open:
        return _before_open(page)
    if page.finish.is_bought:
        unequal, quartered = (
            noted("Pin the loop to the garment's edge mark to mark, its end seam first."),
            noted("Quarter the loop from its end seam, and the garment's edge likewise; pin mark to mark."),
        )
        return (say(unequal if page.unequal else quartered), *_marks(page), *_shares(page))
    pinned = noted(
        "Pin the loop to the garment's edge mark to mark, its end seam first. Notches on the piece are such marks."
    )
    if page.corner is not Corner.NONE:
        return (*_shares(page), *_of_rib(page)) or (say(pinned),)
    unequal, quartered = (
        pinned,
        noted(
            "Quarter the loop from its end seam, and the garment's edge likewise; pin mark to mark. Notches on the "
            "piece are such marks."
        ),
    )
    return (
        say(unequal if page.unequal else quartered),
        *_shares(page),
        *_of_rib(page),
        say(
            "Or sew it flat: leave one seam of the garment open, sew the strip on with the same lengths, and close "
            "seam and strip in one, last."
        ),
    )


def _of_rib(page: FinishSteps) -> tuple[str, ...]:
    """Say how rib is marked, which woven cloth on the bias is not."""
    return () if page.on_bias else (say("Mark rib that runs with chalk or pins; snip nothing there."),)


def _marks(page: FinishSteps) -> Iterator[str]:
    """Yield where each strip that is bought is marked, with the sizes that it holds for."""
    return _by_strip(page, lambda strip: told_marks(strip.notches, page.units, strip.first_part))


def _shares(page: FinishSteps) -> Iterator[str]:
    """Yield which part of each strip is sewn as long as its edge, and which is stretched, where that differs."""
    each = noted("{about}, from mark to mark: {text}.")
    return _by_strip(page, lambda strip: _shared_out(strip) if strip.edge.unequal else "", each)


def _shared_out(strip: Figures) -> str:
    """Say of each part of the edge how the strip is sewn to it."""
    parts = []
    for part in strip.edge.parts:
        # whole percents, which hold for more sizes: the marks say the rest
        share = percent(round(abs(part.strain), 2))
        if abs(part.strain) < ALIKE:
            parts.append(Words("{part} 1:1", part=part.words))
        elif part.strain > 0:
            parts.append(Words("{part} stretched by {share}", part=part.words, share=share))
        else:
            parts.append(Words("{part} eased in by {share}", part=part.words, share=share))
    return listed(parts)


def _by_strip(
    page: FinishSteps, words: Callable[[Figures], str], each: str = noted("{about}: {text}")
) -> Iterator[str]:
    """Yield what is said of each strip, with the sizes that it holds for."""
    for name, group in groupby(page.strips, lambda strip: strip.name):
        strips = list(group)
        for text in dict.fromkeys(told(words(strip)) for strip in strips):
            sizes = [strip.size or "" for strip in strips if told(words(strip)) == text]
            about = name if len(sizes) == len(strips) else f"{name} {', '.join(sizes)}"
            if text:
                yield say(each, about=about, text=text)


def _of_ends(page: FinishSteps) -> str:
    """Say what becomes of the ends of an open strip."""
    if page.runs_on:
        return say("It runs on beyond the edge, from the notches that say so.")
    return {
        Ends.TURNED: say("The ends of the finished strip lie even with those of the edge."),
        Ends.RAW: say("The ends stay raw: cut them clean, and secure the thread of the seam there."),
        Ends.CAUGHT: say("Let both ends run into the seams that cross them; they are caught there."),
    }[page.ends_are]


def _before_open(page: FinishSteps) -> tuple[str, ...]:
    """Say how an open strip is matched, and what becomes of its ends."""
    if page.finish.is_bought:
        return (
            say("Pin the elastic mark to mark, from its middle to both ends."),
            *_marks(page),
            *_shares(page),
            _of_ends(page),
        )
    joins = say("A strip in sections: join these first, mark to mark, and press the joins open.")
    return (
        *([joins] if any(strip.sections for strip in page.strips) else []),
        say("Pin the strip mark to mark, from its middle to both ends. Notches on the piece are such marks."),
        *_shares(page),
        *_of_rib(page),
        _of_ends(page),
    )


def _trial(page: FinishSteps) -> str:
    """Say what the trial strip must do: go over something only where something must pass."""
    if not page.strips or any(strip.opening for strip in page.strips):
        # where all strips that have an opening agree, it is said what must pass
        found = {both(one.opening.must_pass_mm, page.units, up=True) for one in page.strips if one.opening}
        if len(found) == 1:
            return say(
                "pull it over the head, hand or heel that must pass ({length}). It must go over without force and come "
                "back. Correct the length now, not later.",
                length=found.pop(),
            )
        return say(
            "pull it over the head, hand or heel that must pass. It must go over without force and come back. Correct "
            "the length now, not later."
        )
    if any(strip.edge.kind == Kind.NECKLINE for strip in page.strips):
        return say(
            "pull it over the head. It must go over without force and come back. Correct the length now, not later."
        )
    return say(
        "pull it out to the length of the edge. It must reach that without force and come back. Correct the length "
        "now, not later."
    )
