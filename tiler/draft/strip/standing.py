"""How a band stays on its edge: it lies flat inside it, stands up from it, or is turned over.

Millimetres.  A band that stands up is a collar or a turtleneck: its finished edge does not
run inside the seam line, so nothing is taken up in its length and no bound of lying flat holds.
Its finished width is the height that shows.  Turned over it is twice as high and folded down
over itself, so it is cut 4 w + 2 s wide (geometry).
"""

from __future__ import annotations

from enum import StrEnum
from typing import TYPE_CHECKING

from tiler.draft.strip.finish import Finish
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.sentence import Key

if TYPE_CHECKING:
    from tiler.draft.spec.table import Table

KEYS = ("stands", "turned-over")


class Standing(StrEnum):
    """How the band stays on its edge."""

    FLAT = "flat"
    UP = "stands"
    OVER = "turned-over"

    @property
    def stands(self) -> bool:
        """Whether it stands up, turned over or not."""
        return self is not Standing.FLAT

    @property
    def times(self) -> int:
        """How often the height that shows is there before the band is turned over."""
        return 2 if self is Standing.OVER else 1

    def words(self, finish: Finish) -> str:
        """Return the finish as people read it, with how it stays."""
        return Words(_WORDS[self]) if self in _WORDS else finish.words


_WORDS = {
    Standing.UP: noted("folded band that stands up"),
    Standing.OVER: noted("folded band, turned over"),
}

HEIGHT = noted("height {width}")
"""What the finished width of a band that stands up is."""

STARTS_WITH = 0.15
"""Share of the fabric's stretch that the advised length of a band that stands up starts with."""


def read_standing(table: Table, finish: Finish) -> Standing:
    """Read ``stands`` and ``turned-over``; raises :class:`SpecError` beside what lies flat or wraps an edge."""
    if not table.flag("stands"):
        if table.flag("turned-over"):
            table.refuse("turned-over", "is for a band that stands up; write ", Key("stands", "true"), " as well")
        return Standing.FLAT
    if not finish.is_band:
        table.refuse("stands", f"is for a folded-band, and a {finish} wraps the edge; leave it out, or take the band")
    for key, why in (
        ("replaces", "says where the finished edge stays, and a band that stands up has none there"),
        ("corner", "is where a flat band meets a point, and one that stands up runs round"),
    ):
        if table.has(key):
            table.refuse(key, f"{why}; leave it out, or ", Key("stands"))
    if table.has("ease") and table.raw("ease", "") == "by-curve":
        table.refuse(
            "ease",
            '"by-curve" shares out a band that lies flat in its bends; write "even", or leave out ',
            Key("stands"),
        )
    if table.has("ratio") and table.raw("ratio", "") == "flat":
        table.refuse(
            "ratio",
            '"flat" means nothing for a band that stands up; write "advised", "usual", a percentage, or leave out ',
            Key("stands"),
        )
    return Standing.OVER if table.flag("turned-over") else Standing.UP
