"""Each section has the figures of a strip of its own: what is drawn, labelled, nested and proved."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from tiler.draft.figures import Figures
from tiler.draft.sections.names import covered
from tiler.draft.sections.section import Section
from tiler.draft.strip.corner import Corner
from tiler.languages.words import Words, told
from tiler.sentence import joined


def strips_of(figures: Sequence[Figures]) -> tuple[Figures, ...]:
    """Return what is cut: each strip that is whole, and the sections of each that is pieced."""
    return tuple(strip for one in figures for strip in _strips(one))


def _strips(one: Figures) -> Iterator[Figures]:
    if not one.sections:
        yield one
    yield from (_of_section(one, section) for section in one.sections)


def _of_section(one: Figures, section: Section) -> Figures:
    edge = section.edge_mm
    at_point = one.end.style is Corner.NONE or one.end in (section.left, section.right)
    count = one.quantity * section.count
    paired = (
        Words("Cut 2 as a pair: one is the mirror image of the other.")
        if count == 2
        else Words("Cut {count} in pairs: half of them are mirror images of the others.", count=count)
    )
    cut = replace(
        one,
        # from here on it is a name like that of the strip
        name=f"{one.name}, {told(section.name)}",
        cut=section.cut,
        quantity=one.quantity * section.count,
        edge=replace(one.edge, edge_mm=edge, label=covered(section.part, section.shares, one.edge.label)),
        ratio=replace(
            one.ratio,
            used=section.sewn_mm / edge,
            tightest=section.tightest_mm / edge,
            flat=None if section.flat_mm is None else section.flat_mm / edge,
        ),
        loop_mm=section.sewn_mm,
        cut_length_mm=section.cut_length_mm,
        cut_width_mm=section.shape.width if section.shape else one.cut_width_mm,
        notches=section.notches,
        start=section.left,
        end=section.right,
        cloth=None,
        corner_steps=one.corner_steps if at_point else (),
        for_sewing=(one.piecing, *one.for_sewing),
        buttons=section.buttons,
        runs_on=section.runs_on,
        sections=(),
        section=section,
        pieced_from=one,
    )
    return replace(cut, cut_words=joined(" ", filter(None, (one.cut_words, paired)))) if cut.paired else cut
