"""The house style: every size of type, line weight and grey that a page may show, from one scale each.

Sizes of type are points: 8 pt is read, and only narrow strips, of pieces and of pages, have smaller.
Line weights are millimetres: the series of ISO 128-20, 4.1, whose steps are the root of
two.  Its thinnest members are left out: 0.18 mm is four dots of a home printer with 600
dots to the inch, and two of one with 300.

A printer makes grey of black dots.  With 600 to the inch a cell that the eye still takes
for a tint, 75 to the inch, is 8 × 8 dots large.  A tint of 12 % blackens eight of them;
fewer come out as specks or not at all (ours), so no grey is lighter.  Type stands
on greys too, so none is darker than 20 %.  A line is thinner than such a cell, so a grey
one comes out as specks in some printers and not in others.  Seam lines are grey to the
eye all the same: black dots with white between, each of them wide enough to be printed.
"""

from __future__ import annotations

from tiler.declaration import Tag

LEAST, SMALL, FACT, HEADING, TITLE = 7.0, 8.0, 9.0, 10.0, 14.0
"""Type: in narrow strips; what is read; how large to cut; headings and how to cut; titles and names.  Points."""

LABEL = HEADING
"""What is looked for, such as codes of panes and squares, points."""

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
    Tag.SEAM_LINE: FINE,
    Tag.JOIN_LINE: FINE,
    Tag.NOTCH: MEDIUM,
    Tag.BUTTONHOLE: MEDIUM,
    Tag.STRETCH_ARROW: MEDIUM,
    Tag.GRAIN_LINE: MEDIUM,
    Tag.TEST_SQUARE: FINE,
    Tag.RULE: FINE,
    Tag.REGISTER_MARK: FINE,
    Tag.PAGE_FRAME: HAIR,
}
"""Line weight of every part."""

BRACKET_WEIGHT = MEDIUM

DOTS = (0.467, 1.035)
"""Of a stitching line, mm: a dot as long as eleven of a printer with 600 to the inch; two thirds are white.

No length in steps of 1/32 in or half a millimetre, up to 40 in, ends just where a dot does: there
two engines disagree about whether a speck of it is left.
"""

DASH: dict[str, tuple[float, ...]] = {
    Tag.FOLD_LINE: (9.0, 1.5, 2.0, 1.5),
    Tag.PRESS_LINE: (6.0, 1.5),
    Tag.SEAM_LINE: DOTS,
    Tag.JOIN_LINE: DOTS,
}
"""Dash patterns of the parts that are not solid, mm."""
