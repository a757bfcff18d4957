"""The report in words: one plain sentence, a short table of what was measured, and what is wrong."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.proof.report.causes import causes, in_words
from tiler.proof.report.check import SIZES, Check, CheckName
from tiler.proof.report.effect import BEGUN, LEAST
from tiler.proof.report.sentences import Says
from tiler.proof.report.size_table import size_table
from tiler.proof.report.verdict import Report, Verdict
from tiler.sentence import joined

MOST_DETAILS = 3
"""Faults of one kind that are written out."""


DO_NOT_CUT = noted("{text} Do not cut from this print.")


def sentence(report: Report) -> Words:
    """Say in one sentence what the file is."""
    if report.verdict is Verdict.NOTHING:
        return Words(
            "Nothing to measure: the file holds no test square with its size beside it, and no ruler line, on {pages}.",
            pages=_pages_there(report),
        )
    if report.verdict is Verdict.OFF:
        return Words(DO_NOT_CUT, text=Words("Off scale: {what}", what=_off(report)))
    if report.verdict is Verdict.UNDECIDED:
        return _undecided(report)
    if report.verdict is Verdict.INCOMPLETE:
        return Words(DO_NOT_CUT, text=_incomplete(report))
    pages, squares = _pages_there(report), _squares(report)
    if report.verdict is Verdict.COMPENSATED:
        return Words(
            "Made for the printer {printer}: {pages}, {squares} on that printer only.",
            printer=report.printer,
            pages=pages,
            squares=squares,
        )
    return Words("True to scale: {what}.", what=_true(report, pages))


def _undecided(report: Report) -> Words:
    open_ = [check for check in report.checks if check.name is CheckName.UNDECIDED]
    first = open_[0]
    what = Words("on page {number}, {what}", number=first.page, what=first.detail) if report.pages > 1 else first.detail
    return Words("Not decided: {what}.", what=_with_coverage(report, what))


def _with_coverage(report: Report, what: str) -> Words | str:
    """Add which pages of a file of others were measured, as the scale of the rest is not known."""
    measured = report.measured_pages
    if not measured:
        return what
    rest = report.pages - len(measured)
    covered = Words("{pages} of {all} measured", pages=_pages(measured), all=report.pages)
    if not rest:
        return Words("{what} ({covered})", what=what, covered=covered)
    empty = Words("{count} page without anything to measure", "{count} pages without anything to measure", count=rest)
    return Words("{what} ({covered}, {empty})", what=what, covered=covered, empty=empty)


def _incomplete(report: Report) -> Words:
    others, first = len(report.failed) - 1, report.first_failure()
    found = Words("{first}, and {count} more fault", "{first}, and {count} more faults", count=others, first=first)
    told = found if others else first
    if report.sizes:
        return Words("Incomplete: the scale is right, but {what}.", what=_with_coverage(report, told))
    return Words("Incomplete: {what}.", what=told)


def _pages_there(report: Report) -> Words:
    return Words("{count} page", "{count} pages", count=report.pages)


def _true(report: Report, pages: Words) -> Words:
    squares = _squares(report)
    if report.scan is not None:
        return Words("{squares} in the picture of the print", squares=squares)
    if any(check.name is CheckName.ASSEMBLY for check in report.warned):
        if any(one.says is Says.REWRITTEN for one in report.warned):
            return Words(
                "{squares}; rewritten since it was drafted; how the pages belong together is not proved",
                squares=_with_coverage(report, squares),
            )
        return Words("{squares}; how the pages belong together is not proved", squares=_with_coverage(report, squares))
    if any(check.says in (Says.PAGES_LEFT_OUT, Says.SQUARES_LEFT_OUT) for check in report.warned):
        return Words(
            "{pages}, {squares}, nothing on them missing, moved or hidden; other pages were left out",
            pages=pages,
            squares=squares,
        )
    host = next((check.detail for check in report.checks if check.says in (Says.HOST_KEPT, Says.HOST_KEPT_ONE)), None)
    if host:
        return Words(
            "{pages}, {squares}; {host}, with nothing missing, moved or hidden", pages=pages, squares=squares, host=host
        )
    return Words("{pages}, {squares}, nothing missing, moved or hidden", pages=pages, squares=squares)


def lines(report: Report, width: int) -> Iterator[str]:
    """Yield the whole report, the sentence first; its table is no wider than ``width`` characters."""
    yield sentence(report)
    if report.sizes:
        yield ""
        yield from size_table(report.sizes, width)
    since = next((check.detail for check in report.checks if check.name is CheckName.UNCHANGED), None)
    if since and report.verdict in (Verdict.TRUE, Verdict.COMPENSATED):
        yield ""
        yield Words("What is drawn is {since}.", since=since)
    if report.verdict is Verdict.OFF and report.scale:
        yield ""
        yield from _consequences(report)
    for title, found in _faults(report):
        yield ""
        yield f"{title}:"
        yield from (f"  {line}" for line in found)


def remarks(report: Report) -> Iterator[str]:
    """Yield what stands below the table, a line each."""
    if report.verdict is Verdict.OFF and report.scale:
        yield from _consequences(report)
    for title, found in _faults(report):
        yield from (Words("{title}: {line}", title=title, line=line) for line in found)


def _faults(report: Report) -> Iterator[tuple[str, list[str]]]:
    failed = _told_below(report, report.failed)
    details = 1 if report.verdict is Verdict.OFF else MOST_DETAILS
    for title, checks in ((Words("Failed"), failed), (Words("Warnings"), _told_below(report, report.warned))):
        if checks:
            yield title, list(_grouped(checks, details))


def _told_below(report: Report, checks: Sequence[Check]) -> list[Check]:
    """Return checks less the one that the first sentence says, and less what stands in the table.

    Wrong sizes stand there; what else fails is mostly their consequence.
    """
    told = next((check for check in report.checks if check.name is CheckName.UNDECIDED), None)
    return [check for check in checks if check is not told and check.name not in SIZES]


def _consequences(report: Report) -> Iterator[str]:
    """Say what the scale does to a strip, and what may have caused it."""
    across, down = report.scale or (None, None)
    for axis, ratio in (("across", across), ("down", down)):
        if ratio is not None and abs(ratio - 1) >= LEAST:
            yield Words(BEGUN[ratio < 1, axis], inches=20 * abs(ratio - 1), centimetres=50 * abs(ratio - 1))
    if across is not None and down is not None:
        yield in_words(causes(across, down, report.page_mm))


def _off(report: Report) -> Words:
    unit = next((check for check in report.failed if check.name is CheckName.USER_UNIT), None)
    if unit:
        return Words("{what}, which enlarges it in some viewers and not in others.", what=unit.detail)
    known = [ratio for ratio in report.scale or () if ratio is not None]
    if not known or max(abs(ratio - 1) for ratio in known) < LEAST:
        return Words("{says}.", says=report.first_failure())
    what = _hundred(report)
    if report.measured_pages and report.pages > 1:
        what = Words("on {pages}, {what}", pages=_pages(report.failed_pages), what=what)
    return Words("{says}.", says=_with_coverage(report, what))


def _hundred(report: Report) -> Words:
    """Say what becomes of a length of 100 mm, along the axes that were measured."""
    across, down = report.scale or (None, None)
    if across is None or down is None:
        axis = Words("down") if across is None else Words("across")
        return Words(
            "a length of 100 mm comes out at {measured:.2f} mm {axis}", measured=100 * (across or down or 0), axis=axis
        )
    if f"{100 * across:.2f}" == f"{100 * down:.2f}":
        return Words("a length of 100 mm comes out at {across:.2f} mm, across and down", across=100 * across)
    return Words(
        "a length of 100 mm comes out at {across:.2f} mm across and at {down:.2f} mm down",
        across=100 * across,
        down=100 * down,
    )


def _squares(report: Report) -> Words:
    squares = sum(1 for check in report.sizes if check.name is CheckName.SQUARE and check.axis == "across")
    rules = sum(1 for check in report.sizes if check.name is CheckName.RULE)
    parts = [
        *([Words("{count} test square", "{count} test squares", count=squares)] if squares else []),
        *([Words("{count} ruler line", "{count} ruler lines", count=rules)] if rules else []),
    ]
    told = Words("{one} and {other}", one=parts[0], other=parts[1]) if len(parts) > 1 else joined("", parts)
    return Words("{what} right across and down", what=told)


def _grouped(checks: Sequence[Check], most: int) -> Iterator[str]:
    by_name: dict[CheckName, list[Check]] = {}
    for check in checks:
        by_name.setdefault(check.name, []).append(check)
    for group in by_name.values():
        for check in group[:most]:
            on = Words("page {number}: {what}", number=check.page, what=check.detail)
            yield on if check.page else check.detail
        rest = group[most:]
        if rest:
            pages = sorted({check.page for check in rest if check.page})
            like = Words("{count} more like this on {pages}", count=len(rest), pages=_pages(pages))
            yield like if pages else Words("{count} more like this", count=len(rest))


def _pages(pages: Sequence[int]) -> Words | str:
    if not pages:
        return ""
    if len(pages) == 1:
        return Words("page {number}", number=pages[0])
    if len(pages) <= 6:
        return Words("pages {numbers}", numbers=", ".join(map(str, pages)))
    return Words("{count} pages from {first} to {last}", count=len(pages), first=pages[0], last=pages[-1])
