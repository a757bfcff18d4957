"""A file that somebody names, opened or read whole: one sentence for each way in which it cannot be."""

from __future__ import annotations

from io import BufferedReader
from pathlib import Path

from tiler.errors import TilerError, UnreadableError
from tiler.sentence import Place


def open_file(path: Path, what: str) -> BufferedReader:
    """Open an ordinary file that is to be ``what``, such as "PDF", to be read to and fro.

    Raises :class:`UnreadableError` with what is wrong and what to do.
    """
    try:
        # a pipe would be waited for, a device has no end
        if path.exists() and not path.is_file() and not path.is_dir():
            raise UnreadableError(f"is not an ordinary file; name the {what} itself", Place(str(path)))
        return path.open("rb")
    except (OSError, ValueError) as found:
        raise _worded(path, what, UnreadableError, found) from None


def read_file(path: Path, what: str, most_bytes: int | None = None, fault: type[TilerError] = UnreadableError) -> bytes:
    """Read a file that is to be ``what`` whole, or refuse one of more than ``most_bytes``; a pipe will do.

    Raises ``fault`` with what is wrong and what to do.
    """
    try:
        with path.open("rb") as file:
            data = file.read() if most_bytes is None else file.read(most_bytes + 1)
    except (OSError, ValueError) as found:
        raise _worded(path, what, fault, found) from None
    if most_bytes is not None and len(data) > most_bytes:
        why = f"is larger than {most_bytes / 1e6:.2g} MB and therefore not a {what}; check the name"
        raise fault(why, Place(str(path)))
    return data


def _worded(path: Path, what: str, fault: type[TilerError], found: OSError | ValueError) -> TilerError:
    place = Place(str(path))
    if isinstance(found, FileNotFoundError):
        return fault("there is no such file; check the name and the folder", place)
    if isinstance(found, IsADirectoryError):
        return fault(f"is a folder; name the {what} itself", place)
    return fault(f"cannot be read: {getattr(found, 'strerror', None) or found}", place)
