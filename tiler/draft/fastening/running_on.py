"""A strip that runs on beyond its edge: ties, straps, a belt; and what holds for them on a child's garment.

Millimetres.  The free lengths are cut 1:1, a notch marks where the strip leaves the edge.  What is said of children
is that of 16 CFR 1120 with ASTM F1816 (US) and of EN 14682 (EU).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.draft.edge.seam_line import EdgeSpec, Kind
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.spec.table import Table
from tiler.draft.strip.notch import Notch
from tiler.languages.words import Words
from tiler.lengths import both
from tiler.sentence import Key

KEYS = ("before", "after")
TIES = "ties"
"""What is accepted by this word: free ends on a child's garment."""

LEAVES = Words("leaves the edge")
LONGEST = 5000.0
ALIKE = 0.05


@dataclass(frozen=True)
class RunsOn:
    """The free lengths before the begin of the edge and after its end, mm; it begins at the left end of what is drawn.

    Where it is ``turned`` it begins at the right one.
    """

    before_mm: float = 0.0
    after_mm: float = 0.0
    turned: bool = False

    @property
    def there(self) -> bool:
        """Whether there is any free length."""
        return self.before_mm > 0 or self.after_mm > 0

    @property
    def length_mm(self) -> float:
        """All that lies beyond the edge."""
        return self.before_mm + self.after_mm

    @property
    def alike(self) -> bool:
        """Whether both ends are equally long, so that they may lie on each other."""
        return abs(self.before_mm - self.after_mm) <= ALIKE

    def to_json(self) -> dict[str, float]:
        """Return both lengths for JSON."""
        return {"before_mm": self.before_mm, "after_mm": self.after_mm}

    def words(self, units: str) -> Words:
        """Say how far the strip runs on."""
        before, after = both(self.before_mm, units), both(self.after_mm, units)
        if self.alike:
            return Words("runs on by {length} at both ends, 1:1", length=after)
        if not self.before_mm or not self.after_mm:
            return Words("runs on by {length} at one end, 1:1", length=before if self.before_mm else after)
        if self.turned:
            before, after = after, before
        return Words("runs on by {before} at the left end and {after} at the right, 1:1", before=before, after=after)


NOWHERE = RunsOn()
"""A strip that ends with its edge."""


def read_running_on(table: Table, edge: Table, ends: Ends) -> RunsOn:
    """Read ``before`` and ``after`` of an edge; raises :class:`SpecError` on a ring."""
    given = [key for key in KEYS if edge.has(key)]
    if given and ends is Ends.CLOSED:
        edge.refuse(given[0], "is for a strip with two ends; write ", Key("closed", "false", ("..",)), " as well")
    before, after = (edge.optional_length(key, zero_ok=True) or 0.0 for key in KEYS)
    for key, length in zip(KEYS, (before, after), strict=True):
        if length > LONGEST:
            edge.refuse(key, f"is longer than {both(LONGEST, table.units)}; check it and its unit")
    return RunsOn(before, after)


def leaving(own: Sequence[Notch], runs_on: RunsOn, loop: float, on_fold: bool) -> tuple[Notch, ...]:
    """Return the notches with those at which the strip leaves the edge, from the fold or the left end of the edge."""
    if not runs_on.there:
        return tuple(own)
    ends = [(0.0, runs_on.before_mm), (loop, runs_on.after_mm)]
    marks = [Notch(LEAVES, at) for at, length in ends if length]
    if on_fold:
        marks = [Notch(LEAVES, loop / 2)]
    return tuple(sorted((*own, *marks), key=lambda mark: mark.at_mm))


def free_ends_of_child(edge: EdgeSpec, runs_on: RunsOn, for_child: bool) -> str:
    """Return what the rules for children's clothes say of such free ends; nothing where there are none at a neck."""
    # a hood's edge is a curved one
    if not (for_child and runs_on.there and edge.kind in (Kind.NECKLINE, Kind.CURVED)):
        return ""
    return CHILD


CHILD = Words(
    "Free ends at head or neck of a child's garment: 16 CFR 1120 with ASTM F1816 (US, sizes 2T to 12) and EN 14682 "
    "(EU, none at all up to 7 years or 134 cm, no free ends up to 14 years) allow no drawstrings or ties there"
)
