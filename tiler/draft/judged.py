"""What is found about a piece; what is not passed and warned of, over several; and what is not drawn for that."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace

from tiler.draft.advice.finding import Check, Finding, diagnosed, ordered
from tiler.draft.fastening.running_on import TIES
from tiler.draft.figures import FailedCheck, Figures
from tiler.errors import SpecError
from tiler.languages.words import Words
from tiler.sentence import Place


def with_findings(figures: Figures, findings: Sequence[Finding]) -> Figures:
    """Return figures with what was found about them: warnings, checks that are not passed, doubts, hints for sewing."""
    warnings, failed = diagnosed(findings)
    return replace(
        figures,
        warnings=warnings,
        failed=failed,
        doubts=tuple(one.text for one in findings if one.check is Check.NUMBER),
        for_sewing=tuple(one.on_paper for one in ordered(findings) if one.on_paper and not one.check.fails),
    )


def warned(figures: Sequence[Figures]) -> dict[str, list[Figures]]:
    """Return each warning once, with the pieces that it is about; those of failed checks first."""
    table: dict[str, list[Figures]] = {}
    for failing in (True, False):
        for one in figures:
            for warning in one.warnings[: len(one.failed)] if failing else one.warnings[len(one.failed) :]:
                table.setdefault(warning, []).append(one)
    return table


def named(pieces: Sequence[Figures], most: int = 4) -> str:
    """Return the names of a few pieces and the count of the others."""
    # of the sections of a strip the strip is named, once
    found = dict.fromkeys((one.strip_name, one.size) for one in pieces)
    names = [name if size is None else f"{name} {size}" for name, size in found]
    if len(names) <= most:
        return ", ".join(names)
    return Words("{names} and {count} more", names=", ".join(names[: most - 1]), count=len(names) - most + 1)


def not_passed(figures: Sequence[Figures]) -> dict[FailedCheck, list[Figures]]:
    """Return each check that is not passed once, with the pieces that it is about."""
    table: dict[FailedCheck, list[Figures]] = {}
    for one in figures:
        for failed in one.failed:
            table.setdefault(failed, []).append(one)
    return table


def refuse_free_ends(figures: Sequence[Figures], accept: Collection[str]) -> None:
    """Raise :class:`SpecError` for ties at the neck of a child's garment that nobody accepts."""
    found = [one for one in figures if one.free_ends]
    if found and TIES not in accept:
        ways = f"leave before and after out, or let it pass (--accept {TIES})"
        raise SpecError(f"not drawn. {found[0].free_ends}: {ways}", Place(named(found)))


def refuse_failed(figures: Sequence[Figures]) -> None:
    """Raise :class:`SpecError` when a piece has a check that is not passed."""
    for failed, pieces in not_passed(figures).items():
        raise SpecError(f"not drawn, since a check is not passed. {failed.text}", Place(named(pieces)))
