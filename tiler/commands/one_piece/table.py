"""From the options of one piece to the tables that its spec would hold.

What the spec needs and no option says gets its usual value here: the kind of the edge
follows from the parts that were measured, the units from the first length, and names
from the kind.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from tiler.commands.one_piece.option import GARMENT, STRIP, Keys, PieceOption, Value
from tiler.draft.spec.typed import stated_part
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError
from tiler.sentence import Place

Values = Mapping[str, Any]
"""What was given, by parameter."""

_KIND_OF = {
    "front_half": "neckline",
    "back_half": "neckline",
    "shape": "neckline",
    "front": "armhole",
    "back": "armhole",
}
_NAMES = {
    "neckline": ("Neckband", "Neck binding"),
    "armhole": ("Armhole band", "Armhole binding"),
    "leg": ("Leg band", "Leg binding"),
}
_EDGES = {
    "leg": "a leg opening",
    "neckline": "a neckline",
    "armhole": "an armhole",
    "straight": "a straight edge",
    "curved": "a curved edge",
}
_UNIT = re.compile(r"([a-z]+|[\"'″”′])\.?\s*$")


@dataclass(frozen=True)
class FabricNames:
    """What the fabrics of strip and garment are called in the spec: one name where both are the same cloth."""

    strip: str
    garment: str

    @property
    def one_cloth(self) -> bool:
        """Tell whether strip and garment are of one cloth."""
        return self.strip == self.garment

    def resolve(self, place: Keys) -> Keys:
        """Return the keys of the spec that lead to a place."""
        own = {STRIP: self.strip, GARMENT: self.garment}.get(str(place[0]))
        return place if own is None else ("fabrics", own, *place[1:])


def fabric_names(given: Values) -> FabricNames:
    """Return the names of the fabrics: as stated, else names that do not meet."""
    strip = given.get("fabric") or "knit"
    return FabricNames(strip, given.get("garment_fabric") or ("garment fabric" if strip == "garment" else "garment"))


def kind_given(given: Values) -> str | None:
    """Return the kind of the edge: as stated, else that of the parts that were measured; None where nothing says it."""
    return given.get("kind") or next((_KIND_OF[one] for one in _KIND_OF if given.get(one) is not None), None)


def stated_units(options: Sequence[PieceOption], given: Values) -> str:
    """Return the unit that is given, else that of the first length; empty where none says it."""
    if given.get("units"):
        return str(given["units"])
    try:
        return _units(_stated(options, given))
    except SpecError:
        return ""


def _stated(options: Sequence[PieceOption], given: Values) -> list[tuple[PieceOption, Any]]:
    return [(option, value) for option in options if (value := given.get(option.parameter)) not in (None, (), False)]


def piece_tables(options: Sequence[PieceOption], given: Values, finish: Finish) -> dict[str, Any]:
    """Build the tables of a spec with one piece.

    Raises :class:`SpecError` where two options state the same thing, or where no unit can be known.
    """
    stated = _stated(options, given)
    names = fabric_names(given)
    kind = kind_given(given)
    spec = _head(kind, finish, stated)
    if given.get("ends"):
        spec["pieces"][0]["closed"] = False
    _name_fabrics(spec, stated, given, names)
    for option, value in stated:
        if option.parameter not in ("finish", "fabric", "garment_fabric"):
            _put(spec, names.resolve(option.place), _value(option, value), option.names[0])
    return {key: spec[key] for key in ("title", "units", "language", "paper", "fabrics", "pieces") if key in spec}


def _head(kind: str | None, finish: Finish, stated: Sequence[tuple[PieceOption, Any]]) -> dict[str, Any]:
    band = finish.is_band
    plain = "Band" if band else "Binding"
    own = _NAMES.get(kind or "", (plain, plain))[0 if band else 1]
    edge = {} if kind is None else {"kind": kind}
    return {
        "title": f"{plain} for {_EDGES.get(kind or '', 'an edge')}",
        "units": _units(stated),
        "pieces": [{"name": own, "finish": finish.value, "edge": edge}],
    }


def _name_fabrics(
    spec: dict[str, Any], stated: Sequence[tuple[PieceOption, Any]], given: Values, names: FabricNames
) -> None:
    """Name the fabrics of which anything is said."""
    for root, key, name in ((STRIP, "fabric", names.strip), (GARMENT, "garment-fabric", names.garment)):
        about = [option for option, _ in stated if option.place[0] == root]
        if about and root == GARMENT and names.one_cloth:
            raise SpecError(
                "contradicts --garment-fabric, which names the strip's own fabric; leave one of them out",
                Place(about[0].names[0]),
            )
        if about or given.get(key.replace("-", "_")) is not None:
            spec["pieces"][0][key] = name
            spec.setdefault("fabrics", {}).setdefault(name, {})


def _put(spec: dict[str, Any], place: Keys, value: Any, name: str) -> None:
    """Put a value at its place, with the tables and lists on the way."""
    here: Any = spec
    for key, following in pairwise(place):
        if isinstance(key, int):
            here += [{} for _ in range(key + 1 - len(here))]
            here = here[key]
        else:
            here = here.setdefault(key, [] if isinstance(following, int) else {})
        if not isinstance(here, dict | list):
            raise SpecError(f"contradicts --{key}; give only one of them", Place(name))
    here[place[-1]] = value


def _value(option: PieceOption, value: Any) -> Any:
    if option.value is Value.NAMED:
        return [
            {"name": name, **(stated_part(text) if option.key == "parts" else {"at": text})} for name, text in value
        ]
    if option.repeated:
        return list(value)
    if option.value is Value.COUNT and re.fullmatch("-?[0-9]{1,9}", value):
        return int(value)
    return value


def _units(stated: Sequence[tuple[PieceOption, Any]]) -> str:
    """Return the unit of the first length that has one; the edge comes first."""
    lengths = [
        str(length).casefold()
        for option, value in stated
        if option.value is Value.LENGTH or option.key == "parts"
        for length in ([stated_part(one)["length"] for _, one in value] if option.key == "parts" else [value])
    ]
    found = [match[1] for length in lengths if (match := _UNIT.search(length))]
    if lengths and not found and all(option.parameter != "units" for option, _ in stated):
        raise SpecError(
            "no length says its unit; write for instance '22 in' or '56 cm', or give --units", Place("--units")
        )
    return "cm" if found and found[0].startswith(("c", "m")) else "in"


def comments_of(options: Sequence[PieceOption], names: FabricNames, finish: Finish) -> dict[tuple[str, ...], str]:
    """Return the help of every option as the comment beside its key in a spec."""
    beside = {
        tuple(key for key in names.resolve(option.place) if isinstance(key, str)): option.help for option in options
    }
    return beside | {
        ("units",): "in or cm: shown first, and the unit of a bare number",
        ("pieces", "finish"): finish.words,
        ("pieces", "closed"): "false: the strip is no ring",
        ("pieces", "edge", "kind"): "which edge",
        ("pieces", "edge", "parts"): "from the end seam on; each may have its own turning and ratio",
    }
