"""A drawing for vector editors and cutting plotters, read back and held against the record of what was drawn.

The record is that of the PDF (:class:`tiler.declaration.Declaration`), with one page without a window.
Only what this room knows may stand in the file: groups, paths and texts with the attributes that
say where and how they are painted.  Anything else might move, hide or scale them in some program.
"""
