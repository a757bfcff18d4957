"""What one page and each of its panes show, measured from the page alone; page mm.

Nothing here knows what was declared.  What is kept is small, so that a file of
many pages can be put together afterwards.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from tiler.box import Box, Point
from tiler.declaration import PIECE_TAGS, Tag
from tiler.proof.seen.marks import MarkSeen, marks_of
from tiler.proof.seen.panes import EVERYWHERE, Layer, Pane, panes_of
from tiler.proof.seen.rules import RuleSeen, rules_of
from tiler.proof.seen.squares import SquareSeen, off_box, squares_of
from tiler.reading.pdf.boxes import PageBoxes
from tiler.reading.pdf.carried import NOTHING_CARRIED, Carried
from tiler.reading.pdf.document import PageRead
from tiler.reading.pdf.strokes import Stroke
from tiler.reading.pdf.text import Text

LONG = 15.0
"""Untagged outlines from this extent on may be copies of a piece."""

SLIGHT = 0.5
"""Words turned by less count as straight, degrees."""

_CODE = re.compile(r"([A-Z]{1,3})([1-9][0-9]{0,3})")
_PART = re.compile(r"([1-9][0-9]{0,3})([A-Z]{1,3})")


@dataclass(frozen=True, slots=True)
class Line:
    """A subpath of a piece: its tag, its points, and the layer that it is on."""

    tag: str
    points: tuple[Point, ...]
    layer: str = ""


@dataclass(frozen=True)
class Cell:
    """Where a page lies on a sheet of several: which of them it is, from 0, its box there, and the sheet's own."""

    index: int
    box: Box
    sheet: PageBoxes


@dataclass(frozen=True)
class PaneSeen:
    """A pane as measured; ``number`` is that of its page, ``cell`` which of several on one sheet that is.

    ``code`` is what stands under the tile code's tag, None without one; ``frame`` is
    the window's edge.  ``loose`` are long untagged outlines, ``sideways`` the places
    of text turned by +90 degrees.  ``words`` are the places of all words that are painted
    with the pieces of a pane, also where its clip hides them.
    """

    number: int
    tagged: bool
    code: str | None
    code_upright: bool
    frame: Box | None
    frame_crooked: float
    frames: int
    marks: tuple[MarkSeen, ...]
    lines: tuple[Line, ...]
    loose: tuple[Line, ...]
    sideways: tuple[Box, ...]
    words: tuple[Box, ...]
    cell: int = 0

    @property
    def page(self) -> tuple[int, int]:
        """What tells its page from every other in the file."""
        return self.number, self.cell


@dataclass(frozen=True)
class PageSeen:
    """A page as measured, with its panes, of which it has one at least.

    ``only_for`` tells whether it names the printer that the file is for; ``turned`` are the
    degrees clockwise by which it is shown turned, though it is measured upright; ``cell`` is where it
    lies on a sheet of several.
    ``twisted`` are texts that are mirrored or turned by anything but +90 degrees,
    ``odd_ticks`` strokes that belong to no ruler line.
    """

    number: int
    boxes: PageBoxes
    tagged: bool
    panes: tuple[PaneSeen, ...]
    squares: tuple[SquareSeen, ...]
    rules: tuple[RuleSeen, ...]
    odd_squares: int
    odd_ticks: int
    twisted: tuple[str, ...]
    unembedded: tuple[str, ...]
    only_for: bool = False
    turned: int = 0
    carried: Carried = NOTHING_CARRIED
    cell: Cell | None = None


def row_and_column(code: str) -> tuple[int, int] | None:
    """Read a tile code such as B3 as row and column counted from 0; None when it is none."""
    found = _CODE.fullmatch(code)
    return (_letters(found[1]), int(found[2]) - 1) if found else None


def strip_and_part(code: str) -> tuple[int, int] | None:
    """Read a code such as 3B as strip and part, counted from 0, of a strip that is cut up; None when it is none."""
    found = _PART.fullmatch(code)
    return (int(found[1]) - 1, _letters(found[2])) if found else None


def _letters(letters: str) -> int:
    row = 0
    for letter in letters:
        row = row * 26 + ord(letter) - ord("A") + 1
    return row - 1


def is_tagged(page: PageRead) -> bool:
    """Tell whether a page carries a tag of ours, so that it is worth measuring as one."""
    tags = {*Tag}
    return any(stroke.tag in tags for stroke in page.strokes) or any(text.tag == Tag.TILE_CODE for text in page.texts)


