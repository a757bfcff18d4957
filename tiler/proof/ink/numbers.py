"""The page numbers that the first page gives, held against the declared pages: those of the whole file."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from tiler.declaration import ALONE, Declaration, PageKind, printed_pages
from tiler.languages.proved import (
    MAP_CODES,
    MAP_PAGE,
    OTHER_CHECKS,
    OTHER_NOTES,
    PAGE_IN_FILE,
    PAGE_OF_SIZE,
    PAGES_IN_FILE,
    PAGES_OF_SIZE,
    SIZES_HEAD,
)
from tiler.languages.words import Words, pattern
from tiler.printed import Word
from tiler.sentence import span

_NUMBERS = r"(?P<numbers>\d+(–\d+)?(, \d+(–\d+)?)*)"
_ANY = ".*"


def number_faults(declaration: Declaration, words: Sequence[Word]) -> Iterator[str]:
    """Name what the first page says of page numbers otherwise than it is; ``words`` are all of that page."""
    host, count = declaration.place, len(printed_pages(declaration.pages))
    texts = [word.text.replace("\u00a0", " ") for word in words]
    whole = [(span(*(str(host.number(page)) for page in (1, count))), str(host.count(count)))]
    said = _found(texts, (PAGE_IN_FILE, PAGES_IN_FILE), numbers=_NUMBERS, all=r"(?P<all>\d+)", paper=_ANY)
    told = [(one["numbers"], one["all"]) for one in said]
    # a page of pieces alone gives no more than its own number, at its foot
    alone = host == ALONE or (not told and declaration.pages[0].kind is not PageKind.COVER)
    if told != ([] if alone else whole):
        yield Words("the page numbers of the pieces")
    heads = _found(texts, (SIZES_HEAD,), number=r"(?P<number>\d+)")
    if any(int(one["number"]) != host.number(1) for one in heads):
        yield Words("the pages of the sizes")
    others = _found(texts, (OTHER_NOTES, OTHER_CHECKS), number=r"(?P<number>\d+)")
    if any(int(one["number"]) != host.number(2) for one in others):
        yield Words("the page of other notes")
    yield from _map_faults(declaration, texts)
    for one in _found(texts, (PAGE_OF_SIZE, PAGES_OF_SIZE), numbers=_NUMBERS, codes="(?P<codes>.+)"):
        numbers = _numbers(one["numbers"])
        if numbers != _coded(declaration, one["codes"], numbers):
            yield Words("the pages of the sizes")


def _map_faults(declaration: Declaration, texts: Sequence[str]) -> Iterator[str]:
    """Name the page map where it numbers pages of panes, or gives them codes, otherwise than they are."""
    panes = {
        declaration.place.number(records[0].number): " ".join(one.code or "" for one in records)
        for records in printed_pages(declaration.pages)
        if records[0].kind is PageKind.PANE
    }
    pictured = [int(one["number"]) for one in _found(texts, (MAP_PAGE,), number=r"(?P<number>\d+)")]
    coded = _found(texts, (MAP_CODES,), number=r"(?P<number>\d+)", codes="(?P<codes>.+)")
    wrong = panes and pictured and sorted(pictured) != sorted(panes)
    if wrong or not all(panes.get(int(one["number"]), "").startswith(one["codes"]) for one in coded):
        yield Words("the page map")


def _found(texts: Sequence[str], templates: Sequence[str], **fields: str) -> list[re.Match[str]]:
    ways = [re.compile(pattern(template, **fields)) for template in templates]
    return [match for text in texts for way in ways if (match := way.fullmatch(text))]


def _numbers(said: str) -> list[int]:
    """Return the numbers of a list with spans: ``3, 5–7``."""
    ends = [[int(end) for end in part.split("–")] for part in said.split(", ")]
    return [number for part in ends for number in range(part[0], part[-1] + 1)]


def _coded(declaration: Declaration, said: str, numbers: Sequence[int]) -> list[int]:
    """Return the numbers in the file of pages by their codes; of panes, whose codes are not given, those of ours."""
    host = declaration.place
    if any(page.kind is PageKind.PANE for page in declaration.pages):
        ours = {host.number(page.number) for page in declaration.pages if page.code}
        return [number for number in numbers if number in ours]
    codes = {page.code: host.number(page.number) for page in declaration.pages if page.code}
    parts = [part.split("–") for part in said.split(", ")]
    if not all(code in codes for part in parts for code in part):
        return []
    return [number for part in parts for number in range(codes[part[0]], codes[part[-1]] + 1)]
