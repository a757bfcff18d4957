"""Strokes and words as drawn; the sizes hold against PyMuPDF, which the project does not use."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from itertools import pairwise
from math import hypot, pi

import pymupdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from tiler.reading.pdf.document import Document, PageRead
from tiler.reading.pdf.strokes import Stroke

PT = 72 / 25.4


def page(draw: Callable[[Canvas], None], size: tuple[float, float] = (612, 792)) -> tuple[PageRead, bytes]:
    out = BytesIO()
    canvas = Canvas(out, pagesize=size)
    draw(canvas)
    canvas.save()
    data = out.getvalue()
    with Document(data) as document:
        return next(document.pages()), data


def tagged(canvas: Canvas, tag: str, draw: Callable[[], None]) -> None:
    canvas._code.append(f"/{tag} BMC")
    draw()
    canvas._code.append("EMC")


def test_strokes_have_the_sizes_that_another_reader_finds() -> None:
    def draw(canvas: Canvas) -> None:
        canvas.rect(20 * PT, 30 * PT, 50.8 * PT, 50 * PT)
        canvas.line(10 * PT, 10 * PT, 110 * PT, 35 * PT)
        canvas.translate(7, 11)
        canvas.scale(0.9, 1.1)
        canvas.rect(100, 400, 200, 100)

    read, data = page(draw)
    with pymupdf.open(stream=data) as pdf:
        theirs = [drawing["rect"] for drawing in pdf[0].get_drawings()]
    assert len(theirs) == len(read.strokes) == 3
    for stroke, box in zip(read.strokes, theirs, strict=True):
        ours = stroke.box
        assert ours.x0 == pytest.approx(box.x0 / PT, abs=0.02)
        assert ours.y1 == pytest.approx((792 - box.y0) / PT, abs=0.02)
        assert (ours.width, ours.height) == (
            pytest.approx(box.width / PT, abs=0.02),
            pytest.approx(box.height / PT, abs=0.02),
        )


def test_each_stroke_carries_its_tag_and_no_other() -> None:
    def draw(canvas: Canvas) -> None:
        canvas.line(0, 0, 10, 10)
        tagged(canvas, "CutLine", lambda: canvas.rect(10, 10, 50, 50))
        tagged(canvas, "Notch", lambda: canvas.line(20, 20, 20, 30))
        canvas.line(5, 5, 10, 20)

    read, _ = page(draw)
    assert [stroke.tag for stroke in read.strokes] == [None, "CutLine", "Notch", None]


def test_a_form_keeps_the_tags_inside_it() -> None:
    def draw(canvas: Canvas) -> None:
        canvas.beginForm("piece", 0, 0, 300, 300)
        tagged(canvas, "CutLine", lambda: canvas.rect(10, 10, 50, 50))
        canvas.endForm()
        for shift in (0, 100):
            canvas.saveState()
            canvas.translate(shift, 0)
            canvas.doForm("piece")
            canvas.restoreState()

    read, _ = page(draw)
    assert [stroke.tag for stroke in read.strokes] == ["CutLine", "CutLine"]
    assert read.strokes[1].box.x0 - read.strokes[0].box.x0 == pytest.approx(100 / PT)


def test_a_closed_path_repeats_its_first_point() -> None:
    def draw(canvas: Canvas) -> None:
        path = canvas.beginPath()
        path.moveTo(0, 0)
        path.lineTo(100, 0)
        path.lineTo(50, 80)
        path.close()
        canvas.drawPath(path)
        canvas.line(0, 0, 100, 100)

    read, _ = page(draw)
    triangle, line = read.strokes
    assert triangle.closed
    assert len(triangle.points) == 4
    assert not line.closed


def test_pens_are_read_as_written() -> None:
    def draw(canvas: Canvas) -> None:
        canvas.setLineWidth(2)
        canvas.setDash([3 * PT, 1.5 * PT])
        canvas.setStrokeGray(0.25)
        canvas.line(0, 0, 100, 0)
        canvas.setDash([])
        canvas.setStrokeColorRGB(1, 1, 1)
        canvas.line(0, 9, 100, 9)

    read, _ = page(draw)
    dashed, white = read.strokes
    assert dashed.weight == pytest.approx(2 / PT)
    assert dashed.gap == pytest.approx(1.5, abs=1e-4)
    assert dashed.darkness == pytest.approx(0.75)
    assert (white.gap, white.darkness) == (0.0, pytest.approx(0.0))


def length(stroke: Stroke) -> float:
    line = stroke.flattened()
    return sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in pairwise(line))


def test_a_circle_is_flattened_close_to_its_circumference() -> None:
    """This test ensures that chords are used: 32 chords of a circle of radius r measure 64·r·sin(π/32), −0.16 %."""
    read, _ = page(lambda canvas: canvas.circle(200, 200, 30 * PT))
    assert length(read.strokes[0]) == pytest.approx(2 * pi * 30, rel=0.002)
    assert read.strokes[0].box.width == pytest.approx(60, abs=0.001)


def test_words_are_put_together_and_kept_apart() -> None:
    def draw(canvas: Canvas) -> None:
        canvas.drawString(72, 700, "place on fold")
        tagged(canvas, "TileCode", lambda: canvas.drawString(160, 700, "B3"))
        canvas.drawString(72, 680, "next line")

    read, _ = page(draw)
    assert [(text.text, text.tag) for text in read.texts] == [
        ("place on fold", None),
        ("B3", "TileCode"),
        ("next line", None),
    ]
    assert read.texts[0].box.x0 == pytest.approx(25.4, abs=0.01)
    assert len(read.texts[0].glyphs) == len("placeonfold")


@pytest.mark.parametrize(
    ("matrix", "turn", "mirrored", "upright"),
    [
        ((1, 0, 0, 1), 0, False, True),
        ((0, 1, -1, 0), 90, False, False),
        ((-1, 0, 0, -1), 180, False, False),
        ((0, -1, 1, 0), -90, False, False),
        ((-1, 0, 0, 1), 180, True, False),
        ((1, 0, 0, -1), 0, True, False),
    ],
)
def test_how_words_are_turned_comes_from_their_matrix(
    matrix: tuple[float, ...], turn: float, mirrored: bool, upright: bool
) -> None:
    def draw(canvas: Canvas) -> None:
        canvas.transform(*matrix, 300, 400)
        canvas.drawString(0, 0, "notch")

    text = page(draw)[0].texts[0]
    assert text.text == "notch"
    assert (abs(text.turn), text.mirrored, text.upright) == (pytest.approx(abs(turn)), mirrored, upright)
