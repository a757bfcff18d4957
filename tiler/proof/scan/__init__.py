"""Test squares and ruler lines in pictures of printed pages: scans, and photos; pixels become mm here.

A picture is read as grey with the resolution that it states (``source``). On a coarse copy of it
whose light is made even, regions are put together, and those with four straight sides are offered
as ``squares`` (``pixels``). What is found is then measured in the picture itself: hundreds of points
across each line, each to a fraction of a pixel, and one robust line through them. Two squares in
the proportion and place of those of a first page say what page this is, its way up and whether it
is mirrored (``drafted``); the ticks of its ruler lines are measured next (``rulers``). A bank
``card`` or the ``graduation`` of a ruler tells what the scanner does itself (``glass``). A ``photo``
is laid flat by the page's own marks first, through its ``lens``. What all this says of the print is
for ``judging``. No size is ever taken for the nearest round one: either the whole pattern of a first
page is there, or a size is clearly ``written`` in a square, or the person says what to expect.

All modules that need numpy lie in this room. Points are rows of x and y; pixels count from the centre
of the upper left one, y down; in mm on the page y is up.
"""
