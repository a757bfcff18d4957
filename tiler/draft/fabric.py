"""A fabric: how far it stretches and how well it comes back.

Stretch = (pulled - rest) / rest, the trade's usual measure.  Shares are plain
numbers, 0.6 for 60 %; thickness and width are millimetres.
"""

from __future__ import annotations

from dataclasses import dataclass

from tiler.draft.spec.table import Table
from tiler.sentence import Key, Sentence

MOST_STRETCH = 4.0
"""A fabric that stretches to more than five times its length is taken for a mistake."""

KEYS = ("stretch", "rest", "pulled", "lengthwise", "recovery", "thickness", "width")


@dataclass(frozen=True)
class Fabric:
    """A fabric with its greatest stretch; recovery is the share of a stretch that goes back.

    ``lengthwise`` is the stretch the other way, along the cloth, where it is known.
    """

    name: str
    stretch: float
    recovery: float | None = None
    thickness_mm: float = 0.0
    width_mm: float | None = None
    lengthwise: float | None = None

    @property
    def round_stretch(self) -> float:
        """The stretch of a closed curved edge, which lies along both directions in turn: their mean."""
        return self.stretch if self.lengthwise is None else (self.stretch + self.lengthwise) / 2


def read_fabric(name: str, table: Table) -> Fabric:
    """Read one fabric of the spec."""
    stretch = _stretch(table)
    return Fabric(
        name=name,
        stretch=stretch,
        recovery=table.percent("recovery", most=1.0) if table.has("recovery") else None,
        thickness_mm=table.optional_length("thickness", zero_ok=True) or 0.0,
        width_mm=table.optional_length("width"),
        lengthwise=_lengthwise(table, stretch),
    )


def stretch_of(rest: float, pulled: float) -> float:
    """Return the stretch of a piece of fabric that measures ``rest`` and can be pulled to ``pulled``."""
    return (pulled - rest) / rest


def _lengthwise(table: Table, stretch: float) -> float | None:
    if not table.has("lengthwise"):
        return None
    found = table.percent("lengthwise", most=MOST_STRETCH)
    if found > stretch:
        table.refuse(
            "lengthwise", "is more than ", Key("stretch"), ", which is that of the stretchier direction; swap the two"
        )
    return found


def _stretch(table: Table) -> float:
    if table.only_one("stretch", "rest") == "stretch":
        table.only_one("stretch", "pulled")
        return table.percent("stretch", most=MOST_STRETCH)
    hint = Sentence(Key("stretch", '"60 %"'), ", or ", Key("rest", '"4 in"'), " and ", Key("pulled", '"6 3/8 in"'))
    if not table.has("rest") and not table.has("pulled"):
        table.raw("stretch", hint)
    rest, pulled = table.length("rest", hint), table.length("pulled", hint)
    if not rest <= pulled <= rest * (1 + MOST_STRETCH):
        table.refuse("pulled", "must be from 1 to 5 times rest; check the two lengths")
    return stretch_of(rest, pulled)
