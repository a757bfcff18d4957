"""What a label says in the second of two languages: as much as had room, and nothing that is wrong.

Such words may be missing, so each statement of theirs is looked for by the shape that it has.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import product
from math import dist
from unicodedata import normalize

from tiler.declaration import Tag
from tiler.drawn import ContourPiece, Piece
from tiler.languages.proved import (
    BUTTONHOLE,
    BUTTONHOLES,
    CUT,
    CUT_SIZE,
    CUT_WIDTH,
    FINISHED_EDGE,
    FINISHED_WIDTH,
    FROM_FOLD,
    GARMENT_EDGE,
)
from tiler.languages.words import say
from tiler.proof.words.cutting import cut_lengths, cut_widths, how_cut, written

_NUMBER, _LENGTH = r"\d+", r"[\d/.,]+(?:in|cm)\([\d/.,]+(?:in|cm)\)"
_PLACES = {"\ue000": _NUMBER, "\ue001": _LENGTH, "\ue002": _LENGTH}
_COUNT, _LONG, _WIDE = _PLACES
"""Signs of no script, which stand for what is looked for."""


def plain(text: str) -> str:
    """Return a text without blanks, its fractions written one way."""
    return "".join(normalize("NFKC", text).replace("⁄", "/").split())


def how_cut_kept(piece: Piece, said: str) -> bool:
    """Tell whether all that a plain text says of how often and how a piece is cut is so."""
    shapes = (say(template, count=_COUNT).upper() for template in CUT.values())
    return all(one == plain(how_cut(piece).upper()) for shape in shapes for one in _found(shape, said))


def cut_size_kept(piece: Piece, said: str, units: str) -> bool:
    """Tell whether all lengths and widths that a plain text says a piece is cut to are so."""
    lengths, widths = cut_lengths(piece, units), cut_widths(piece, units)
    right = {say(CUT_SIZE, length=length, width=width) for length, width in product(lengths, widths)}
    right |= {say(CUT_WIDTH, width=width) for width in widths}
    shapes = (
        say(CUT_SIZE, length=_LONG, width=_WIDE),
        say(CUT_SIZE, length=say(FROM_FOLD, length=_LONG), width=_WIDE),
        say(CUT_WIDTH, width=_WIDE),
    )
    return {one for shape in shapes for one in _found(shape, said)} <= {plain(one) for one in right}


def band_kept(piece: ContourPiece, said: str, units: str) -> bool:
    """Tell whether all that a plain text says of the width of a contour band and of its two seams is so."""
    widths, seams = written(piece.contour.width_mm, units), written(piece.contour.allowance_mm, units)
    right = {say(FINISHED_WIDTH, width=width) for width in widths}
    right |= {say(template, length=length) for template in (GARMENT_EDGE, FINISHED_EDGE) for length in seams}
    shapes = [say(FINISHED_WIDTH, width=_LONG), *(say(one, length=_LONG) for one in (GARMENT_EDGE, FINISHED_EDGE))]
    return {one for shape in shapes for one in _found(shape, said)} <= {plain(one) for one in right}


def seams_said(piece: ContourPiece, said: str, units: str) -> bool:
    """Tell whether a plain text says how both edges of a contour band are sewn; a folded one has no finished edge."""
    templates = (GARMENT_EDGE, FINISHED_EDGE)
    folded = any(part.tag == Tag.PRESS_LINE for part in piece.parts)
    seams = written(piece.contour.allowance_mm, units)
    return folded or all(any(plain(say(one, length=length)) in said for length in seams) for one in templates)


def buttons_kept(piece: Piece, words: Sequence[str], units: str) -> bool:
    """Tell whether all that a piece says of its buttonholes is so: how many there are, how long, and how far apart."""
    holes = [part.subpaths[0] for part in piece.parts if part.tag == Tag.BUTTONHOLE]
    middles = [((x0 + x1) / 2, (y0 + y1) / 2) for (x0, y0), (x1, y1) in holes]
    right = set()
    if holes:
        lengths = written(dist(*holes[0]), units)
        apart = written(dist(middles[0], middles[1]), units) if len(holes) > 1 else {""}
        template = BUTTONHOLES if len(holes) > 1 else BUTTONHOLE
        told = product(lengths, apart)
        right = {plain(say(template, count=len(holes), hole=hole, apart=far)) for hole, far in told}
    shapes = say(BUTTONHOLES, count=_COUNT, hole=_LONG, apart=_WIDE), say(BUTTONHOLE, hole=_LONG)
    # what is said may go on in the next line, and begins where no number of a line before can join it
    lines = [(plain(line), plain("".join(words[at:]))) for at, line in enumerate(words)]
    return all(
        one in right
        for shape in shapes
        for line, said in lines
        for one in _found(shape, said)
        if said.index(one) < len(line)
    )


def _found(shape: str, said: str) -> Iterator[str]:
    """Yield what has this shape, its places filled, in a plain text."""
    looked_for = re.escape(plain(shape))
    for sign, found in _PLACES.items():
        looked_for = looked_for.replace(sign, found)
    return (one[0] for one in re.finditer(looked_for, said))
