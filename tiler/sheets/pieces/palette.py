"""Colours of the sizes of a nest: red, green, blue, 0 to 1 (sRGB).

They were searched for, so that whoever sees a lack of red, green or blue tells any two of
them apart, and so that neighbours differ in grey too, which is all that many printers have.
All are as dark on white as type for reading must be.  ``tests/sheets/test_palette.py`` holds
this and names the sources of its measures.  Each colour is one more sign beside the dashes:
five colours and eight patterns make forty pairs before one comes again.
"""

from __future__ import annotations

from tiler.printed import Colour

HEX = ("000000", "9955cc", "bb0000", "aa5577", "1133ee")
"""Black, violet, red, mauve, blue: in turn dark and less dark."""

PALETTE: tuple[Colour, ...] = tuple(
    (int(code[:2], 16) / 255, int(code[2:4], 16) / 255, int(code[4:], 16) / 255) for code in HEX
)
