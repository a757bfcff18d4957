"""Openings by reference: how large a head, a hand or a heel is, where nobody can measure it.

Circumferences, mm.  A child's head is the 97th percentile of the WHO Child Growth
Standards, head circumference for age, M (1 + 1.88079 S) with the standards' median M
and coefficient of variation S (L = 1) at each month from birth to five years, a month being
30.4375 days.  The boys' table is used, since their 97th percentile is the larger at every
month.  Adults are the 95th percentiles of ANSUR II (US Army, Natick TR-15/007), each
sex by itself; the heel is measured around heel and ankle.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from difflib import get_close_matches

from tiler.errors import SpecError
from tiler.sentence import Place

_Z_97 = 1.88079
"""The 97th percentile of the normal distribution."""

# fmt: off
_MEDIAN_CM = (
    34.4618, 37.2435, 39.1349, 40.5008, 41.6401, 42.5524, 43.3393, 43.9791, 44.5384, 45.0007, 45.4004, 45.7593,
    46.0637, 46.3421, 46.5834, 46.809, 47.0088, 47.1936, 47.3718, 47.5341, 47.6931, 47.8399, 47.985, 48.1198,
    48.2494, 48.378, 48.4974, 48.6158, 48.7255, 48.8341, 48.9347, 49.0341, 49.126, 49.214, 49.3011, 49.3818,
    49.4619, 49.5362, 49.6101, 49.679, 49.7476, 49.8117, 49.8737, 49.9357, 49.9938, 50.0518, 50.1062, 50.1606,
    50.2115, 50.261, 50.3107, 50.3573, 50.4043, 50.4485, 50.4931, 50.5353, 50.5766, 50.6184, 50.6582, 50.6986,
    50.7372,
)
"""The median head of boys at 0, 1, 2 … months, cm."""

_SPREAD = (
    0.03686, 0.03135, 0.02997, 0.02918, 0.02868, 0.02837, 0.02817, 0.02804, 0.02796, 0.02792, 0.0279, 0.02789,
    0.02789, 0.02789, 0.02791, 0.02792, 0.02795, 0.02797, 0.028, 0.02803, 0.02806, 0.0281, 0.02814, 0.02817,
    0.02821, 0.02825, 0.0283, 0.02834, 0.02838, 0.02843, 0.02847, 0.02851, 0.02855, 0.02859, 0.02863, 0.02867,
    0.02871, 0.02875, 0.02878, 0.02882, 0.02886, 0.02889, 0.02893, 0.02896, 0.02899, 0.02903, 0.02906, 0.02909,
    0.02912, 0.02915, 0.02918, 0.02921, 0.02924, 0.02927, 0.0293, 0.02932, 0.02935, 0.02938, 0.0294, 0.02943,
    0.02945,
)
# fmt: on
"""Its coefficient of variation at the same months."""

OLDEST = len(_MEDIAN_CM) - 1
"""The last month of the standards."""

_ADULTS_MM = {
    "head, woman": 597.0,
    "head, man": 601.0,
    "hand, woman": 202.0,
    "hand, man": 230.0,
    "heel, woman": 337.0,
    "heel, man": 372.0,
}
_CHILD = re.compile(r"head,? ?([0-9]{1,3}) ?(month|year)s?")
KNOWN = (f'"head, 0 months" to "head, {OLDEST} months"', *(f'"{adult}"' for adult in _ADULTS_MM))
"""What can be referred to, as it is written."""


@dataclass(frozen=True)
class BodyMeasure:
    """What must pass, mm, and whose measure it is."""

    around_mm: float
    source: str
    of_child: bool = False


def body_measure(text: str, where: Place) -> BodyMeasure:
    """Return the measure that ``text`` names, such as ``head, 24 months`` or ``heel, woman``.

    Raises :class:`SpecError` with all that can be named; ``where`` is the key.
    """
    words = " ".join(text.casefold().split())
    adult = re.sub(r" ?, ?", ", ", words)
    if adult in _ADULTS_MM:
        sex = "men" if adult.endswith(" man") else "women"
        return BodyMeasure(_ADULTS_MM[adult], f"{adult}: 95th percentile of {sex}, ANSUR II")
    child = _CHILD.fullmatch(adult)
    if child is None:
        close = get_close_matches(adult[:60], (*_ADULTS_MM, "head, 24 months"), 1)
        meant = f'did you mean "{close[0]}"? Else ' if close else ""
        raise SpecError(f'"{text[:60]}" is not known; {meant}{_listed()}', where)
    months = int(child[1]) * (12 if child[2] == "year" else 1)
    if months > OLDEST:
        raise SpecError(
            f'"{text[:60]}" is beyond the table, which ends at {OLDEST} months; measure the head and write its length',
            where,
        )
    around = 10 * _MEDIAN_CM[months] * (1 + _Z_97 * _SPREAD[months])
    return BodyMeasure(around, f"head, {months} months: 97th percentile of boys, WHO Child Growth Standards", True)


def _listed() -> str:
    return f"write a length, {', '.join(KNOWN[:-1])} or {KNOWN[-1]}"
