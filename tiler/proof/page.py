"""What one page shows, measured from the page alone; page mm.

Nothing here knows what was declared.  What is kept is small, so that a file of
many pages can be put together afterwards.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from tiler.declaration import PIECE_TAGS, Box, Point, Tag
from tiler.proof.beside import disturbed
from tiler.proof.ink import Ink, InkFault
from tiler.proof.lettering import missing_words
from tiler.proof.marks import MarkSeen, marks_of
from tiler.proof.rules import RuleSeen, rules_of
from tiler.proof.squares import SquareSeen, off_box, squares_of
from tiler.reading.boxes import PageBoxes
from tiler.reading.document import PageRead
from tiler.reading.strokes import Stroke

EDGE = 0.8
"""So near to the page frame ink is not judged: the frame's own line is there; the neighbour shows it too."""

LONG = 15.0
"""Untagged outlines from this extent on may be copies of a piece."""

EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)
NOWHERE = Box(0.0, 0.0, 0.0, 0.0)
"""Of a tile without a frame nobody can say what its window shows."""

_CODE = re.compile(r"([A-Z]{1,3})([1-9][0-9]{0,3})")


@dataclass(frozen=True, slots=True)
class Line:
    """A subpath of a piece: its tag, its points, and the layer that it is on."""

    tag: str
    points: tuple[Point, ...]
    layer: str = ""


@dataclass(frozen=True)
class PageSeen:
    """A page as measured.

    ``code`` is what stands under the tile code's tag, None without one; ``frame`` is
    the window's edge.  ``loose`` are long untagged outlines, ``sideways`` the places
    of text turned by +90 degrees, ``twisted`` texts that are mirrored or turned
    otherwise, ``odd_ticks`` strokes that belong to no ruler line; ``only_for`` is what it
    says of the printer that it is made for.
    """

    number: int
    boxes: PageBoxes
    tagged: bool
    code: str | None
    code_upright: bool
    frame: Box | None
    frame_crooked: float
    frames: int
    squares: tuple[SquareSeen, ...]
    rules: tuple[RuleSeen, ...]
    odd_squares: int
    odd_ticks: int
    marks: tuple[MarkSeen, ...]
    lines: tuple[Line, ...]
    loose: tuple[Line, ...]
    sideways: tuple[Box, ...]
    twisted: tuple[str, ...]
    ink: tuple[InkFault, ...]
    unembedded: tuple[str, ...]
    only_for: str = ""


def row_and_column(code: str) -> tuple[int, int] | None:
    """Read a tile code such as B3 as row and column counted from 0; None when it is none."""
    found = _CODE.fullmatch(code)
    if not found:
        return None
    row = 0
    for letter in found[1]:
        row = row * 26 + ord(letter) - ord("A") + 1
    return row - 1, int(found[2]) - 1


def is_tagged(page: PageRead) -> bool:
    """Tell whether a page carries a tag of ours, so that it is worth measuring as one."""
    tags = {*Tag}
    return any(stroke.tag in tags for stroke in page.strokes) or any(text.tag == Tag.TILE_CODE for text in page.texts)


def see(page: PageRead, ink: Ink | None) -> PageSeen:
    """Measure one page; without ink nothing is said of what is to be seen."""
    by_tag: dict[str, list[Stroke]] = {}
    for stroke in page.strokes:
        by_tag.setdefault(stroke.tag or "", []).append(stroke)
    frames = [stroke for stroke in by_tag.get(Tag.PAGE_FRAME, ()) if stroke.closed]
    frame = frames[0].box if frames else None
    codes = [text for text in page.texts if text.tag == Tag.TILE_CODE]
    squares = tuple(squares_of(by_tag.get(Tag.TEST_SQUARE, ()), page.texts))
    rules, odd_ticks = rules_of(by_tag.get(Tag.RULE, ()))
    seen = [text for text in page.texts if frame is None or frame.overlaps(text.box)]
    return PageSeen(
        number=page.number,
        boxes=page.boxes,
        tagged=any(tag in by_tag for tag in Tag) or bool(codes),
        code=codes[0].text if codes else None,
        code_upright=len(codes) == 1 and codes[0].upright,
        frame=frame,
        frame_crooked=off_box(frames[0].points, frame) if frame else 0.0,
        frames=len(by_tag.get(Tag.PAGE_FRAME, ())),
        squares=squares,
        rules=tuple(rules),
        odd_squares=len(by_tag.get(Tag.TEST_SQUARE, ())) - len(squares),
        odd_ticks=odd_ticks,
        marks=tuple(marks_of(by_tag.get(Tag.REGISTER_MARK, ()))),
        lines=tuple(Line(tag, stroke.points, stroke.layer) for tag in PIECE_TAGS for stroke in by_tag.get(tag, ())),
        loose=tuple(_loose(by_tag)),
        sideways=tuple(text.box for text in seen if not text.mirrored and abs(text.turn - 90) < 0.5),
        twisted=tuple(text.text for text in seen if text.mirrored or min(abs(text.turn), abs(text.turn - 90)) >= 0.5),
        ink=tuple(_ink_faults(page, by_tag, ink, frame, bool(codes))) if ink else (),
        unembedded=page.unembedded,
    )


def _loose(by_tag: dict[str, list[Stroke]]) -> Iterator[Line]:
    for tag, strokes in by_tag.items():
        if tag in tuple(Tag):
            continue
        for stroke in strokes:
            box = stroke.box
            if stroke.stroked and max(box.width, box.height) >= LONG:
                yield Line(tag, stroke.points)


def _ink_faults(
    page: PageRead, by_tag: dict[str, list[Stroke]], ink: Ink, frame: Box | None, coded: bool
) -> Iterator[InkFault]:
    window = frame.grown(-EDGE) if frame else (NOWHERE if coded else EVERYWHERE)
    for tag in Tag:
        clip = window if tag in PIECE_TAGS else EVERYWHERE
        for stroke in by_tag.get(tag, ()):
            for fault in ink.faults(stroke, clip):
                if not disturbed(fault, stroke, page):
                    yield fault
    for text in page.texts:
        yield from missing_words(ink, text, window)
