"""The ends of a strip that is no ring: a cardigan's front band, a placket edge, a neck with an opening, a strap.

Millimetres.  Each end has its own allowance in the cut length, and the sewn length lies between both.  It is
turned in, which takes a seam allowance; caught in the seam that crosses it, which takes one too; or left raw,
which takes none.
"""

from __future__ import annotations

from enum import StrEnum

from tiler.draft.edge.seam_line import FRONT_AND_BACK, Kind
from tiler.draft.spec.table import Table
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.sentence import Key

KEYS = ("closed", "ends", "end-allowance")


class Ends(StrEnum):
    """How an end is finished; a strip that is closed has none."""

    CLOSED = "closed"
    TURNED = "turned"
    RAW = "raw"
    CAUGHT = "caught"

    @property
    def words(self) -> Words:
        """What stands at such an end, and the line that it is sewn on."""
        return Words(_WORDS[self])


FINISHED = (Ends.TURNED, Ends.RAW, Ends.CAUGHT)
"""The ways of an end that a spec may name."""

_WORDS = {
    Ends.CLOSED: noted("end seam"),
    Ends.TURNED: noted("turned end"),
    Ends.RAW: noted("raw end"),
    Ends.CAUGHT: noted("end caught in a seam"),
}


END_ALLOWANCES = {
    Ends.TURNED: noted("turn in {length} of the cut end"),
    Ends.RAW: noted("the cut end stays raw, {length} beyond the edge"),
    Ends.CAUGHT: noted("the seam that catches it runs {length} from the cut end"),
}
"""How much of each end is beyond the sewn length, and what for."""


STAYS_RAW, LEFT_RAW = noted("the cut end stays raw"), noted("Ends left raw.")

CHARTED = {
    Ends.TURNED: noted("Each end {width} longer, turned in."),
    Ends.RAW: noted("Each end {width} longer, left raw."),
    Ends.CAUGHT: noted("Each end {width} longer, caught in a seam."),
}
"""The same in a sentence."""


def read_ends(table: Table, kind: Kind) -> Ends:
    """Read ``closed`` and ``ends``; raises :class:`SpecError` beside what only a ring has."""
    if not table.has("closed") or table.raw("closed", "") is True:
        for key in ("ends", "end-allowance"):
            if table.has(key):
                table.refuse(
                    key, "is for a strip that is open; write ", Key("closed", "false"), " as well, or leave it out"
                )
        table.flag("closed")
        return Ends.CLOSED
    table.flag("closed")
    for key, why in _RINGS.items():
        if table.has(key):
            table.refuse(key, why, "; leave it out, or ", Key("closed"))
    if kind in FRONT_AND_BACK:
        table.refuse("closed", f'an edge of kind "{kind}" is a ring; write ', Key("kind", '"curved"', ("edge",)))
    ends = table.text("ends", '"turned"') if table.has("ends") else Ends.TURNED
    if ends not in list(FINISHED):
        table.refuse("ends", f'"{ends}" is not known; write "turned", "raw" or "caught"')
    return Ends(ends)


_RINGS = {
    "join-at": "says where a ring is joined, and an open strip has two ends",
    "join-allowance": "is that of a ring's end seam, and an open strip has an end-allowance",
    "corner": "is where the ends of a ring meet",
    "elastic": "draws a ring in",
    "opening": "is what a ring must go over",
}


def end_allowance(ends: Ends, stated: float | None, seam: float) -> float:
    """Return what each end has beyond the sewn length, mm; ``seam`` is the allowance of the long seam."""
    if stated is not None:
        return stated
    return 0.0 if ends is Ends.RAW else seam
