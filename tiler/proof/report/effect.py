"""What a scale does to a strip, and where on a page something stands, in words."""

from __future__ import annotations

from tiler.box import Box
from tiler.languages.catalogue import noted
from tiler.languages.words import Number, Words
from tiler.sentence import Sentence

LEAST = 0.00005
"""A share off that is smaller is written as none: a hundredth of a millimetre on 20 cm."""


WAYS = {
    True: noted("a 20 in strip prints {inches:.2f} in short, a 50 cm strip {centimetres:.2f} cm short"),
    False: noted("a 20 in strip prints {inches:.2f} in long, a 50 cm strip {centimetres:.2f} cm long"),
}

BEGUN = {
    (True, "across"): noted(
        "A 20 in strip prints {inches:.2f} in short across, a 50 cm strip {centimetres:.2f} cm short."
    ),
    (False, "across"): noted(
        "A 20 in strip prints {inches:.2f} in long across, a 50 cm strip {centimetres:.2f} cm long."
    ),
    (True, "down"): noted(
        "A 20 in strip prints {inches:.2f} in short down the page, a 50 cm strip {centimetres:.2f} cm short."
    ),
    (False, "down"): noted(
        "A 20 in strip prints {inches:.2f} in long down the page, a 50 cm strip {centimetres:.2f} cm long."
    ),
}
"""The same along an axis of the page, as a sentence of its own."""


def on_a_strip(ratio: float) -> Words:
    """Say what measured over nominal size does to a strip of 20 in and of 50 cm."""
    off = abs(ratio - 1)
    if off < LEAST:
        return Words("a strip prints at its full length")
    return Words(WAYS[ratio < 1], inches=20 * off, centimetres=50 * off)


def error(ratio: float) -> Number:
    """Write measured over nominal size as an error in percent."""
    off = 100 * (ratio - 1)
    if abs(off) < 100 * LEAST:
        return Number("0.00 %")
    sign = "+" if off > 0 else "\N{MINUS SIGN}"
    return Number(f"{sign}{abs(off):.2f} %")


def effect(ratio: float) -> Sentence:
    """Say the error and what it does."""
    return Sentence(error(ratio), ", ", on_a_strip(ratio))


def where(box: Box) -> Words:
    """Say where the lower left corner of something stands on its page."""
    return Words("{x:.0f} mm from the left and {y:.0f} mm from the foot", x=box.x0, y=box.y0)
