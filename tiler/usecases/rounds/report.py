"""What a test round shows, as sentences and as a page with a chart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby
from pathlib import Path
from typing import TYPE_CHECKING

from tiler import __version__
from tiler.languages.catalogue import ENGLISH, noted
from tiler.languages.words import Number, Words, listed, say, speaking, told
from tiler.lengths import percent
from tiler.sentence import counted
from tiler.usecases.files.replace import Output, put
from tiler.usecases.rounds.judging import TOLERANCE, Judged, Round, Spread, StandsOut, State, Summary, named
from tiler.usecases.rounds.table import BadLine

if TYPE_CHECKING:
    from tiler.sheets.reports.readings import Chart

MOST_CAUSES = 3
"""So many fit-to-page factors are named; of more only how many there are."""

MOST_ROWS = 40
"""So many readings are told apart in each list; JSON has them all."""

NAME = 13
"""A tester whose name has more letters has a line for it alone."""

WIDEST = 79
"""Columns of the table with both axes side by side."""

STATE_WORDS = {
    State.AGREES: "agrees",
    State.UNDECIDED: "differs, but may be within 1 %",
    State.OFF: "off by more than 1 %",
}

_NO_SIZE = "no size given"


def in_lines(result: Round, width: int = WIDEST, left_out: Sequence[BadLine] = ()) -> Iterator[str]:
    """Yield the report line by line, without headings' looks; its table as wide as so many columns allow."""
    total = len(result.overall.judged)
    yield f"{counted(total, 'reading')} of {counted(len(result.testers), 'tester')}, percent of nominal"
    yield ""
    yield from _row("tester", "n", "across: median (spread)", "down: median (spread)", width)
    for one in (*result.testers, *([result.overall] if len(result.testers) > 1 else [])):
        number = len(one.judged)
        if len(one.name) > NAME:
            yield one.name
        name = one.name if len(one.name) <= NAME else ""
        yield from _row(name, str(number), _spread(one.across, number), _spread(one.down, number), width)
    yield "spread: ± the median absolute deviation; from the least to the greatest"
    yield from _states(result)
    yield from _fit_to_page(result)
    yield from _standing_out(result)
    if result.sizes:
        yield ""
        yield "Fit, by size:"
        for size in result.sizes:
            yield f"  {size.size or _NO_SIZE}: " + "; ".join(f"{words} ({count})" for words, count in size.remarks)
    if left_out:
        yield ""
        yield "Left out:"
        for bad in left_out:
            yield f"  line {bad.line}{f', {bad.tester}' if bad.tester else ''}: {bad.words}"


def _row(name: str, number: str, across: str, down: str, width: int) -> Iterator[str]:
    """Lay out a row of the table; where it is too wide, the share down stands below the share across."""
    start = f"{name:<{NAME}} {number:>3} "
    if width >= WIDEST:
        yield f"{start}{across:<30} {down}"
    else:
        yield from (f"{start}{across}", f"{'':<{len(start)}}{down}")


def write_chart(
    file: Path,
    result: Round,
    paper: str,
    output: Output,
    languages: Sequence[str] = (ENGLISH,),
    left_out: Sequence[BadLine] = (),
) -> None:
    """Draw the chart on a fixed paper and put it in place in one step; raises :class:`CannotWriteError`."""
    from tiler.sheets.reports.readings import readings_chart

    with speaking(*languages):
        data = readings_chart(_chart(file, result, left_out), paper, f"tiler {__version__}")
    put(output, data)


def _chart(file: Path, result: Round, left_out: Sequence[BadLine]) -> Chart:
    """Return all that the chart says."""
    from tiler.sheets.reports.readings import Chart, Dot, Row

    # the testers whose prints need a word stand on top
    testers = sorted(result.testers, key=lambda one: -max(_excess(judged) for judged in one.judged))
    rows = tuple(
        Row(one.name, tuple(Dot(*each.reading.ratios, each.error) for each in one.judged), _chart_words(one))
        for one in testers
    )
    return Chart(
        title=file.name,
        facts=say(
            "{readings} of {testers}; median across {across}, down {down}",
            readings=Words("{count} reading", "{count} readings", count=len(result.overall.judged)),
            testers=Words("{count} tester", "{count} testers", count=len(rows)),
            across=_median(result.overall.across),
            down=_median(result.overall.down),
        ),
        rows=rows,
        tolerance=TOLERANCE,
        remarks=(
            say(
                "Percent of nominal. Full dot: across; ring: down; the line through it is what a ruler read to "
                "{error:g} mm leaves open. Grey: within {tolerance}, the heavy line is 100 %.",
                error=result.reading_error,
                tolerance=percent(TOLERANCE),
            ),
            *map(told, _standing_out_words(result)),
            *_left_out_words(left_out),
        ),
    )


def _left_out_words(left_out: Sequence[BadLine]) -> Iterator[str]:
    """Say on the chart whose lines are not on it."""
    if left_out:
        lines = [
            Words("line {line} ({tester})", line=bad.line, tester=bad.tester)
            if bad.tester
            else Words("line {line}", line=bad.line)
            for bad in left_out[:MOST_ROWS]
        ]
        more = len(left_out) - MOST_ROWS
        if more > 0:
            lines.append(Words("and {count} more", count=more))
        yield say("Left out: {lines}.", lines=listed(lines))


