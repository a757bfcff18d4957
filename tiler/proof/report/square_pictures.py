"""Pictures of squares, cut out of the rendered pages, and of the pages on which they stand."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageDraw

from tiler.box import Box
from tiler.proof.ink.rendering import Rendering
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.record import Picture
from tiler.proof.report.size_table import rows_of
from tiler.proof.report.verdict import Report
from tiler.reading.pdf.document import Document
from tiler.reading.pdf.text import Text

AROUND = (6.0, 5.0, 4.0, 3.0, 2.0, 1.0)
"""White or neighbours shown around a square, mm: on each side the most with which no word is cut."""

MOST_CUT, MOST_PAGES = 4, 2
"""So many squares are shown, and so many whole pages."""

BESIDE = (CheckName.UNSEEN, CheckName.GUESS, CheckName.PASSED)
"""Checks of squares that were not measured."""

SMALL = 420
"""A page is no larger than this, pixels."""

FRAME = 4.0
"""White between a square and the frame that marks it on its page, mm."""


def square_pictures(source: str | Path | bytes, report: Report) -> list[Picture]:
    """Return pictures of what the report speaks of: squares that fail first, then others, then whole pages.

    Squares that were not seen, guessed or passed over are shown where nothing was measured, or there is room; the box
    of one that cannot be seen is drawn, as there is nothing else to show.
    """
    rows = rows_of(report.sizes)
    shown = [index for index, (check, _) in enumerate(rows) if check.box and check.name is CheckName.SQUARE]
    shown.sort(key=lambda index: all(check.status is not Status.FAIL for check in rows[index][1].values()))
    found: list[tuple[int | None, int | None, Check]] = [(index, None, rows[index][0]) for index in shown]
    found += [(None, index, check) for index, check in enumerate(report.checks) if check.name in BESIDE and check.box]
    pictures = []
    with Document(source) as document, Rendering(source) as rendering:
        kept = found[:MOST_CUT]
        for row, number, check in kept:
            assert check.box
            assert check.page
            page = next(document.pages(check.page))
            mark = check.box if check.name is CheckName.UNSEEN else None
            cut = _cut(rendering, check.page, check.box, page.boxes.shown, page.texts, mark)
            pictures.append(_picture(cut, row, number))
        numbers = list(dict.fromkeys(check.page for *_, check in kept if check.page))
        for one in numbers[:MOST_PAGES]:
            boxes = [check.box for *_, check in found if check.box and check.page == one]
            whole = _page(rendering, one, next(document.pages(one)).boxes.shown, boxes)
            pictures.append(_picture(whole, None, None, one))
    return pictures


def _picture(image: Image.Image, row: int | None, check: int | None, page: int | None = None) -> Picture:
    out = BytesIO()
    image.save(out, "PNG")
    return Picture(row, out.getvalue(), image.width, image.height, check, page)


def _page(rendering: Rendering, number: int, shown: Box, boxes: Sequence[Box]) -> Image.Image:
    """Return a small picture of a page with a frame round each of the boxes."""
    image = rendering.image(number)
    image.thumbnail((SMALL, SMALL))
    image = image.convert("L")
    kx, ky = image.width / shown.width, image.height / shown.height
    for box in boxes:
        around = box.grown(FRAME)
        corners = ((around.x0 - shown.x0) * kx, (shown.y1 - around.y1) * ky)
        ends = ((around.x1 - shown.x0) * kx, (shown.y1 - around.y0) * ky)
        ImageDraw.Draw(image).rectangle((*corners, *ends), outline=0, width=3)
    ImageDraw.Draw(image).rectangle((0, 0, image.width - 1, image.height - 1), outline=128)
    return image


def _cut(
    rendering: Rendering, number: int, box: Box, shown: Box, texts: Sequence[Text], mark: Box | None
) -> Image.Image:
    image = rendering.image(number)
    kx, ky = image.width / shown.width, image.height / shown.height
    if mark:
        corners = ((mark.x0 - shown.x0) * kx, (shown.y1 - mark.y1) * ky)
        ends = ((mark.x1 - shown.x0) * kx, (shown.y1 - mark.y0) * ky)
        ImageDraw.Draw(image).rectangle((*corners, *ends), outline=(150, 150, 150))
    around = _around(box, [text.box for text in texts])
    left, right = (min(max(0, round((x - shown.x0) * kx)), image.width) for x in (around.x0, around.x1))
    top, foot = (min(max(0, round((shown.y1 - y) * ky)), image.height) for y in (around.y1, around.y0))
    return image.crop((left, top, max(right, left + 1), max(foot, top + 1))).convert("L")


def _around(box: Box, words: Sequence[Box]) -> Box:
    """Return a box around a square whose sides cut no word, where that can be."""
    widest = box.grown(AROUND[0])
    near = [word for word in words if word.overlaps(widest)]

    def side(cuts: Callable[[Box, float], bool]) -> float:
        return next((far for far in AROUND if not any(cuts(word, far) for word in near)), AROUND[-1])

    return Box(
        box.x0 - side(lambda word, far: word.x0 < box.x0 - far < word.x1),
        box.y0 - side(lambda word, far: word.y0 < box.y0 - far < word.y1),
        box.x1 + side(lambda word, far: word.x0 < box.x1 + far < word.x1),
        box.y1 + side(lambda word, far: word.y0 < box.y1 + far < word.y1),
    )
