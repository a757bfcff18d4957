"""The proof of a scanned page: find its squares, measure them and its ruler lines, and judge the scale of the print."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from tiler.box import Box
from tiler.errors import NothingToMeasureError
from tiler.proof.foreign.any_pdf import Expected
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Report
from tiler.proof.scan.card import MADE
from tiler.proof.scan.drafted import LABELS, SIDES, drafted_pair
from tiler.proof.scan.glass import AXES, SCANNER, glass_of
from tiler.proof.scan.judging import by_edges, by_photo, judged, lying, told
from tiler.proof.scan.measured import Measured, Scale, measured_ruler, measured_square, scale_of
from tiler.proof.scan.photo import LARGER, THICK, laid_flat
from tiler.proof.scan.pixels.darkness import Coarse, coarse_copy
from tiler.proof.scan.pixels.picture import INCH, Floats, Picture
from tiler.proof.scan.rulers import ruler_lines
from tiler.proof.scan.sheet import Sheet
from tiler.proof.scan.source import Source
from tiler.proof.scan.squares import Quad, measured_quads
from tiler.proof.scan.written import labelled_squares
from tiler.sentence import Place

ODDEST = 1.4
"""A first page whose squares are larger or smaller by more was scanned at another resolution than is stated."""

BROADEST = 1.0
"""A side of a square that seems broader than this is blurred, mm."""

NEAR_EXPECTED = 0.15
"""A square that differs by more than this share from what is expected is another one."""

COARSEST = 80.0
"""With fewer dots to the inch a thin line cannot be measured."""

PRINTED_RULER = (
    "the ruler lies so exactly along the square that it may be printed with it, and would then be off as it is: turn "
    "it by some degrees, and scan again"
)


@dataclass(frozen=True)
class _Found:
    """What was measured, how the page lies, and by how many radians its width is turned from that of the picture."""

    measured: list[Measured]
    lies: list[Check]
    angle: float
    ours: bool = False


def prove_scan(
    source: Source, name: str, expected: Expected | None = None, by_card: bool = False, by_ruler: bool = False
) -> Report:
    """Measure the squares and ruler lines in a scan and judge the print, by a card or a ruler that lies on the glass.

    Raises :class:`NothingToMeasureError` with what is missing and what to do.
    """
    place, picture = Place(name), source.picture
    if picture.dpi is None:
        raise NothingToMeasureError(
            "the picture does not state its resolution; say it with --dpi, such as --dpi 300", place
        )
    if min(picture.dpi) < COARSEST:
        raise NothingToMeasureError(
            f"{min(picture.dpi):.0f} dots per inch are too coarse for thin lines; scan the page at 300", place
        )
    pixels = np.array(picture.dpi) / INCH
    glass = glass_of(picture, pixels, place, by_card, by_ruler)
    pixels = pixels * glass.factors
    found = _found(picture, coarse_copy(picture.grey), pixels, place, expected)
    measured = found.measured
    if not found.ours and glass.along(found.angle):
        raise NothingToMeasureError(PRINTED_RULER, place)
    scales = {axis: scale_of([one for one in measured if one.axis == axis]) for axis in AXES}
    angles = dict(zip(AXES, (found.angle, found.angle + np.pi / 2), strict=True))
    shares = {axis: glass.share(angle) for axis, angle in angles.items()}
    untold = [axis for axis, angle in angles.items() if not glass.tells(angle)]
    how = told(Says.SCANNED, picture, scales, max(shares.values()))
    places = _places(measured, picture, pixels)
    checks = [*judged(measured, places, scales, shares, untold), how, *found.lies, glass.check]
    return _report(name, source, checks)


def prove_photo(source: Source, name: str, sheet: Sheet | None = None) -> tuple[Report, Picture]:
    """Measure a first page in a photo by the bank card that lies on it, and judge the print; with the page laid flat.

    Without a card a ``sheet`` of known size decides what is wrong by more than its edges tell.
    Raises :class:`NothingToMeasureError` with what is missing and what to do.
    """
    place = Place(name)
    flat = laid_flat(source.picture, place, sheet)
    assert flat.picture.dpi
    larger = 0.0 if flat.by_sheet else LARGER
    pixels = np.array(flat.picture.dpi) / INCH * (flat.card.across, flat.card.down) / (1 + larger)
    measured = _found(flat.picture, coarse_copy(flat.picture.grey), pixels, place, None).measured
    scales = {}
    for axis, error in zip(AXES, flat.errors, strict=True):
        scale = scale_of([one for one in measured if one.axis == axis])
        scales[axis] = Scale(scale.ratio, float(np.hypot(scale.error, error)), scale.disagreement)
    by_sheet = sheet if flat.by_sheet else None
    share = by_sheet.share if by_sheet else MADE + THICK
    found = judged(measured, _places(measured, flat.picture, pixels), scales, dict.fromkeys(AXES, share))
    checks = [
        *(by_edges if by_sheet else by_photo)(found, scales, share),
        told(Says.BY_SHEET if by_sheet else Says.PHOTOGRAPHED, source.picture, scales, share),
        *lying(measured, flat.turned, flat.mirrored),
    ]
    return _report(name, source, checks), flat.picture


def _report(name: str, source: Source, checks: Sequence[Check]) -> Report:
    return Report(name, source.pages, tuple(replace(check, page=check.page and source.page) for check in checks))


def _found(picture: Picture, coarse: Coarse, pixels: Floats, place: Place, expected: Expected | None) -> _Found:
    """Measure what there is: a first page, or the squares that are expected, or those that have a clear label."""
    quads: list[Quad] = []
    sharp: list[Quad] = []
    for quads in measured_quads(picture.grey, coarse, float(pixels.min())):
        sharp = [quad for quad in quads if _breadth(quad, pixels) <= BROADEST]
        found = _of_first_page(picture, coarse, sharp, pixels, place, expected)
        if found:
            return found
    if quads and not sharp:
        raise NothingToMeasureError(
            "the picture is blurred; lay the page flat on the clean glass and scan it again", place
        )
    return _expected(picture, sharp, pixels, place, expected)


def _places(measured: Sequence[Measured], picture: Picture, pixels: Floats) -> list[Box]:
    return [_placed(one, picture, pixels) for one in measured]


def _placed(one: Measured, picture: Picture, pixels: Floats) -> Box:
    """Return where a length stands, mm from the lower left corner of the picture."""
    left, upper, right, lower = one.box
    high = picture.size[1]
    x0, x1 = (float(x / pixels[0]) for x in (left, right))
    y0, y1 = (float((high - y) / pixels[1]) for y in (lower, upper))
    return Box(x0, y0, x1, y1)


def _breadth(quad: Quad, pixels: Floats) -> float:
    return float(np.median([side.width for side in quad.sides]) / pixels.mean())


def _of_first_page(
    picture: Picture, coarse: Coarse, quads: Sequence[Quad], pixels: Floats, place: Place, expected: Expected | None
) -> _Found | None:
    """Measure a first page; None where the picture does not show one, or something else is expected."""
    wanted = expected.side if expected else None
    if wanted and all(abs(wanted - side) > 0.005 for side in SIDES):
        return None
    pair = drafted_pair(quads)
    if pair is None:
        return None
    measured = [
        one
        for quad, label, side in zip(pair.quads, LABELS, SIDES, strict=True)
        for one in measured_square(quad, label, side, pixels)
    ]
    mean = float(np.mean([one.ratio for one in measured]))
    if not 1 / ODDEST < mean < ODDEST:
        raise NothingToMeasureError(
            f"at {np.mean(pixels) * INCH:.0f} dots per inch the 2 in square would be {50.8 * mean:.1f} mm wide: the "
            "picture was scanned at another resolution than it states, or made smaller; say the true one with --dpi",
            place,
        )
    for ruler in ruler_lines(picture.grey, coarse, pair.to_page):
        line = measured_ruler(ruler, pixels)
        if line:
            measured.append(line)
    return _Found(measured, list(lying(measured, pair.turned, pair.mirrored)), _angle(pair.quads[0]), True)


def _expected(
    picture: Picture, quads: Sequence[Quad], pixels: Floats, place: Place, expected: Expected | None
) -> _Found:
    """Measure the squares near the expected size, as they lie in the picture; without one, those with a label."""
    sizes = [_upright(quad) for quad in quads]
    measured = [measured_square(quad, "", 1.0, pixels) for quad in sizes]
    seen = sorted({f"{both[0].measured:.1f} × {both[1].measured:.1f} mm" for both in measured})
    there = f"; four-sided shapes in it measure {', '.join(seen[:4])}" if seen else ""
    wanted = expected.side if expected else None
    if expected is None or not wanted:
        labelled = labelled_squares(picture.grey, sizes, pixels)
        if not labelled:
            raise NothingToMeasureError(
                "the two test squares of a first page are not found in the picture, whole and sharp"
                f"{there}; scan that page flat and whole. Of another square no clear label is read in the picture: "
                "say with --expect what it should measure",
                place,
            )
        return _alike([(one.quad, f"{one.words} as read", one.side) for one in labelled], pixels, labelled[0].turned)
    near = [
        (quad, f"{expected.words} as expected", wanted)
        for quad, both in zip(sizes, measured, strict=True)
        if all(abs(one.measured / wanted - 1) <= NEAR_EXPECTED for one in both)
    ]
    if not near:
        raise NothingToMeasureError(f"no square of about {expected.words} is found in the picture{there}", place)
    return _alike(near, pixels)


def _alike(squares: Sequence[tuple[Quad, str, float]], pixels: Floats, turned: int = 0) -> _Found:
    """Measure squares of known sizes, and say where they disagree."""
    both = [measured_square(quad, label, side, pixels) for quad, label, side in squares]
    lengths = [one for pair in both for one in pair]
    lies = list(lying(lengths, turned, False))
    spread = [np.ptp([one.ratio for one in lengths if one.axis == axis]) for axis in AXES]
    if max(spread) > 2 * SCANNER:
        unlike = ", ".join(f"{one.measured:.2f} × {other.measured:.2f} mm" for one, other in both)
        lies.append(Check(CheckName.UNDECIDED, Status.WARN, Says.SQUARES_DISAGREE, 1, label=unlike))
    return _Found(lengths, lies, _angle(squares[0][0]))


def _angle(quad: Quad) -> float:
    """Return by how many radians the first side of a shape is turned from across."""
    along = quad.corners[1] - quad.corners[0]
    return float(np.arctan2(along[1], along[0]))


def _upright(quad: Quad) -> Quad:
    """Return a shape counted from its upper left corner, as it lies in the picture."""
    start = int(np.argmin(quad.corners.sum(axis=1)))
    return quad.turned(start, False)
