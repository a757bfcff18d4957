"""Pages to read, over which a story flows, with head, foot and number on each; page mm.

A document in two languages has all its pages in the leading one, then all again in the other.
"""

from __future__ import annotations

import sys
from collections import deque
from collections.abc import Callable, Iterable, Sequence
from io import BytesIO
from typing import Any, NamedTuple

from tiler.box import Box
from tiler.languages.proved import PAGE
from tiler.languages.words import languages, say, speaking
from tiler.sheets.canvas import Canvas
from tiler.sheets.flow import (
    ALL,
    BaseDocTemplate,
    Flowable,
    Frame,
    NextPageTemplate,
    PageBreak,
    PageTemplate,
    gap,
    height,
    paragraph,
    table,
)
from tiler.sheets.style import HAIR
from tiler.sheets.typesetting import MM

CLOSE = 4.0
"""Pages are equally full to so much, mm."""

NUMBER = 30.0
"""Room for the number of a page."""


class Flowed(NamedTuple):
    """A PDF, and the number of the first page of each of its parts."""

    file: BytesIO
    begins: Sequence[int]

    def outline(self, titles: Iterable[str]) -> list[tuple[str, int]]:
        """Return the titles of the parts with their pages; none where there is one part."""
        return list(zip(titles, self.begins, strict=True)) if len(self.begins) > 1 else []


class _Part(NamedTuple):
    """Pages in the same languages, and between which heights their story stands, mm: down to ``low``, if it can."""

    spoken: tuple[str, ...]
    top: float
    bottom: float
    low: float


def flowed(
    page: Box,
    room: Box,
    story: Callable[[Canvas], Sequence[Flowable]],
    head: Callable[[], Sequence[Flowable]] = tuple,
    foot: Callable[[], str] = str,
    balanced: bool = False,
    expected: int = 1,
    apart: bool = False,
    **facts: str,
) -> Flowed:
    """Return a PDF of as many pages as the story takes, within ``room`` on each.

    Head and foot stand on every page, the foot with the number of the page.  ``balanced`` pages
    are about equally full.  ``expected`` is how many there will likely be, which saves setting them
    twice.  ``apart`` tells all in the leading language, then all again on pages in the other one.
    ``facts`` are what the document says of itself: title, creator.
    """
    parts, total = [], 0 if balanced else expected
    for spoken in [(one,) for one in languages()] if apart else [languages()]:
        with speaking(*spoken):
            top, bottom = room.y1 - height(head(), room.width), room.y0 + foot_height(foot(), room.width)
            count, low = _shared_out(story(Canvas()), room.width, top, bottom) if balanced else (0, bottom)
        parts.append(_Part(spoken, top, bottom, low))
        total += count

    def built(total: int, parts: Sequence[_Part]) -> tuple[Flowed, int]:
        canvas, whole, begins = Canvas(), list[Flowable](), dict[_Part, int]()

        def template(part: _Part) -> PageTemplate:
            other = part.spoken[0] != languages()[0]

            def begin(pdf: Any, pages: Any) -> None:
                begins.setdefault(part, pages.page)
                canvas.begin_page(page.width, page.height)
                if other:
                    canvas.begin_language(part.spoken[0])
                with speaking(*part.spoken):
                    _frame(room, part.top, room.y1).addFromList(list(head()), pdf)
                    _frame(room, room.y0, part.bottom).addFromList(
                        _numbered(foot(), pages.page, total, room.width), pdf
                    )

            def end(_pdf: Any, _pages: Any) -> None:
                if other:
                    canvas.end_language()

            return PageTemplate(part.spoken[0], _frame(room, part.low, part.top), begin, end)

        for part in parts:
            whole += [NextPageTemplate(part.spoken[0]), PageBreak()] if whole else []
            with speaking(*part.spoken):
                whole += story(canvas)
        pages = BaseDocTemplate(None, pageTemplates=list(map(template, parts)), **facts)
        return Flowed(canvas.flowed(pages, whole), list(begins.values())), pages.page

    data, found = built(total, parts)
    # only the foot says how many pages there are
    while (foot is not str or balanced) and found != total:
        total, parts = found, [part._replace(low=part.bottom) for part in parts]
        data, found = built(total, parts)
    return data


def _shared_out(laid: Sequence[Flowable], width: float, top: float, bottom: float) -> tuple[int, float]:
    """Return how many pages a story takes, and how low they go where they are about equally full."""
    low, total, spare = bottom, _pages(laid, width, top - bottom), bottom + (top - bottom) / 2
    while total > 1 and spare - low > CLOSE:
        middle = (low + spare) / 2
        fits = _pages(laid, width, top - middle) <= total
        low, spare = (middle, spare) if fits else (low, middle)
    return total, low


def foot_height(foot: str, width: float) -> float:
    """Return what the foot of a page takes."""
    return height(_numbered(foot, 1, 1, width), width)


def _numbered(foot: str, number: int, total: int, width: float) -> list[Flowable]:
    if not foot:
        return []
    words = [paragraph(foot), paragraph(say(PAGE, number=number, pages=total), right=True)]
    look = (("VALIGN", *ALL, "BOTTOM"), ("LINEABOVE", *ALL, HAIR), ("TOPPADDING", *ALL, 1.0))
    return [gap(3.0), table([words], [width - NUMBER, NUMBER], *look)]


def _pages(story: Sequence[Flowable], width: float, high: float) -> int:
    """Count the pages that a story takes, as platypus lays it out; more than any where something has no room.

    What it takes for an estimate, :func:`flowed` makes sure of.
    """
    count, left, todo = 1, high * MM, deque(story)
    while todo:
        one = todo.popleft()
        before = one.getSpaceBefore() if left < high * MM else 0.0
        _, size = one.wrap(width * MM, left - before)
        if isinstance(one, PageBreak):
            count, left = count + bool(todo), high * MM
        elif size + before <= left:
            left -= size + before + one.getSpaceAfter()
        else:
            parts = one.split(width * MM, left - before)
            if not parts and left >= high * MM:
                return sys.maxsize
            todo.extendleft(reversed(parts[1:] if parts else [one]))
            count, left = count + 1, high * MM
    return count


def _frame(room: Box, bottom: float, top: float) -> Frame:
    return Frame(room.x0 * MM, bottom * MM, room.width * MM, (top - bottom) * MM, 0, 0, 0, 0)
