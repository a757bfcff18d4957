"""A drawn piece gets its words, and sizes are drawn within each other; piece mm.

Words stand in ``rows`` between the long lines of the strip; the ``label`` stands in columns
with white between them, so that a strip can be cut there; names of notches without room
inside hang below as ``notch_flags``. In a ``nest`` each size stays a whole piece with a form,
a declaration and a layer of its own; what all sizes share in words is a form on a layer
besides.
"""
