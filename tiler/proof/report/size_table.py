"""The sizes that were measured, as a table of text."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.box import Box
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.effect import error

INCH = 25.4
KINDS = {CheckName.SQUARE: "test square", CheckName.RULE: "ruler line"}

MOST_ROWS = 8
"""Rows of the table of our own files, whose squares and ruler lines are alike; the rest is summed up in one more."""

MOST_FOUND = 60
"""Rows for files of others."""


def size_table(sizes: Sequence[Check]) -> Iterator[str]:
    """Give the table: a row a size for our own files, a row a square with its place for those of others."""
    return _found(sizes) if any(check.foreign for check in sizes) else _declared(sizes)


def _declared(sizes: Sequence[Check]) -> Iterator[str]:
    shown, rest = sizes[:MOST_ROWS], sizes[MOST_ROWS:]
    yield f"{'page':>4}  {'what':<26}{'should be':>20}  {'measures':>20}  {'share':>9}"
    for check in shown:
        measured, nominal, ratio = check.measured_mm or 0.0, check.nominal_mm or 0.0, check.ratio or 0.0
        share = f"{100 * ratio:>7.2f} %{'  wrong' if check.status is Status.FAIL else ''}"
        what = f"{named(check)} {check.axis}"
        yield f"{check.page:>4}  {what:<26}{_size(nominal):>20}  {_size(measured):>20}  {share}"
    if rest:
        ratios = [100 * (check.ratio or 0.0) for check in rest]
        yield f"      {len(rest)} more between {min(ratios):.2f} % and {max(ratios):.2f} %"


def _found(sizes: Sequence[Check]) -> Iterator[str]:
    rows = rows_of(sizes)
    yield "      from the left"
    yield f"page  and foot, mm   {'what':<24}{'should be':>18}  {'across':>20}  {'down':>20}"
    for check, by_axis in rows[:MOST_FOUND]:
        place = f"{check.box.x0:.0f}, {check.box.y0:.0f}" if check.box else "\N{EN DASH}"
        cells = "  ".join(f"{_with_error(by_axis.get(axis)):>20}" for axis in ("across", "down"))
        wrong = "  wrong" if any(one.status is Status.FAIL for one in by_axis.values()) else ""
        yield f"{check.page:>4}  {place:<13}  {named(check):<24}{_size(check.nominal_mm or 0.0):>18}  {cells}{wrong}"
    if len(rows) > MOST_FOUND:
        yield f"      {len(rows) - MOST_FOUND} more"


def rows_of(sizes: Sequence[Check]) -> list[tuple[Check, dict[str, Check]]]:
    """Put both axes of a square together."""
    rows: dict[tuple[int | None, CheckName, Box | None, float | None], dict[str, Check]] = {}
    for check in sizes:
        rows.setdefault((check.page, check.name, check.box, check.nominal_mm), {})[check.axis] = check
    return [(next(iter(by_axis.values())), by_axis) for by_axis in rows.values()]


def named(check: Check) -> str:
    """Name what was measured, with its stated size."""
    return f"{KINDS[check.name]} {check.label}"


def _with_error(check: Check | None) -> str:
    if check is None:
        return "\N{EN DASH}"
    return f"{check.measured_mm or 0.0:.2f} mm {error(check.ratio or 0.0):>9}"


def _size(mm: float) -> str:
    return f"{mm / INCH:.3f} in {mm:.2f} mm"
