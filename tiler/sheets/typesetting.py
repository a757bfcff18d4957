"""Type as it is set: how wide a line is, where it breaks, which signs the fonts have; mm, sizes in points.

Widths are those of the type itself, asked of reportlab's font, so that what is measured
here is what the canvas prints.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import cache, lru_cache

from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont

from tiler.errors import SpecError
from tiler.fonts import BOLD, REGULAR, font_file
from tiler.languages.scripts import is_shaped
from tiler.sentence import Place
from tiler.sheets.style import SMALL

MM = 72 / 25.4

_FRACTION = re.compile("(?:(?<=[0-9])[ \u00a0])?([0-9]{1,3})/([0-9]{1,2})(?=[ \u00a0]in\\b)")
_BEHIND = re.compile(r"[^-_.,;/@+]*[-_.,;/@+]+|[^-_.,;/@+]+")
UNITS, FIGURES = ("in", "cm", "mm", "%"), tuple("0123456789½¼¾⅛⅜⅝⅞₂₄₆₈")

_RAISED = str.maketrans("0123456789", "⁰¹²³⁴⁵⁶⁷⁸⁹")
_LOWERED = str.maketrans("0123456789", "₀₁₂₃₄₅₆₇₈₉")


@cache
def _font(bold: bool) -> TTFont:
    name = BOLD if bold else REGULAR
    font = TTFont(name, str(font_file(bold)))
    pdfmetrics.registerFont(font)
    return font


def face(bold: bool) -> str:
    """Return the name of a font, which is at reportlab's hand from then on."""
    return str(_font(bold).fontName)


def typeset(text: str) -> str:
    """Set the fractions of inches as the eye wants them: raised and lowered figures about a fraction stroke."""
    return _FRACTION.sub(_stacked, text) if "/" in text else text


def _stacked(found: re.Match[str]) -> str:
    return f"{found[1].translate(_RAISED)}⁄{found[2].translate(_LOWERED)}"


@lru_cache(2**14)
def text_width(text: str, size: float = SMALL, bold: bool = False) -> float:
    """Return the advance width of a line of text, mm; ``size`` in points."""
    return float(_font(bold).stringWidth(typeset(text), size)) / MM


def wrapped(text: str, width: float, size: float = SMALL, bold: bool = False) -> list[str]:
    """Break a text at its plain spaces into lines no wider than ``width`` mm (one word may be wider)."""
    return list(_wrapped(text, width, size, bold))


@lru_cache(2**11)
def _wrapped(text: str, width: float, size: float, bold: bool) -> Sequence[str]:
    """Break a text as it is measured first and set later, once for all."""
    words: list[str] = []
    for word in typeset(text).split(" "):
        if words and word.strip(".,;:)") in UNITS and words[-1][-1:] in FIGURES:
            # a number and its unit stay on one line
            words[-1] += f" {word}"
        else:
            words.append(word)
    lines: list[str] = []
    for word in words:
        if lines and text_width(f"{lines[-1]} {word}", size, bold) <= width:
            lines[-1] += f" {word}"
        else:
            lines.append(word)
    return lines


def broken(text: str, width: float, size: float = SMALL, bold: bool = False) -> list[str]:
    """Break a text like :func:`wrapped`, and a word that is wider than a line behind its hyphens, dots and the like.

    Only what is still too wide is broken between any two signs.
    """
    lines: list[str] = []
    for line in wrapped(text, width, size, bold):
        parts = [line] if text_width(line, size, bold) <= width else _BEHIND.findall(line)
        pieces = [piece for part in parts for piece in _in_pieces(part, width, size, bold)]
        start = len(lines)
        for piece in pieces:
            if len(lines) > start and text_width(lines[-1] + piece, size, bold) <= width:
                lines[-1] += piece
            else:
                lines.append(piece)
    return lines


def _in_pieces(word: str, width: float, size: float, bold: bool) -> list[str]:
    pieces = [""]
    for sign in word:
        if pieces[-1] and text_width(pieces[-1] + sign, size, bold) > width:
            pieces.append("")
        pieces[-1] += sign
    return pieces


def printable(text: str) -> str:
    """Return a text of strangers with a question mark for every character that the font lacks."""
    return "".join(sign if _is_set(sign) else "?" for sign in text)


def refuse_missing_characters(text: str, where: str) -> None:
    """Raise :class:`SpecError` when the font cannot print a character of ``text``, or not as its script is written."""
    for character in text:
        if _is_set(character):
            continue
        if is_shaped(character):
            raise SpecError(
                f"{character!r} (U+{ord(character):04X}) is of a script whose letters are joined or run from right to "
                "left, which cannot be set here; write it in another script",
                Place("", (where,)),
            )
        raise SpecError(
            f"the font has no sign for {character!r} (U+{ord(character):04X}); write it another way",
            Place("", (where,)),
        )


@cache
def _is_set(character: str) -> bool:
    """Tell whether both fonts have a character, and its script is written as it is set."""
    return not is_shaped(character) and all(ord(character) in _font(bold).face.charToGlyph for bold in (False, True))
