"""The values of a spec as fields named by their places; those with one for each size are the row of a table."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import Any
from urllib.parse import quote

from tiler.browser.form import Given
from tiler.commands.one_piece.option import GARMENT, STRIP
from tiler.commands.one_piece.options import ALL

Path = tuple[str | int, ...]
Tables = Mapping[str, Any]

BEGIN = "at/"
"""What the names of such fields begin with."""

MOST_FIELDS = 1500
"""A spec with more values is shown without fields."""

_INTEGER = re.compile("[+-]?(?:0|[1-9][0-9]{0,17})")
_FLOAT = re.compile(r"[+-]?[0-9]{1,15}\.[0-9]{1,15}")

_HELP = {tuple(key for key in option.place if isinstance(key, str)): option.help for option in ALL}
"""What the help says of a key, by its place in a spec of one piece."""


@dataclass(frozen=True)
class Cell:
    """A value: the name of its field, what it is called, and how it stands there."""

    path: Path
    label: str
    text: str
    help: str = ""

    @property
    def name(self) -> str:
        """The name of its field."""
        return name_of(self.path)


@dataclass(frozen=True)
class SizedRow:
    """A value that is another one in each size."""

    label: str
    help: str
    cells: tuple[Cell, ...]

    def of(self, size: str) -> Cell | None:
        """Return the value of a size; None where it has none."""
        return next((cell for cell in self.cells if cell.path[-1] == size), None)

    @property
    def name(self) -> str:
        """What the notes of its fields are found by."""
        return name_of(self.cells[0].path[:-1])


@dataclass(frozen=True)
class Listed:
    """A list of tables, such as the parts of an edge: its keys, and the values of each table by key."""

    label: str
    keys: tuple[str, ...]
    rows: tuple[dict[str, Cell], ...]

    @property
    def cells(self) -> list[Cell]:
        """All values."""
        return [cell for row in self.rows for cell in row.values()]


@dataclass(frozen=True)
class Sheet:
    """What belongs together in a spec: a piece, a fabric, or what is said of the whole; ``name`` stands for it."""

    name: str
    title: str
    cells: tuple[Cell, ...]
    rows: tuple[SizedRow, ...]
    lists: tuple[Listed, ...] = ()
    is_piece: bool = False

    @property
    def fields(self) -> Iterator[Cell]:
        """All values."""
        yield from self.cells
        for row in self.rows:
            yield from row.cells
        for one in self.lists:
            yield from one.cells


def name_of(path: Path) -> str:
    """Return the name of the field of a place."""
    return BEGIN + "/".join(quote(str(key), safe="-") for key in path)


def sheets(tables: Tables, sizes: Sequence[str]) -> list[Sheet]:
    """Return the values of a spec."""
    whole = {key: value for key, value in tables.items() if key not in ("fabrics", "pieces")}
    found = [_sheet((), "The whole", whole, sizes)]
    fabrics = tables.get("fabrics")
    for name, fabric in fabrics.items() if isinstance(fabrics, dict) else ():
        found.append(_sheet(("fabrics", name), f"Fabric: {name}", fabric, sizes))
    pieces = tables.get("pieces")
    for index, piece in enumerate(pieces if isinstance(pieces, list) else ()):
        title = str(piece.get("name", "")) if isinstance(piece, dict) else ""
        found.append(_sheet(("pieces", index), title or f"Piece {index + 1}", piece, sizes, is_piece=True))
    return found if sum(1 for sheet in found for _ in sheet.fields) <= MOST_FIELDS else []


def changes(form: Given, found: Sequence[Sheet]) -> dict[Path, Any]:
    """Return the values that a form has otherwise, by their place."""
    other: dict[Path, Any] = {}
    for sheet in found:
        for cell in sheet.fields:
            sent = form.getlist(cell.name)
            if sent and sent[0].strip() != cell.text:
                other[cell.path] = _value(sent[0].strip(), cell.text)
    return other


def sheet_of(path: Path, found: Sequence[Sheet]) -> str:
    """Return the field that stands at a place, else the sheet that it belongs to; empty for a place in none."""
    for sheet in found:
        for cell in sheet.fields:
            if cell.path == path:
                return cell.name
    return next((sheet.name for sheet in reversed(found) if name_of(path[:2]) == sheet.name), name_of(()))


def _sheet(path: Path, title: str, table: Any, sizes: Sequence[str], is_piece: bool = False) -> Sheet:
    cells: list[Cell] = []
    rows: list[SizedRow] = []
    lists: list[Listed] = []

    def gather(value: Any, here: Path) -> None:
        own = here[len(path) :]
        if isinstance(value, dict) and own and value and sizes and set(value) <= set(sizes):
            each = tuple(
                Cell((*here, size), f"{_label(own)}, size {size}", _text(value[size]))
                for size in sizes
                if size in value and not isinstance(value[size], dict | list)
            )
            rows.extend([SizedRow(_label(own), _help(here), each)] if each else [])
        elif isinstance(value, list) and value and all(map(_is_flat, value)):
            lists.append(_listed(value, here, _label(own)))
        elif isinstance(value, dict | list):
            for key, inner in value.items() if isinstance(value, dict) else enumerate(value):
                gather(inner, (*here, key))
        elif not isinstance(value, date | time):
            cells.append(Cell(here, _label(own), _text(value), _help(here)))

    gather(table, path)
    return Sheet(name_of(path), title, tuple(cells), tuple(rows), tuple(lists), is_piece)


def _is_flat(value: Any) -> bool:
    """Tell whether it is a table of single values."""
    return isinstance(value, dict) and not any(isinstance(one, dict | list | date | time) for one in value.values())


def _listed(tables: Sequence[dict[str, Any]], path: Path, label: str) -> Listed:
    rows = tuple(
        {key: Cell((*path, index, key), f"{label} {index + 1}: {key}", _text(one)) for key, one in table.items()}
        for index, table in enumerate(tables)
    )
    return Listed(label, tuple(dict.fromkeys(key for table in tables for key in table)), rows)


def _label(path: Path) -> str:
    """Return a place as people read it: ``edge: front-half``, ``edge: parts 2: name``."""
    label = ""
    for key in path:
        label += f" {key + 1}" if isinstance(key, int) else f": {key}" if label else key
    return label.strip()


def _help(path: Path) -> str:
    """Return what the help says of a place: any fabric may be that of a strip."""
    keys = tuple(key for key in path if isinstance(key, str))
    if keys[:1] == ("fabrics",):
        return _HELP.get((STRIP, *keys[2:])) or _HELP.get((GARMENT, *keys[2:]), "")
    return _HELP.get(keys, "")


def _text(value: Any) -> str:
    return str(value).lower() if isinstance(value, bool) else str(value)


def _value(text: str, before: str) -> Any:
    """Return a new value: true, false and numbers as such where one of them stood there before."""
    if before in ("true", "false") and text in ("true", "false"):
        return text == "true"
    if _INTEGER.fullmatch(before) or _FLOAT.fullmatch(before):
        if _INTEGER.fullmatch(text):
            return int(text)
        if _FLOAT.fullmatch(text):
            return float(text)
    return text
