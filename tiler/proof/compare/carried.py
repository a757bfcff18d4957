"""What our pages carry besides what is drawn on them: nothing, for another reader may show or print it otherwise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.languages.words import Words
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import PageSeen
from tiler.reading.pdf.facts import Facts


def compare_carried(facts: Facts, seen: Sequence[PageSeen], pages: int) -> Iterator[Check]:
    """Check each page of ours, and the whole file where all its ``pages`` are; else it is that of others too."""
    found = [(page.number, Says.CARRIED, thing) for page in seen for thing in page.carried.things]
    if len({page.number for page in seen}) == pages:
        found += [(0, Says.CARRIED_BY_FILE, thing) for thing in facts.carried]
    for number, says, thing in found:
        yield Check(CheckName.CARRIED, Status.FAIL, says, number or None, label=Words(thing))
    if not found:
        yield Check(CheckName.CARRIED, Status.PASS, Says.CARRIED_NOTHING)
