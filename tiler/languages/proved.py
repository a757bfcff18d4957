"""What pages and pieces say that the proof reads: one template each for the writer and the witness."""

from __future__ import annotations

from tiler.languages.catalogue import noted

CUT = {"on-fold": noted("cut {count} on fold"), "full-loop": noted("cut {count} full length")}
"""How often a strip is cut, and how."""

SIZE, SIZES = noted("size {size}"), noted("sizes {sizes}")
FROM_FOLD = noted("{length} from the fold")
CUT_SIZE = noted("cut {length} × {width}")
CUT_WIDTH = noted("cut width {width}")
FINISHED_WIDTH = noted("finished width {width}")
GARMENT_EDGE = noted("garment edge: stitch {length} from it")
FINISHED_EDGE = noted("finished edge: sew the layers together {length} from it")
"""How both edges of a contour band are sewn."""

BUTTONHOLE = noted("1 buttonhole, {hole} long")
BUTTONHOLES = noted("{count} buttonholes, {hole} long, {apart} apart")
"""What a label says of the buttonholes of its piece."""

SPAN = noted("{first} to {last}")
"""From what of the first size to what of the last."""

LENGTHS_BY_SIZE, SIZE_HEAD, FROM_THE_FOLD = noted("Cut lengths by size"), noted("Size"), noted("from the fold")
"""Head a table of what each size is cut to, its rows, and a column of halves."""

PAGE = noted("page {number} of {pages}")
ON_PAGES = noted("on {pages}")
PAGE_IN_FILE = noted("page {numbers} of {all} in this file, on {paper}")
PAGES_IN_FILE = noted("pages {numbers} of {all} in this file, on {paper}")
"""Where the pages that join a pattern stand in the whole file."""

PAGE_OF_SIZE, PAGES_OF_SIZE = noted("page {numbers} ({codes})"), noted("pages {numbers} ({codes})")
"""What is printed for a size: the numbers in the file, with the codes that stand on the pages."""

OTHER_NOTES, OTHER_CHECKS = noted("Other notes: page {number}."), noted("Other checks: page {number}.")
"""Where the notes and checks go on that the first page has no room for."""

MAP_PAGE, MAP_CODES = noted("page {number}"), noted("page {number}: {codes}")
"""Of a page with panes, above its picture on the map, or with the codes of its panes where that has no room."""

SIZES_HEAD = noted("Pages of each size, besides page {number}")
TEST_SQUARE = noted("test square")
"""Stands in every test square below its size."""

SQUARES_NAMED = (TEST_SQUARE, "Testquadrat", "carré de contrôle", "cuadrado de prueba", "testvierkant")
"""The same in every language: a file that was rewritten no longer says which one is its own."""

ONLY_FOR = noted("Only for the printer {printer}")
"""Every page of a compensated file says so."""
