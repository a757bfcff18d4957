"""How a band is cut: straight, or shaped like its edge; and what a shaped one cannot be."""

from __future__ import annotations

from enum import StrEnum

from tiler.draft.contour.opened import ways_of
from tiler.draft.edge.seam_line import EdgeSpec, Kind
from tiler.draft.fastening.running_on import RunsOn
from tiler.draft.spec.table import Table
from tiler.draft.strip.finish import Cut, Finish
from tiler.sentence import Key, joined

KEY = Key("form", '"contour"')


class Form(StrEnum):
    """The form of what is cut."""

    STRIP = "strip"
    CONTOUR = "contour"

    @property
    def shaped(self) -> bool:
        """Whether it is shaped like the edge."""
        return self is Form.CONTOUR


_NOT_WITH = {
    "stands": "is for a band that is cut straight: one that is shaped lies flat",
    "turned-over": "is for a band that is cut straight: one that is shaped lies flat",
    "elastic": "draws in a straight band, and a shaped one is as long as its edge",
    "buttons": "are marked along a straight band; on a shaped one mark them by hand, half a finished width from its "
    "seam line",
    "cut-on": "says how a straight strip lies on its cloth, and a shaped band has the grain of CF",
    "cut-width": "is the width of a straight strip; write finished-width, as the pieces are cut to their shape",
    "ratio": "says how much shorter a straight strip is, and a shaped band is as long as its edge",
    "loop": "says how long a straight strip is, and a shaped band is as long as its edge",
    "fits": "says how long a straight strip is, and a shaped band is as long as its edge",
    "ease": "shares a straight strip out, and a shaped band has the length of its edge everywhere",
    "trials": "make a straight strip longer or shorter; mend the drawing of the edge",
    "corner": "says how a straight strip meets a corner, and a shaped band has it in its outline",
    "join-at": "says where a straight strip is joined, and the pieces of a shaped band meet where the parts of its "
    "edge do",
    "section": "says where a straight strip is joined, and the pieces of a shaped band meet where the parts of its "
    "edge do",
    "replaces": "moves the seam line for a straight strip; draw the edge where the seam line is to run",
    "notches": "count along a straight strip; give the edge in parts, which meet in notches",
}
"""Keys of a piece that say nothing of a contour band, and why."""


def read_form(table: Table, finish: Finish) -> Form:
    """Read the form; raises :class:`SpecError` for a finish or a key that does not go with a contour band."""
    form = table.word("form", Form, Form.STRIP)
    if form is Form.STRIP:
        return form
    if not finish.is_band:
        table.refuse("form", f'"{form}" is for a folded-band, and a {finish} wraps the edge; leave it out')
    for key, why in _NOT_WITH.items():
        if table.has(key):
            table.refuse(key, f"{why}; leave it out, or leave out ", KEY)
    return form


def check_edge(table: Table, edge: Table, line: EdgeSpec, runs_on: RunsOn | None) -> None:
    """Refuse an edge of which nobody knows the shape, or that a band cannot follow from seam to seam.

    ``runs_on`` is how far a band runs on that is no ring.
    """
    if line.kind is Kind.STRAIGHT or line.straight_leg:
        table.refuse(
            "form", '"contour" is for an edge that bends; on a straight one every band is straight, so leave it out'
        )
    for part in line.parts:
        if part.closed:
            table.refuse(
                "form",
                '"contour" is cut from seam to seam, and the curve is closed; name open curves that end at the '
                "garment's seams",
            )
        if part.drawn and part.curve is None:
            edge.refuse(
                "end-allowance",
                "leaves open which end of the drawing it belongs to; draw the edge from seam line to seam line and "
                "leave it out, or leave out ",
                KEY,
            )
    _check_shape(table, line)
    if table.has("cut") and table.word("cut", Cut) is Cut.ON_FOLD:
        ways = ways_of(line, table.where, runs_on=runs_on)
        none = not any(way.folded and not way.in_full for way in ways)
        for way in ways:
            if not way.folded and (none or not way.in_full):
                table.refuse(
                    "cut",
                    f'"on-fold" wants two halves alike, and the {way.part.words} of the edge has none; '
                    'write "full-loop", or leave it out',
                )


def _check_shape(table: Table, line: EdgeSpec) -> None:
    if line.kind is Kind.CURVED:
        # of what is measured an arc is made
        if any(leg.turn.corners_deg for part in line.parts if part.curve is None for leg in part.legs):
            table.refuse("form", '"contour" needs to know where the corners of the edge lie; name its drawing')
        return
    whole_neck = line.kind is Kind.NECKLINE and len(line.parts) != 2
    if line.listed or whole_neck or any(part.curve is None for part in line.parts):
        described = line.kind is Kind.NECKLINE
        halves = ("front-half", "back-half") if described else ("front", "back")
        ways = (", or describe the neckline with ", Key("shape", '"scoop"', ("edge",))) if described else ()
        table.refuse(
            "form",
            '"contour" needs the shape of the edge, and lengths tell none: in a spec, name the drawings of ',
            joined(" and ", [Key(half, within=("edge",)) for half in halves]),
            *ways,
        )
