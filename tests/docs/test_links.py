"""Links and pictures of the README and the guide: nothing leads nowhere, and no picture is left over."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.docs.pages import PAGES, ROOT, TEXTS


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


def test_every_page_leads_on() -> None:
    alone = [page.name for page in PAGES if not re.search(r"\]\([^)]*\.md", TEXTS[page.name])]
    assert alone == []


def test_a_broken_link_is_found() -> None:
    text = "# A b, `c d`\n[one](#a-b-c-d) [two](#a-b) [three](no.md)\n[four](fonts/LICENSE.txt)"
    page = ROOT / "README.md"
    assert anchors(text) == {"a-b-c-d"}
    assert broken_links(page, text.replace("(#a-b-c-d)", "(#setting-up)")) == ["#a-b", "no.md"]
