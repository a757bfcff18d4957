"""What the measured lengths of a printed page say of its scale, as checks.

A print is held against what is right for squares of others, since paper, feed and scanner are no better. A
reading that is right by more than its own error is right; one that is wrong by more than that and what the scanner
itself may be off is wrong; what lies between is not decided. With a card on the glass
the scanner's share is the card's instead, with a ruler that of the ruler, along itself; of the other axis then nothing
is called right.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from tiler.box import Box
from tiler.languages.words import Words
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.scan.glass import SCANNER, SURE
from tiler.proof.scan.measured import Measured, Scale
from tiler.proof.scan.pixels.picture import Picture
from tiler.proof.tolerances import FOREIGN_SCALE

FINEST = 0.0001
"""No scale is known better: paper grows by more with the air's moisture."""

COARSEST = 0.005
"""A photo that tells lengths less closely decides nothing: 1 mm on 20 cm, what page 1 asks of a long line."""

UNLIKE = 0.002
"""Share by which one length may differ from the others beyond its own error: paper does not lie quite flat."""

LEANING = 0.35
"""Sides of a square that lean by more are told, mm: a page that was fed askew by 0.4 degrees."""

KINDS = {"square": CheckName.SQUARE, "rule": CheckName.RULE}


def doubt(scale: Scale) -> float:
    """Return the share by which a scale may be another than it was measured, the scanner's own error apart."""
    return max(SURE * scale.error, FINEST)


def judged(
    measured: Sequence[Measured],
    places: Sequence[Box],
    scales: dict[str, Scale],
    scanner: Mapping[str, float],
    untold: Collection[str] = (),
) -> Iterator[Check]:
    """Yield the check of each length, and what is not decided; ``scanner`` is the share that it may be off itself.

    Of an axis that is ``untold`` nothing is called right.
    """
    standing = {axis: _standing(scale, scanner[axis], axis in untold) for axis, scale in scales.items()}
    for one, place in zip(measured, places, strict=True):
        yield Check(
            KINDS[one.kind],
            standing[one.axis],
            Says.SIZE,
            1,
            one.measured,
            one.nominal,
            label=one.label,
            axis=one.axis,
            box=place,
        )
    # where another length is wrong it is the scale that is wrong, not one of them
    if Status.FAIL not in standing.values():
        yield from _unlike(measured, scales)
        yield from _between(scales, standing, scanner, untold)


def _standing(scale: Scale, scanner: float, untold: bool) -> Status:
    off, in_doubt = abs(scale.ratio - 1), doubt(scale)
    if off + in_doubt <= FOREIGN_SCALE and not untold:
        return Status.PASS
    return Status.FAIL if off - in_doubt - scanner > FOREIGN_SCALE else Status.WARN


def _unlike(measured: Sequence[Measured], scales: dict[str, Scale]) -> Iterator[Check]:
    for one in measured:
        if abs(one.ratio - scales[one.axis].ratio) > UNLIKE + SURE * one.doubt:
            yield Check(
                CheckName.UNDECIDED,
                Status.WARN,
                Says.SCAN_DISAGREES,
                1,
                one.measured,
                one.nominal,
                label=one.label,
                axis=one.axis,
            )


def _between(
    scales: dict[str, Scale], standing: dict[str, Status], scanner: Mapping[str, float], untold: Collection[str]
) -> Iterator[Check]:
    for axis, scale in scales.items():
        if standing[axis] is Status.WARN:
            by_scanner = scanner[axis] == SCANNER and abs(scale.ratio - 1) - doubt(scale) > FOREIGN_SCALE - SCANNER
            says = Says.SCAN_BETWEEN if by_scanner else Says.SCAN_CLOSE
            if axis in untold:
                says = Says.RULER_TELLS_NOT
            numbers = {"hundred": 100 * scale.ratio, "error": 100 * doubt(scale)}
            yield Check(CheckName.UNDECIDED, Status.WARN, says, 1, axis=axis, numbers=numbers)


def told(says: Says, picture: Picture, scales: dict[str, Scale], scanner: float) -> Check:
    """Return how the picture was measured, with the share by which its own scale may be off."""
    wide, high = picture.size
    numbers: dict[str, float | str] = {
        "wide": wide,
        "high": high,
        "dots": sum(picture.dpi) / 2 if picture.dpi else 0.0,
        "error": 100 * doubt(scales["across"]),
        "error_down": 100 * doubt(scales["down"]),
        "across": scales["across"].ratio,
        "down": scales["down"].ratio,
        "scanner": scanner,
    }
    return Check(CheckName.SCAN, Status.PASS, says, 1, numbers=numbers)


def by_photo(checks: Iterable[Check], scales: dict[str, Scale], share: float) -> Iterator[Check]:
    """Yield the checks of a photo; one that is too coarse decides nothing, whatever it shows."""
    error = max(doubt(scale) for scale in scales.values()) + share
    if error <= COARSEST:
        yield from checks
        return
    yield from (replace(check, status=Status.WARN) for check in checks if check.name is not CheckName.UNDECIDED)
    numbers = {"error": 100 * error, "most": 100 * COARSEST}
    yield Check(CheckName.UNDECIDED, Status.WARN, Says.PHOTO_COARSE, 1, numbers=numbers)


def by_edges(checks: Iterable[Check], scales: dict[str, Scale], share: float) -> Iterator[Check]:
    """Yield the checks of a photo by the edges of its sheet, which may be otherwise by a ``share``.

    What is wrong by more than all that is in doubt is wrong.  Right is only what is so whatever the sheet is like.
    """
    found = list(checks)
    error = max(doubt(scale) for scale in scales.values()) + share
    off = max(abs(scale.ratio - 1) for scale in scales.values())
    if any(check.status is Status.FAIL for check in found) or error + off <= COARSEST:
        yield from found
        return
    yield from (replace(check, status=Status.WARN) for check in found if check.name is not CheckName.UNDECIDED)
    across, down = (100 * scales[axis].ratio for axis in ("across", "down"))
    numbers = {"across": across, "down": down, "error": 100 * error}
    yield Check(CheckName.UNDECIDED, Status.WARN, Says.SHEET_COARSE, 1, numbers=numbers)


def lying(measured: Sequence[Measured], turned: int, mirrored: bool) -> Iterator[Check]:
    """Yield how the page lies in the picture, where that is not as it should be."""
    if mirrored:
        yield Check(CheckName.MIRROR, Status.FAIL, Says.MIRRORED, 1)
    if turned:
        yield Check(CheckName.ROTATION, Status.WARN, Says.SCAN_TURNED, 1, numbers={"degrees": 90 * turned})
    leaning = max((one for one in measured if one.kind == "square"), key=lambda one: one.leaning)
    if leaning.leaning > LEANING:
        lean = {"lean": leaning.leaning}
        yield Check(CheckName.LEAN, Status.WARN, Says.SCAN_LEANS, 1, label=Words(leaning.label), numbers=lean)
