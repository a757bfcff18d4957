"""What stops a release before anything is drawn, unless its publisher accepts it by name.

That is a check that is not passed, a strip without a good length, and a size that is out of line with those beside
it: a customer would meet it on the cutting table.  Everything else is only told.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

from tiler.catalog.base.forecast import SIGNED
from tiler.draft.fastening.running_on import TIES
from tiler.draft.figures import Figures
from tiler.draft.judged import refuse_free_ends, warned
from tiler.errors import SpecError
from tiler.proof.report.verdict import Verdict
from tiler.sentence import Place

OFF_SCALE = Verdict.OFF.value
"""With :data:`SIGNED` what is accepted of a base: its squares say that it is not true to scale."""


def told_doubts(figures: Sequence[Figures]) -> Iterator[tuple[str, str]]:
    """Yield who each doubt is about, a piece with its sizes, and the doubt; those that stop a release first."""
    for doubt, pieces in warned(figures).items():
        sizes: dict[str, list[str]] = {}
        for one in pieces:
            sizes.setdefault(one.strip_name, []).extend([one.size] if one.size else [])
        yield "; ".join(f"{name} {', '.join(dict.fromkeys(own))}".strip() for name, own in sizes.items()), doubt


def of_bases(accept: Collection[str]) -> tuple[str, ...]:
    """Return what is accepted of a base."""
    return tuple(word for word in accept if word in (SIGNED, OFF_SCALE))


def refuse_doubtful(figures: Sequence[Figures], accept: Collection[str]) -> None:
    """Raise :class:`SpecError` for the first piece that must not go out as it is, unless its name or size is accepted.

    And for an accepted name that is none.
    """
    refuse_free_ends(figures, accept)
    names = {TIES} | {one.strip_name for one in figures} | {one.size for one in figures if one.size}
    unknown = [word for word in accept if word not in names and not of_bases([word])]
    if unknown:
        sizes = ", ".join(dict.fromkeys(one.size for one in figures if one.size))
        pieces = ", ".join(dict.fromkeys(one.strip_name for one in figures))
        raise SpecError(
            f"{unknown[0]!r} is none of the pieces ({pieces}){f' or sizes ({sizes})' if sizes else ''}, "
            f"nor is it {SIGNED} or {OFF_SCALE}",
            Place("--accept"),
        )
    stopping = [(one, text) for one in figures for text in (*(failed.text for failed in one.failed), *one.slips)]
    left = [(one, text) for one, text in stopping if not {one.strip_name, one.size} & {*accept}]
    if left:
        one, text = left[0]
        who = f"{one.strip_name!r}" if one.size is None else f"{one.strip_name!r}, size {one.size}"
        others = len({(other.strip_name, other.size) for other, _ in left}) - 1
        more = f" The same holds for {others} more." if others else ""
        ways = f"--accept {_quoted(one.strip_name)}" + (f" or --accept {_quoted(one.size)}" if one.size else "")
        raise SpecError(f"{text} Nothing was drawn; mend it, or let it pass ({ways}).{more}", Place(who))


def _quoted(word: str) -> str:
    return f"'{word}'" if " " in word else word
