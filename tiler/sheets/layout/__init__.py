"""Where pieces lie on the sheet, how it is cut into pages and panes, and where these meet; sheet mm.

``choose`` weighs a ``grid`` of pages to tape against strips that are cut across (``cutting``)
and whose parts lie side by side (``stack``), and takes what needs fewer pages; ``one_sheet``
is one page for a copy shop, packed below a ``skyline``. A tile is printed only when it shows something that its
printed neighbours do not. ``marks`` puts register marks where neighbours meet.
"""
