"""The curves of a drawing that was sent, read in a process apart: a row with a little picture for each."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from typing import Any

from tiler.browser.drawn.answer import Drawn
from tiler.commands.output.curve_table import ALL_CLOSED, BENT, scale_words
from tiler.curves import Curve
from tiler.lengths import both
from tiler.reading.drawing import refuse_crossing
from tiler.usecases.drawings.apart import choice_apart
from tiler.usecases.drawings.listing import ListedCurve, Listing

MOST_CURVES = 40
"""The longest curves of a drawing that can be picked."""

SIDE = 100.0
"""How wide and high a little picture is, units of its own."""

STEPS = 12
"""Straight lines for each segment of a little picture."""


@dataclass(frozen=True)
class Choice:
    """A curve to choose: what is said of it, its line, and how a spec names it."""

    listed: ListedCurve
    curve: Curve
    source: dict[str, Any]

    @property
    def words(self) -> str:
        """The number, the page, the length, the turn, and whether it has ends."""
        one = self.listed
        page = f"page {one.page}, " if one.page is not None else ""
        turns = f"turns by {one.turning_deg:.0f}°" if one.turning_deg >= 0.5 else "straight"
        closed = ", closed" if one.closed else ""
        return f"{page}curve {one.number}: {both(one.length_mm, 'cm')}, {turns}{closed}"

    @property
    def points(self) -> str:
        """The line as a little picture."""
        return polyline(self.curve)

    def drawn(self) -> Drawn:
        """Return the curve as an answer; raises :class:`SpecError` for one that crosses itself."""
        drawn = Drawn(self.source, self.curve)
        refuse_crossing(self.curve, drawn.named.words)
        return drawn


@dataclass(frozen=True)
class Choices:
    """What a drawing offers: its curves, the longest first, what is to be said of them, and the picture of a page."""

    name: str
    curves: tuple[Choice, ...]
    remarks: tuple[str, ...]
    picture: bytes
    page: int | None

    @property
    def likely(self) -> int:
        """The place of the curve that is most likely meant: the longest one that has ends and bends."""
        bent = (at for at, one in enumerate(self.curves) if not one.listed.closed and one.listed.turning_deg > BENT)
        return next(bent, 0)


def choices_of(
    file: Path, page: int | None, scale_from_square: bool, progress: Callable[[int, int], None] | None = None
) -> Choices:
    """Read a drawing; raises what :func:`tiler.usecases.drawings.apart.list_apart` raises."""
    listing, curves, picture = choice_apart(
        file, page, MOST_CURVES, scale_from_square=scale_from_square, progress=progress
    )
    offered = tuple(
        Choice(row, curve, _source(file.name, row, listing.curves, listing.corrected))
        for row, curve in zip(listing.curves, curves, strict=False)
    )
    return Choices(file.name, offered, tuple(_remarks(listing)), picture.png, picture.page)


def polyline(curve: Curve) -> str:
    """Return the points of a line that fills a square of 100, y down, as an SVG has them."""
    box = curve.bounds
    scale = (SIDE - 8) / max(box.x1 - box.x0, box.y1 - box.y0)
    middle = complex(box.x0 + box.x1, box.y0 + box.y1) / 2
    along = [segment.at(step / STEPS) for segment in curve.segments for step in range(STEPS + 1)]
    kept = [along[0], *(new for old, new in pairwise(along) if abs(new - old) * scale > 0.2)]
    points = (complex(SIDE / 2, SIDE / 2) + scale * (point - middle).conjugate() for point in kept)
    return " ".join(f"{point.real:.1f},{point.imag:.1f}" for point in points)


def _source(name: str, row: ListedCurve, every: Sequence[ListedCurve], corrected: bool) -> dict[str, Any]:
    if row.page is not None:
        source: dict[str, Any] = {"pdf": name, "page": row.page, "curve": row.number}
    elif row.id and sum(other.id == row.id for other in every) == 1:
        source = {"svg": name, "id": row.id}
    else:
        source = {"svg": name, "curve": row.number}
    return source | ({"scale-from-square": True} if corrected else {})


def _remarks(listing: Listing) -> list[str]:
    found = list(scale_words(listing))
    if len(listing.curves) > MOST_CURVES:
        found.append(f"{len(listing.curves) - MOST_CURVES} shorter curves are not shown.")
    if all(row.closed for row in listing.curves):
        found.append(ALL_CLOSED)
    return found
