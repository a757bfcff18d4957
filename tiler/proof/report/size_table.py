"""The sizes that were measured, as a table of text that is no wider than it may be."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from textwrap import wrap

from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.effect import error

INCH = 25.4
KINDS = {
    CheckName.SQUARE: noted("test square {size}"),
    CheckName.RULE: noted("ruler line {size}"),
    CheckName.FRAME_SIZE: noted("page frame {size}"),
}

MOST_ROWS = 8
"""Rows of the table of our own files, whose squares and ruler lines are alike; the rest is summed up in one more."""

MOST_FOUND = 60
"""Rows for files of others."""

INDENT = "  "
UNBROKEN = "\N{NO-BREAK SPACE}"

Row = tuple[str, ...]


def size_table(sizes: Sequence[Check], width: int) -> Iterator[str]:
    """Yield the table in lines of ``width`` characters at most.

    A row is one size of our own files, or a square with its place in those of others.
    """
    return _found(sizes, width) if any(check.foreign for check in sizes) else _declared(sizes, width)


def _declared(sizes: Sequence[Check], width: int) -> Iterator[str]:
    shown, rest = sizes[:MOST_ROWS], [check.ratio or 0.0 for check in sizes[MOST_ROWS:]]
    heads = ("page", "what", "should be", "measures", "share")
    yield from _laid_out(heads, [_declared_row(check) for check in shown], (2, 3), width)
    if rest:
        least, greatest = _share(min(rest)), _share(max(rest))
        every = "all " if len(rest) > 1 else ""
        yield f"{len(rest)} more, " + (f"{every}{least}" if least == greatest else f"{least} to {greatest}")


def _declared_row(check: Check) -> Row:
    sizes = (_size(check.nominal_mm or 0.0), _size(check.measured_mm or 0.0))
    share = f"{_share(check.ratio or 0.0):>8} {_wrong([check])}".rstrip()
    return f"{check.page:>4}", f"{named(check)} {check.axis}", *sizes, share


def _found(sizes: Sequence[Check], width: int) -> Iterator[str]:
    rows = rows_of(sizes)
    heads = ("page", "left, foot", "what", "should be", "across", "down", "")
    yield from _laid_out(heads, [_found_row(*row) for row in rows[:MOST_FOUND]], (4, 5, 6), width)
    if len(rows) > MOST_FOUND:
        yield f"{len(rows) - MOST_FOUND} more"
    yield from wrap("left, foot: from the left and from the foot of the page, mm", width)


def _found_row(check: Check, by_axis: dict[str, Check]) -> Row:
    place = f"{check.box.x0:.0f}, {check.box.y0:.0f}" if check.box else "\N{EN DASH}"
    cells = (_with_error(by_axis.get(axis)) for axis in ("across", "down"))
    return f"{check.page:>4}", place, named(check), _size(check.nominal_mm or 0.0), *cells, _wrong(by_axis.values())


def _laid_out(heads: Row, rows: Sequence[Row], below: Sequence[int], width: int) -> Iterator[str]:
    """Lay rows out in columns; where they are too wide, the cells ``below`` follow on a line of their own."""
    widths = [max(map(len, column)) for column in zip(heads, *rows, strict=True)]
    shown = [*range(len(heads))]
    if _wide(widths) > width:
        shown = [index for index in shown if index not in below]
    while _wide([widths[index] for index in shown]) > width:
        shown.pop()
    under = [index for index in range(len(heads)) if index not in shown]
    for row in (heads, *rows):
        yield INDENT.join(row[index].ljust(widths[index]) for index in shown).rstrip()
        if under and row is not heads:
            parts = [f"{heads[index]} {row[index]}".strip() for index in under if row[index]]
            # a part is not broken, so its blanks are not places to break at
            words = ", ".join(part.replace(" ", UNBROKEN) for part in parts)
            for line in wrap(words, width, initial_indent=INDENT, subsequent_indent=INDENT):
                yield line.replace(UNBROKEN, " ")


def _wide(widths: Sequence[int]) -> int:
    return sum(widths) + len(INDENT) * (len(widths) - 1)


def rows_of(sizes: Sequence[Check]) -> list[tuple[Check, dict[str, Check]]]:
    """Put both axes of a square together; pages on which one fails come first."""
    rows: dict[tuple[object, ...], dict[str, Check]] = {}
    for check in sizes:
        rows.setdefault((check.page, check.name, check.box, _row_size(check)), {})[check.axis] = check
    wrong = {check.page for check in sizes if check.status is Status.FAIL}
    found = [(next(iter(by_axis.values())), by_axis) for by_axis in rows.values()]
    return sorted(found, key=lambda row: row[0].page not in wrong)


def _row_size(check: Check) -> str | float | None:
    """Return what tells sizes in one place apart: a rectangle has two in one row, an open label one in each."""
    return check.label if check.foreign else check.nominal_mm


def named(check: Check) -> str:
    """Name what was measured, with its stated size."""
    return Words(KINDS[check.name], size=check.label)


def _with_error(check: Check | None) -> str:
    if check is None:
        return "\N{EN DASH}"
    return f"{check.measured_mm or 0.0:.2f} mm {error(check.ratio or 0.0)}"


def _wrong(checks: Collection[Check]) -> str:
    if any(check.status is Status.WARN for check in checks):
        return "open"
    return "wrong" if any(check.status is Status.FAIL for check in checks) else ""


def _share(ratio: float) -> str:
    return f"{100 * ratio:.2f} %"


def _size(mm: float) -> str:
    return f"{mm / INCH:.3f} in {mm:.2f} mm"
