"""All that stands round the pages of a PDF; the only package that imports pypdf.

``entries`` gives a file of ours its catalog.  ``survey`` says what an existing pattern
PDF holds, ``forecast`` what of it outlives joining and which files are refused, ``join``
puts our pages into it.
"""

from tiler.catalog.ours.document import finish_chart, finish_document, finish_leaflet

__all__ = ["finish_chart", "finish_document", "finish_leaflet"]
