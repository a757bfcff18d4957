"""What the proof allows, in one place; mm unless said.  All of these are our own choices."""

VECTOR = 0.02
"""A line that is drawn further from its place than this is out of place."""

MISPLACED = 1.0
"""Frame, marks, squares and rules that stand further off on the page than this fail; less is a warning."""

SCALE = 0.001
"""Share by which a square or a rule may differ from its nominal size."""

FOREIGN_SCALE = 0.0025
"""The same for the squares of files that are not ours."""

PIXEL = 0.254
"""One pixel of the rendering at 100 dots per inch: as near as short and curved lines can be placed."""

DASHED_SHARE = 0.4
"""Least share of a dashed line that is ink."""

FAINTEST = 0.1
"""The least weight of a line that is relied on: a thinner one may not print."""

LEAST_CONTRAST = 4.5
"""Of a coloured line or word on white: what type for reading needs (WCAG 2.2, 1.4.3)."""
