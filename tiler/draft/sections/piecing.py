"""What is said of a strip in sections: why, which they are, where the joins lie, and that they are sewn first; mm."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from tiler.draft.fastening.running_on import LEAVES
from tiler.draft.sections.names import AT_ITS_END, BOTH_SHOULDERS, SHOULDERS, SIDES, as_words, counted_names
from tiler.draft.sections.section import Section
from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.lengths import both
from tiler.sentence import joined

ALONG = noted(
    "Cut in {count} sections, since {fabric} is {width} wide: {sections}. Joins: {places}. Sew the joins first, "
    "mark to mark, {allowance} from the ends, and press them open."
)
ON_BIAS = noted(
    "Cut in {count} sections, since {fabric} is {width} wide, on the bias: {sections}. Diagonal joins: {places}. Sew "
    "them first: two ends right sides together at a right angle, mark to mark, {allowance} from their edges; press "
    "them open and cut off the tips."
)


@dataclass(frozen=True)
class Way:
    """How a strip comes to be pieced: its cloth and how wide that is, mm, and what its ends and joins are.

    ``place`` is where a strip without known garment seams is joined at its ends.
    """

    fabric: str
    width_mm: float
    place: str
    is_open: bool = False
    on_bias: bool = False


def piecing_words(sections: Sequence[Section], way: Way, join: float, units: str) -> str:
    """Return the sentences; the joins are sewn ``join`` from the ends, mm."""
    count = sum(section.count for section in sections)
    named = [(one.name, one.count if one.count > len(one.numbers) else 1) for one in sections]
    if all(not section.part for section in sections):
        places: str = SIDES if way.place == SIDES else _evenly(way, count - 1)
    else:
        shares = {section.part: section for section in sections if section.shares > 1}
        within = [
            Words(
                "{count} within the {part}, which is longer than the fabric is wide even so",
                count=(one.shares - 1) * _stretches(sections, part),
                part=as_words(part),
            )
            for part, one in shares.items()
        ]
        places = joined(", ", [*joined_at(sections), *within])
    return Words(
        ON_BIAS if way.on_bias else ALONG,
        count=count,
        fabric=way.fabric,
        width=both(way.width_mm, units),
        sections=counted_names(named),
        places=places,
        allowance=both(join, units),
    )


def _evenly(way: Way, count: int) -> Words:
    if way.is_open:
        return Words("one in its middle") if count == 1 else Words("{count}, at equal distances", count=count)
    if way.place:
        return Words("the end seam ({place}) and {count} more, at equal distances", place=way.place, count=count)
    return Words("the end seam and {count} more, at equal distances; let none of them lie at CF", count=count)


def joined_at(sections: Sequence[Section]) -> tuple[str, ...]:
    """Return the garment seams at which sections are joined, both shoulders as one."""
    found = dict.fromkeys(seam for section in sections for seam in section.seams if seam)
    both_of_them = set(BOTH_SHOULDERS) <= set(found)
    names = [
        SHOULDERS if both_of_them and name in BOTH_SHOULDERS else AT_ITS_END if name == LEAVES else as_words(name)
        for name in found
    ]
    return tuple(dict.fromkeys(names))


def both_places(places: Sequence[str]) -> str:
    """Return the places of joins as one: "underarm and shoulder"."""
    if len(places) < 2:
        return places[0] if places else ""
    return Words("{most} and {last}", most=joined(", ", places[:-1]), last=places[-1])


def _stretches(sections: Sequence[Section], part: str) -> int:
    """Return how many stretches between garment seams are cut in equal parts and called so."""
    own = [section for section in sections if section.part == part]
    return sum(section.count for section in own) // own[0].shares
