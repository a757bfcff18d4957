"""The words of the spec as the words of options: a message about one piece names what was typed.

The engine speaks of keys: ``pieces[0].edge.front-half: ...; write whole = "24 cm"``.
Whoever gave options knows only those: ``--front-half: ...; write --edge "24 cm"``.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass

from tiler.commands.one_piece.options import EDGE, PIECE, PieceOption
from tiler.commands.one_piece.table import FabricNames, where

PLACE = "options:"
"""What stands before every key when the spec is read out of options."""

_PHRASES = {
    "name its garment-fabric": "give --garment-stretch",
    "name its fabric": "give --stretch",
    "measure the fabric and name it": "measure the fabric and give --stretch",
    "stated in the spec": "as given",
    "or fits": "or give --body",
}
"""Whole phrases that speak of the tables of a spec."""

_TABLES = {
    EDGE: "--edge",
    (*PIECE, "opening"): "--must-pass",
    (*PIECE, "fits"): "--body",
    (*PIECE, "trials"): "--shorten",
    ("paper",): "--paper",
}
"""The option that stands for a whole table."""

_STATEMENT = re.compile(r"(?<![\w-])([a-z]+(?:-[a-z]+)*) = (\"[^\"]*\"|\[[^\]]*\])")
_KEY = re.compile(r"(?<![\w-])[a-z]+(?:-[a-z]+)+(?![\w-])")
_NAMED = re.compile(r"(?<=contradicts )[a-z-]+|(?<=leave )corner(?= out)|(?<=with |give )whole|(?<=or )whole")


@dataclass(frozen=True)
class OptionWords:
    """How the options of one command were typed, and where the spec would have their values."""

    options: Sequence[PieceOption]
    names: FabricNames
    typed: Sequence[str] = ()

    def fault(self, message: str) -> str:
        """Say a message about a key of the spec as one about an option."""
        rest = message.removeprefix(f"{PLACE} ")
        places = {where(self.names.resolve(option.place)): self.name(option) for option in self.options}
        places |= {where(place): name for place, name in _TABLES.items()}
        # the longest place is the exact one
        for place, name in sorted(places.items(), key=lambda entry: -len(entry[0])):
            after = rest.removeprefix(place)
            if after != rest and after[:1] in (":", "[", "."):
                return f"{name}:{self.advice(after.partition(':')[2], place.rpartition('.')[0])}"
        return self.advice(rest)

    def advice(self, text: str, table: str = "") -> str:
        """Turn the keys in a text into options, those of ``table`` first."""
        for phrase, own in _PHRASES.items():
            text = text.replace(phrase, own)
        text = _STATEMENT.sub(lambda found: f"{self._option(found[1], table)} {found[2].strip('[]')}", text)
        text = _NAMED.sub(lambda found: self._option(found[0], table), text)
        return _KEY.sub(lambda found: self._option(found[0], table), text)

    def name(self, option: PieceOption) -> str:
        """Give an option as it was typed, else by its first name."""
        return next((name for name in option.names if name in self.typed), option.names[0])

    def _option(self, key: str, table: str) -> str:
        """Give the option for a key; a word that is none stays."""
        found = [option for option in self.options if option.key == key]
        near = [option for option in found if where(self.names.resolve(option.place)) == f"{table}.{key}"]
        return self.name((near or found)[0]) if found else key
