"""What a label says in the second of two languages: as much as had room, and nothing that is wrong.

Such words may be missing, so each statement of theirs is looked for by the shape that it has.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import product
from unicodedata import normalize

from tiler.drawn import Piece
from tiler.languages.proved import CUT, CUT_SIZE, CUT_WIDTH, FROM_FOLD
from tiler.languages.words import say
from tiler.proof.words.cutting import cut_lengths, cut_widths, how_cut

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


def _found(shape: str, said: str) -> Iterator[str]:
    """Yield what has this shape, its places filled, in a plain text."""
    looked_for = re.escape(plain(shape))
    for sign, found in _PLACES.items():
        looked_for = looked_for.replace(sign, found)
    return (one[0] for one in re.finditer(looked_for, said))
