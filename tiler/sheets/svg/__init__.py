"""Pieces become an SVG drawing for vector editors and cutting plotters (SVG 1.1, W3C); mm.

The pieces lie on one plane, without pages, frames and marks, below a heading with both test
squares.  They are drawn on the same canvas as the pages of a PDF, for its record of all that it
paints: ``markup`` writes that record, and the proof holds the file against it.

One user unit is 1 mm.  Each piece in each size is a group, and so are the lines that several sizes
share; in it lines stand in groups that are called as the marked content of a PDF
(:class:`tiler.declaration.Tag`).  Every coordinate is written as it is, without transforms of
groups, and every colour and weight is an attribute, since not every program reads style sheets.
"""
