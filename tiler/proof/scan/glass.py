"""What is known of the scanner itself by what lies on its glass: what it makes of 1 mm across and down the picture.

A scanner's optics tell its scale along the lamp, and its motor the one along its way, so both axes may be off by unlike
shares. A card shows both. A ruler that lies along a direction d, of which the picture makes f times its length, tells
(d_x / s_x)² + (d_y / s_y)² = 1 / f² of the factors s of both axes. What the rulers say is put together with
what is known before, that no scanner is off by more than 1 %, by weighted least squares; the matrix
of resolution (Menke, *Geophysical Data Analysis*, ch. 4, from memory) then shows which axis the rulers tell.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from tiler.errors import NothingToMeasureError
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.scan.card import MADE, UNLIKE, Card, card_on
from tiler.proof.scan.graduation import LEAST_MADE, Graduation, graduations
from tiler.proof.scan.pixels.picture import Floats, Picture
from tiler.sentence import Place

SCANNER = 0.002
"""Share by which a scanner's own scale may be off where nothing on the glass tells it: ours."""

SURE = 2.0
"""So many standard errors are what a reading is in doubt by: about 95 % (JCGM 100:2008, 6.2.1)."""

MIXED = 0.035
"""What the other axis does may be this share of what is told of one: a ruler that lies askew by 10 degrees."""

TOLD = 0.006
"""An axis of which no more is known is not told, as a share."""

ALONG = 0.004
"""A ruler lies along a print where both directions differ by less, radians: a quarter of a degree, to which none is
laid by hand."""

AXES = ("across", "down")


@dataclass(frozen=True)
class Glass:
    """What the scanner makes of 1 mm across and down the picture, by which share that may be otherwise, and how known.

    An axis that is not ``told`` is taken as the picture states it.
    """

    factors: tuple[float, float]
    shares: tuple[float, float]
    check: Check
    told: tuple[bool, bool] = (True, True)
    rulers: tuple[float, ...] = ()
    """By how many radians each ruler is turned from across."""

    def share(self, angle: float) -> float:
        """Return the share for what lies in the picture by so many radians from across."""
        if self.shares[0] == self.shares[1]:
            return self.shares[0]
        return float(np.cos(angle) ** 2 * self.shares[0] + np.sin(angle) ** 2 * self.shares[1])

    def along(self, angle: float) -> bool:
        """Tell whether a ruler lies just along, or at a right angle to, what is turned by so many radians."""
        quarter = np.pi / 2
        return any(abs((ruler - angle + quarter / 2) % quarter - quarter / 2) < ALONG for ruler in self.rulers)

    def tells(self, angle: float) -> bool:
        """Tell whether the scanner's own error in a direction is taken out, or is none that was asked for."""
        mixed = np.cos(angle) ** 2, np.sin(angle) ** 2
        return all(told or part < MIXED for told, part in zip(self.told, mixed, strict=True))


NO_CARD = (
    "no bank card with sharp edges is found in the picture: lay a dark one on the glass with its edges along those of "
    "the page, where nothing is printed and 1 cm off all that is, and scan again; a ruler goes as well, with --ruler"
)
NO_RULER = (
    "no ruler with millimetres or sixteenths of an inch is found in the picture: lay one on the glass, its graduated "
    "side down and 5 cm of it at least where nothing is printed, and scan again at 300 dots per inch"
)
UNLIKE_RULERS = (
    "the rulers in the picture do not agree with each other: lay other ones on the glass, their graduated sides down "
    "and flat, and scan again"
)


def glass_of(picture: Picture, pixels: Floats, place: Place, card: bool = False, ruler: bool = False) -> Glass:
    """Return what a card or a ruler in a picture tells, of which so many ``pixels`` make 1 mm by what it states.

    Raises :class:`NothingToMeasureError` where what is asked for does not lie there.
    """
    if card:
        found = card_on(picture.grey, pixels)
        if found is None:
            raise NothingToMeasureError(NO_CARD, place)
        return by_card(found)
    if not ruler:
        return bare()
    rulers = list(graduations(picture.grey, pixels))
    if not rulers:
        raise NothingToMeasureError(NO_RULER, place)
    glass = by_rulers(rulers)
    if glass is None:
        raise NothingToMeasureError(UNLIKE_RULERS, place)
    return glass


def bare() -> Glass:
    """Return what is known where nothing on the glass is asked for."""
    return Glass((1.0, 1.0), (SCANNER, SCANNER), Check(CheckName.SCANNER, Status.WARN, Says.SCANNER_UNKNOWN))


def by_card(card: Card) -> Glass:
    """Return what a card tells."""
    share = MADE + SURE * card.error
    numbers = {"across": 100 * (card.across - 1), "down": 100 * (card.down - 1), "made": 100 * MADE}
    check = Check(CheckName.SCANNER, Status.PASS, Says.SCANNER_BY_CARD, numbers=numbers)
    return Glass((card.across, card.down), (share, share), check)


def by_rulers(rulers: Sequence[Graduation]) -> Glass | None:
    """Return what one ruler or more tell; None where they disagree."""
    along = np.array([ruler.along for ruler in rulers]) ** 2
    doubts = np.array([ruler.made + SURE * ruler.error for ruler in rulers])
    target = np.array([1 / ruler.factor**2 for ruler in rulers])
    # a share of a factor is twice as large of its square
    design = np.vstack([along, np.eye(2)])
    weights = 1 / (2 * np.append(doubts, [UNLIKE, UNLIKE])) ** 2
    covariance = np.linalg.inv(design.T @ (weights[:, None] * design))
    squares = covariance @ design.T @ (weights * np.append(target, [1.0, 1.0]))
    if np.any(np.abs(along @ squares - target) > 2 * 2 * doubts):
        return None
    resolved = covariance @ along.T @ (weights[:-2, None] * along)
    other = np.abs(np.diag(resolved[:, ::-1]))
    shares = np.sqrt(np.diag(covariance)) / 2 + UNLIKE * other
    told = (other < MIXED) & (shares < TOLD)
    factors = np.where(told, 1 / np.sqrt(squares), 1.0)
    shares = np.where(told, np.maximum(shares, LEAST_MADE), UNLIKE)
    both = tuple(bool(one) for one in told)
    return Glass(
        (float(factors[0]), float(factors[1])),
        (float(shares[0]), float(shares[1])),
        _told(rulers, factors, shares, both),
        (both[0], both[1]),
        tuple(float(np.arctan2(ruler.along[1], ruler.along[0])) for ruler in rulers),
    )


def _told(rulers: Sequence[Graduation], factors: Floats, shares: Floats, told: Sequence[bool]) -> Check:
    """Return which axes the rulers take out, and by how much."""
    if not any(told):
        x, y = np.abs(rulers[0].along)
        askew = {"degrees": float(np.degrees(np.arctan2(min(x, y), max(x, y))))}
        return Check(CheckName.SCANNER, Status.WARN, Says.RULER_ASKEW, numbers=askew)
    across, down = (100 * (float(factor) - 1) for factor in factors)
    numbers = {"made": 100 * float(max(shares[list(told)])), "across": across, "down": down}
    says = Says.SCANNER_BY_RULERS if all(told) else Says.RULER_ACROSS if told[0] else Says.RULER_DOWN
    return Check(CheckName.SCANNER, Status.PASS if all(told) else Status.WARN, says, numbers=numbers)
