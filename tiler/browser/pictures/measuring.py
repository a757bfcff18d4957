"""Small drawings of where to measure, beside the fields that ask for it; files of the page, one for each field."""

from __future__ import annotations

from functools import cache
from pathlib import Path

FOLDER = Path(__file__).parent.parent / "static" / "where"

SAME = {"pulled": "rest", "garment-rest": "rest", "garment-pulled": "rest", "free-after": "free-before"}
"""Fields that are measured at the place of another one, which shows both."""


@cache
def where_to_measure(name: str) -> str:
    """Return the name of the drawing for a field; empty where there is none."""
    shown = SAME.get(name, name)
    return shown if (FOLDER / f"{shown}.svg").is_file() else ""


@cache
def drawing(name: str) -> str:
    """Return a drawing as a part of the page, so that the page's style colours it."""
    # within a page the space of names is known
    return (FOLDER / f"{name}.svg").read_text(encoding="utf-8").replace(' xmlns="http://www.w3.org/2000/svg"', "")
