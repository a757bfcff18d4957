"""What tells the sizes of a nest apart, in one row: their names at their ends, and at their notches; piece mm.

The notches of a kind have its name before them, or where kinds lie among each other each of them
says it, closely joined to its size ("40·¼") as another name stands beside it.  Where that would
make a fan of leaders, or a joint would cut a name, only the first and the last of a kind say their
sizes, or where the table tells how far each notch lies none does; where no table does, rather every
second or third one says it as well, or has its size behind the name of the kind while the others have
none.  At last only the first and the last have a name.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from enum import Enum
from itertools import pairwise

from tiler.box import Subpath
from tiler.draft.outline import Piece
from tiler.sheets.pieces.rows import Text
from tiler.sheets.pieces.tag_row import FAR, WHITE, Tag, TagRow, tag_row

Kinds = Sequence[tuple[str, Sequence[tuple[str, str, float]]]]
"""Notches by their name: the id of the piece, its size and the place of each; both are empty where all share it."""

Owned = tuple[str, Tag]
"""A tag with the id of the piece that it belongs to; empty where it belongs to all."""


class Sized(Enum):
    """Which notches of a kind say whose they are."""

    ALL = "all"
    SECOND = "every second one, and the last"
    THIRD = "every third one, and the last"
    OUTER = "the first and the last"
    NONE = "none"
    ALONE = "the first and the last, and the others have no name either"


STEPS = {Sized.SECOND: 2, Sized.THIRD: 3}


@dataclass
class Signs:
    """Texts and leaders of one size, or of all."""

    texts: list[Text] = field(default_factory=list)
    leaders: list[Subpath] = field(default_factory=list)


def size_tags(
    pieces: Sequence[Piece], ends: Sequence[Tag], kinds: Kinds, walls: Sequence[float], told: bool
) -> dict[str, Signs]:
    """Return by its id what tells each size, by "" what all share; ``told`` says that a table has the notches."""
    longest = max(piece.length for piece in pieces)
    # the ends have their names wherever these stand
    at_ends = [(piece.id, end) for piece, end in zip(pieces, ends, strict=True)]
    rows: list[tuple[list[Owned], TagRow]] = []
    for tags in _ways(at_ends, kinds, told):
        rows.append((tags, tag_row([tag for _, tag in tags], longest, walls, led=True)))
        if rows[-1][1].furthest(len(ends)) <= FAR and not rows[-1][1].cut:
            break
    tags, row = min(rows, key=lambda one: (one[1].cut, one[1].furthest(len(ends))))
    signs = {one: Signs() for one in ("", *(piece.id for piece in pieces))}
    for (owner, _), text, leader in zip(tags, row.texts, row.leaders, strict=True):
        signs[owner].texts.append(text)
        signs[owner].leaders += [leader] if leader else []
    return signs


def _ways(ends: Sequence[Owned], kinds: Kinds, told: bool) -> Iterator[list[Owned]]:
    """Yield the tags, the more telling ones first."""

    def each(sized: Sized) -> list[Owned]:
        return [*ends, *(tag for kind in kinds for tag in _each(*kind, sized))]

    def once(step: int) -> list[Owned]:
        return [*ends, *(tag for kind in kinds for tag in _named_once(*kind, step))]

    parted = _parted(ends, kinds)
    if parted:
        yield once(1)
    for sized in (Sized.ALL, *(() if told else STEPS), Sized.OUTER, *([Sized.NONE] if told else [])):
        yield each(sized)
    if parted and not told:
        yield from map(once, STEPS.values())
    yield each(Sized.ALONE)


def _parted(ends: Sequence[Owned], kinds: Kinds) -> bool:
    """Tell whether the notches of each kind lie apart from those of others, and from the ends."""
    spans = [(min(at for *_, at in own), max(at for *_, at in own)) for _, own in kinds]
    spans.append((min(tag.at for _, tag in ends), max(tag.at for _, tag in ends)))
    spans.sort()
    return all(before[1] < after[0] for before, after in pairwise(spans))


def _named_once(name: str, own: Sequence[tuple[str, str, float]], step: int) -> Iterator[Owned]:
    """Yield the name of a kind, and behind it the sizes: that of every one, or of so many and the last."""
    if len(own) == 1:
        yield from _each(name, own, Sized.ALL)
        return
    first = min(at for *_, at in own)
    told = [one for place, one in enumerate(own) if not place % step or place == len(own) - 1]
    tags = [(piece, Tag(at, size, bold=True)) for piece, size, at in told]
    head = Tag(0.0, name, tick=False)
    yield "", head._replace(at=first - (head.wide + tags[0][1].wide) / 2 - WHITE)
    yield from tags


def _each(name: str, own: Sequence[tuple[str, str, float]], sized: Sized) -> Iterator[Owned]:
    """Yield the name at every notch of a kind, some with their sizes."""
    for place, (piece, size, at) in enumerate(own):
        outer = place in (0, len(own) - 1)
        step = STEPS.get(sized, 0)
        told = size and sized is not Sized.NONE and (outer or sized is Sized.ALL or (step and not place % step))
        if outer or sized is not Sized.ALONE:
            yield piece, Tag(at, f"{size}·{name}" if told else name, bold=bool(told))
