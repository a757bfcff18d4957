"""The words of options for what the engine says of a spec.

The engine speaks of keys: ``pieces[0].edge.front-half: ...; write whole = "24 cm"``.
Whoever gave options is told of those: ``--front-half: ...; write --edge "24 cm"``.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from tiler.commands.one_piece.option import EDGE, PIECE, Keys, PieceOption, Value
from tiler.commands.one_piece.table import FabricNames
from tiler.draft.figures import Figures
from tiler.errors import SpecError
from tiler.sentence import Key, Phrase, Place, worded

OPTIONS = "options"
"""The source of a spec that is read out of options."""

_PHRASES = {
    Phrase.NAME_FABRIC: "give --stretch",
    Phrase.NAME_GARMENT_FABRIC: "give --garment-stretch",
    Phrase.MEASURE_FABRIC: "measure the fabric and give --stretch",
    Phrase.CLOTH_WIDTH: "give --cloth-width",
    Phrase.STATED: "as given",
    Phrase.RATIOS: '"advised", "usual", a percentage, or give --body',
}

_TABLES: dict[Keys, Keys] = {
    EDGE: (*EDGE, "whole"),
    (*PIECE, "opening"): (*PIECE, "opening", "must-pass"),
    (*PIECE, "fits"): (*PIECE, "fits", "body"),
    (*PIECE, "closed"): (*PIECE, "ends"),
    (*PIECE, "buttons"): (*PIECE, "buttons", "count"),
    (*PIECE, "elastic"): (*PIECE, "elastic", "width"),
    (*PIECE, "replaces"): (*PIECE, "replaces", "finish"),
    (*PIECE, "trials"): (*PIECE, "trials", 0, "shorten"),
    ("paper",): ("paper", "size"),
}
"""The key whose option stands for a whole table."""

_VALUES = {(*PIECE, "closed"): '"turned"'}
"""What the option for such a key takes in place of its value."""


@dataclass(frozen=True)
class OptionWords:
    """How the options of one command were typed, and where the spec would have their values."""

    options: Sequence[PieceOption]
    names: FabricNames
    typed: Sequence[str] = ()

    def fault(self, fault: SpecError) -> SpecError:
        """Return a fault of the spec as one of the option that stands for its key."""
        if fault.place is None or not fault.place.path:
            return fault
        path = fault.place.path
        why = self.advice(fault.why, path[:-1])
        around = (self._option(path[:end]) for end in range(len(path), 0, -1))
        option = next((found for found in around if found), None)
        return type(fault)(why, self.place(option) if option else Place("", path))

    def advice(self, text: str, table: Keys = PIECE) -> str:
        """Return what the engine says of a table with options for its keys."""

        def word(part: Key | Phrase) -> str:
            if isinstance(part, Phrase):
                return self.phrase(part)
            path = _walked(table, (*part.within, part.name))
            option = self._option(path)
            if option is None:
                # a name stands in an option beside its length, without a word of its own
                return part.value if part.value and part.name == "name" and path[:-2] != PIECE[:1] else part
            value = _VALUES.get(path, part.value.strip("[]")) if part.value else ""
            return f"{self.name(option)} {'' if option.value is Value.FLAG else value}".rstrip()

        return worded(text, word)

    def figures(self, piece: Figures) -> Figures:
        """Return the figures of the piece with options in what they say."""
        return replace(
            piece,
            ratio=replace(piece.ratio, source=self.advice(piece.ratio.source)),
            warnings=tuple(self.advice(warning) for warning in piece.warnings),
            doubts=tuple(self.advice(doubt) for doubt in piece.doubts),
            failed=tuple(replace(one, text=self.advice(one.text)) for one in piece.failed),
        )

    def name(self, option: PieceOption) -> str:
        """Return an option as it was typed, else by its first name."""
        return next((name for name in option.names if name in self.typed), option.names[0])

    def place(self, option: PieceOption) -> Place:
        """Return the option as the place of a fault."""
        return Place(self.name(option))

    def phrase(self, phrase: Phrase) -> str:
        """Return what is said of options in place of a phrase about tables."""
        return _PHRASES[phrase]

    def _option(self, path: Keys) -> PieceOption | None:
        """Return the option for a key or a table of the spec."""
        wanted = _TABLES.get(path, path)
        return next((option for option in self.options if self.names.resolve(option.place) == wanted), None)


def _walked(table: Keys, within: Keys) -> Keys:
    """Return where keys lead from a table."""
    for key in within:
        table = table[:-1] if key == ".." else (*table, key)
    return table
