"""The title of a page: what it says, and the ways in which its lines may be set; widths in mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.declaration import PageKind
from tiler.draft.edition import Edition
from tiler.sheets.layout.placed import Placed
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.typesetting import wrapped

WIDTHS = (130.0, 88.0)
COLUMNS = (52.0, 36.0, 24.0)
"""How wide the lines may run, beside the code and below it: the first for which there is room."""

NO_COVER_NOTE = "Print at 100 %; measure both squares before you cut cloth."


@dataclass(frozen=True)
class Title:
    """The lines of a title."""

    lines: tuple[str, ...]

    def beside(self) -> list[Sequence[str]]:
        """Return the lines broken to each of :data:`WIDTHS`, each way once."""
        return list(dict.fromkeys(self._broken(width) for width in WIDTHS))

    def folded(self) -> list[Sequence[str]]:
        """Return the lines broken to each of :data:`COLUMNS`."""
        return [self._broken(width) for width in COLUMNS]

    def _broken(self, width: float) -> tuple[str, ...]:
        """Break all lines; none begins or ends with the dot between two facts."""
        return tuple(part.strip(" ·") for line in self.lines for part in wrapped(line, width))


def title_of(number: int, shown: Sequence[Placed], sheet: Sheet, edition: Edition) -> Title:
    """Return the title of the page of this number, which shows these pieces."""
    only_for = sheet.drawing.only_for
    names: dict[str, list[str]] = {}
    for place in {one.declared.id: one for one in shown}.values():
        sizes = names.setdefault(place.declared.name, [])
        sizes += [place.declared.size] if place.declared.size else []
    listed = ", ".join(" ".join((name, "/".join(sizes))).strip() for name, sizes in names.items())
    squares_here = number == 1 and sheet.pages[0].kind is not PageKind.COVER and sheet.corner is None
    lines = (
        NO_COVER_NOTE if squares_here else "",
        edition.heading,
        only_for,
        " · ".join(part for part in (f"page {number} of {sheet.pages[-1].number}", listed) if part),
    )
    return Title(tuple(line for line in lines if line))
