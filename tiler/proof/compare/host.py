"""Our pages inside a longer file: together and in their place; the others are judged in ``others``.

Which pages are ours is seen from what is printed on them.  Only then is it compared
with what the declaration says of the pattern that they were added to.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.declaration import Declaration
from tiler.proof.report.verdict import PASS, WARN, Check
from tiler.proof.seen.page import PageSeen


def compare_host(declaration: Declaration, ours: Sequence[PageSeen], pages: int) -> Iterator[Check]:
    """Hold where our pages stand among all ``pages`` of the file."""
    numbers = [page.number for page in ours]
    others = sorted({*range(1, pages + 1)} - {*numbers})
    host = declaration.host
    if host is None:
        for number in others:
            yield Check("pages", WARN, number, detail="a page that is none of the page map was added")
        return
    between = [number for number in others if numbers[0] < number < numbers[-1]]
    if between:
        detail = "a page of the pattern stands between the pages of the page map"
        yield Check("page-order", WARN, between[0], detail=detail)
    held = host.before + host.after
    if len(others) != held:
        detail = f"the pattern had {held} pages of its own when these were added, and has {len(others)} now"
        yield Check("host", WARN, None, detail=detail)
    elif numbers[0] != host.before + 1:
        detail = f"the pages were added after page {host.before} of the pattern, and stand elsewhere"
        yield Check("host", WARN, numbers[0], detail=detail)
    elif not between:
        detail = f"pages {numbers[0]} to {numbers[-1]} were added to a pattern of {held} pages"
        yield Check("host", PASS, None, detail=detail)
