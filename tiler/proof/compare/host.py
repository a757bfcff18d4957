"""Our pages inside a longer file: together and in their place; the others are judged in ``foreign``.

Which pages are ours follows from what is printed on them.  Only then is it compared
with what the declaration says of the pattern that they were added to.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.declaration import Declaration
from tiler.languages.words import Words
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import PageSeen


def compare_host(declaration: Declaration, ours: Sequence[PageSeen], pages: int) -> Iterator[Check]:
    """Check where our pages stand among all ``pages`` of the file."""
    numbers = [page.number for page in ours]
    others = sorted({*range(1, pages + 1)} - {*numbers})
    host = declaration.host
    if host is None:
        for number in others:
            yield Check(CheckName.PAGES, Status.WARN, Says.PAGE_ADDED, number)
        return
    between = [number for number in others if numbers[0] < number < numbers[-1]]
    if between:
        yield Check(CheckName.PAGE_ORDER, Status.WARN, Says.PAGE_BETWEEN, between[0])
    held = host.before + host.after
    if len(others) != held:
        yield Check(CheckName.HOST, Status.WARN, Says.HOST_CHANGED, numbers={"held": held, "now": len(others)})
    elif numbers[0] != host.before + 1:
        yield Check(CheckName.HOST, Status.WARN, Says.HOST_MOVED, numbers[0], numbers={"before": host.before})
    elif not between:
        of = Words("{count} page", "{count} pages", count=held)
        says = Says.HOST_KEPT if numbers[-1] > numbers[0] else Says.HOST_KEPT_ONE
        yield Check(CheckName.HOST, Status.PASS, says, numbers={"first": numbers[0], "last": numbers[-1], "held": of})
