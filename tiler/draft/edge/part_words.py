"""What the parts of an edge, and the edges themselves, are called."""

from __future__ import annotations

from tiler.languages.catalogue import noted
from tiler.languages.words import Words

PARTS = {
    "front-half": noted("front half"),
    "back-half": noted("back half"),
    "front": noted("front"),
    "back": noted("back"),
    "whole": noted("whole"),
}
ALONG = {
    "front-half": noted("along the front half"),
    "back-half": noted("along the back half"),
    "front": noted("along the front"),
    "back": noted("along the back"),
    "whole": noted("along the whole edge"),
}
"""A phrase each: other languages decline the part, or join it to the word before."""

CURVES = {
    "front-half": noted("along the curve of the front half as drawn"),
    "back-half": noted("along the curve of the back half as drawn"),
    "front": noted("along the curve of the front as drawn"),
    "back": noted("along the curve of the back as drawn"),
    "whole": noted("along the curve as drawn"),
}
EDGES = {
    "neckline": noted("neckline seam line"),
    "armhole": noted("armhole seam line"),
    "leg": noted("leg opening seam line"),
    "straight": noted("straight seam line"),
    "curved": noted("curved seam line"),
}


def part_words(name: str, listed: bool = False) -> str:
    """Return the name of a part as people read it: ``front half``; of one that is ``listed`` it is the spec's own."""
    return name if listed else Words(PARTS[name])


def along_words(name: str, listed: bool = False) -> Words:
    """Say that something is so along a part: ``along the front half``."""
    return Words("along the part “{name}”", name=name) if listed else Words(ALONG[name])


def curve_words(name: str) -> Words:
    """Say that something is so along the curve of a part that is drawn."""
    return Words(CURVES[name])


def edge_words(kind: str) -> Words:
    """Return what an edge of a kind is called on its seam line: ``neckline seam line``."""
    return Words(EDGES[kind])
