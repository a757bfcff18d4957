"""What lies on the sheet as one; piece mm."""

from __future__ import annotations

from dataclasses import dataclass

from tiler.box import Box
from tiler.sheets.pieces.lettering import Lettered


@dataclass(frozen=True)
class Group:
    """What lies on the sheet as one: a piece, or the sizes of one within each other with the lines and words of all."""

    members: tuple[Lettered, ...]
    shared: tuple[Lettered, ...] = ()
    table: Box | None = None
    """Where the table of its sizes stands, where it has one."""

    @property
    def all(self) -> tuple[Lettered, ...]:
        """Each size, and then what they share."""
        return (*self.members, *self.shared)

    @property
    def bounds(self) -> Box:
        """All that it paints."""
        return Box.enclosing(one.bounds for one in self.all)
