"""Squares and ruler lines of any PDF, however they are drawn; mm.

Straight ``sides`` are put together to squares (``quadrangle``) and ruler lines
(``ruler_ticks``, ``graduated``); words near by name the size (``size_words``, ``labelled``);
each side is looked for in the rendered page (``side_ink``), and only what is there counts.
The nearest round size is offered as a guess and never believed. ``tests/proof/foreign.py``
draws such files in many ways: a way that is not found belongs there first.
"""
