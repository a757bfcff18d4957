"""Faults planted one at a time into a drawn page, each reported; and what the sheets take from the scales.

The partners of ``test_pages.py`` and ``test_leaflets.py``: without them the checks might never fail.
"""

from __future__ import annotations

import ast
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pymupdf
import pytest

from tests.chosen import long
from tests.look.faults import _shown, page_faults, style_faults
from tests.look.printed import Area, Stroke, printed
from tests.sheets.jobs import EXAMPLES, drawn_once

SHEETS = Path(__file__).parents[2] / "tiler" / "sheets"
POINT = 72 / 25.4


@pytest.fixture(scope="module")
def sound() -> bytes:
    return drawn_once((EXAMPLES / "saltmarsh-crew.toml").read_text("utf-8")).data


def place(page: Any, word: str) -> Any:
    return page.search_for(word)[0]


def word(text: str, size: float = 8.0, grey: float = 0.0) -> Callable[[Any], None]:
    """Write a word where nothing else stands."""
    return lambda page: page.insert_text((300, page.rect.y1 - 25), text, fontsize=size, color=(grey,) * 3)


def on_another(page: Any) -> None:
    box = place(page, "Print this page")
    page.insert_text((box.x0 + 20, box.y1), "lost", fontsize=8)


def off_page(page: Any) -> None:
    page.insert_text((page.rect.x1 - 10, page.rect.y1 - 25), "outside", fontsize=8)


def crossed(page: Any) -> None:
    box = place(page, "test square")
    middle = (box.y0 + box.y1) / 2
    page.draw_line((box.x0 - 9, middle), (box.x1 + 9, middle), width=0.25 * POINT)


def crossed_slantwise(page: Any) -> None:
    box = place(page, "2 Measure")
    page.draw_line((box.x0, box.y0), (box.x1, box.y1), width=0.18 * POINT)


def weight(page: Any) -> None:
    page.draw_line((300, page.rect.y1 - 25), (330, page.rect.y1 - 25), width=0.3 * POINT)


def pale(page: Any) -> None:
    page.draw_rect((300, page.rect.y1 - 30, 330, page.rect.y1 - 20), color=None, fill=(0.95,) * 3)


FAULTS = {
    "on 'lost'": on_another,
    "off the page: 'outside'": off_page,
    "'test square' crossed": crossed,
    "'2 Measure' crossed": crossed_slantwise,
    "type of 6 pt": word("small", size=6.0),
    "grey type": word("grey", grey=0.4),
    "a line of 0.300 mm": weight,
    "a grey of 0.95": pale,
    "the letter x": word("2 x 3 in"),
    "a quote for a prime": word('square of 2"'),
    "a fraction on one line": word("cut 5 3/8 in"),
    "a hyphen for a minus": word("ease of -2 %"),
}


@pytest.mark.parametrize("said", FAULTS)
def test_a_planted_fault_is_reported(sound: bytes, said: str) -> None:
    with pymupdf.open(stream=sound, filetype="pdf") as pdf:
        FAULTS[said](pdf[0])
        data = pdf.tobytes()
    before, after = (next(printed(one)) for one in (sound, data))
    assert [*page_faults(before), *style_faults(before)] == []
    assert any(said in fault for fault in (*page_faults(after), *style_faults(after)))


NUMBERS = {"text": 2, "stroke": 1, "outline": 1, "shade": 1, "clear": 1, "text_width": 1, "shortened": 2, "wrapped": 2}
"""Which argument of a drawing call is a size of type, a line weight or a grey."""


def own_numbers(source: str) -> Iterator[str]:
    """Find drawing calls that state such a number themselves."""
    for node in ast.walk(ast.parse(source)):
        if isinstance(node, ast.Call):
            name = getattr(node.func, "attr", getattr(node.func, "id", ""))
            given = [*node.args[NUMBERS[name] : NUMBERS[name] + 1]] if name in NUMBERS else []
            given += [one.value for one in node.keywords if one.arg in ("size", "weight", "grey")]
            for one in given:
                if any(isinstance(part, ast.Constant) and not isinstance(part.value, str) for part in ast.walk(one)):
                    yield f"{node.lineno}: {ast.unparse(node)}"


def test_every_line_of_a_paragraph_is_looked_at() -> None:
    """MuPDF gives the lines of a paragraph as one run of letters; the second of these lies on other words."""
    with pymupdf.open() as pdf:
        page = pdf.new_page(width=300, height=200)
        page.insert_text((100, 58), "below", fontsize=8)
        stream = b"BT /helv 8 Tf 11 TL 1 0 0 1 20 150 Tm (One line) Tj T* (and a longer second one that meets) Tj ET"
        place = pdf.get_new_xref()
        pdf.update_object(place, "<<>>")
        pdf.update_stream(place, stream)
        pdf.xref_set_key(page.xref, "Contents", f"[{page.get_contents()[0]} 0 R {place} 0 R]")
        data = pdf.tobytes()
    (shown,) = printed(data)
    assert [words.text for words in shown.words] == ["below", "One line", "and a longer second one that meets"]
    assert page_faults(shown) == ["page 1: 'below' on 'and a longer second one that meets'"]


def test_of_a_slanted_line_only_what_its_frame_shows_crosses_words() -> None:
    frame = Area(0.0, 0.0, 100.0, 100.0)
    stroke = Stroke(0.18, 0.0, ((90.0, 80.0, 110.0, 120.0), (120.0, 0.0, 130.0, 9.0)), frame)
    assert list(_shown(stroke)) == [(90.0, 80.0, 100.0, 100.0)]


@long
def test_the_sheets_take_sizes_weights_and_greys_from_the_house_style() -> None:
    assert [
        f"{path.name}:{call}" for path in sorted(SHEETS.rglob("*.py")) for call in own_numbers(path.read_text("utf-8"))
    ] == []


@pytest.mark.parametrize(
    "call",
    ["canvas.text(at, words, 9.5)", "canvas.stroke(lines, WEIGHT * 1.1)", "shade(box, 0.9)", "text_width(t, size=7)"],
)
def test_a_number_of_its_own_is_found(call: str) -> None:
    assert len(list(own_numbers(call))) == 1
