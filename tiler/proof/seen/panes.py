"""The panes of one page, and what is painted for each of them; page mm.

A page of a grid is one pane.  A page of strips that are cut up shows several, each in
a page frame of its own with its code inside.  Every pane paints its pieces whole,
under a clip that is not known here, and then its frame.  So what is painted up to a
frame, since the frame before, belongs to that pane and is visible inside it alone;
what comes after the last frame belongs to the page.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.box import Box, Point
from tiler.declaration import Tag
from tiler.reading.pdf.document import PageRead
from tiler.reading.pdf.strokes import Stroke
from tiler.reading.pdf.text import Text

EDGE = 0.8
"""So near to the page frame ink is not judged: the frame's own line is there; the neighbour shows it too."""

EVERYWHERE = Box(-1e6, -1e6, 1e6, 1e6)
NOWHERE = Box(0.0, 0.0, 0.0, 0.0)
"""Of a tile without a frame nobody can say what its window shows."""


@dataclass(frozen=True)
class Layer:
    """Strokes and words that are painted under one clip.

    Pieces and words are judged inside ``window``; nothing is visible outside ``clip``.
    """

    strokes: Sequence[Stroke]
    texts: Sequence[Text]
    window: Box
    clip: Box


@dataclass(frozen=True)
class Pane:
    """One window: its frame, how many frames there are for it, its codes, marks, and what is painted for it."""

    frame: Stroke | None
    frames: int
    codes: tuple[Text, ...]
    marks: tuple[Stroke, ...]
    layer: Layer


def panes_of(page: PageRead) -> tuple[tuple[Pane, ...], Layer | None]:
    """Return the panes of a page, at least one, and apart from them what belongs to the page as a whole."""
    written = [stroke for stroke in page.strokes if stroke.tag == Tag.PAGE_FRAME]
    frames = [stroke for stroke in written if stroke.closed]
    codes = [text for text in page.texts if text.tag == Tag.TILE_CODE]
    marks = tuple(stroke for stroke in page.strokes if stroke.tag == Tag.REGISTER_MARK)
    if len(codes) < 2 or len(frames) < 2:
        frame = frames[0] if frames else None
        window = frame.box.grown(-EDGE) if frame else (NOWHERE if codes else EVERYWHERE)
        layer = Layer(page.strokes, page.texts, window, EVERYWHERE)
        return (Pane(frame, len(written), tuple(codes), marks, layer),), None
    return tuple(_several(page, frames, codes, marks)), _rest(page, frames[-1])


def _several(
    page: PageRead, frames: Sequence[Stroke], codes: Sequence[Text], marks: Sequence[Stroke]
) -> Iterator[Pane]:
    boxes = [frame.box for frame in frames]
    codes_of: list[list[Text]] = [[] for _ in frames]
    copies = [1] * len(frames)
    for code in codes:
        homes = [index for index, box in enumerate(boxes) if not away(code.box.middle, box)]
        if not homes:
            yield Pane(None, 0, (code,), (), Layer((), (), NOWHERE, NOWHERE))
            continue
        codes_of[homes[0]].append(code)
        for index in homes:
            copies[index] = max(copies[index], len(homes))
    marks_of: list[list[Stroke]] = [[] for _ in frames]
    for mark in marks:
        at = mark.box.middle
        marks_of[min(range(len(frames)), key=lambda index: away(at, boxes[index]))].append(mark)
    before = 0
    for index, frame in enumerate(frames):
        strokes = tuple(stroke for stroke in page.strokes if before < stroke.order <= frame.order)
        texts = tuple(text for text in page.texts if before <= text.order < frame.order)
        layer = Layer(strokes, texts, frame.box.grown(-EDGE), frame.box)
        yield Pane(frame, copies[index], tuple(codes_of[index]), tuple(marks_of[index]), layer)
        before = frame.order


def _rest(page: PageRead, last: Stroke) -> Layer:
    return Layer(
        tuple(stroke for stroke in page.strokes if stroke.order > last.order),
        tuple(text for text in page.texts if text.order >= last.order),
        EVERYWHERE,
        EVERYWHERE,
    )


def away(at: Point, box: Box) -> float:
    """Return how far a point lies outside a box, 0 inside."""
    return max(box.x0 - at[0], at[0] - box.x1, 0.0) + max(box.y0 - at[1], at[1] - box.y1, 0.0)
