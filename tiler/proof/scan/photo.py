"""The proof of a printed page in a photo, by a bank card that lies on it, or by the edges of its sheet.

The page's own marks lay the photo flat (``lens``): its squares and ruler lines are taken for right, and the card
then measures by how much they are not. Marks and card must lie in one plane; a card is 0.76 mm thick (ISO/IEC 7810),
so from 40 cm above it looks 0.19 % larger than it is: taken out as seen from 25 to 75 cm.  A sheet has no thickness
to speak of, and is known less well (``sheet``).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tiler.errors import NothingToMeasureError
from tiler.proof.scan.card import Card, card_on
from tiler.proof.scan.drafted import CORNERS, Pair, drafted_pair
from tiler.proof.scan.lens import Lens, Marks, fitted, flattened
from tiler.proof.scan.pixels.darkness import coarse_copy
from tiler.proof.scan.pixels.lines import stroke_points
from tiler.proof.scan.pixels.picture import Floats, Grey, Picture
from tiler.proof.scan.pixels.plane import homography, mapped
from tiler.proof.scan.rulers import Ruler, ruler_lines
from tiler.proof.scan.sheet import Sheet, sheet_on
from tiler.proof.scan.squares import CORNER, WINDOW, measured_quads
from tiler.sentence import Place

LARGER, THICK = 0.002, 0.001
"""Share by which the thickness of a card makes it look larger, and by how much that may be otherwise."""

AROUND = 75.0, 240.0, 120.0, 270.0
"""So far to the left, right, up and down from the upper left corner of the 2 in square the page is laid flat, mm."""

FINEST = 8.0
"""So many pixels make a millimetre of the page that is laid flat at most: about 200 to the inch."""

FIRST = 5.5
"""So many while the ruler lines are only looked for."""

NO_CARD = (
    "no bank card with sharp edges is found in the photo: lay a dark one on the page near its squares, its edges along "
    "those of the page, where nothing is printed and 1 cm off all that is; without a card say the size of the paper "
    "with --sheet"
)
NO_SHEET = (
    "neither a bank card nor the four edges of the sheet are found in the photo: lay the page flat on a darker ground, "
    "with all of its edges in the picture and no shadow across them, and see that --sheet is its size"
)

CORRELATED = 9.0
"""Neighbouring points along a line err alike, so many of them count for one: ours."""


@dataclass(frozen=True)
class Flat:
    """The page as a scan would show it by its own marks, the card on it, and the error of both in all, shares."""

    picture: Picture
    card: Card
    errors: tuple[float, float]
    turned: int
    mirrored: bool
    by_sheet: bool = False
    """Whether it is the sheet that stands for the card."""


def laid_flat(picture: Picture, place: Place, sheet: Sheet | None = None) -> Flat:
    """Return the page of a photo as a scan would show it; raises :class:`NothingToMeasureError`.

    Where the size of the ``sheet`` is known its edges stand in for a card that is not there.
    """
    pair = _pair(picture.grey)
    if pair is None:
        raise NothingToMeasureError(
            "the two test squares of a first page are not found in the photo, whole and sharp; take it from straight "
            "above in even light, with the whole page in it",
            place,
        )
    middle = (np.array(picture.size) - 1) / 2
    radius = float(np.hypot(*middle))
    lens = Lens(middle, radius, 0.0, homography((pair.corners - middle) / radius, CORNERS.reshape(-1, 2)))
    sides = _sides(picture.grey, pair)
    lens, _ = fitted(lens, sides, bent=False)
    per_mm = min(FINEST, float(np.hypot(*(pair.corners[1] - pair.corners[0]))) / 50.8)
    covariance = np.zeros((9, 9))
    for _ in range(2):
        flat, to_page = _flat(picture.grey, lens, min(per_mm, FIRST))
        rulers = ruler_lines(flat, coarse_copy(flat), to_page, lens=True)
        marks = _with_ticks(sides, rulers, lens, to_page)
        lens, covariance = fitted(lens, marks, bent=bool(rulers))
    flat, to_page = _flat(picture.grey, lens, per_mm)
    known = card_on(flat, np.array([per_mm, per_mm]), photo=True)
    by_sheet = known is None and sheet is not None
    if sheet and by_sheet:
        known = sheet_on(flat, per_mm, to_page, sheet)
    if known is None:
        raise NothingToMeasureError(NO_SHEET if sheet else NO_CARD, place)
    dots = per_mm * 25.4
    errors = _errors(lens, covariance, mapped(to_page, known.corners), known)
    return Flat(Picture(flat, (dots, dots)), known, errors, pair.turned, pair.mirrored, by_sheet)


def _pair(grey: Grey) -> Pair | None:
    for quads in measured_quads(grey, coarse_copy(grey), None):
        pair = drafted_pair(quads, lens=True)
        if pair:
            return pair
    return None


def _sides(grey: Grey, pair: Pair) -> Marks:
    """Return points along all sides of both squares, each with the coordinate that its line has on the page."""
    pixels, axis, known = [], [], []
    for quad, corners in zip(pair.quads, CORNERS, strict=True):
        for index in range(4):
            start, end = quad.corners[index], quad.corners[(index + 1) % 4]
            cut = CORNER * (end - start)
            half = 0.7 * WINDOW * float(np.hypot(*(end - start))) / 50
            points = stroke_points(grey, start + cut, end - cut, half).at
            across = 1 - index % 2
            pixels.append(points)
            axis.append(np.full(len(points), across))
            known.append(np.full(len(points), corners[index][across]))
    return Marks(
        np.concatenate(pixels), np.concatenate(axis), np.concatenate(known), np.full(sum(map(len, axis)), -1.0)
    )


def _with_ticks(sides: Marks, rulers: Sequence[Ruler], lens: Lens, to_page: Floats) -> Marks:
    """Return the marks with the ticks of all ruler lines, which were found on the page that was laid flat."""
    pixels, axis, known, group = [sides.pixels], [sides.axis], [sides.known], [sides.group]
    for number, ruler in enumerate(rulers):
        pixels.append(lens.pixels(mapped(to_page, ruler.ticks)))
        axis.append(np.full(len(ruler.places), 0 if ruler.axis == "across" else 1))
        known.append(ruler.places)
        group.append(np.full(len(ruler.places), float(number)))
    return Marks(*(np.concatenate(part) for part in (pixels, axis, known, group)))


def _flat(grey: Grey, lens: Lens, per_mm: float) -> tuple[Grey, Floats]:
    """Return the page laid flat, and what maps its pixels to the page."""
    high, wide = grey.shape
    rim = np.array(
        [[0, 0], [wide, 0], [wide, high], [0, high], [wide / 2, 0], [wide, high / 2], [wide / 2, high], [0, high / 2]]
    )
    shown = lens.page(rim - 0.5)
    left, right = max(-AROUND[0], float(shown[:, 0].min())), min(AROUND[1], float(shown[:, 0].max()))
    upper, lower = min(AROUND[2], float(shown[:, 1].max())), max(-AROUND[3], float(shown[:, 1].min()))
    flat = flattened(grey, lens, (left, right, upper, lower), per_mm)
    half = 0.5 / per_mm
    return flat, np.array([[1 / per_mm, 0, half + left], [0, -1 / per_mm, upper - half], [0, 0, 1]])


def _errors(lens: Lens, covariance: Floats, corners: Floats, card: Card) -> tuple[float, float]:
    """Return what both factors are in doubt by: the marks' own error carried to the card, and the card's edges."""
    pixels = lens.pixels(corners)
    start = lens.page(pixels)
    sizes = np.append(np.maximum(np.abs(lens.to_page.flat[:8]), 1e-3), 0.05) * 1e-6
    lengths = []
    for index in range(9):
        change = np.zeros(9)
        change[index] = sizes[index]
        moved = lens.moved(change).page(pixels)
        lengths.append((_spans(moved) / _spans(start) - 1) / sizes[index])
    slopes = np.array(lengths)
    shares = np.sqrt(np.maximum(CORRELATED * np.einsum("ia,ij,ja->a", slopes, covariance, slopes), 0))
    return float(np.hypot(shares[0], card.error)), float(np.hypot(shares[1], card.error))


def _spans(corners: Floats) -> Floats:
    """Return how wide and how high a quadrangle is on average."""
    across, down = np.sort(corners[:, 0]), np.sort(corners[:, 1])
    return np.array([across[2:].mean() - across[:2].mean(), down[2:].mean() - down[:2].mean()])
