"""Sizes of one piece drawn within each other: one fold edge, one lower edge, an end line for each size; piece mm.

Every size stays a whole piece, so that each can be declared, proved and shown alone.
What all share in words stands once, on the smallest.  Sizes are told apart by the
pattern of their cut line and by their letters, never by colour.  Only sizes of one cut
width are nested, since the press lines of others would run through the words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from tiler.box import Box, Subpath
from tiler.declaration import Tag
from tiler.draft.outline import Piece, Word
from tiler.errors import SpecError
from tiler.sheets.pieces.group import Group
from tiler.sheets.pieces.lettering import Lettered, bounds_of, letter
from tiler.sheets.pieces.notch_flags import flags
from tiler.sheets.pieces.rows import ASCENT, DESCENT, NO_JOINTS, Joints, Text
from tiler.sheets.style import LEADING

CLOSEST = 3.0
"""End lines nearer than this cannot be told apart with scissors in hand; ours."""

COMMON = ""
"""Stands for the words of all sizes where the others have the id of their piece."""

ALIKE = 0.01
"""Ends that differ by less are one line."""

PATTERNS: tuple[tuple[float, ...], ...] = (
    (),
    (8.0, 2.0),
    (3.0, 1.5),
    (10.0, 1.5, 1.5, 1.5),
    (5.0, 1.5, 1.5, 1.5, 1.5, 1.5),
    (4.0, 3.5),
    (14.0, 2.5),
    (6.0, 1.2, 2.5, 1.2),
)
"""Dash patterns of the cut lines, mm; with more sizes they come again, and the letters tell."""


def families(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Return the sizes of each piece together where they share a cut width."""
    found: dict[tuple[object, ...], list[Piece]] = {}
    for piece in pieces:
        found.setdefault(_family(piece), []).append(piece)
    return list(found.values())


def nest(family: Sequence[Piece], joints: Joints = NO_JOINTS) -> Group:
    """Put the sizes of a piece within each other, its words off the joints where that can be.

    Raises :class:`SpecError` when two ends come too close to each other.
    """
    return _nest(family, joints) if len(family) > 1 else Group((letter(family[0], joints),))


def _family(piece: Piece) -> tuple[object, ...]:
    figures = piece.figures
    if figures.size is None or figures.extra_seams_mm:
        # sections that are cut apart stand at another place for each size
        return (piece.id,)
    lanes = tuple(round(lane, 6) for lane in piece.lanes)
    seam = tuple((round(y, 6), round(reach, 6)) for y, reach in figures.end.seam)
    return (figures.name, lanes, seam, piece.on_fold, figures.quantity, figures.sewn_edges)


def _nest(family: Sequence[Piece], joints: Joints) -> Group:
    by_length = sorted(family, key=lambda piece: piece.length)
    for small, large in pairwise(by_length):
        off = large.length - small.length
        if ALIKE < off < CLOSEST:
            raise SpecError(
                f"{small.figures.name}: sizes {small.figures.size} and {large.figures.size} end {off:.1f} mm apart, "
                f"too close to be cut from one nest ({CLOSEST:g} mm at least); draw them apart (--apart), "
                "or fewer of them (--sizes)"
            )
    shared = letter(_common(by_length), joints)
    arrows = tuple(part for part in shared.parts if part.tag == Tag.STRETCH_ARROW)
    words = [text for text in shared.texts if text.text]
    signs = _signs(by_length, words)
    members = []
    for index, piece in enumerate(family):
        texts, leaders = signs[piece.id]
        members.append(
            Lettered(
                piece,
                (*piece.parts, *arrows),
                tuple(texts),
                tuple(leaders),
                bounds_of(piece, texts),
                PATTERNS[index % len(PATTERNS)],
            )
        )
    common, lines = signs[COMMON]
    words += common
    with_leaders = (*shared.leaders, *lines)
    only_words = Lettered(shared.piece, (), tuple(words), with_leaders, bounds_of(by_length[0], words))
    return Group(tuple(members), only_words)


def _common(by_length: Sequence[Piece]) -> Piece:
    """Return the smallest piece with the words that hold for all sizes, and room kept free at all notches."""
    smallest = by_length[0]
    sizes = [piece.figures.size or "" for piece in by_length]
    end = smallest.end_words[0].text if smallest.end_words else ""
    # what differs from size to size does not hold for all
    shared = len({piece.label.garment for piece in by_length}) == 1
    label = replace(
        smallest.label, garment=smallest.label.garment if shared else "", failed=tuple(_not_passed(by_length))
    )
    return replace(
        smallest,
        id=f"{smallest.id}s",
        lines=label.lines_for(sizes, end),
        end_words=(),
        notch_words=tuple(Word("", word.at) for piece in by_length for word in piece.notch_words),
    )


def _not_passed(by_length: Sequence[Piece]) -> Iterator[str]:
    """Yield which sizes do not pass their checks, one after the other or all at once."""
    failing = [piece.figures.size or "" for piece in by_length if piece.figures.failed]
    if len(failing) == len(by_length):
        yield "all sizes, see the figures"
    elif failing:
        yield f"{', '.join(failing)}, see the figures"


def _signs(by_length: Sequence[Piece], words: Sequence[Text]) -> dict[str, tuple[list[Text], list[Subpath]]]:
    """Return for each size what tells it: its letter at its end above, and at its notches below; and what all share."""
    signs: dict[str, tuple[list[Text], list[Subpath]]] = {one: ([], []) for one in (COMMON, *(p.id for p in by_length))}
    top = by_length[0].width
    ends = min(piece.length for piece in by_length)
    above = [text.box.y1 for text in words if text.box.y0 > top and text.box.x1 > ends - 2.0]
    base = max([top + 1.5, *(y + 1.0 for y in above)]) + DESCENT
    for row, piece in enumerate(reversed(by_length)):
        texts, leaders = signs[piece.id]
        y = base + row * LEADING
        texts.append(Text(piece.length + 1.2, y, f"{piece.figures.size}: {piece.label.cut_length}", True))
        leaders.append(((piece.length, top + 0.6), (piece.length, y + ASCENT)))
    _notch_signs(by_length, [text.box for text in words], signs)
    return signs


def _notch_signs(
    by_length: Sequence[Piece], words: Sequence[Box], signs: dict[str, tuple[list[Text], list[Subpath]]]
) -> None:
    """Put size and name under every notch, in rows deep enough that no leader crosses a word."""
    wanted: dict[tuple[float, str], tuple[float, str]] = {}
    for piece in by_length:
        for word in piece.notch_words:
            of_all = all(
                any(abs(one.at - word.at) < ALIKE and one.text == word.text for one in other.notch_words)
                for other in by_length
            )
            label = word.text if of_all else f"{piece.figures.size} {word.text}"
            wanted.setdefault((round(word.at, 1), label), (word.at, COMMON if of_all else piece.id))
    longest = by_length[-1].length
    found = flags([(at, label) for (_, label), (at, _) in wanted.items()], longest, words)
    for (_, owner), flag in zip(wanted.values(), found, strict=True):
        texts, leaders = signs[owner]
        texts.append(flag.text)
        leaders.append(flag.leader)
