"""What is known of a printer: one small file each, a ruler's reading on both axes; lengths in mm.

The reading is of a printed test square or ruler line whose nominal length is known.
A printer that draws a nominal n as m scales by m / n; the same drawing enlarged by
n / m comes out right.  A reading is true to within its reading error d, so the scale
is known to d / n and no better.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from tiler.accents import composed
from tiler.declaration import LONGEST_NAME, reads_like_a_name
from tiler.errors import CannotWriteError, SpecError, TilerError, UnreadableError
from tiler.files import read_file
from tiler.sentence import Place
from tiler.usecases.files.replace import write_file

FORMAT = 1
READING_ERROR = 0.5
"""A ruler is read to about half a millimetre: common practice."""

LARGEST_FILE = 100_000
"""A larger file is not one of a printer, bytes."""

COARSEST = 0.1
"""Share of its nominal length that a reading may be in doubt by."""

ODDEST = 0.5
"""Share by which a reading may differ from its nominal length before it is taken for a slip of the pen."""

_KEYS = ("nominal_across_mm", "across_mm", "nominal_down_mm", "down_mm", "reading_error_mm")


@dataclass(frozen=True)
class Axis:
    """A reading on one axis of the page: what it should be, what was read, and to how much; mm."""

    nominal: float
    measured: float
    reading_error: float

    @property
    def scale(self) -> float:
        """What the printer makes of 1 mm."""
        return self.measured / self.nominal

    @property
    def doubt(self) -> float:
        """Share by which the scale may differ from what was read: reading error over nominal length."""
        return self.reading_error / self.nominal

    @property
    def decides(self) -> bool:
        """Tell whether the error is larger than its doubt."""
        return abs(self.measured - self.nominal) > self.reading_error * (1 + 1e-9)


@dataclass(frozen=True)
class Printer:
    """A printer by name, with a reading across and one down the page."""

    name: str
    across: Axis
    down: Axis


def checked_printer(
    name: str, nominal: tuple[float, float], read: tuple[float, float], reading_error: float
) -> Printer:
    """Return the printer for a reading; pairs are across and down, mm.

    Raises :class:`SpecError` for a name that cannot be printed on one line or be a file's name,
    and for a reading that cannot be right.
    """
    name = composed(name)
    _check_name(name)
    for axis, should, is_ in zip(("across", "down"), nominal, read, strict=True):
        if reading_error > COARSEST * should:
            raise SpecError(
                f"{reading_error:g} mm is more than a tenth of the {should:g} mm that were read; read a longer line",
                Place("--reading-error"),
            )
        if abs(is_ / should - 1) > ODDEST:
            why = f"{is_:g} mm cannot be the reading of {should:g} mm; check both and their units"
            raise SpecError(why, Place(f"--{axis}"))
    axes = [Axis(should, is_, reading_error) for should, is_ in zip(nominal, read, strict=True)]
    return Printer(name, *axes)


def _check_name(name: str) -> None:
    if not reads_like_a_name(name):
        raise SpecError(
            f"NAME: {name[:60]!r} is not a name for a printer; take up to {LONGEST_NAME} letters, digits, spaces, dots "
            "and dashes, beginning with a letter or digit"
        )


def profile_path(folder: Path, name: str) -> Path:
    """Return the file of a printer; capitals make no difference.

    Raises :class:`SpecError` for what is not a name of a printer.
    """
    name = composed(name)
    _check_name(name)
    return folder / f"{name.casefold()}.json"


def save_printer(folder: Path, printer: Printer, force: bool = False) -> Path:
    """Write the file of a printer in one step; raises :class:`CannotWriteError`."""
    path = profile_path(folder, printer.name)
    if path.exists() and not force:
        raise CannotWriteError(
            f"the printer {printer.name} is known already; choose another name, or replace its readings with --force"
        )
    across, down = printer.across, printer.down
    readings = (across.nominal, across.measured, down.nominal, down.measured, across.reading_error)
    tree = {"format": FORMAT, "name": printer.name, **dict(zip(_KEYS, readings, strict=True))}
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise CannotWriteError(f"cannot make the folder {folder}: {fault.strerror}") from fault
    write_file(path, (json.dumps(tree, indent=2, ensure_ascii=False) + "\n").encode(), force)
    return path


def load_printer(folder: Path, name: str) -> Printer:
    """Read one printer.

    Raises :class:`SpecError` when it is unknown, :class:`UnreadableError` when its file is damaged.
    """
    path = profile_path(folder, name)
    if not path.is_file():
        known = ", ".join(printer.name for printer in printers(folder) if isinstance(printer, Printer))
        there = f"there are {known}" if known else "there are none yet"
        raise SpecError(f"no printer is called {name}; {there}; add one with tiler printer add")
    return _read(path)


def printers(folder: Path) -> Iterator[Printer | TilerError]:
    """Read all printers in the order of their names; for a damaged file return what is to be said of it."""
    for path in sorted(folder.glob("*.json")) if folder.is_dir() else ():
        try:
            yield _read(path)
        except UnreadableError as fault:
            yield fault


def remove_printer(folder: Path, name: str) -> Path:
    """Delete the file of a printer, damaged or not; raises :class:`SpecError` when it is unknown."""
    path = profile_path(folder, name)
    if not path.is_file():
        raise SpecError(f"no printer is called {name}; tiler printer list names them")
    try:
        path.unlink()
    except OSError as fault:
        raise CannotWriteError(f"cannot remove {path}: {fault.strerror}") from fault
    return path


def _read(path: Path) -> Printer:
    data = read_file(path, "file of a printer", LARGEST_FILE)
    try:
        tree = json.loads(data.decode("utf-8"))
        if not isinstance(tree, dict) or tree.get("format") != FORMAT:
            raise ValueError("its format is unknown")
        values = [tree[key] for key in _KEYS]
        if not all(type(value) in (int, float) and 0 < value < 1e5 for value in values):
            raise ValueError("a length is missing or is none")
        name = tree["name"]
        if not isinstance(name, str) or composed(name).casefold() != composed(path.stem):
            raise ValueError("its name is not that of the file")
        printer = checked_printer(name, (values[0], values[2]), (values[1], values[3]), values[4])
    except KeyError as fault:
        raise _damaged(path, f"{fault} is missing") from fault
    except (ValueError, RecursionError, SpecError) as fault:
        raise _damaged(path, str(fault)) from fault
    return printer


def _damaged(path: Path, why: str) -> UnreadableError:
    return UnreadableError(
        f"{path} is not a file of a printer ({why}); mend it, or remove it and add the printer again"
    )
