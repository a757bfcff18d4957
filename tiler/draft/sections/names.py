"""What sections, their joins and what they cover are called: a template each."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.languages.catalogue import noted
from tiler.languages.proved import SPAN
from tiler.languages.words import Words
from tiler.sentence import joined

SHOULDERS = Words("shoulders")
"""Both of a neckline."""

SIDES = Words("sides")
"""Both of an edge that is measured whole."""

FREE = Words("free length")
"""What lies beyond the edge."""

EDGE = Words("edge")
"""All of an edge beyond which there are free lengths, where it has no parts."""

AT_ITS_END = Words("where it leaves the edge")

BOTH_SHOULDERS = ("right shoulder", "left shoulder")

JOIN, END_SEAM, MIDDLE = Words("join"), Words("end seam"), Words("middle")

PARTS = (
    noted("half"),
    noted("right half"),
    noted("left half"),
    noted("right front"),
    noted("left front"),
    noted("right back"),
    noted("left back"),
    noted("front and back"),
    noted("front and right back"),
    noted("front and left back"),
    noted("back and right front"),
    noted("back and left front"),
)
"""Stretches between two garment seams, besides front and back."""

SIDED = (noted("right shoulder"), noted("left shoulder"))


def as_words(text: str) -> Words:
    """Return words of ours; a name that the spec gives is told as it is, inside of such words."""
    return text if isinstance(text, Words) else Words(text)


def section_name(part: str, count: int, numbers: Sequence[int]) -> Words:
    """Return the name of a section: "front section", "back section 1 of 2", "sections 1 to 3"."""
    if count == 1:
        return Words("{part} section", part=as_words(part))
    listed = _listed(numbers)
    if len(numbers) == 1 and not part:
        return Words("section {number} of {count}", number=listed, count=count)
    if len(numbers) == 1:
        return Words("{part} section {number} of {count}", part=as_words(part), number=listed, count=count)
    if not part:
        return (
            Words("sections {numbers} of {count}", numbers=listed, count=count)
            if len(numbers) < count
            else Words("sections {numbers}", numbers=listed)
        )
    return Words("{part} sections {numbers} of {count}", part=as_words(part), numbers=listed, count=count)


def _listed(numbers: Sequence[int]) -> str:
    """Return "2", "1 and 3" or "1 to 4"."""
    first, last = numbers[0], numbers[-1]
    if len(numbers) > 2 and last - first == len(numbers) - 1:
        return Words(SPAN, first=first, last=last)
    if len(numbers) == 1:
        return str(first)
    return Words("{most} and {last}", most=", ".join(map(str, numbers[:-1])), last=last)


def join_name(part: str, number: int | None = None) -> Words:
    """Return what a join within a stretch is called, by its number where there is one."""
    if not part:
        return JOIN if number is None else Words("join {number}", number=number)
    if number is None:
        return Words("{part} join", part=as_words(part))
    return Words("{part} join {number}", part=as_words(part), number=number)


def joined_end(name: str) -> Words:
    """Name an end by the garment seam that its join comes to lie at."""
    return Words("join ({place})", place=name)


def pointed_end(lapped: bool, place: str) -> Words:
    """Name an end that meets the other one at a sharp corner."""
    if not place:
        return Words("lapped end") if lapped else END_SEAM
    return Words("lapped end ({place})", place=place) if lapped else Words("end seam ({place})", place=place)


def covered(part: str, shares: int, edge: str) -> str:
    """Return what a section is sewn to, of an edge that is called so."""
    if part == FREE:
        return part
    of = Words("{part} of the {edge}", part=as_words(part), edge=edge) if part and part != EDGE else edge
    return Words("{edge}, one of {count} equal parts", edge=of, count=shares) if shares > 1 else of


def counted_names(names: Sequence[tuple[str, int]]) -> str:
    """List names, each with how often it is there where that is more than once."""
    return joined(
        ", ", [Words("{name} × {count}", name=name, count=count) if count > 1 else name for name, count in names]
    )
