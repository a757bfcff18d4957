"""A rendered page held against the rendering of what is declared: all ink explained, both ways; pixels.

Both come from the same engine, so lines agree to a few greys out of 255.  Type agrees but for
single characters, which the engine sets on whole pixels: one that lies on the border between
two pixels falls to either side when a number has been written with fewer digits.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

from PIL import Image, ImageChops, ImageFilter

GREY = 12
"""By how much the grey of a pixel may differ, of 255: a twentieth."""

BLOCK = 8
"""Faults in blocks of so many pixels that touch each other are one fault."""

Cell = tuple[int, int, int, int]
"""A part of a picture: left, top, right, foot; pixels from the upper left corner."""


@dataclass(frozen=True)
class Difference:
    """Where a page shows something else than declared; ``added`` when it is darker there, else something is missing."""

    cell: Cell
    added: bool


def unlike(page: Image.Image, declared: Image.Image) -> list[Cell]:
    """Return the parts of two pictures of one size that differ by more than rounding does."""
    if _most(page, declared) <= GREY:
        return []
    return list(_joined(ImageChops.difference(page, declared).point(_over)))


def beyond(parts: Iterable[Cell], words: Sequence[Cell]) -> bool:
    """Tell whether one of the parts lies outside all words, and so is no matter of a pixel."""
    return any(
        not any(w[0] - 2 <= p[0] and w[1] - 2 <= p[1] and p[2] <= w[2] + 2 and p[3] <= w[3] + 2 for w in words)
        for p in parts
    )


def differences(page: Image.Image, declared: Image.Image, glyphs: Iterable[Cell]) -> Iterator[Difference]:
    """Return the places where two pictures of one size differ; ``glyphs`` may lie a pixel beside their places."""
    beside = [cell for cell in glyphs if _beside(page, declared, cell)]
    explained = Image.new("L", page.size, 0)
    for cell in beside:
        explained.paste(255, _wider(cell, page.size))
    for added, lighter, darker in ((True, declared, page), (False, page, declared)):
        wrong = ImageChops.subtract(lighter, darker).point(_over)
        if beside:
            # what a character leaves beside its place is explained only where the other picture has ink near by
            near = ImageChops.subtract(_darkest_near(lighter), darker).point(_over)
            wrong = Image.composite(near, wrong, explained)
        for block in _joined(wrong):
            yield Difference(block, added)


def _over(grey: int) -> int:
    return 255 if grey > GREY else 0


def _darkest_near(picture: Image.Image) -> Image.Image:
    """Return each pixel the darkest grey that lies within one pixel of it."""
    return picture.filter(ImageFilter.MinFilter(3))


def _beside(page: Image.Image, declared: Image.Image, cell: Cell) -> bool:
    """Tell whether a character is there, at its place or a pixel beside it."""
    found = page.crop(cell)
    left, top, right, foot = cell
    for dx, dy in ((0, 0), (-1, 0), (1, 0), (0, -1), (0, 1), (-1, -1), (1, 1), (-1, 1), (1, -1)):
        moved = declared.crop((left + dx, top + dy, right + dx, foot + dy))
        if _most(found, moved) <= 4 * GREY:
            return True
    return False


def _most(one: Image.Image, other: Image.Image) -> int:
    """Return the largest difference of grey between two pictures of one size."""
    return max((grey for grey, count in enumerate(ImageChops.difference(one, other).histogram()) if count), default=0)


def _wider(cell: Cell, size: tuple[int, int]) -> Cell:
    return max(0, cell[0] - 2), max(0, cell[1] - 2), min(size[0], cell[2] + 2), min(size[1], cell[3] + 2)


def _joined(wrong: Image.Image) -> Iterator[Cell]:
    """Return the boxes around what is wrong, blocks that touch put together."""
    if wrong.getbbox() is None:
        return
    small = wrong.reduce(BLOCK)
    width = small.width
    waiting = {(index % width, index // width) for index, grey in enumerate(small.tobytes()) if grey}
    while waiting:
        group: list[tuple[int, int]] = [waiting.pop()]
        for x, y in group:
            beside = {(x + dx, y + dy) for dx in (-1, 0, 1) for dy in (-1, 0, 1)} & waiting
            waiting -= beside
            group += beside
        xs, ys = [x for x, _ in group], [y for _, y in group]
        box = (min(xs) * BLOCK, min(ys) * BLOCK, (max(xs) + 1) * BLOCK, (max(ys) + 1) * BLOCK)
        inner = wrong.crop(box).getbbox()
        if inner:
            yield box[0] + inner[0], box[1] + inner[1], box[0] + inner[2], box[1] + inner[3]
