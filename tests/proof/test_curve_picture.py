"""This checks the picture of numbered curves: numbers keep clear of each other, the longest stand out."""

from itertools import combinations
from random import Random

import pytest
from PIL import ImageDraw

from tests.chosen import long
from tiler.box import Box
from tiler.curves import Bezier, Curve
from tiler.proof.report.curve_picture import LEGEND, LONGEST, NumberedCurve, curve_picture

LETTER = Box(0, 0, 215.9, 279.4)


def crowd(count: int, bent: int = 0) -> list[NumberedCurve]:
    """Give lines all over a page, the longest first; the ``bent`` shortest ones are curves."""
    draw = Random(7)
    curves = []
    for number in range(count):
        start = complex(draw.uniform(10, 200), draw.uniform(10, 260))
        reach = draw.uniform(5, 60) * (0.02 if number < bent else 1)
        end = start + complex(draw.uniform(-1, 1), draw.uniform(-1, 1)) * reach
        points = (start, start + 1j * (end - start) / 2, end) if number < bent else (start, end)
        curve = Curve.through([Bezier(points)])
        curves.append(NumberedCurve(number + 1, curve, curve.length))
    return sorted(curves, key=lambda one: -one.length_mm)


@pytest.fixture
def plates(monkeypatch) -> list[tuple]:
    """Keep the plates that numbers stand on, with what is written."""
    drawn = []
    plate, text = ImageDraw.ImageDraw.rounded_rectangle, ImageDraw.ImageDraw.text

    def keep(self, box, *arguments, **options):
        drawn.append([box, None])
        return plate(self, box, *arguments, **options)

    def write(self, place, words, *arguments, **options):
        if drawn and drawn[-1][1] is None:
            drawn[-1][1] = words
        return text(self, place, words, *arguments, **options)

    monkeypatch.setattr(ImageDraw.ImageDraw, "rounded_rectangle", keep)
    monkeypatch.setattr(ImageDraw.ImageDraw, "text", write)
    return drawn


def beside_curves(plates: list[tuple], width: int) -> list[tuple]:
    return [(box, words) for box, words in plates if box[2] <= width - LEGEND]


@long
@pytest.mark.parametrize("count", [1, 30, 400])
def test_numbers_do_not_hide_each_other_and_stay_on_the_picture(plates, count):
    picture = curve_picture(crowd(count), LETTER)
    numbers = beside_curves(plates, picture.width)
    assert len(numbers) >= min(count, 50)
    for (a, _), (b, _) in combinations(numbers, 2):
        assert a[2] < b[0] or b[2] < a[0] or a[3] < b[1] or b[3] < a[1]
    assert all(min(x0, y0) >= 0 and y1 <= picture.height for (x0, y0, _, y1), _ in numbers)


@long
def test_the_longest_have_numbers_and_stand_in_the_list(plates):
    curves = crowd(200)
    picture = curve_picture(curves, LETTER)
    longest = [str(one.number) for one in curves[:LONGEST]]
    beside = beside_curves(plates, picture.width)
    assert {words for _, words in beside} >= set(longest)
    assert [words for box, words in plates if (box, words) not in beside] == longest


@long
def test_curves_have_numbers_even_where_all_straight_lines_are_longer(plates):
    picture = curve_picture(crowd(300, bent=20), LETTER)
    numbers = {words for _, words in beside_curves(plates, picture.width)}
    assert len(numbers & {str(number) for number in range(1, 21)}) >= 18


@pytest.mark.parametrize("area", [Box(0, 0, 20, 10), Box(-5, -5, 3000, 40), Box(0, 0, 0.5, 4000)])
def test_pages_of_odd_sizes_have_a_picture(area):
    picture = curve_picture(crowd(3), area)
    assert max(picture.size) <= 3200 + LEGEND
