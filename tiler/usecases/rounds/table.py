"""What the testers of a pattern send back: a table of readings, one line each; lengths in mm.

A reading is a printed test square or ruler line, measured across, down or both.  A line
that cannot be used is named and left out; the others count all the same, and what it says of the fit.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from tiler.accents import composed
from tiler.errors import LengthError, SpecError, UnreadableError
from tiler.files import read_file
from tiler.lengths import parse_length
from tiler.sentence import Place

NEEDED = ("tester", "printer", "viewer", "nominal", "across", "down")
OPTIONAL = ("paper", "size", "fit")
COLUMNS = (*NEEDED, *OPTIONAL)

DELIMITERS = {",": "commas", ";": "semicolons", "\t": "tabs"}

LARGEST_FILE = 8 * 2**20
"""A larger file is not a table of readings, bytes."""

MOST_LINES = 1_000
"""A table of more lines is no test round: hundreds of testers send fewer."""

STRANGEST = 3.0
"""A reading so many times larger or smaller than it should be is a slip of the pen, not a print."""

LINES: tuple[tuple[float, str], ...] = (
    (50.8, "2 in"),
    (50.0, "5 cm"),
    (152.4, "6 in"),
    (150.0, "15 cm"),
    (203.2, "8 in"),
    (200.0, "20 cm"),
)
"""The squares and ruler lines of a first page, mm: any of them may be read in place of another."""

SLIP = 0.02
"""A reading that is as near as this share to another line, or to another unit, is of that."""

APART = 0.1
"""Lines of less difference than this share may be mixed up, and a print may be off by as much."""

_SEPARATOR = re.compile(r'"?sep=(.)"?', re.IGNORECASE)
_EMPTY = frozenset(("", "-", "\N{EN DASH}", "\N{EM DASH}", "?", "n/a"))
_UNIT = re.compile(r"(mm|cm|in(?:ch(?:es)?)?|\"|″|”|''|′′)\.?$", re.IGNORECASE)
_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")
_BARE = re.compile(r"[0-9.,/ ]+")
_MARKS = {codecs.BOM_UTF8: "utf-8-sig", codecs.BOM_UTF16_LE: "utf-16", codecs.BOM_UTF16_BE: "utf-16"}


@dataclass(frozen=True)
class Reading:
    """One line of the table; ``paper``, ``size`` and ``fit`` may be empty.  Lengths in mm, None where none was read."""

    line: int
    tester: str
    printer: str
    viewer: str
    paper: str
    nominal: float
    across: float | None
    down: float | None
    size: str = ""
    fit: str = ""

    @property
    def ratios(self) -> tuple[float | None, float | None]:
        """Measured over nominal, across and down; None where nothing was read."""
        across, down = (None if one is None else one / self.nominal for one in (self.across, self.down))
        return across, down

    @property
    def known(self) -> tuple[float, ...]:
        """Measured over nominal, along the axes that were read."""
        return tuple(ratio for ratio in self.ratios if ratio is not None)


@dataclass(frozen=True)
class Fit:
    """What a tester says of the fit of a size, in a line without a reading that can be used."""

    line: int
    tester: str
    size: str
    fit: str


@dataclass(frozen=True)
class BadLine:
    """A line that was left out, and why, and whose it is."""

    line: int
    words: str
    tester: str = ""


@dataclass(frozen=True)
class Table:
    """What was read, what was left out, and what a person should know about the reading of the file."""

    readings: tuple[Reading, ...]
    bad: tuple[BadLine, ...]
    notes: tuple[str, ...]
    fits: tuple[Fit, ...] = ()


def read_table(path: Path, unit: str | None = None) -> Table:
    """Read a table of readings; ``unit`` is that of bare numbers.

    Raises :class:`UnreadableError` for a file that is not text or has far too many lines, and
    :class:`SpecError` for one without the columns that are needed.
    """
    text, notes = _text(path)
    lines = list(io.StringIO(text, newline=""))
    if len(lines) > MOST_LINES:
        raise UnreadableError(f"{path} has {len(lines)} lines; at most {MOST_LINES} are read, so judge it in parts")
    first = next((number for number, line in enumerate(lines) if line.strip()), None)
    if first is None:
        raise SpecError(f"{path} is empty; its first line names the columns: {', '.join(COLUMNS)}")
    try:
        stated = _SEPARATOR.fullmatch(lines[first].strip())
        if stated and first + 1 < len(lines):
            # spreadsheets write a first line that names the sign between the cells
            first += 1
        delimiter = stated[1] if stated and stated[1] in DELIMITERS else _delimiter(lines[first])
        names = next(csv.reader([lines[first]], delimiter=delimiter))
    except csv.Error:
        raise SpecError(f"{path}: the first line is far too long to name columns; check the file") from None
    header = _header(path, names)
    unknown = [name for name in header if name and name not in COLUMNS]
    if unknown:
        shown = ", ".join(repr(_clean(name)) for name in unknown)
        notes = (*notes, f"not used: the {'column' if len(unknown) == 1 else 'columns'} {shown}")
    readings, bad, fits = [], [], []
    seen: dict[tuple[str, ...], int] = {}
    for number, row in _rows(lines, first + 1, delimiter):
        if isinstance(row, str):
            bad.append(BadLine(number, row))
            continue
        cells = dict.fromkeys(COLUMNS, "") | {name: _clean(cell) for name, cell in zip(header, row, strict=False)}
        before = seen.setdefault((*cells.values(), *row[len(header) :]), number)
        if not any(cells.values()):
            continue
        if before != number:
            bad.append(BadLine(number, f"it is the same as line {before}, and counts once", cells["tester"]))
            continue
        try:
            reading = _reading(number, cells, row[len(header) :], len(row), unit, delimiter)
        except LengthError as fault:
            bad.append(BadLine(number, str(fault), cells["tester"]))
            reading = None
        if reading:
            readings.append(reading)
        elif cells["tester"] and cells["fit"]:
            fits.append(Fit(number, cells["tester"], cells["size"], cells["fit"]))
    return Table(tuple(readings), tuple(bad), notes, tuple(fits))


def _text(path: Path) -> tuple[str, tuple[str, ...]]:
    data = read_file(path, "table of readings", LARGEST_FILE)
    encoding = next((name for mark, name in _MARKS.items() if data.startswith(mark)), "utf-8")
    notes: tuple[str, ...] = ()
    try:
        text = data.decode(encoding)
    except UnicodeDecodeError:
        if encoding == "utf-16":
            raise UnreadableError(f"{path} begins as UTF-16 and breaks off; save the table as CSV again") from None
        try:
            text = data.decode("cp1252")
        except UnicodeDecodeError:
            raise UnreadableError(f"{path} is not text that tiler can read; save the table as CSV in UTF-8") from None
        notes = (
            "the file is not UTF-8; it was taken for Windows-1252, which is a guess: check the names, "
            "or save it as CSV in UTF-8",
        )
    if "\0" in text:
        raise UnreadableError(f"{path} is not text; save the table as CSV in UTF-8, not as a workbook")
    return composed(text), notes


def _delimiter(line: str) -> str:
    def known(delimiter: str) -> int:
        return sum(_name(cell) in COLUMNS for cell in next(csv.reader([line], delimiter=delimiter), []))

    return max(DELIMITERS, key=known)


def _name(cell: str) -> str:
    return _clean(cell).casefold()


def _header(path: Path, row: Sequence[str]) -> list[str]:
    header = [_name(cell) for cell in row]
    missing = [name for name in NEEDED if name not in header]
    if missing:
        raise SpecError(
            f"{path}: the first line lacks {', '.join(missing)}; it names the columns {', '.join(COLUMNS)}, "
            "in any order, with commas, semicolons or tabs between them"
        )
    double = sorted({name for name in header if name in COLUMNS and header.count(name) > 1})
    if double:
        raise SpecError(f"{path}: the first line names {', '.join(double)} twice; rename or remove one of the columns")
    return header


def _rows(lines: Sequence[str], start: int, delimiter: str) -> Iterator[tuple[int, list[str] | str]]:
    """Yield line number, from 1, and cells of every record, or the words for one whose quotes do not close."""
    at = start
    while at < len(lines):
        rest = csv.reader((lines[index] for index in range(at, len(lines))), delimiter=delimiter, strict=True)
        done = 0
        try:
            for row in rest:
                yield at + done + 1, row
                done = rest.line_num
            return
        except csv.Error:
            yield (
                at + done + 1,
                'its quotes do not match, or a cell is far too long; write " around a whole cell only, '
                "and two of them for an inch sign within",
            )
            at += done + 1


def _reading(
    line: int, cells: dict[str, str], beyond: Sequence[str], count: int, unit: str | None, delimiter: str
) -> Reading | None:
    """Read a line; None for one that speaks of the fit alone."""
    if any(cell.strip() for cell in beyond):
        raise LengthError(
            f'it has {count} cells, the first line {count - len(beyond)}; write " around a text that holds '
            f"{DELIMITERS[delimiter]}"
        )
    measured = [name for name in ("across", "down") if cells[name].casefold() not in _EMPTY]
    if cells["tester"] and cells["fit"] and not measured:
        return None
    for name in ("tester", "printer", "viewer"):
        if not cells[name]:
            raise LengthError(f"{name} is empty; write who or what it was, or 'not said'")
    if not measured:
        raise LengthError('across and down are empty; write what the ruler shows, for instance "49.5 mm"')
    nominal = _length(cells["nominal"], unit, "nominal")
    said = _UNIT.search(cells["nominal"])
    own = unit or (_named_unit(said[1]) if said else None)
    found = {name: _length(cells[name], own, name) for name in measured}
    for name, length in found.items():
        _refuse_slip(name, cells[name], length, cells["nominal"], nominal)
    words = {name: cells[name] for name in ("tester", "printer", "viewer", "paper", "size", "fit")}
    return Reading(line=line, nominal=nominal, across=found.get("across"), down=found.get("down"), **words)


def _named_unit(word: str) -> str:
    return word.casefold() if word.casefold() in ("mm", "cm") else "in"


def _refuse_slip(name: str, cell: str, length: float, stated: str, nominal: float) -> None:
    """Refuse a reading that is no print, but a slip of the pen or of the eye."""
    ratio = length / nominal
    for factor, read, meant in ((2.54, "centimetres", "inches"), (1 / 2.54, "inches", "centimetres")):
        if abs(ratio / factor - 1) <= SLIP:
            raise LengthError(
                f"{name}: {cell!r} is {ratio:.2f} times {stated!r}: a reading in {read} that was written as {meant}; "
                f"write {length / factor / 10:g} cm if that is what the ruler showed"
            )
    other = min(LINES, key=lambda line: abs(length / line[0] - 1))
    if abs(length / other[0] - 1) <= SLIP / 2 and abs(ratio - 1) > APART:
        raise LengthError(
            f"{name}: {cell!r} is the length of the {other[1]} line, not of {stated!r}; ask which line it was"
        )
    if not 1 / STRANGEST <= ratio <= STRANGEST:
        raise LengthError(f"{name}: {cell!r} is {100 * ratio:.0f} % of {stated!r}; check the numbers and their units")


@lru_cache(maxsize=4096)
def _length(cell: str, unit: str | None, where: str) -> float:
    # a cell that holds a comma between commas was quoted, so the comma can only be that of decimals
    text = _DECIMAL_COMMA.sub(".", cell)
    if not text:
        raise LengthError(f'{where} is empty; write what the ruler shows, for instance "49.5 mm"')
    if unit is None and _BARE.fullmatch(text):
        raise LengthError(f"{where}: {cell!r} has no unit; write for instance '{text} mm', or call with --unit mm")
    return float(parse_length(text, unit, Place(where)))


def _clean(text: str) -> str:
    """Take off what no terminal should be sent, and needless white."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
