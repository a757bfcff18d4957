"""A strip that is longer than its cloth is wide is cut in sections, and these are what is drawn.

The closed strip is a ``ring`` with the garment's seams in their places. The ``plan`` joins the sections at
these: at as few as the cloth allows, never at CF, nor at a sharp corner that the strip runs round. A stretch
between two garment seams that is too long even so is cut in equal parts. ``cutting`` makes ``section`` records
of that: ends, notches, which are alike. ``strips`` gives each the figures of a strip of its own, so all that
draws, labels, nests or proves a strip does so with a section. Every size has the plan that its own length asks
for; sizes whose sections are of one name and kind are nested, others stand apart.
"""
