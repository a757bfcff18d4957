"""One piece stated by options: what ``tiler band`` and ``tiler binding`` take, and how they draft it."""
