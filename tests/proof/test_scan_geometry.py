"""The parts of measuring in a picture, each against a closed form."""

from __future__ import annotations

import numpy as np
import pytest

from tiler.proof.scan.pixels.darkness import otsu
from tiler.proof.scan.pixels.lines import fitted_line, line_between, stroke_points
from tiler.proof.scan.pixels.plane import homography, mapped
from tiler.proof.scan.pixels.regions import regions_of


def stroke(slope: float, at: float, width: float = 3.2, size: int = 200) -> np.ndarray:
    """Draw a stroke through (0, at): each pixel is as dark as the share of its column that the stroke covers."""
    y, x = np.mgrid[:size, :size].astype(float)
    middle = at + slope * x
    covered = np.clip(np.minimum(y + 0.5, middle + width / 2) - np.maximum(y - 0.5, middle - width / 2), 0, 1)
    return np.rint(240 * (1 - covered)).astype(np.uint8)


@pytest.mark.parametrize(("slope", "at"), [(0.0, 100.37), (0.043, 90.11), (-0.02, 120.5)])
def test_the_middle_of_a_stroke_is_found_to_a_hundredth_of_a_pixel(slope: float, at: float) -> None:
    grey = stroke(slope, at)
    line = line_between(grey, np.array([10.0, at + 2]), np.array([190.0, at + 190 * slope - 2]), 9)
    assert line is not None
    assert line.at[1] - line.at[0] * slope == pytest.approx(at, abs=0.01)
    assert line.along[1] / line.along[0] == pytest.approx(slope, abs=2e-4)
    assert line.width == pytest.approx(3.2, abs=0.5)
    down = line_between(np.ascontiguousarray(grey.T), line.at[::-1] - 50 * line.along[::-1], line.at[::-1], 9)
    assert down is not None
    assert down.at[0] - down.at[1] * slope == pytest.approx(at, abs=0.01)


def test_dirt_on_a_line_does_not_draw_it_aside() -> None:
    grey = stroke(0.0, 100.0)
    grey[92:97, 40:75] = 0
    points = stroke_points(grey, np.array([5.0, 100.0]), np.array([195.0, 100.0]), 12)
    line = fitted_line(points, 190)
    assert line is not None
    assert line.at[1] == pytest.approx(100.0, abs=0.03)
    assert fitted_line(stroke_points(grey[:, :100], np.array([5.0, 100.0]), np.array([195.0, 100.0]), 12), 190) is None


def test_regions_are_put_together_round_corners() -> None:
    """A spiral is one region however its runs follow each other; its white is another, open to the edge."""
    marked = np.zeros((9, 9), dtype=bool)
    for row, columns in enumerate(
        ["#########", "........#", "#######.#", "#.....#.#", "#.###.#.#", "#.#...#.#", "#.#####.#"]
    ):
        marked[row] = [sign == "#" for sign in columns]
    marked[7] = [sign == "#" for sign in "#.......#"]
    marked[8] = True
    regions = regions_of(marked, diagonal=False)
    assert regions is not None
    assert list(regions.areas) == [marked.sum()]
    corner = np.array([[True, False], [False, True]])
    assert [len(found) for one in (False, True) if (found := regions_of(corner, one))] == [2, 1]
    assert regions_of(np.zeros((3, 3), dtype=bool), True) is None


def test_a_projective_map_is_found_from_its_points() -> None:
    matrix = np.array([[1.1, 0.2, 30.0], [-0.1, 0.9, 12.0], [2e-4, -1e-4, 1.0]])
    points = np.array([[0, 0], [100, 5], [110, 90], [-4, 120], [50, 60]], dtype=float)
    assert homography(points, mapped(matrix, points)) == pytest.approx(matrix, abs=1e-9)


def test_the_threshold_parts_two_heaps() -> None:
    """Of two equal heaps every threshold between them parts best, so it lies between."""
    dark = np.concatenate([np.full(500, 0.1), np.full(500, 0.8)]).astype(np.float32)
    assert 0.1 <= otsu(dark) <= 0.8
