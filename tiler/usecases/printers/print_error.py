"""What a printer's error does to each piece, and how far the reading can be trusted; mm.

A line of length L is drawn by a printer of scale m / n as L · m / n, so it comes out
wrong by e = L · (m - n) / n.  The reading m is in doubt by d, and so is the error, by
u = |de/dm| · d = L · d / n: propagation of uncertainty, JCGM 100:2008 (GUM), 5.1.2,
with one input, and d taken as a limit.  Nominal lengths are exact.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from tiler.draft.bought import drawn
from tiler.draft.figures import Figures
from tiler.drawn import Piece
from tiler.usecases.printers.profiles import Axis, Printer

LINES = {"across": 150.0, "down": 200.0}
"""The longest centimetre line of the first page on each axis, mm."""

USUAL = 0.02
"""Share up to which an error alike on both axes is taken for the printer's own: ours."""


@dataclass(frozen=True)
class LengthDeviation:
    """A length, how much longer than it should be it comes out, and the doubt of that; mm."""

    length: float
    axis: str
    error: float
    doubt: float


@dataclass(frozen=True)
class PieceDeviation:
    """A piece with the errors of its whole strip, as long as it is cut, and of its cut width."""

    name: str
    size: str | None
    strip: LengthDeviation
    width: LengthDeviation

    def to_json(self) -> dict[str, Any]:
        """Return the errors in mm; more than nothing is too long."""
        return {
            "name": self.name,
            "size": self.size,
            **{
                key: {
                    "length_mm": round(of.length, 4),
                    "axis": of.axis,
                    "error_mm": round(of.error, 4),
                    "uncertainty_mm": round(of.doubt, 4),
                }
                for key, of in (("strip", self.strip), ("width", self.width))
            },
        }


def carried(length: float, axis: Axis, name: str) -> LengthDeviation:
    """Carry a reading to a length, mm."""
    return LengthDeviation(length, name, length * (axis.scale - 1), length * axis.doubt)


def piece_errors(figures: Sequence[Figures], pieces: Sequence[Piece], printer: Printer) -> list[PieceDeviation]:
    """Return the error of every piece on the axis of the page that it lies along.

    A strip that is cut on fold is wrong twice, in both halves; of one that is pieced each section has its own error.
    """
    axes = {"across": printer.across, "down": printer.down}
    errors = []
    for one, piece in zip(drawn(figures), pieces, strict=True):
        along, over = ("down", "across") if piece.turned else ("across", "down")
        strip = carried(2 * one.half_length_mm, axes[along], along)
        errors.append(PieceDeviation(one.name, one.size, strip, carried(one.cut_width_mm, axes[over], over)))
    return errors


def too_coarse(printer: Printer) -> Iterator[str]:
    """Say for each axis whose error is no larger than its doubt what to read instead."""
    for word, axis in (("across", printer.across), ("down", printer.down)):
        if axis.decides:
            continue
        line = LINES[word]
        said = (
            f"{word}: {axis.nominal:g} mm was read as {axis.measured:g} mm to ± {axis.reading_error:g} mm, so the "
            f"error of {100 * abs(axis.scale - 1):.2f} % is no larger than its doubt of {100 * axis.doubt:.2f} %: "
            "too coarse to decide"
        )
        if axis.nominal < line:
            better = 100 * axis.reading_error / line
            yield f"{said}; read the {line / 10:g} cm line {word} the first page, which tells {better:.2f} %"
        else:
            yield f"{said}; no line of the first page is longer, so take this axis as true"


def doubts(printer: Printer) -> Iterator[str]:
    """Say what speaks against undoing this error: a reading too coarse, or a print dialog that fits the page."""
    yield from too_coarse(printer)
    across, down = printer.across, printer.down
    off = (across.scale + down.scale) / 2 - 1
    if abs(off) > USUAL and abs(across.scale - down.scale) <= across.doubt + down.doubt:
        yield (
            f"both axes are off alike by {100 * abs(off):.1f} %, as a page fitted to the paper is: see that the print "
            "dialog says 100 %, print the first page again and measure it before you undo this"
        )
