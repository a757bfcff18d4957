"""What is written in or beside a square, read in the picture: its size, and nothing else; mm.

A line of signs is read only where every sign is clear, where all of it says one size, and where that size is
about what the square measures: a wrong reading would be worse than none. Everything else is for the person to say.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from math import prod

import numpy as np
from PIL import Image

from tiler.proof.foreign.size_words import Stated, equal, stated_in
from tiler.proof.scan.pixels.darkness import closed, otsu
from tiler.proof.scan.pixels.glyphs import Place, Sign, likely
from tiler.proof.scan.pixels.picture import Floats, Grey
from tiler.proof.scan.pixels.plane import affine
from tiler.proof.scan.pixels.regions import regions_of
from tiler.proof.scan.squares import Quad

PER_MM = 12.0
"""So many pixels make a millimetre of the square that is laid upright: about 300 to the inch."""

BESIDE = 12.0
"""A label stands no further outside its square, mm."""

WITHIN = 0.06
"""By no larger share may a square differ from what is read."""

LEAST, MOST = 1.4, 9.0
"""Figures are so high, mm."""

SPACE = 1.25
"""Signs of one line are no further from each other, as a share of the height of its figures."""

BLANK = 0.3
"""From here on there is a blank between two signs."""

MOST_SQUARES = 8
"""In no more of the largest squares labels are sought."""

LONGEST, LONGEST_READ = 14, 26
"""A line of more signs that are not clear is no label of a size; a longer one is not read."""

MOST_SIGNS = 300
"""Where more stands there is a text, and no label."""

SPECK = 0.18
"""What is smaller is dirt, mm."""

STROKE = 1.2
"""No stroke of a label is wider, mm."""

BETWEEN = 0.2, 0.5
"""Between these lies the darkness from which on something is ink."""

FIGURES = "0123456789"

TELLING = re.compile("test|control|scale|check|square", re.IGNORECASE)
"""These may stand beside a size in its line, and nothing else."""

MOST_WAYS = 64
"""A line that may be read in more ways is not read."""


@dataclass(frozen=True)
class Labelled:
    """A square counted from the upper left corner of its label's way up, its size, and in which words that is read.

    ``turned`` is how many quarters the label is turned clockwise.
    """

    quad: Quad
    side: float
    words: str
    turned: int


def labelled_squares(grey: Grey, quads: Sequence[Quad], pixels: Floats) -> list[Labelled]:
    """Return the squares of a picture whose size is read in it; none where their labels are not alike turned.

    The shapes count from their upper left corner as they lie, and so many ``pixels`` make 1 mm.
    """
    sides = [_sides(quad, pixels) for quad in quads]
    square = [index for index, (across, down) in enumerate(sides) if abs(across / down - 1) <= WITHIN][:MOST_SQUARES]
    found = []
    for index in square:
        # of two of about one size only what stands inside says which is meant
        alone = not any(abs(sides[other][0] / sides[index][0] - 1) < 2 * WITHIN for other in square if other != index)
        dark = _dark(grey, quads[index], pixels, BESIDE if alone else 0.0)
        ways = []
        for turned in range(4):
            read = size_written(np.rot90(dark, turned), sides[index])
            if read:
                ways.append(Labelled(quads[index].turned(turned, False), *read, turned))
        found += ways if len(ways) == 1 else []
    return found if len({one.turned for one in found}) == 1 else []


def _sides(quad: Quad, pixels: Floats) -> tuple[float, float]:
    """Return how wide and high a shape is."""
    corners = quad.corners / pixels
    sides = np.hypot(*(np.roll(corners, -1, axis=0) - corners).T)
    return float(sides[0] + sides[2]) / 2, float(sides[1] + sides[3]) / 2


def _dark(grey: Grey, quad: Quad, pixels: Floats, beside: float) -> Floats:
    """Return how dark a shape that is laid upright is, with so much ``beside`` it: 0 is its paper, 1 its ink."""
    across, down = _sides(quad, pixels)
    upright = np.array([[0, 0], [across, 0], [across, down], [0, down]]) + beside
    return _laid(grey, affine(upright * PER_MM, quad.corners), (across + 2 * beside, down + 2 * beside))


def size_written(dark: Floats, sides: tuple[float, float]) -> tuple[float, str] | None:
    """Return the size that is written in or beside a square of such sides, and its words; None where it is not clear.

    ``dark`` shows it upright, 0 is its paper and 1 its ink.
    """
    sizes = []
    for line in _lines(dark):
        read = _read(line)
        if read is None:
            return None
        sizes += read
    if not sizes or any(one.oblong or not equal(one.wide, sizes[0].wide) for one in sizes):
        return None
    if any(abs(side / sizes[0].wide - 1) > WITHIN for side in sides):
        return None
    return sizes[0].wide, sizes[0].words


def _read(line: Sequence[Sign]) -> list[Stated] | None:
    """Return the size that a line says by every way to read it; None where it may say one and is not quite clear."""
    signs = likely(line)
    whole: dict[float, Stated] = {}
    parts: dict[float, Stated] = {}
    ways = prod(len(one) for one in signs)
    if not ways or ways > MOST_WAYS:
        # a word has no figures, and a long line is no label of a size
        figures = any(not one or set(one) & set(FIGURES) for one in signs)
        return None if figures and len(line) <= LONGEST else []
    for way in product(*signs):
        text = " ".join(TELLING.sub(" ", _spaced(line, way)).split())
        for one in stated_in(text):
            if one.unit:
                (whole if one.words == text else parts).setdefault(one.wide, one)
    if parts and not whole:
        return None
    return [*whole.values(), *parts.values()]


def _spaced(line: Sequence[Sign], words: Sequence[str]) -> str:
    """Return what a line says with blanks where its signs stand further apart."""
    high = max(sign.height for sign in line)
    text = words[0]
    for before, sign, word in zip(line, line[1:], words[1:], strict=False):
        last = text[-1]
        blank = BLANK * (1.5 if last.isalpha() == word.isalpha() and last.isdigit() == word.isdigit() else 1)
        apart = sign.box[0] - before.box[2] > blank * high and "." not in (word, last)
        text += " " * apart + word
    return text


def _laid(grey: Grey, to_picture: Floats, size: tuple[float, float]) -> Floats:
    """Return how dark a part of the picture is that is laid upright, so many mm wide and high."""
    wide, high = (round(one * PER_MM) for one in size)
    # what is drawn finer than it is shown is made even first
    finer = float(np.hypot(*to_picture[:2, 0]))
    factor = max(1, int(finer))
    small = np.asarray(Image.fromarray(grey).reduce(factor)) if factor > 1 else grey
    matrix = to_picture[:2].copy() / factor
    matrix[:, 2] += (1 / factor - 1) / 2 + 0.5 - matrix[:, :2].sum(axis=1) / 2
    laid = Image.fromarray(small).transform(
        (wide, high), Image.Transform.AFFINE, tuple(matrix.ravel().tolist()), Image.Resampling.BICUBIC, fillcolor=255
    )
    values = np.asarray(laid)
    light = closed(values, 2 * round(STROKE * PER_MM) + 1).astype(np.float64)
    return np.asarray(np.clip(1 - values / np.maximum(light, 1), 0, 1))


def _lines(dark: Floats) -> Iterator[list[Sign]]:
    """Yield the lines of signs, each from left to right."""
    threshold = float(np.clip(otsu(dark.astype(np.float32)), *BETWEEN))
    regions = regions_of(dark > threshold, diagonal=True)
    if regions is None:
        return
    sides = (regions.least(regions.start), regions.least(regions.row), regions.greatest(regions.end))
    boxes = np.column_stack([*sides, regions.greatest(regions.row) + 1]) / PER_MM
    size = (boxes[:, 2:] - boxes[:, :2]).max(axis=1)
    boxes = boxes[(size > SPECK) & (size < MOST)]
    if len(boxes) > MOST_SIGNS:
        return
    lines: list[list[Place]] = []
    for box in _joined([(x0, y0, x1, y1) for x0, y0, x1, y1 in boxes[np.argsort(boxes[:, 0])].tolist()]):
        for line in lines:
            high = max(one[3] - one[1] for one in [*line, box])
            level = min(max(one[3] for one in line), box[3]) > max(min(one[1] for one in line), box[1])
            if level and box[0] - max(one[2] for one in line) < SPACE * high:
                line.append(box)
                break
        else:
            lines.append([box])
    for line in lines:
        if 1 < len(line) <= LONGEST_READ and LEAST < max(one[3] - one[1] for one in line) < MOST:
            yield [_sign(dark, one, threshold) for one in line]


def _sign(dark: Floats, box: Place, threshold: float) -> Sign:
    """Return a sign with its ink: as dark as its darkest, or paler where all its strokes are thin."""
    left, upper, right, lower = (round(one * PER_MM) for one in box)
    cut = dark[upper:lower, left:right]
    return Sign(np.clip(cut / max(2 * threshold, float(np.quantile(cut, 0.9))), 0, 1), box)


def _joined(boxes: Sequence[Place]) -> list[Place]:
    """Return boxes of whole signs: a dot goes to what it stands over, and both strokes of a quote together."""
    found: list[Place] = []
    for box in boxes:
        for index, one in enumerate(found):
            if _dotted(one, box) or (_twins(one, box) and _raised(boxes, one)):
                found[index] = (min(one[0], box[0]), min(one[1], box[1]), max(one[2], box[2]), max(one[3], box[3]))
                break
        else:
            found.append(box)
    return found


def _dotted(one: Place, other: Place) -> bool:
    """Tell whether one of both stands close over the other."""
    over = min(one[2], other[2]) - max(one[0], other[0])
    apart = max(one[1], other[1]) - min(one[3], other[3])
    return over > 0.5 * min(one[2] - one[0], other[2] - other[0]) and apart < 0.6 * max(
        one[3] - one[1], other[3] - other[1]
    )


def _twins(one: Place, other: Place) -> bool:
    """Tell whether two slim marks stand side by side."""
    high = max(one[3] - one[1], other[3] - other[1])
    alike = abs(one[1] - other[1]) < 0.2 * high and abs(one[3] - other[3]) < 0.3 * high
    return alike and other[0] - one[2] < 0.8 * high and max(one[2] - one[0], other[2] - other[0]) < 0.6 * high


def _raised(boxes: Sequence[Place], one: Place) -> bool:
    """Tell whether a mark stands at the upper end of what is close to its left."""
    high = one[3] - one[1]
    return any(
        each[2] <= one[0] < each[2] + 3 * high
        and each[1] < one[3] < each[3]
        and one[3] - each[1] < 0.6 * (each[3] - each[1])
        for each in boxes
    )
