"""The look: enough contrast in the light and in the dark (WCAG 2.2, 1.4.3 and 1.4.11), nothing from elsewhere."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import tiler.browser

HERE = Path(tiler.browser.__file__).parent
CSS = (HERE / "static" / "page.css").read_text(encoding="utf-8")
LIGHT, DARK = (
    dict(re.findall(r"--([a-z-]+): (#[0-9a-f]{6});", block)) for block in re.findall(r":root \{(.*?)\}", CSS, re.DOTALL)
)
TEXTS = [
    ("ink", "ground"),
    ("ink", "sheet"),
    ("soft", "ground"),
    ("soft", "sheet"),
    ("thread", "ground"),
    ("thread", "sheet"),
    ("on-thread", "thread"),
    ("warn", "warn-ground"),
    ("wrong", "wrong-ground"),
    ("right", "right-ground"),
]
LINES = [("line", "ground"), ("line", "sheet"), ("thread", "ground"), ("wrong", "sheet")]


def luminance(colour: str) -> float:
    """Give the relative luminance of a colour, as WCAG 2.2 defines it."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_that_of_the_standard() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    # a grey that is widely known to pass just so: 4.54
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=["light", "dark"])
def test_texts_and_lines_have_enough_contrast(theme: dict[str, str]) -> None:
    assert {pair for pair in TEXTS if contrast(theme[pair[0]], theme[pair[1]]) < 4.5} == set()
    assert {pair for pair in LINES if contrast(theme[pair[0]], theme[pair[1]]) < 3} == set()


def test_both_themes_have_the_same_colours() -> None:
    assert LIGHT.keys() == DARK.keys()
    assert LIGHT
    assert set(re.findall(r"var\(--([a-z-]+)\)", CSS)) <= LIGHT.keys()


def test_nothing_is_asked_of_anybody_else() -> None:
    for file in HERE.rglob("*.*"):
        if file.suffix in (".html", ".css", ".js"):
            text = file.read_text(encoding="utf-8")
            assert not re.search(r"https?:|@import|eval\(|\bon[a-z]+=", text), file.name
            assert not re.search(r"(src|href|url)[=(]\"?//", text), file.name
