"""What a scale does to a strip, and where on a page something stands, in words."""

from __future__ import annotations

from tiler.box import Box

LEAST = 0.00005
"""A share off that is smaller is written as none: a hundredth of a millimetre on 20 cm."""


def on_a_strip(ratio: float, along: str = "") -> str:
    """Say what measured over nominal size does to a strip of 20 in and of 50 cm; ``along`` is the axis in words."""
    off = abs(ratio - 1)
    if off < LEAST:
        return "a strip prints at its full length"
    way = "short" if ratio < 1 else "long"
    return f"a 20 in strip prints {20 * off:.2f} in {way}{along}, a 50 cm strip {50 * off:.2f} cm {way}"


def error(ratio: float) -> str:
    """Write measured over nominal size as an error in percent."""
    off = 100 * (ratio - 1)
    if abs(off) < 100 * LEAST:
        return "0.00 %"
    sign = "+" if off > 0 else "\N{MINUS SIGN}"
    return f"{sign}{abs(off):.2f} %"


def effect(ratio: float) -> str:
    """Say the error and what it does."""
    return f"{error(ratio)}, {on_a_strip(ratio)}"


def where(box: Box) -> str:
    """Say where the lower left corner of something stands on its page."""
    return f"{box.x0:.0f} mm from the left and {box.y0:.0f} mm from the foot"
