"""The fourth step of the first page: failed checks, the table of pieces and what belongs to it; page mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from tiler.box import Box
from tiler.declaration import Host, Page
from tiler.languages.proved import OTHER_CHECKS, OTHER_NOTES, SIZES_HEAD
from tiler.languages.words import languages, say
from tiler.sheets.cover.column import BEFORE_HEADING, HEADING_ROOM, Column, height_of
from tiler.sheets.cover.lengths import LengthsTable, draw_lengths, set_lengths
from tiler.sheets.cover.notes import draw_notes, height_of_notes
from tiler.sheets.cover.piece_table import PieceTable, draw_table, set_table
from tiler.sheets.cover.sizes import draw_sizes, height_of_sizes
from tiler.sheets.cover.taping import height_of_taping
from tiler.sheets.cover.words import CoverWords
from tiler.sheets.style import FINE, LEADING

SIZES_SHARE = 0.7
"""Of the room of the step, at most so much is kept for the pages of each size."""

MAP_HEIGHTS: tuple[float, ...] = (64.0, 52.0, 40.0, 30.0, 0.0)
"""The page map is as high as the table of pieces leaves room for, one of these; 0 where it has to give way."""

MOST_FAILED = 7
"""So many failed checks stand on a page that has no room for all."""

WITHIN, BELOW_BOX = 2.0, 1.6
"""White between the box of the failed checks and its words, and below it, mm."""

MOST_ACROSS = 2
"""Columns of notes."""

HEADINGS = HEADING_ROOM + BEFORE_HEADING + 0.6
"""What the heading of a step takes, mm."""


@dataclass(frozen=True)
class CutStep:
    """How the step is set, and how high the page map above it is; ``fits`` tells whether all of it has room."""

    table: PieceTable
    lengths: LengthsTable | None
    map_height: float
    across: int
    failed: tuple[str, ...]
    fits: bool


def set_cut(words: CoverWords, tiles: Sequence[Page], height: float, width: float) -> CutStep:
    """Choose the table, of every size or of sizes together, and the height of the map that leave room for all else.

    Where nothing does, as many notes and failed checks as have none stand on a page of their own.
    """
    each, together = set_table(words.pieces, width), set_table(words.grouped, width)
    by_size = [one for lengths in words.lengths for one in set_lengths(lengths, width)]
    heights: Sequence[float] = MAP_HEIGHTS if len(tiles) > 1 and words.paper_is_fixed else (0.0,)
    if len(heights) > 1 and len(languages()) > 1:
        # for the words of another language the map does not give way
        heights = heights[:-1]
    ways = list(_ways(each, together, by_size, heights))
    some = words.failed[:MOST_FAILED]
    for failed, notes, fits in ((words.failed, True, True), (words.failed, False, False), (some, False, False)):
        for table, lengths, map_height, across in ways:
            left = height - HEADINGS - _height_of_failed(failed, words.failed, width) - table.height
            left -= lengths.height if lengths else 0.0
            left -= height_of_sizes(words.sizes, width)
            if len(tiles) > 1:
                left -= HEADINGS + max(map_height, height_of_taping(words, tiles, width, map_height))
            if words.notes:
                left -= BEFORE_HEADING + (height_of_notes(words.notes, width, across) if notes else LEADING)
            if left >= 0.0:
                return CutStep(table, lengths, map_height, across, failed, fits)
    return CutStep(together, None, heights[-1], MOST_ACROSS, some, False)


def _ways(
    each: PieceTable, together: PieceTable, by_size: Sequence[LengthsTable], heights: Sequence[float]
) -> Iterator[tuple[PieceTable, LengthsTable | None, float, int]]:
    """Yield table, lengths by size, height of the map and columns of notes, the best first."""
    whole: list[tuple[PieceTable, LengthsTable | None]] = [(each, None), *((together, one) for one in by_size)]
    mapped = [height for height in heights if height]
    # the words of another language do not take the room of lengths that stand nowhere else
    less = [] if by_size and len(languages()) > 1 else [(together, None)]
    for tables, some in ((whole, mapped), (whole, [0.0] if 0.0 in heights else []), (less, heights)):
        for across in range(1, MOST_ACROSS + 1):
            for table, lengths in tables:
                yield from ((table, lengths, height, across) for height in some)


def draw_cut(text: Column, step: CutStep, words: CoverWords, bottom: float) -> tuple[int, int]:
    """Draw the step below its heading, and return how many failed checks and how many notes it says."""
    if words.failed:
        _not_passed(text, step.failed, len(words.failed), words.host)
    # the pages of each size are looked for longer than a piece, which its page names
    width, last = text.right - text.left, bottom
    bottom += BEFORE_HEADING + LEADING if words.notes else 0.0
    room = text.y - bottom
    table, left_out = _cut_off(step.table, room - min(height_of_sizes(words.sizes, width), room * SIZES_SHARE))
    text.y = draw_table(text.canvas, table, text.left, text.y)
    if left_out:
        text.paragraph(
            say(
                "{count} other piece: each says itself how it is cut.",
                "{count} other pieces: each says itself how it is cut.",
                count=left_out,
            )
        )
    if step.lengths:
        text.y = draw_lengths(text.canvas, step.lengths, text.left, text.y)
    if words.sizes:
        text.y -= BEFORE_HEADING
        text.canvas.text((text.left, text.y - LEADING), say(SIZES_HEAD, number=words.host.number(1)), bold=True)
        text.y = draw_sizes(text.canvas, Box(text.left, bottom, text.right, text.y - LEADING), words.sizes)
    text.y -= BEFORE_HEADING
    told = draw_notes(text, words.notes, last, step.across) if words.notes else 0
    if told < len(words.notes):
        text.paragraph(say(OTHER_NOTES, number=words.host.number(2)))
    return len(step.failed), told


def _height_of_failed(failed: Sequence[str], whole: Sequence[str], width: float) -> float:
    if not whole:
        return 0.0
    lines = sum(height_of(line, width - 2 * WITHIN, "·") for line in failed)
    return HEADING_ROOM + 0.6 + 3.2 + BELOW_BOX + lines + (LEADING if len(failed) < len(whole) else 0.0)


def _not_passed(text: Column, failed: Sequence[str], count: int, host: Host) -> None:
    """Draw the ruled box of the checks that are not passed, and go on below it."""
    top = text.y - 1.4
    box = Column(text.canvas, text.left + WITHIN, text.right - WITHIN, top)
    box.heading(say("Before you cut: checks that are not passed"))
    for sentence in failed:
        box.paragraph(sentence, "·")
    if len(failed) < count:
        box.paragraph(say(OTHER_CHECKS, number=host.number(2)), "·")
    text.canvas.outline(Box(text.left, box.y - 1.8, text.right, top), FINE)
    text.y = box.y - 1.8 - BELOW_BOX


def _cut_off(table: PieceTable, height: float) -> tuple[PieceTable, int]:
    """Return as many rows as have room, and how many pieces are left out."""
    if table.height <= height:
        return table, 0
    shown = table
    while len(shown.rows) > 1 and shown.height + LEADING > height:
        shown = replace(shown, rows=shown.rows[:-1])
    return shown, len(table.rows) - len(shown.rows)
