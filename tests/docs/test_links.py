"""Links and pictures of the README and the guide: nothing leads nowhere, and no picture is left over."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pypdfium2 as pdfium
import pytest

from tests.docs.pages import PAGES, ROOT, TEXTS, script
from tiler.draft.strip.finish import Finish
from tiler.sheets.canvas import Canvas


def anchors(text: str) -> set[str]:
    """Give the anchors that a page's headings get: small letters, no punctuation, hyphens for spaces."""
    return {
        re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-")
        for heading in re.findall(r"^#+ (.+)$", text, re.MULTILINE)
    }


def pictures(page: Path, text: str) -> Iterator[Path]:
    return ((page.parent / source).resolve() for source in re.findall(r'<img src="([^"]+)"', text))


def broken_links(page: Path, text: str) -> list[str]:
    broken = []
    for target in re.findall(r"\]\(([^)\s]+)\)", re.sub(r"\s+", " ", text)):
        name, _, anchor = target.partition("#")
        if name.startswith("https://"):
            continue
        to = (page.parent / name).resolve() if name else page
        if not to.is_file() or (anchor and anchor not in anchors(to.read_text(encoding="utf-8"))):
            broken.append(target)
    return broken


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.name)
def test_links_and_pictures_are_there(page: Path) -> None:
    text = TEXTS[page.name]
    assert broken_links(page, text) == []
    assert [str(picture) for picture in pictures(page, text) if not picture.is_file()] == []
    assert re.findall(r"<img (?!src=\"[^\"]+\" width=\"\d+\" alt=\"[^\"]+\">)[^>]*>", text) == []


def test_every_picture_is_shown() -> None:
    shown = {picture for page in PAGES for picture in pictures(page, TEXTS[page.name])}
    assert shown == {picture.resolve() for picture in (ROOT / "examples" / "pictures").glob("*.png")}


def test_every_picture_is_made_by_the_script(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(ROOT / "examples")
    making = script("make_pictures")
    made = {
        *making.SHOWN,
        *script("make_screenshots").SHOWN,
        *(f"{finish}.png" for finish in Finish),
        *(name for name, _ in making.drawings()),
    }
    assert made == {picture.name for picture in (ROOT / "examples" / "pictures").glob("*.png")}


def test_the_drawings_of_the_guide_keep_their_words_on_the_page() -> None:
    canvas, drawings = Canvas(), list(script("draw_guide").drawings())
    for _, draw in drawings:
        draw(canvas)
    pages = pdfium.PdfDocument(canvas.finish().getvalue())
    assert len(pages) == len(drawings)
    for page in pages:
        words = page.get_textpage()
        wide, high = page.get_size()
        assert words.count_chars() > 20
        for index in range(words.count_chars()):
            left, low, right, top = words.get_charbox(index)
            assert left >= 0
            assert low >= 0
            assert right <= wide
            assert top <= high


def test_every_page_leads_on() -> None:
    alone = [page.name for page in PAGES if not re.search(r"\]\([^)]*\.md", TEXTS[page.name])]
    assert alone == []


def test_a_broken_link_is_found() -> None:
    text = "# A b, `c d`\n[one](#a-b-c-d) [two](#a-b) [three](no.md)\n[four](fonts/LICENSE.txt)"
    page = ROOT / "README.md"
    assert anchors(text) == {"a-b-c-d"}
    assert broken_links(page, text.replace("(#a-b-c-d)", "(#setting-up)")) == ["#a-b", "no.md"]
