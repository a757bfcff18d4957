"""Words as a person reads them: fragments side by side as one line, lines below each other as one label; mm.

Programs write a line in many fragments, set figures of a fraction small and raised, and break a
label after its number.  Words that are turned by quarters are put together in their own direction.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import groupby

from tiler.box import Box
from tiler.proof.foreign.size_words import Stated, plainly, stated_in
from tiler.proof.foreign.telling_words import names_card
from tiler.reading.pdf.text import Text

GAP = 0.75
"""Fragments no further apart than this share of the type size are one line."""

PITCH = 1.1
"""Lines with no more white between them than this share of the type size are one label."""

BAND = 5.0
"""Lines are looked up in bands of this height."""

SMALLER = 0.85
"""Figures below this share of the type beside them may be raised or lowered."""

ALIKE = 1.7
"""Type of one label differs by no more than this factor."""

CARD = Stated(85.60, 53.98, "bank card")
"""ISO/IEC 7810, ID-1: 85.60 × 53.98 mm."""

MOST_LINES = 8
"""A longer text is no label; what stands further away is not read with a line."""


@dataclass
class Line:
    """Fragments that make up one line, in reading order."""

    parts: list[Text]
    text: str
    label: Label = field(default_factory=lambda: Label([]), repr=False)

    @cached_property
    def box(self) -> Box:
        """Where the line stands."""
        return Box.enclosing(part.box for part in self.parts)

    @cached_property
    def size(self) -> float:
        """The size of its largest type."""
        return max(part.size for part in self.parts)


@dataclass
class Label:
    """Lines below each other."""

    lines: list[Line]

    @property
    def text(self) -> str:
        """All of its words."""
        return " ".join(line.text for line in self.lines)

    @property
    def box(self) -> Box:
        """Where it stands."""
        return Box.enclosing(line.box for line in self.lines)


def label_lines(texts: Sequence[Text]) -> list[Line]:
    """Return the lines of a page, each with the label that it is part of."""
    lines: list[Line] = []
    for quarter in range(4):
        turned = [
            part
            for text in texts
            if not text.mirrored and _quarter(text) == quarter
            for part in _of_one_size(text, quarter)
        ]
        lines += _labelled(list(_lines(turned, quarter)), quarter)
    others = [text for text in texts if text.mirrored or _quarter(text) is None]
    for text in others:
        line = Line([text], text.text)
        line.label = Label([line])
        lines.append(line)
    return lines


def _of_one_size(text: Text, quarter: int) -> Iterator[Text]:
    """Part a text where its type gets larger or smaller, as figures that are raised are set."""
    letters = [sign for sign in text.text if not sign.isspace()]
    heights = [round(_upright(Box(*glyph), quarter).height, 1) for glyph in text.glyphs]
    if len(letters) != len(heights) or not heights or min(heights) > SMALLER * max(heights):
        yield text
        return
    start = 0
    for height, glyphs in groupby(heights):
        end = start + len(list(glyphs))
        boxes = text.glyphs[start:end]
        box = Box.enclosing(Box(*glyph) for glyph in boxes)
        yield replace(text, text="".join(letters[start:end]), box=box, size=height, glyphs=boxes)
        start = end


def _quarter(text: Text) -> int | None:
    turn = round(text.turn / 90)
    return turn % 4 if abs(text.turn - 90 * turn) < 15 else None


def _upright(box: Box, quarter: int) -> Box:
    """Return a box as it would stand if its words read from left to right."""
    x0, y0, x1, y1 = box.x0, box.y0, box.x1, box.y1
    return (Box(x0, y0, x1, y1), Box(y0, -x1, y1, -x0), Box(-x1, -y1, -x0, -y0), Box(-y1, x0, -y0, x1))[quarter]


def _lines(texts: Iterable[Text], quarter: int) -> Iterator[Line]:
    placed = sorted(((_upright(text.box, quarter), text) for text in texts), key=lambda one: (one[0].x0, -one[0].y1))
    rows: list[_Row] = []
    # rows are looked up by the bands that they run through, since a page may hold thousands of fragments
    bands: dict[int, list[_Row]] = {}
    for box, text in placed:
        row = next((row for band in _bands(box) for row in bands.get(band, ()) if row.takes(box, text.size)), None)
        if row is None:
            row = _Row([], box, text.size)
            rows.append(row)
        row.parts.append((box, text))
        row.around, row.size = Box.enclosing((row.around, box)), max(row.size, text.size)
        for band in _bands(row.around):
            here = bands.setdefault(band, [])
            if row not in here:
                here[:] = [one for one in here if one.around.x1 >= box.x0 - GAP * one.size - 2 * box.height]
                here.append(row)
    for row in rows:
        yield Line([text for _, text in row.parts], _joined(row.parts, row.size))


@dataclass(eq=False)
class _Row:
    """Fragments with the box around them and the size of their largest type."""

    parts: list[tuple[Box, Text]]
    around: Box
    size: float

    def takes(self, box: Box, size: float) -> bool:
        """Tell whether a fragment goes on with the row."""
        large = max(self.size, size)
        beside = -large <= box.x0 - self.around.x1 <= GAP * large
        level = min(box.y1, self.around.y1) - max(box.y0, self.around.y0)
        return beside and level > 0.3 * min(box.height, self.around.height) and not _over(self.parts[-3:], box)


def _bands(box: Box) -> range:
    return range(int(box.y0 // BAND), int(box.y1 // BAND) + 1)


def _over(parts: Sequence[tuple[Box, Text]], box: Box) -> bool:
    """Tell whether a fragment lies on another one, as a second copy of a word does; stacked figures do not."""
    return any(part.overlaps(box, 0.45 * min(part.width, box.width, part.height, box.height)) for part, _ in parts)


def _joined(parts: Sequence[tuple[Box, Text]], size: float) -> str:
    """Return the words of a line; small figures that are raised, and others below them, are a fraction."""
    main = next(box for box, text in parts if text.size == size)
    words = ""
    end = parts[0][0].x0
    fraction = False
    for box, text in parts:
        small = text.size <= SMALLER * size and text.text[:1].isdecimal()
        raised = small and box.middle[1] > main.middle[1]
        if raised and words[-1:].isdecimal():
            words += " "
        elif fraction and small and not raised and "/" not in words[-3:] and words[-1:].isdecimal():
            words += "/"
        elif words and box.x0 - end > 0.2 * size:
            words += " "
        words += text.text
        fraction = raised
        end = max(end, box.x1)
    return words


def _labelled(lines: list[Line], quarter: int) -> list[Line]:
    """Put lines that stand below each other together."""
    placed = sorted(((_upright(line.box, quarter), line) for line in lines), key=lambda one: -one[0].y1)
    above: list[tuple[Line, Box]] = []
    for box, line in placed:
        above = [(one, last) for one, last in above if last.y0 - box.y1 <= PITCH * ALIKE * one.size]
        for index, (one, last) in enumerate(above):
            size = max(line.size, one.size)
            near = -0.5 * size <= last.y0 - box.y1 <= PITCH * size
            alike = size <= ALIKE * min(line.size, one.size)
            label = one.label
            if near and alike and min(box.x1, last.x1) > max(box.x0, last.x0) and len(label.lines) < MOST_LINES:
                label.lines.append(line)
                line.label = label
                above[index] = (line, box)
                break
        else:
            line.label = Label([line])
            above.append((line, box))
    return lines


@dataclass(frozen=True, eq=False)
class Said:
    """Words that state one size or several: where they stand, and all that is said with them.

    ``bare`` words say nothing but sizes; ``label`` is the one that they are part of.
    """

    box: Box
    sizes: tuple[Stated, ...]
    bare: bool
    label: Label

    @property
    def context(self) -> str:
        """All words of the label."""
        return self.label.text


def sizes_said(lines: Sequence[Line]) -> list[Said]:
    """Return what the lines of a page say of sizes; a label that breaks behind its number counts as a whole."""
    said = []
    done: set[int] = set()
    for line in lines:
        label = line.label
        if names_card(label.text):
            if id(label) not in done:
                said.append(Said(label.box, (CARD,), False, label))
                done.add(id(label))
            continue
        sizes = stated_in(line.text)
        if sizes:
            said.append(Said(line.box, tuple(sizes), _bare(line.text, sizes), label))
        elif id(label) not in done and not any(stated_in(other.text) for other in label.lines):
            done.add(id(label))
            sizes = stated_in(label.text)
            if sizes:
                said.append(Said(label.box, tuple(sizes), _bare(label.text, sizes), label))
    return said


def _bare(text: str, sizes: Sequence[Stated]) -> bool:
    rest = plainly(text)
    for size in sizes:
        rest = rest.replace(size.words, " ")
    return not any(sign.isalpha() for sign in rest)
