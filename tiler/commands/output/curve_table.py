"""The list of curves as people read it: a table, or sentences where the terminal is too narrow for one."""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

from tiler.commands.output.wrapping import broken, fitted, width, wrapped
from tiler.files import shown
from tiler.lengths import tape
from tiler.usecases.drawings.listing import ListedCurve, Listing

MOST_ROWS = 40
"""So many curves are listed unless a least length is given."""

MOST_CORNERS = 2
"""The angles of so many corners are listed; of more only how many there are."""

BENT = 10.0
"""A line that turns by fewer degrees is hardly the edge that is looked for."""

ALL_CLOSED = (
    "All of these curves are closed, and the curve of a neckline or an armhole runs from seam to seam: cut the outline "
    "open at the seams in your drawing program, and export it again."
)

HEAD = ("curve", "page", "length", "turns", "ends", "from left/foot, mm", "")

USUAL = (22, 16, 6, 19)
"""Columns for length, turns, ends and place; a name follows them."""

Cells = tuple[str, str, str, str, str, str, str]


def table(file: Path, listing: Listing, *, all_rows: bool) -> Iterator[str]:
    """Yield the lines of the list: the scale, the curves, and what to paste into a spec."""
    yield from _scale(listing)
    rows = listing.curves if all_rows else listing.curves[:MOST_ROWS]
    pages = any(row.page is not None for row in rows)
    ids = any(row.id for row in rows)
    yield from _rows([_cells(row) for row in rows], pages)
    left = len(listing.curves) - len(rows)
    if left:
        yield from broken(f"… and {left} shorter ones; --least '2 cm' lists all that are longer than that")
    if any(len(row.corners_deg) > 0 for row in rows):
        yield "turns: the whole angle, with the sharp corners in brackets"
    yield ""
    opened = [row for row in listing.curves if not row.closed]
    if not opened:
        yield from broken(ALL_CLOSED)
        return
    yield from broken(f"To paste into a spec, with the {'id or number' if ids else 'number'} of the right curve:")
    likely = next((row for row in opened if row.turning_deg > BENT), opened[0])
    yield f"front-half = {_toml(file, likely, listing.curves)}"


def _scale(listing: Listing) -> Iterator[str]:
    for sentence in scale_words(listing):
        yield from fitted(sentence) if listing.scale else (line.text for line in wrapped(sentence))
        yield ""


def scale_words(listing: Listing) -> Iterator[str]:
    """Yield what is to be said of the scale of a drawing: a PDF by its squares, an SVG by its unit."""
    if listing.scale:
        yield f"Scale: {listing.scale}; {'all lengths are corrected by it' if listing.corrected else 'true to scale'}."
    if listing.in_px:
        yield (
            "Scale: the size is stated in px, taken as 96 to the inch (CSS). Some programs write 72: compare one known "
            "length before you trust the list."
        )


def _rows(rows: Sequence[Cells], pages: bool) -> Iterator[str]:
    """Yield the curves in columns, closer ones on a narrow terminal, or as a sentence each where it is too narrow."""
    close = [max(len(row[column]) for row in (HEAD, *rows)) for column in range(2, 2 + len(USUAL))]
    for columns in (USUAL, close):
        table = [_line(row, pages, columns) for row in (HEAD, *rows)]
        # whoever reads a pipe finds every row alike
        if max(map(len, table)) <= width() or not sys.stdout.isatty():
            yield from table
            return
    for number, page, length, turns, ends, place, name in rows:
        where = f"page {page}, " if pages else ""
        named = f", id {name}" if name else ""
        yield from broken(f"{where}curve {number}: {length}, turns {turns}, {ends}, from left/foot {place} mm{named}")


def _cells(row: ListedCurve) -> Cells:
    box = row.bounds
    place = f"{box.x0:.0f}–{box.x1:.0f}/{box.y0:.0f}–{box.y1:.0f}".replace("-", "−")
    return (
        str(row.number),
        str(row.page or ""),
        f"{tape(row.length_mm)} ({tape(row.length_mm, 'cm')})",
        _turns(row),
        "closed" if row.closed else "open",
        place,
        shown(row.id) if row.id else "",
    )


def _turns(row: ListedCurve) -> str:
    corners = row.corners_deg
    sharp = ", ".join(f"{angle:.0f}°" for angle in corners)
    if len(corners) > MOST_CORNERS:
        sharp = f"{len(corners)} corners"
    return (f"{row.turning_deg:.0f}°" + (f" ({sharp})" if sharp else "")).replace("-", "−")


def _line(cells: Cells, pages: bool, columns: Sequence[int]) -> str:
    number, page, length, turns, ends, place, name = cells
    paged = f"{page:>5}" if pages else ""
    a, b, c, d = columns
    return f"{number:>5}{paged}  {length:<{a}}  {turns:<{b}} {ends:<{c}} {place:<{d}} {name}".rstrip()


def _toml(file: Path, row: ListedCurve, all_rows: Sequence[ListedCurve]) -> str:
    name = file.name if file.is_absolute() else file.as_posix()
    # a basic string of TOML takes the same escapes as JSON
    text = json.dumps(name, ensure_ascii=False)
    if row.page is not None:
        return f"{{ pdf = {text}, page = {row.page}, curve = {row.number} }}"
    if row.id and sum(other.id == row.id for other in all_rows) == 1:
        return f"{{ svg = {text}, id = {json.dumps(row.id, ensure_ascii=False)} }}"
    return f"{{ svg = {text}, curve = {row.number} }}"
