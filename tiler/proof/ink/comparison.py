"""A rendered page held against the rendering of what is declared: all ink explained, both ways; pixels.

Both come from the same engine, so they agree to a few greys out of 255, but for what the engine
sets on whole pixels: a character or an area that lies on the border between two pixels falls to
either side when a number has been written with fewer digits.  Pictures in colour are held
against each other band by band, as strictly as grey ones.  So what differs is looked at in
small pixels, of which one aside is less than a tenth of a millimetre.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import reduce

from PIL import Image, ImageChops

GREY = 12
"""By how much the grey of a pixel may differ, of 255: a twentieth."""

MOST_PARTS = 12
"""Where more parts of a page differ, all of it between them is looked at."""

PLAIN = 96
"""A pixel that differs by more, of 255, from all that is one pixel aside is no matter of rounding."""

BLOCK = 8
"""Faults in blocks of so many pixels that touch each other are one fault."""

Cell = tuple[int, int, int, int]
"""A part of a picture: left, top, right, foot; pixels from the upper left corner."""


@dataclass(frozen=True)
class Difference:
    """Where a page shows something else than declared; ``added`` when it is darker there, else something is missing."""

    cell: Cell
    added: bool


def differ(page: Image.Image, declared: Image.Image) -> bool:
    """Tell whether two pictures of one size differ by more than rounding does."""
    return _most(ImageChops.difference(page, declared)) > GREY


def unlike(page: Image.Image, declared: Image.Image) -> list[Cell]:
    """Return the parts of two pictures of one size that differ by more than rounding does."""
    return list(_joined(_flat(ImageChops.difference(page, declared)).point(_over)))


def differences(page: Image.Image, declared: Image.Image, *, exactly: bool) -> Iterator[Difference]:
    """Yield the places where two pictures of one size differ; unless ``exactly``, by more than one pixel aside."""
    for added, wrong in ((True, _darker(declared, page, exactly)), (False, _darker(page, declared, exactly))):
        for block in _joined(_flat(wrong).point(_over)):
            yield Difference(block, added)


def plain(page: Image.Image, declared: Image.Image) -> bool:
    """Tell whether two pictures differ so much that nobody need look closely."""
    return any(_most(_darker(one, other, False)) > PLAIN for one, other in ((declared, page), (page, declared)))


def _darker(lighter: Image.Image, darker: Image.Image, exactly: bool) -> Image.Image:
    """Return by how much each pixel is darker than in the other picture, or than any that is one pixel aside there.

    What is no darker than rounding makes it may be left out.
    """
    if exactly:
        return ImageChops.subtract(lighter, darker)
    more = Image.new(lighter.mode, lighter.size, 0)
    found = _flat(ImageChops.subtract(lighter, darker)).point(_over).getbbox()
    if found:
        # what is darker than all that is one pixel aside is darker than what lies there, too;
        # and at the rim nobody knows what is one pixel aside
        left, top, right, foot = found
        left, top = max(left, 1), max(top, 1)
        right, foot = min(right, lighter.width - 1), min(foot, lighter.height - 1)
        if left < right and top < foot:
            near = _darkest_near(lighter.crop((left - 1, top - 1, right + 1, foot + 1)))
            inner = near.crop((1, 1, near.width - 1, near.height - 1))
            more.paste(ImageChops.subtract(inner, darker.crop((left, top, right, foot))), (left, top))
    return more


def around(parts: Sequence[Cell]) -> Sequence[Cell]:
    """Return the parts, or where they are many the one part around them all."""
    if len(parts) <= MOST_PARTS:
        return parts
    lefts, tops, rights, feet = zip(*parts, strict=True)
    return [(min(lefts), min(tops), max(rights), max(feet))]


def _over(grey: int) -> int:
    return 255 if grey > GREY else 0


def _darkest_near(picture: Image.Image) -> Image.Image:
    """Give each pixel the darkest grey that lies within one pixel of it; at the rim what lies opposite counts too."""
    for dx, dy in ((1, 0), (0, 1)):
        # a filter of Pillow's own does the same, in six times the time
        beside = (ImageChops.offset(picture, dx, dy), ImageChops.offset(picture, -dx, -dy))
        picture = ImageChops.darker(ImageChops.darker(picture, beside[0]), beside[1])
    return picture


def _flat(picture: Image.Image) -> Image.Image:
    """Return the lightest of the bands of a picture, pixel by pixel; a grey one has one band."""
    return picture if picture.mode == "L" else reduce(ImageChops.lighter, picture.split())


def _most(picture: Image.Image) -> int:
    """Return the lightest grey of a picture, of all its bands."""
    return int(_flat(picture).getextrema()[1])  # type: ignore[arg-type]  # of one band


def _joined(wrong: Image.Image) -> Iterator[Cell]:
    """Return the boxes around what is wrong, blocks that touch put together."""
    if wrong.getbbox() is None:
        return
    small = wrong.reduce(BLOCK)
    left, top, right, foot = small.getbbox() or (0, 0, 0, 0)
    found = enumerate(small.crop((left, top, right, foot)).tobytes())
    waiting = {(left + at % (right - left), top + at // (right - left)) for at, grey in found if grey}
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