def _states(result: Round) -> Iterator[str]:
    judged = result.overall.judged
    counts = {state: [one for one in judged if one.state is state] for state in State}
    yield ""
    yield (
        f"{len(counts[State.AGREES])} of {len(judged)} agree with nominal as closely as a ruler tells "
        f"(read to {result.reading_error:g} mm)."
    )
    apart = [*counts[State.OFF], *counts[State.UNDECIDED]]
    for one in apart[:MOST_ROWS]:
        slip = f"; that is the length of the {one.slip} line, so ask which line it was" if one.slip else ""
        yield f"  line {one.reading.line}, {one.reading.tester}: {_both(one)}: {STATE_WORDS[one.state]}{slip}"
    yield from _more(apart)
    if result.coarse:
        yield (
            f"Not decided: {counted(len(result.coarse), 'reading')} of lengths under "
            f"{2 * result.reading_error / TOLERANCE:.0f} mm. There a print that is off by {percent(TOLERANCE)} may "
            "seem to agree; ask for a reading of 15 cm (6 in) of the long ruler lines."
        )


def _fit_to_page(result: Round) -> Iterator[str]:
    fitted = [one for one in result.overall.judged if one.fit_to_page]
    if not fitted:
        return
    yield ""
    yield "Reads like fit-to-page; ask whether they printed at 100 %:"
    for one in fitted[:MOST_ROWS]:
        yield f"  line {one.reading.line}, {one.reading.tester} ({one.reading.viewer}): {_both(one)}; {_causes(one)}"
    yield from _more(fitted)


def _more(told: Sequence[Judged]) -> Iterator[str]:
    if len(told) > MOST_ROWS:
        yield f"  and {len(told) - MOST_ROWS} more; --json lists all"


def _causes(one: Judged) -> str:
    named = "; ".join(cause.named for cause in one.fit_to_page[:MOST_CAUSES])
    more = len(one.fit_to_page) - MOST_CAUSES
    if len(one.fit_to_page) == 1:
        return named
    return f"the ruler cannot tell apart: {named}" + (f"; and {more} more" if more > 0 else "")


def _standing_out(result: Round) -> Iterator[str]:
    words = list(_standing_out_words(result))
    yield ""
    if not words:
        yield "No viewer and no printer stands out."
        return
    yield from words
    yield (
        "Rule: the median lies further from 100 % than that of all other readings, and from theirs by more than "
        "3 × 1.4826 times their median absolute deviation and more than both reading errors."
    )


def _standing_out_words(result: Round) -> Iterator[str]:
    for (kind, name), axes in groupby(result.stands_out, lambda one: (one.kind, one.name)):
        found = list(axes)
        first, *more = found
        where = listed([_apart(first, _FIRST), *(_apart(one, _FURTHER) for one in more)])
        lines = first.lines
        only = Words("one reading only, line {line}", line=lines[0])
        of = Words("{count} readings", count=len(lines)) if len(lines) > 1 else only
        if first.same_as:
            of = Words(
                "{readings}; they are the readings of the {other} too, and which of both it is cannot be told",
                readings=of,
                other=first.same_as,
            )
        suspect = named(kind, name)
        yield Words("The {suspect} stands out: {where} ({readings}).", suspect=suspect, where=where, readings=of)


_FIRST = (
    noted("{axis} {share}, {points:.1f} percentage points less than the others"),
    noted("{axis} {share}, {points:.1f} percentage points more than the others"),
)
_FURTHER = noted("{axis} {share}, {points:.1f} less"), noted("{axis} {share}, {points:.1f} more")


def _apart(one: StandsOut, ways: tuple[str, str]) -> Words:
    less, more = ways
    points = 100 * abs(one.median - one.others)
    template = less if one.median < one.others else more
    return Words(template, axis=Words(one.axis), share=_percent(one.median), points=points)


def _chart_words(one: Summary) -> str:
    fitted = sum(bool(judged.fit_to_page) for judged in one.judged)
    off = sum(judged.state is State.OFF for judged in one.judged)
    if fitted:
        return say("like fit-to-page: {number} of {all}", number=fitted, all=len(one.judged))
    return say("off: {number} of {all}", number=off, all=len(one.judged)) if off else ""


def _excess(one: Judged) -> float:
    return max(abs(ratio - 1) for ratio in one.reading.known) - one.error


def _median(one: Spread | None) -> Number:
    return _percent(one.median) if one else Number("\N{EN DASH}")


def _spread(one: Spread | None, number: int) -> str:
    if one is None:
        return "\N{EN DASH}"
    if number == 1:
        return _percent(one.median)
    return f"{100 * one.median:.1f} ± {_percent(one.mad)} ({100 * one.least:.1f}–{_percent(one.greatest)})"


def _both(one: Judged) -> str:
    axes = zip(("across", "down"), one.reading.ratios, strict=True)
    read = ", ".join(f"{_percent(ratio)} {axis}" for axis, ratio in axes if ratio is not None)
    return f"{read}, ± {_percent(one.error)}"


def _percent(ratio: float) -> Number:
    return Number(f"{100 * ratio:.1f} %")
