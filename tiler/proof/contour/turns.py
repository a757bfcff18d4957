"""Whether a piece bends as its edge does, and not as the mirror image of that or on its other side; degrees, mm.

A piece that is mirrored whole, with its words, is harmless: it is cut on fold or in two layers, which are mirror
images.  One whose lines alone are mirrored has its words at the wrong ends, and one on the wrong side of its edge is
as long as that and fits it nowhere.  The turn of either half of the seam line tells both.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, degrees, dist, fsum, pi

from tiler.box import Subpath
from tiler.declaration import Tag
from tiler.drawn import Contour, Part

AT_MIDDLE = 1.0
"""What turns so near to the middle counts half to either side, mm."""

CLEARLY = 4.0
"""By so much another way must be nearer to how a piece bends than its own, degrees over both halves.

Chords turn less at their ends than the edge does, and the middle of a line is found from its chords.
"""


def bends_like_its_edge(contour: Contour, parts: Sequence[Part]) -> bool:
    """Tell whether the seam line of a piece turns as it is declared of its edge, where that is."""
    seam = next((line for part in parts if part.tag == Tag.SEAM_LINE for line in part.subpaths), ())
    if not contour.turns_deg:
        return True
    if len(contour.turns_deg) != 2 or len(seam) < 2:
        return False
    left, right = contour.turns_deg
    found = _halves(seam)

    def off(first: float, second: float) -> float:
        return abs(found[0] - first) + abs(found[1] - second)

    others = (off(right, left), off(-left, -right), off(-right, -left))
    return min(others) + CLEARLY >= off(left, right)


def _halves(line: Subpath) -> tuple[float, float]:
    """Return by how much a line turns to the left on its first and its second half."""
    chords = [(a, b) for a, b in pairwise(line) if a != b]
    middle, along, turns = fsum(dist(a, b) for a, b in chords) / 2, 0.0, ([0.0], [0.0])
    for (a, b), (c, d) in pairwise(chords):
        along += dist(a, b)
        turn = atan2(d[1] - c[1], d[0] - c[0]) - atan2(b[1] - a[1], b[0] - a[0])
        second = 0.5 if abs(along - middle) < AT_MIDDLE else float(along > middle)
        turn = degrees((turn + pi) % (2 * pi) - pi)
        turns[0].append((1 - second) * turn)
        turns[1].append(second * turn)
    return fsum(turns[0]), fsum(turns[1])
