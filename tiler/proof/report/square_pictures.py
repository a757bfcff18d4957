"""Pictures of the squares that were measured, cut out of the rendered pages."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from io import BytesIO
from pathlib import Path

from tiler.box import Box
from tiler.proof.ink.rendering import Rendering
from tiler.proof.report.check import CheckName, Status
from tiler.proof.report.record import Picture
from tiler.proof.report.size_table import rows_of
from tiler.proof.report.verdict import Report
from tiler.reading.pdf.document import Document
from tiler.reading.pdf.text import Text

AROUND = (6.0, 5.0, 4.0, 3.0, 2.0, 1.0)
"""White or neighbours shown around a square, mm: on each side the most with which no word is cut."""

MOST = 6


def square_pictures(source: str | Path | bytes, report: Report) -> list[Picture]:
    """Return pictures of squares whose place the report knows: wrong ones first, else in order of the table."""
    rows = rows_of(report.sizes)
    shown = [index for index, (check, _) in enumerate(rows) if check.box and check.name is CheckName.SQUARE]
    shown.sort(key=lambda index: all(check.status is not Status.FAIL for check in rows[index][1].values()))
    pictures = []
    with Document(source) as document, Rendering(source) as rendering:
        for index in shown[:MOST]:
            check, _ = rows[index]
            page = next(document.pages(check.page))
            assert check.box
            assert check.page
            pictures.append(_cut(index, rendering, check.page, check.box, page.boxes.shown, page.texts))
    return pictures


def _cut(row: int, rendering: Rendering, number: int, box: Box, shown: Box, texts: Sequence[Text]) -> Picture:
    image = rendering.image(number)
    kx, ky = image.width / shown.width, image.height / shown.height
    around = _around(box, [text.box for text in texts])
    left, right = (min(max(0, round((x - shown.x0) * kx)), image.width) for x in (around.x0, around.x1))
    top, foot = (min(max(0, round((shown.y1 - y) * ky)), image.height) for y in (around.y1, around.y0))
    cut = image.crop((left, top, max(right, left + 1), max(foot, top + 1))).convert("L")
    out = BytesIO()
    cut.save(out, "PNG")
    return Picture(row, out.getvalue(), cut.width, cut.height)


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
