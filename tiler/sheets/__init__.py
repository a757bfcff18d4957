"""Pieces become a PDF: lettered, laid out, drawn page by page, and declared; mm until the canvas takes over.

Every page is upright with a direct MediaBox at the origin. A strip that wants the long
side of the paper is turned on the sheet, never on the page. Each piece is one Form
XObject with explicit bounds, painted on every tile that it touches, under a clip at the
window.

Parts stand in marked content, one ``BMC … EMC`` each, never nested, since readers keep
only one level: ``CutLine FoldLine PressLine JoinLine Notch StretchArrow`` in a piece,
``TestSquare Rule RegisterMark PageFrame TileCode`` on a page. ``PageFrame`` is exactly the
edge of the window. The names are :class:`tiler.declaration.Tag`.

A page shows one window of the sheet, a tile, or several, its panes, which have a record
each with the number of their page. Panes are told apart by the order of painting: what
comes up to a page frame, since the one before, belongs to that frame alone; what comes
after the last belongs to the page.

Every size of type, line weight and grey comes from ``style``; a drawing call states none
itself, and a test reads the source and the pages for it. A new kind of mark or word
belongs into ``tests/look`` first.

``svg`` lays the same pieces on one plane and writes what the canvas records of them as a drawing.
"""
