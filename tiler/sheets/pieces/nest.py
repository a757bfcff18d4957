"""Sizes of one piece drawn within each other: one fold edge, one lower edge, an end line for each size; piece mm.

Every line is drawn once: a size shows its end, its notches and its row of the table, and
what it has in common with others shows with any of them (:mod:`.shared_lines`).  So each can be declared,
proved and shown alone.  What all share in words stands once, on the smallest.  Sizes are
told apart by the pattern of their end line and by the tag at it, and where that is
wished by their colour as well (:mod:`.palette`).  Only sizes of one cut width are nested,
since the press lines of others would run through the words.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import pairwise

from tiler.box import Box
from tiler.draft.label import TOLD_THERE, in_languages
from tiler.draft.outline import Piece, Word, sewn_ends
from tiler.draft.strip.corner import PIVOTED, PIVOTED_AS_DRAWN, Corner
from tiler.errors import SpecError
from tiler.languages.catalogue import noted
from tiler.languages.words import Words, in_each, say, told
from tiler.lengths import both
from tiler.sentence import Sentence, joined
from tiler.sheets.pieces.curved.nest import kin, piled, shared_parts, told_apart
from tiler.sheets.pieces.group import Group
from tiler.sheets.pieces.lettering import BORDER, Lettered, advise, bounds_of, filled, letter, lettered
from tiler.sheets.pieces.palette import PALETTE
from tiler.sheets.pieces.rows import NO_JOINTS, Joints
from tiler.sheets.pieces.shaped import nested_words
from tiler.sheets.pieces.shared_lines import ALIKE, around, shared_out
from tiler.sheets.pieces.size_table import put_table
from tiler.sheets.pieces.size_tags import Kinds, size_tags
from tiler.sheets.pieces.tag_row import Tag

CLOSEST = 3.0
"""End lines nearer than this cannot be told apart with scissors in hand; ours."""

UNLIKE_ENDS = noted("left {left}, right {right}")
"""Which join of a section is at which of its ends, as it is printed."""

ONE_PLACE = 0.3
"""Notches that lie closer together cannot be told apart, and one word stands for all, mm."""

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
"""Dash patterns of the end lines, mm; with more sizes they come again, and the tags tell."""


def families(pieces: Sequence[Piece]) -> list[list[Piece]]:
    """Return the sizes of each piece together where they can lie within each other."""
    found: dict[tuple[object, ...], list[Piece]] = {}
    for piece in pieces:
        found.setdefault(_family(piece), []).append(piece)
    return [family for kin in found.values() for family in _apart(kin)]


def _family(piece: Piece) -> tuple[object, ...]:
    figures = piece.figures
    if figures.shape:
        return kin(piece)
    # buttonholes of several sizes could not be told apart
    if figures.size is None or figures.buttons:
        return (piece.id,)
    lanes = tuple(round(lane, 6) for lane in piece.lanes)
    # ends on both sides that slant by other angles would cross on the left
    end = figures.end.style if piece.on_fold else (_slant(piece), figures.start and figures.left_end.seam)
    return (figures.name, lanes, end, piece.on_fold, figures.quantity, figures.sewn_edges)


def _apart(family: Sequence[Piece]) -> list[list[Piece]]:
    """Part sizes whose ends come too close where nobody can help it by his grading.

    Their ends slant by other angles, or they are sections, which differ by no more than their share of the strip.
    """
    if family[0].figures.shape:
        return [list(family)] if told_apart(family) else [[piece] for piece in family]
    alone = len({_slant(piece) for piece in family}) > 1 or any(piece.figures.section for piece in family)
    return [[piece] for piece in family] if alone and _too_close(family) else [list(family)]


def _slant(piece: Piece) -> tuple[tuple[float, float], ...]:
    return tuple((round(y, 6), round(reach, 6)) for y, reach in piece.figures.end.seam)


def _too_close(family: Sequence[Piece]) -> tuple[Piece, Piece, float] | None:
    """Return two sizes whose ends cannot be told apart somewhere, and how far one lies beyond the other there, mm."""
    for small, large in pairwise(sorted(family, key=lambda piece: piece.length)):
        beyond = [_end_at(large, y) - _end_at(small, y) for y, _ in small.figures.end.seam]
        if min(beyond) < CLOSEST and max(map(abs, beyond)) > ALIKE:
            return small, large, min(beyond)
    return None


def _end_at(piece: Piece, y: float) -> float:
    end = piece.figures.end
    return piece.length - end.longest + end.allowance_along + end.reach_between(y, y)


def nest(family: Sequence[Piece], joints: Joints = NO_JOINTS) -> Group:
    """Put the sizes of a piece within each other, its words off the joints where that can be.

    Raises :class:`SpecError` when two ends come too close to each other.
    """
    if len(family) == 1:
        return Group((letter(family[0], joints),))
    if family[0].figures.shape:
        return _curved(piled(family), joints)
    close = _too_close(family)
    if close:
        small, large, off = close
        raise SpecError(
            f"{small.figures.name}: sizes {small.figures.size} and {large.figures.size} end {off:.1f} mm apart, "
            f"too close to be cut from one nest ({CLOSEST:g} mm at least); draw them apart (--apart), "
            "or fewer of them (--sizes)"
        )
    by_length = sorted(family, key=lambda piece: piece.length)
    everyone = tuple(piece.id for piece in by_length)
    smallest = by_length[0]
    strip = filled(_common(by_length), joints)
    heads, rows = put_table(strip, by_length)
    advise(strip)
    words = lettered(strip)
    lines = shared_out(by_length)
    ends = [Tag(_end_at(piece, 0.0), piece.figures.size or "", bold=True) for piece in by_length]
    # a table without notches has two columns
    told_there = len({head.text for head in heads}) > 2
    signs = size_tags(by_length, ends, _kinds(by_length), [wall for one in joints.along for wall in one], told_there)
    members = []
    for index, piece in enumerate(family):
        own = signs[piece.id]
        texts = (*own.texts, *rows[piece.id])
        bounds = bounds_of(piece, texts)
        parts = tuple(lines.pop((piece.id,), ()))
        members.append(
            Lettered(piece, parts, texts, tuple(own.leaders), bounds, _pattern(index), PALETTE[index % len(PALETTE)])
        )
    common = signs[""]
    texts = (*(text for text in words.texts if text.text), *common.texts, *heads)
    shared = [
        replace(
            words,
            parts=(*lines.pop(everyone, ()), *strip.parts),
            texts=texts,
            leaders=(*words.leaders, *common.leaders),
            bounds=bounds_of(smallest, texts),
            of=everyone,
        )
    ]
    order = [piece.id for piece in family]
    for number, (owners, some) in enumerate(lines.items(), 1):
        piece = replace(words.piece, id=f"{words.piece.id}{number}")
        pattern = _pattern(min(order.index(owner) for owner in owners))
        shared.append(Lettered(piece, tuple(some), (), (), around(some).grown(BORDER), pattern, of=owners))
    cells = [text.box for row in (heads, *rows.values()) for text in row]
    return Group(tuple(members), tuple(shared), Box.enclosing(cells) if cells else None)


def _curved(family: Sequence[Piece], joints: Joints) -> Group:
    """Put sizes with curved lines within each other, all at their fold."""
    by_length = sorted(family, key=lambda piece: piece.length)
    everyone, (common, lines) = tuple(piece.id for piece in by_length), shared_parts(by_length)
    strip = replace(
        _common(by_length),
        width=max(piece.width for piece in by_length),
        notch_words=tuple(word for word in by_length[0].notch_words if word.at == 0.0),
    )
    nested = nested_words(strip, by_length, joints)
    members = []
    for index, piece in enumerate(family):
        own = by_length.index(piece)
        texts = (*nested.names[own], *nested.rows[own])
        members.append(
            Lettered(
                piece,
                tuple(lines[own]),
                texts,
                tuple(nested.leaders[own]),
                bounds_of(piece, texts),
                _pattern(index),
                PALETTE[index % len(PALETTE)],
            )
        )
    words = nested.words
    texts = tuple(words.texts)
    parts = (*common, *words.parts)
    shared = Lettered(strip, parts, texts, tuple(words.leaders), bounds_of(by_length[0], texts), of=everyone)
    return Group(tuple(members), (shared,))


def _pattern(index: int) -> tuple[float, ...]:
    return PATTERNS[index % len(PATTERNS)]


def _common(by_length: Sequence[Piece]) -> Piece:
    """Return the smallest piece with the words that hold for all sizes, and room kept free at all notches."""
    smallest = by_length[0]
    sizes = [piece.figures.size or "" for piece in by_length]
    end = _ends(smallest)
    # what differs from size to size does not hold for all
    shared, on_bias, runs_on = (
        len(set(texts)) == 1
        for texts in zip(
            *((one.garment, one.bias, one.runs_on) for one in (piece.label for piece in by_length)), strict=True
        )
    )
    lines = [
        replace(
            label,
            garment=label.garment if shared else "",
            elastic=_elastic(by_length, label.units),
            bias=label.bias if on_bias else "",
            runs_on=label.runs_on if runs_on else "",
            failed=tuple(_not_passed(by_length)),
        ).lines_for(sizes, told(end), wide=smallest.figures.shape is None)
        for _, label in zip(in_each(), smallest.labels, strict=True)
    ]
    return replace(
        smallest,
        id=f"{smallest.id}s",
        lines=in_languages(lines),
        # the label says how far, since no end seam is drawn
        advice=tuple(Words(PIVOTED) if step == PIVOTED_AS_DRAWN else step for step in smallest.advice),
        end_words=(),
        notch_words=tuple(word for piece in by_length for word in piece.notch_words),
    )


def _elastic(by_length: Sequence[Piece], units: str) -> str:
    """Say how the elastic of each size is cut."""
    pairs = [(piece.figures.size, piece.figures.elastic) for piece in by_length]
    elastics = [one for _, one in pairs if one]
    if not elastics:
        return ""
    if len({one.cut_mm for one in elastics}) == 1:
        return told(elastics[0].words(units))
    lengths = joined(", ", [Sentence(f"{size} ", both(one.cut_mm, units)) for size, one in pairs if one])
    width, overlap = both(elastics[0].width_mm, units), both(elastics[0].overlap_mm, units)
    return say(
        "elastic {width} wide, ends lapped by {overlap}: cut {lengths}", width=width, overlap=overlap, lengths=lengths
    )


def _ends(piece: Piece) -> str:
    """Name the end seam, or both joins of a section that has others at its two ends."""
    names = list(dict.fromkeys(word.text for word in piece.end_words))
    if piece.figures.section and len(names) > 1:
        return Words(UNLIKE_ENDS, left=names[0], right=names[1])
    return names[0] if names else ""


def _of_all(word: Word, pieces: Sequence[Piece]) -> bool:
    return all(
        any(abs(one.at - word.at) < ONE_PLACE and one.text == word.text for one in piece.notch_words)
        for piece in pieces
    )


def _not_passed(by_length: Sequence[Piece]) -> Iterator[str]:
    """Yield which checks are not passed, where it is the same in all sizes that fail, with these unless all do."""
    failing = [piece.figures for piece in by_length if piece.figures.failed]
    said = {", ".join(told(check.short) for check in one.failed) for one in failing}
    if said:
        text = said.pop() if len(said) == 1 else say(TOLD_THERE)
        sizes = ", ".join(one.size or "" for one in failing)
        yield text if len(failing) == len(by_length) else say("{about}: {text}", about=sizes, text=text)


def _kinds(by_length: Sequence[Piece]) -> Kinds:
    """Return the notches of all sizes, those of one name together; one that all share is that of "".

    Those at a straight end seam are left out: they lie an allowance before the end.
    """
    smallest = by_length[0]
    kinds: dict[tuple[str, int], list[tuple[str, str, float]]] = {
        (word.text, -1): [("", "", word.at)] for word in smallest.notch_words if _of_all(word, by_length)
    }
    for piece in by_length:
        _, end = sewn_ends(piece.figures)
        straight = piece.figures.end.style is Corner.NONE
        counts: dict[str, int] = {}
        for word in piece.notch_words:
            counts[word.text] = counts.get(word.text, 0) + 1
            if not _of_all(word, by_length) and not (straight and word.at > end - ALIKE):
                own = (piece.id, piece.figures.size or "", word.at)
                kinds.setdefault((word.text, counts[word.text]), []).append(own)
    return [(told(name), own) for (name, _), own in kinds.items()]
