"""A PDF read page by page: boxes, strokes, texts and curves; mm, y up.

Reading is most of what a draft takes, so three things are done in fewer steps than the
library does them, each held against it in ``tests/reading``: a content stream of plain
objects is taken apart by one expression (``operators``; any other is left to pdfminer
whole), a printed character is kept as little more than its box (``text``), and a form that
lies on many pages is read once (``forms``). What one page may paint is counted while it is
interpreted (``painting``); references that lead in a circle end (``objects``).
"""
