"""A drawn piece gets its words, and sizes are drawn within each other; piece mm.

Words stand in ``rows`` between the long lines of the strip; the ``label`` stands in columns
with white between them, so that a strip can be cut there; names of notches without room
inside hang below as ``notch_flags``. In a ``nest`` every line is drawn once: each size has a
form and a layer with its end, its notches, its tags (``tag_row``) and its row of the
``size_table``; what all or some sizes share (``shared_lines``) is a form that shows with any of them.
"""
