"""The report in words: one plain sentence, a short table of what was measured, and what is wrong."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.proof.report.causes import causes, in_words
from tiler.proof.report.check import SIZES, Check, CheckName
from tiler.proof.report.effect import LEAST, on_a_strip
from tiler.proof.report.sentences import Says
from tiler.proof.report.size_table import size_table
from tiler.proof.report.verdict import Report, Verdict

MOST_DETAILS = 3
"""Faults of one kind that are written out."""


def sentence(report: Report) -> str:
    """Say in one sentence what the file is."""
    if report.verdict is Verdict.NOTHING:
        return "Nothing to measure: the file holds no test square with its size beside it, and no ruler line."
    if report.verdict is Verdict.OFF:
        return f"Off scale: {_off(report)} Do not cut from this print."
    if report.verdict is Verdict.INCOMPLETE:
        others = len(report.failed) - 1
        more = f", and {others} more {'fault' if others == 1 else 'faults'}" if others else ""
        right = "the scale is right, but " if report.sizes else ""
        return f"Incomplete: {right}{report.first_failure()}{more}. Do not cut from this print."
    pages = "1 page" if report.pages == 1 else f"{report.pages} pages"
    if report.verdict is Verdict.COMPENSATED:
        return f"Made for the printer {report.printer}: {pages}, {_squares(report)} on that printer only."
    return f"True to scale: {_true(report, pages)}."


def _true(report: Report, pages: str) -> str:
    if any(check.name is CheckName.ASSEMBLY for check in report.warned):
        since = "rewritten since it was drafted; " if any(one.says is Says.REWRITTEN for one in report.warned) else ""
        return f"{_squares(report)}; {since}how the pages belong together is not proved"
    if any(check.says in (Says.PAGES_LEFT_OUT, Says.SQUARES_LEFT_OUT) for check in report.warned):
        return f"{pages}, {_squares(report)}, nothing on them missing, moved or hidden; other pages were left out"
    host = next((check.detail for check in report.checks if check.says is Says.HOST_KEPT), None)
    whole = f"; {host}, with nothing" if host else ", nothing"
    return f"{pages}, {_squares(report)}{whole} missing, moved or hidden"


def lines(report: Report, width: int) -> Iterator[str]:
    """Yield the whole report, the sentence first; its table is no wider than ``width`` characters."""
    yield sentence(report)
    if report.sizes:
        yield ""
        yield from size_table(report.sizes, width)
    since = next((check.detail for check in report.checks if check.name is CheckName.UNCHANGED), None)
    if since and report.verdict in (Verdict.TRUE, Verdict.COMPENSATED):
        yield ""
        yield f"What is drawn is {since}."
    if report.verdict is Verdict.OFF and report.scale:
        yield ""
        yield from _consequences(report.scale, report.page_mm)
    for title, found in _faults(report):
        yield ""
        yield f"{title}:"
        yield from (f"  {line}" for line in found)


def remarks(report: Report) -> Iterator[str]:
    """Yield what stands below the table, a line each."""
    if report.verdict is Verdict.OFF and report.scale:
        yield from _consequences(report.scale, report.page_mm)
    for title, found in _faults(report):
        yield from (f"{title}: {line}" for line in found)


def _faults(report: Report) -> Iterator[tuple[str, list[str]]]:
    # Wrong sizes stand in the table; what else fails is mostly their consequence.
    failed = [check for check in report.failed if check.name not in SIZES]
    details = 1 if report.verdict is Verdict.OFF else MOST_DETAILS
    for title, checks in (("Failed", failed), ("Warnings", report.warned)):
        if checks:
            yield title, list(_grouped(checks, details))


def _consequences(scale: tuple[float, float], page: tuple[float, float] | None) -> Iterator[str]:
    """Say what the scale does to a strip, and what may have caused it."""
    for along, ratio in zip((" across", " down the page"), scale, strict=True):
        if abs(ratio - 1) >= LEAST:
            words = on_a_strip(ratio, along)
            yield f"{words[0].upper()}{words[1:]}."
    yield in_words(causes(*scale, page))


def _off(report: Report) -> str:
    unit = next((check for check in report.failed if check.name is CheckName.USER_UNIT), None)
    if unit:
        return f"{unit.detail}, which enlarges it in some viewers and not in others."
    scale = report.scale
    if scale is None or max(abs(ratio - 1) for ratio in scale) < LEAST:
        return f"{report.first_failure()}."
    across, down = (f"{100 * ratio:.2f} mm" for ratio in scale)
    if across == down:
        return f"a length of 100 mm comes out at {across}, across and down."
    return f"a length of 100 mm comes out at {across} across and at {down} down."


def _squares(report: Report) -> str:
    squares = sum(1 for check in report.sizes if check.name is CheckName.SQUARE and check.axis == "across")
    rules = sum(1 for check in report.sizes if check.name is CheckName.RULE)
    parts = [
        f"{count} {one if count == 1 else many}"
        for count, one, many in ((squares, "test square", "test squares"), (rules, "ruler line", "ruler lines"))
        if count
    ]
    return f"{' and '.join(parts)} right across and down"


def _grouped(checks: Sequence[Check], most: int) -> Iterator[str]:
    by_name: dict[CheckName, list[Check]] = {}
    for check in checks:
        by_name.setdefault(check.name, []).append(check)
    for group in by_name.values():
        for check in group[:most]:
            yield f"{f'page {check.page}: ' if check.page else ''}{check.detail}"
        rest = group[most:]
        if rest:
            pages = sorted({check.page for check in rest if check.page})
            yield f"{len(rest)} more like this{f' on {_pages(pages)}' if pages else ''}"


def _pages(pages: Sequence[int]) -> str:
    if len(pages) == 1:
        return f"page {pages[0]}"
    if len(pages) <= 6:
        return f"pages {', '.join(map(str, pages))}"
    return f"{len(pages)} pages from {pages[0]} to {pages[-1]}"
