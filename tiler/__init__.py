"""True-scale pattern pieces for bands and bindings: drafted, tiled, proved."""

__version__ = "0.1.0"
