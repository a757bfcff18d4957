"""What the testers of a pattern send back: a table of readings, one line each; lengths in mm.

A reading is a printed test square or ruler line, measured across and down.  A line
that cannot be used is named and left out; the others count all the same.
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

_DECIMAL_COMMA = re.compile(r"(?<=[0-9]),(?=[0-9])")
_BARE = re.compile(r"[0-9.,/ ]+")
_MARKS = {codecs.BOM_UTF8: "utf-8-sig", codecs.BOM_UTF16_LE: "utf-16", codecs.BOM_UTF16_BE: "utf-16"}


@dataclass(frozen=True)
class Reading:
    """One line of the table; ``paper``, ``size`` and ``fit`` may be empty.  Lengths in mm."""

    line: int
    tester: str
    printer: str
    viewer: str
    paper: str
    nominal: float
    across: float
    down: float
    size: str = ""
    fit: str = ""

    @property
    def ratios(self) -> tuple[float, float]:
        """Measured over nominal, across and down."""
        return self.across / self.nominal, self.down / self.nominal


@dataclass(frozen=True)
class BadLine:
    """A line that was left out, and why."""

    line: int
    words: str


@dataclass(frozen=True)
class Table:
    """What was read, what was left out, and what a person should know about the reading of the file."""

    readings: tuple[Reading, ...]
    bad: tuple[BadLine, ...]
    notes: tuple[str, ...]


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
        delimiter = _delimiter(lines[first])
        names = next(csv.reader([lines[first]], delimiter=delimiter))
    except csv.Error:
        raise SpecError(f"{path}: the first line is far too long to name columns; check the file") from None
    header = _header(path, names)
    unknown = [name for name in header if name and name not in COLUMNS]
    if unknown:
        shown = ", ".join(repr(_clean(name)) for name in unknown)
        notes = (*notes, f"not used: the {'column' if len(unknown) == 1 else 'columns'} {shown}")
    readings, bad = [], []
    for number, row in _rows(lines, first + 1, delimiter):
        if isinstance(row, str):
            bad.append(BadLine(number, row))
        elif any(cell.strip() for cell in row):
            try:
                readings.append(_reading(number, header, row, unit, delimiter))
            except LengthError as fault:
                bad.append(BadLine(number, str(fault)))
    return Table(tuple(readings), tuple(bad), notes)


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


def _reading(line: int, header: Sequence[str], row: Sequence[str], unit: str | None, delimiter: str) -> Reading:
    if any(cell.strip() for cell in row[len(header) :]):
        raise LengthError(
            f'it has {len(row)} cells, the first line {len(header)}; write " around a text that holds '
            f"{DELIMITERS[delimiter]}"
        )
    cells = dict.fromkeys(COLUMNS, "") | {name: _clean(cell) for name, cell in zip(header, row, strict=False)}
    for name in ("tester", "printer", "viewer"):
        if not cells[name]:
            raise LengthError(f"{name} is empty; write who or what it was, or 'not said'")
    nominal, across, down = (_length(cells[name], unit, name, delimiter) for name in ("nominal", "across", "down"))
    for name, measured in (("across", across), ("down", down)):
        if not 1 / STRANGEST <= measured / nominal <= STRANGEST:
            raise LengthError(
                f"{name}: {cells[name]!r} is {100 * measured / nominal:.0f} % of {cells['nominal']!r}; "
                "check the numbers and their units"
            )
    words = {name: cells[name] for name in ("tester", "printer", "viewer", "paper", "size", "fit")}
    return Reading(line=line, nominal=nominal, across=across, down=down, **words)


@lru_cache(maxsize=4096)
def _length(cell: str, unit: str | None, where: str, delimiter: str) -> float:
    if not cell:
        raise LengthError(f'{where} is empty; write what the ruler shows, for instance "49.5 mm"')
    if unit is None and _BARE.fullmatch(cell):
        raise LengthError(f"{where}: {cell!r} has no unit; write for instance '{cell} mm', or call with --unit mm")
    # between commas a comma within a number would be a riddle, so there it is refused
    text = cell if delimiter == "," else _DECIMAL_COMMA.sub(".", cell)
    return float(parse_length(text, unit, Place(where)))


def _clean(text: str) -> str:
    """Take off what no terminal should be sent, and needless white."""
    return " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
