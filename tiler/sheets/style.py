"""The house style: every size of type, line weight and grey that a page may show, from one scale each.

Sizes of type are points: steps of the fourth root of two from 8 pt, rounded, up to twice
that, and one step below for narrow strips.  Line weights are millimetres: the series of
ISO 128-20, 4.1, whose steps are the root of two.  Its thinnest members are left out:
0.18 mm is four dots of a home printer with 600 dots to the inch, and two of one with 300.

A printer makes grey of black dots.  With 600 to the inch a cell that the eye still takes
for a tint, 75 to the inch, is 8 × 8 dots large.  A tint of 12 % blackens eight of them;
fewer come out as specks or not at all (ours), so no grey is lighter.  Type stands
on greys too, so none is darker than 20 %.
"""

from __future__ import annotations

from tiler.declaration import Tag

LEAST, SMALL, HEADING, LABEL, TITLE = 7.0, 8.0, 9.5, 11.0, 16.0
"""Type: in narrow strips; what is read; headings; what is looked for, such as codes and squares; titles.  Points."""

LEADING = 3.9
"""Line to line for :data:`SMALL` type, mm."""

LEAST_LEADING = 2.75
"""Line to line for :data:`LEAST` type, mm."""

HAIR, FINE, MEDIUM, HEAVY = 0.18, 0.25, 0.35, 0.5
"""Lines: leaders and frames; what is pressed, stitched or measured; notches and heads of tables; what is cut.  mm."""

TINT, SHADE, BLACK = 0.88, 0.8, 0.0
"""Greys: behind rows of words; the shape of a piece; the page that one holds.  0 is black, 1 white."""

CASING = 0.7
"""How much wider than a line the white is that keeps it clear of what it crosses, mm."""

WEIGHT: dict[str, float] = {
    Tag.CUT_LINE: HEAVY,
    Tag.FOLD_LINE: HEAVY,
    Tag.PRESS_LINE: FINE,
    Tag.JOIN_LINE: FINE,
    Tag.NOTCH: MEDIUM,
    Tag.STRETCH_ARROW: MEDIUM,
    Tag.TEST_SQUARE: FINE,
    Tag.RULE: FINE,
    Tag.REGISTER_MARK: FINE,
    Tag.PAGE_FRAME: HAIR,
}
"""Line weight of every part."""

BRACKET_WEIGHT = MEDIUM

DASH: dict[str, tuple[float, ...]] = {
    Tag.FOLD_LINE: (9.0, 1.5, 2.0, 1.5),
    Tag.PRESS_LINE: (3.5, 1.5),
    Tag.JOIN_LINE: (1.8, 1.2),
}
"""Dash patterns of the parts that are not solid, mm."""
