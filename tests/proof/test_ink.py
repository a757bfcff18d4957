"""Ink on made-up pixels: a page of 100 x 100 mm at 10 pixels to the mm, 255 is white."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from tiler.box import Box
from tiler.proof.ink.lines import Ink, clip_segment
from tiler.reading.pdf.strokes import Stroke

SIZE = 400
MM = 100.0
ALL = Box(0, 0, MM, MM)
K = SIZE / MM
Paint = Callable[[bytearray], None]


def stroke(*points: tuple[float, float], gap: float = 0.0, darkness: float = 1.0, weight: float = 0.25) -> Stroke:
    return Stroke("CutLine", points, (), True, False, weight, gap, darkness)


def ink(*paints: Paint) -> Ink:
    pixels = bytearray(b"\xff" * (SIZE * SIZE))
    for paint in paints:
        paint(pixels)
    return Ink(bytes(pixels), SIZE, SIZE, SIZE, ALL)


def patch(x: float, y: float, width: float, height: float, grey: int) -> Paint:
    """Fill a box given in mm from the lower left corner."""

    def paint(pixels: bytearray) -> None:
        for row in range(round((MM - y - height) * K), round((MM - y) * K)):
            for column in range(round(x * K), round((x + width) * K)):
                pixels[row * SIZE + column] = grey

    return paint


# one pixel is 0.25 mm: the line from (10, 50) to (90, 50) lies in the row whose middle is y = 50.125
FLAT = stroke((10, 50.125), (90, 50.125))
UPRIGHT = stroke((50.125, 10), (50.125, 90))
LINE_ACROSS = patch(10, 50, 80, 0.25, 0)
LINE_DOWN = patch(50, 10, 0.25, 80, 0)


def kinds(page: Ink, line: Stroke, clip: Box = ALL) -> set[str]:
    return {fault.kind for fault in page.faults(line, clip)}


@pytest.mark.parametrize(("line", "drawn"), [(FLAT, LINE_ACROSS), (UPRIGHT, LINE_DOWN)])
def test_a_line_that_is_there_has_no_fault(line: Stroke, drawn: Paint) -> None:
    assert kinds(ink(drawn), line) == set()


@pytest.mark.parametrize(
    ("line", "drawn", "cover"),
    [(FLAT, LINE_ACROSS, patch(40, 49, 0.5, 2, 255)), (UPRIGHT, LINE_DOWN, patch(49, 40, 2, 0.5, 255))],
)
def test_a_gap_of_two_pixels_is_seen(line: Stroke, drawn: Paint, cover: Paint) -> None:
    faults = list(ink(drawn, cover).faults(line, ALL))
    assert [fault.kind for fault in faults] == ["hidden"]
    place = faults[0].segment[0]
    assert min(abs(place[0] - 40), abs(place[1] - 40)) < 1


def test_what_lies_outside_the_clip_does_not_count() -> None:
    page = ink(LINE_ACROSS, patch(40, 49, 5, 2, 255))
    assert kinds(page, FLAT, Box(0, 0, 39, MM)) == set()
    assert kinds(page, FLAT, Box(0, 0, 45, MM)) == {"hidden"}


def test_black_on_black_is_no_line() -> None:
    assert kinds(ink(patch(0, 0, MM, MM, 0)), FLAT) == {"without contrast"}
    assert kinds(ink(LINE_ACROSS, patch(60, 45, 3, 10, 0)), FLAT) == {"without contrast"}


def test_paper_on_one_side_is_enough() -> None:
    assert kinds(ink(LINE_ACROSS, patch(10, 45, 80, 5, 0)), FLAT) <= {"displaced"}


def test_lines_that_cross_do_not_disturb() -> None:
    crossings = [patch(x, 30, 0.5, 40, 0) for x in range(12, 90, 2)]
    assert kinds(ink(LINE_ACROSS, *crossings), FLAT) == set()


def test_a_faint_line_is_pale() -> None:
    assert kinds(ink(patch(10, 50, 80, 0.25, 170)), FLAT) == {"pale"}
    assert kinds(ink(patch(10, 50, 80, 0.25, 230)), FLAT) == {"hidden"}


def test_white_ink_is_hidden_whatever_the_pixels_say() -> None:
    assert kinds(ink(LINE_ACROSS), stroke((10, 50.125), (90, 50.125), darkness=0.0)) == {"hidden"}


@pytest.mark.parametrize(("off", "found"), [(0.0, set()), (0.04, set()), (0.07, {"displaced"}), (-0.07, {"displaced"})])
def test_the_place_of_a_line_is_known_to_a_twentieth_of_a_millimetre(off: float, found: set[str]) -> None:
    line = stroke((10, 50.125 + off), (90, 50.125 + off))
    assert kinds(ink(LINE_ACROSS), line) == found


def test_a_line_off_the_page_is_hidden() -> None:
    wide = ALL.grown(200)
    assert kinds(ink(), stroke((10, -5), (90, -5)), wide) == {"hidden"}
    assert kinds(ink(LINE_ACROSS), stroke((10, 50.125), (190, 50.125)), wide) == {"hidden"}


def dashes(on: float, off: float) -> list[Paint]:
    found, x = [], 10.0
    while x + on <= 90:
        found.append(patch(x, 50, on, 0.25, 0))
        x += on + off
    return found


def test_a_dashed_line_may_have_its_own_gaps_and_no_longer_ones() -> None:
    line = stroke((10, 50.125), (89, 50.125), gap=1.5)
    assert kinds(ink(*dashes(3.5, 1.5)), line) == set()
    assert kinds(ink(*dashes(3.5, 1.5), patch(40, 49, 5, 2, 255)), line) == {"hidden"}


def test_a_dashed_line_needs_two_fifths_of_ink() -> None:
    assert kinds(ink(*dashes(1.0, 2.0)), stroke((10, 50.125), (89, 50.125), gap=2.0)) == {"too sparse"}
    assert kinds(ink(*dashes(2.0, 2.0)), stroke((10, 50.125), (89, 50.125), gap=2.0)) == set()


def slope(pixels: bytearray) -> None:
    """Paint a line of slope 1/2 from (10, 20), two pixels high."""
    for step in range(320):
        x, y = 10 + step / K, 20 + step / K / 2
        row, column = int((MM - y) * K), int(x * K)
        pixels[row * SIZE + column] = pixels[(row - 1) * SIZE + column] = 0


def test_a_slanted_line_is_sounded_along_its_length() -> None:
    line = stroke((10, 20), (89, 59.5), weight=0.4)
    assert kinds(ink(slope), line) == set()
    assert kinds(ink(slope, patch(40, 30, 3, 10, 255)), line) == {"hidden"}
    assert kinds(ink(slope, patch(40, 25, 8, 25, 0)), line) == {"without contrast"}
    assert kinds(ink(slope), stroke((10, 20.6), (89, 60.1), weight=0.4)) in ({"displaced"}, {"hidden"})


def test_segments_are_clipped_at_a_box() -> None:
    """This test ensures that the parts inside are those of plain geometry: y = x/2 leaves 0..10 at x = 0 and 10."""
    box = Box(0, 0, 10, 10)
    assert clip_segment((-10, -5), (20, 10), box) == ((0, pytest.approx(0)), (pytest.approx(10), pytest.approx(5)))
    assert clip_segment((1, 1), (9, 2), box) == ((1, 1), (9, 2))
    assert clip_segment((-5, 11), (15, 11), box) is None
    assert clip_segment((-5, 6), (6, 17), box) is None
    assert clip_segment((4, -4), (4, 40), box) == ((4, 0), (4, 10))


def test_a_rest_of_two_pixels_between_other_lines_is_not_judged() -> None:
    """This test ensures that what a clip leaves of a line, hemmed in by a line that it touches, is no fault."""
    page = ink(LINE_DOWN, patch(10, 49, 80, 1, 0))
    assert kinds(page, UPRIGHT, Box(0, 49.4, MM, 50.0)) == set()
    assert kinds(page, UPRIGHT) == set()
