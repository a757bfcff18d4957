"""Page boxes as ISO 32000-1, Table 30 defines them; what a viewer shows of them."""

from __future__ import annotations

import pytest

from tiler.box import Box
from tiler.errors import UnreadableError
from tiler.reading.pdf.boxes import page_boxes

INCH = 25.4
MEDIA = [0, 0, 612, 792]


def near(box: Box) -> tuple[object, ...]:
    return tuple(pytest.approx(side) for side in (box.x0, box.y0, box.x1, box.y1))


def test_letter_is_8_5_by_11_inches() -> None:
    boxes = page_boxes({"MediaBox": MEDIA}, 1)
    assert (boxes.width, boxes.height) == (pytest.approx(8.5 * INCH), pytest.approx(11 * INCH))
    assert boxes.crop == boxes.media
    assert (boxes.rotate, boxes.user_unit, boxes.direct) == (0, 1.0, True)


def test_any_two_opposite_corners_name_a_box() -> None:
    """This test ensures that 7.9.5 holds: the corners may come in any order."""
    for corners in ([612, 792, 0, 0], [0, 792, 612, 0], [612, 0, 0, 792]):
        assert page_boxes({"MediaBox": corners}, 1).media == page_boxes({"MediaBox": MEDIA}, 1).media


def test_the_user_unit_multiplies() -> None:
    boxes = page_boxes({"MediaBox": MEDIA, "UserUnit": 2}, 1)
    assert boxes.width == pytest.approx(17 * INCH)


@pytest.mark.parametrize(
    ("rotate", "shown"),
    # 36 pt = 1/2 in cropped at the left, 72 pt = 1 in at the foot; a clockwise turn brings the left side up
    [
        (0, (0.5, 1.0, 8.5, 11.0)),
        (90, (1.0, 0.0, 11.0, 8.0)),
        (180, (0.0, 0.0, 8.0, 10.0)),
        (270, (0.0, 0.5, 10.0, 8.5)),
        (-90, (0.0, 0.5, 10.0, 8.5)),
        (45, (0.5, 1.0, 8.5, 11.0)),
    ],
)
def test_what_is_shown_follows_crop_and_rotation(rotate: int, shown: tuple[float, ...]) -> None:
    boxes = page_boxes({"MediaBox": MEDIA, "CropBox": [36, 72, 612, 792], "Rotate": rotate}, 1)
    assert near(Box(*(side * INCH for side in shown))) == (
        boxes.shown.x0,
        boxes.shown.y0,
        boxes.shown.x1,
        boxes.shown.y1,
    )


def test_a_crop_box_larger_than_the_page_or_beside_it_crops_nothing() -> None:
    whole = page_boxes({"MediaBox": MEDIA}, 1).shown
    for crop in ([-10, -10, 700, 900], [700, 900, 800, 1000], [0, 0, 0, 0], "nonsense"):
        assert page_boxes({"MediaBox": MEDIA, "CropBox": crop}, 1).shown == whole


@pytest.mark.parametrize("media", [None, [], [0, 0, 612], [0, 0, 0, 792], ["a", 0, 1, 1], [0, 0, float("inf"), 1]])
def test_a_page_needs_a_size(media: object) -> None:
    with pytest.raises(UnreadableError, match="page 7"):
        page_boxes({"MediaBox": media}, 7)
