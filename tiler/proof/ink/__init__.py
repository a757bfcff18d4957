"""The ink of rendered pages, of ours against all that is declared to be printed; pixels and mm.

``replica`` draws the declaration again, without anything of the writer: a plain PDF of the
declared marks in the house's own fonts. The same engine (``rendering``) renders it and the
file, and ``comparison`` holds one against the other, grey by grey. What is dark and explained
by no declared mark is as much a fault as a declared mark that is missing, pale, covered or
elsewhere. ``where`` says which mark lies at a place. Pages that are not ours have no such
declaration: there the ink of each side of a square is looked for (``pixels``, and
``tiler.proof.foreign.side_ink``).
"""
