"""What pages and pieces say that the proof reads: one template each for the writer and the witness."""

from __future__ import annotations

from tiler.languages.catalogue import noted

CUT = {"on-fold": noted("cut {count} on fold"), "full-loop": noted("cut {count} full length")}
"""How often a strip is cut, and how."""

SIZE, SIZES = noted("size {size}"), noted("sizes {sizes}")
FROM_FOLD = noted("{length} from the fold")
CUT_SIZE = noted("cut {length} × {width}")
CUT_WIDTH = noted("cut width {width}")
SPAN = noted("{first} to {last}")
"""From what of the first size to what of the last."""

LENGTHS_BY_SIZE, SIZE_HEAD, FROM_THE_FOLD = noted("Cut lengths by size"), noted("Size"), noted("from the fold")
"""Head a table of what each size is cut to, its rows, and a column of halves."""

PAGE = noted("page {number} of {pages}")
ON_PAGES = noted("on {pages}")
TEST_SQUARE = noted("test square")
"""Stands in every test square below its size."""

SQUARES_NAMED = (TEST_SQUARE, "Testquadrat", "carré de contrôle", "cuadrado de prueba", "testvierkant")
"""The same in every language: a file that was rewritten no longer says which one is its own."""

ONLY_FOR = noted("Only for the printer {printer}")
"""Every page of a compensated file says so."""
