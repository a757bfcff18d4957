"""The pages behind the first one, of the failed checks and notes that it has no room for; page mm.

They are only where else something would be lost.  Each has a page frame and a name in it, so that it is found
and measured as every other page is.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import count

from tiler.declaration import Page, PageKind, Tag
from tiler.draft.edition import Edition
from tiler.languages.words import say
from tiler.sheets.canvas import Canvas
from tiler.sheets.cover.block import unsaid
from tiler.sheets.cover.column import HEADING_ROOM, Column
from tiler.sheets.cover.notes import Note, draw_note, height_of_note
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.style import TITLE

WITHIN = 6.0
"""White between the page frame and the words, mm."""

NAME_ROOM = 9.0
"""What the name of the page takes, mm."""

Told = tuple[str, Note]
"""The number of a note with what it says; of a failed check the sign before it."""


def with_notes(sheet: Sheet, edition: Edition) -> Sheet:
    """Return the sheet with as many pages behind the first one as its remaining words take."""
    for pages in count():
        more = len(_parted(sheet, edition))
        if more <= pages:
            break
        own = [page for page in sheet.pages if page.kind is not PageKind.NOTES]
        first, others = own[0], own[1:]
        shift = more + 2 - others[0].number
        notes = (Page(number, PageKind.NOTES, _name(number), frame=sheet.page.frame) for number in range(2, more + 2))
        moved = (replace(page, number=page.number + shift) for page in others)
        sheet = replace(sheet, pages=(first, *notes, *moved))
    return sheet


def draw_notes_page(canvas: Canvas, sheet: Sheet, edition: Edition, page: Page) -> None:
    """Draw a page of notes with its frame and its name."""
    frame = sheet.page.frame
    room = frame.grown(-WITHIN)
    with canvas.part(Tag.TILE_CODE):
        canvas.text((room.x0, room.y1 - 4.0), page.code or "", TITLE, bold=True)
    text = Column(canvas, room.x0, room.x1, room.y1 - NAME_ROOM)
    parted = _parted(sheet, edition)
    for number, note in parted[page.number - 2] if page.number - 2 < len(parted) else ():
        if number == CHECKS:
            text.heading(note[0])
        else:
            draw_note(text, note, number, parted[-1][-1][0])
    box = (frame.x0, frame.y0), (frame.x1, frame.y0), (frame.x1, frame.y1), (frame.x0, frame.y1), (frame.x0, frame.y0)
    canvas.stroke_part(Tag.PAGE_FRAME, [box])


CHECKS = "checks"
"""Stands for the number of the line that heads the failed checks."""


def _parted(sheet: Sheet, edition: Edition) -> list[list[Told]]:
    """Return what each page tells; nothing where the first one tells all."""
    failed, notes = unsaid(sheet, edition)
    heading = say("Before you cut: checks that are not passed")
    told = [*([(CHECKS, (heading,))] if failed else []), *(("·", (line,)) for line in failed), *notes]
    room = sheet.page.frame.grown(-WITHIN)
    pages: list[list[Told]] = []
    left = 0.0
    for number, note in told:
        high = HEADING_ROOM if number == CHECKS else height_of_note(note, room.width, told[-1][0])
        if high > left or not pages:
            pages.append([])
            left = room.height - NAME_ROOM
        pages[-1].append((number, note))
        left -= high
    return pages


def _name(number: int) -> str:
    """Return what a page of notes is called: the first one "Notes"."""
    name = say("Notes")
    return name if number == 2 else f"{name} {number - 1}"
