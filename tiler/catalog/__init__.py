"""All that stands round the pages of a PDF; the only package that imports pypdf.

``ours`` gives a file of ours its catalog, ``base`` puts our pages into a PDF of somebody else.
"""

from tiler.catalog.ours.document import finish_chart, finish_document, finish_leaflet

__all__ = ["finish_chart", "finish_document", "finish_leaflet"]
