"""What a file that is drafted is, by its name: pages as a PDF, or a drawing on one plane as SVG."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from tiler.errors import SpecError
from tiler.sentence import Place

DRAWN_AS = (".pdf", ".svg")
"""What the names of files that are drafted end in."""


def is_drawing(file: Path) -> bool:
    """Tell whether a file is to be a drawing for vector editors and cutting plotters, and no pages."""
    return file.suffix.lower() == ".svg"


def refuse_of_pages(asked: Mapping[str, bool]) -> None:
    """Raise :class:`SpecError` for the first option that is asked for although it is about pages."""
    for option, given in asked.items():
        if given:
            raise SpecError("is about printed pages, and an SVG has none; leave it out, or write a PDF", Place(option))
