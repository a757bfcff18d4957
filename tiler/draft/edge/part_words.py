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
EDGES = {
    "neckline": noted("neckline seam line"),
    "armhole": noted("armhole seam line"),
    "straight": noted("straight seam line"),
    "curved": noted("curved seam line"),
}


def part_words(name: str) -> Words:
    """Return the name of a part as people read it: ``front half``."""
    return Words(PARTS[name])


def edge_words(kind: str) -> Words:
    """Return what an edge of a kind is called on its seam line: ``neckline seam line``."""
    return Words(EDGES[kind])