def without_pieces(page: PageRead) -> PageRead:
    """Return a page without the strokes that are marked as anything but a test square or a ruler line."""
    parts = {*Tag} - {Tag.TEST_SQUARE, Tag.RULE}
    return replace(page, strokes=tuple(stroke for stroke in page.strokes if stroke.tag not in parts))


def see(page: PageRead, cell: Cell | None = None) -> PageSeen:
    """Measure one page, or a cell of a sheet."""
    by_tag = _by_tag(page.strokes)
    panes, rest = panes_of(page)
    squares = tuple(squares_of(by_tag.get(Tag.TEST_SQUARE, ()), page.texts))
    rules, odd_ticks = rules_of(by_tag.get(Tag.RULE, ()))
    tagged = any(tag in by_tag for tag in Tag) or any(pane.codes for pane in panes)
    return PageSeen(
        number=page.number,
        boxes=page.boxes,
        tagged=tagged,
        panes=tuple(_pane(page.number, tagged, pane, rest, pane is panes[-1], cell) for pane in panes),
        squares=squares,
        rules=tuple(rules),
        odd_squares=len(by_tag.get(Tag.TEST_SQUARE, ())) - len(squares),
        odd_ticks=odd_ticks,
        twisted=tuple(text for pane in panes for text in _twisted(pane)) + tuple(_turned(rest, panes)),
        unembedded=page.unembedded,
        carried=page.carried,
        cell=cell,
    )


def _by_tag(strokes: Iterable[Stroke]) -> dict[str, list[Stroke]]:
    by_tag: dict[str, list[Stroke]] = {}
    for stroke in strokes:
        by_tag.setdefault(stroke.tag or "", []).append(stroke)
    return by_tag


def _pane(number: int, tagged: bool, pane: Pane, rest: Layer | None, last: bool, cell: Cell | None) -> PaneSeen:
    """Measure a pane; lines of pieces that no frame follows count as lines of the last one, where they are strays."""
    by_tag = _by_tag([*pane.layer.strokes, *(rest.strokes if rest and last else ())])
    written = [text for text in (rest.texts if rest else ()) if _along(text, pane)]
    frame = pane.frame.box if pane.frame else None
    return PaneSeen(
        number=number,
        tagged=tagged,
        code=pane.codes[0].text if pane.codes else None,
        code_upright=len(pane.codes) == 1 and pane.codes[0].upright,
        frame=frame,
        frame_crooked=off_box(pane.frame.points, pane.frame.box) if pane.frame else 0.0,
        frames=pane.frames,
        marks=tuple(marks_of(pane.marks)),
        lines=tuple(Line(tag, stroke.points, stroke.layer) for tag in PIECE_TAGS for stroke in by_tag.get(tag, ())),
        loose=tuple(_loose(by_tag)),
        sideways=tuple(text.box for text in (*_visible_in(pane), *written) if _reads_up(text)),
        words=tuple(text.box for text in pane.layer.texts if pane.layer.clip != EVERYWHERE),
        cell=cell.index if cell else 0,
    )


def _visible_in(pane: Pane) -> list[Text]:
    frame = pane.frame
    return [text for text in pane.layer.texts if frame is None or frame.box.overlaps(text.box)]


def _twisted(pane: Pane) -> Iterator[str]:
    for text in _visible_in(pane):
        if text.mirrored or (abs(text.turn) >= SLIGHT and not _reads_up(text)):
            yield text.text


def _reads_up(text: Text) -> bool:
    return not text.mirrored and abs(text.turn - 90) < SLIGHT


def _along(text: Text, pane: Pane) -> bool:
    """Tell whether a word of the page itself reads upwards in a pane, as one along a strip does that runs up."""
    return _reads_up(text) and pane.frame is not None and pane.frame.box.holds(text.box)


def _turned(rest: Layer | None, panes: Sequence[Pane]) -> Iterator[str]:
    """Yield the words outside all panes that do not read from left to right; none of them goes with a piece."""
    for text in rest.texts if rest else ():
        if not text.upright and not any(_along(text, pane) for pane in panes):
            yield text.text


def _loose(by_tag: Mapping[str, Sequence[Stroke]]) -> Iterator[Line]:
    for tag, strokes in by_tag.items():
        if tag in tuple(Tag):
            continue
        for stroke in strokes:
            box = stroke.box
            if stroke.stroked and max(box.width, box.height) >= LONG:
                yield Line(tag, stroke.points)
