"""A drawn piece gets its words, and sizes are drawn within each other; piece mm.

Words stand between the lines along the strip, in ``rows`` of small type; the ``label`` stands
as one block, in the sizes of the house, and goes down to smaller type and fewer words where it
has no room.  Names of notches stand below in one row (``tag_row``), or where they crowd as
``notch_flags``.  In a ``nest`` every line is drawn once: each size has a form and a layer with
its end, its notches, its tags in that row (``size_tags``) and its row of the ``size_table``;
what all or some sizes share (``shared_lines``) is a form that shows with any of them.
"""
