"""A file that somebody names, opened or read whole: one sentence for each way in which it cannot be.

Only an ordinary file is opened, since a pipe would be waited for and a device has no end.
Its size is judged before anything is read, and no more is ever read than it had then,
even when it grows meanwhile.
"""

from __future__ import annotations

import errno
import os
from collections.abc import Callable
from functools import partial
from io import SEEK_END, BufferedReader, FileIO
from pathlib import Path
from stat import S_ISDIR, S_ISREG
from unicodedata import category

from tiler.errors import TilerError, UnreadableError
from tiler.sentence import Place

LARGEST = 250_000_000
"""A larger file is not opened where no smaller size is said, bytes: a PDF of hundreds of scanned pages is smaller."""

_WITHOUT_WAITING = getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_CLOEXEC", 0) | getattr(os, "O_BINARY", 0)

_NO_FILES = (errno.ENXIO, errno.ENODEV, errno.EOPNOTSUPP)
"""What the system says of a socket, or of a device that is not there."""

Fault = Callable[[str], TilerError]


def open_file(
    path: Path, what: str, most_bytes: int = LARGEST, fault: type[TilerError] = UnreadableError
) -> BufferedReader:
    """Open an ordinary file of at most ``most_bytes`` that is to be ``what``, such as "PDF", to be read to and fro.

    Raises ``fault`` with what is wrong and what to do.
    """
    refused = partial(fault, place=Place(str(path)))
    try:
        descriptor = os.open(path, os.O_RDONLY | _WITHOUT_WAITING)
        try:
            size = _judged(descriptor, what, most_bytes, refused)
            return BufferedReader(_AsItWas(descriptor, size))
        except BaseException:
            os.close(descriptor)
            raise
    except (OSError, ValueError) as found:
        raise _worded(what, refused, found) from None


def read_file(path: Path, what: str, most_bytes: int = LARGEST, fault: type[TilerError] = UnreadableError) -> bytes:
    """Read an ordinary file that is to be ``what`` whole, or refuse one of more than ``most_bytes``.

    Raises ``fault`` with what is wrong and what to do.
    """
    try:
        with open_file(path, what, most_bytes, fault) as file:
            return file.read()
    except OSError as found:
        raise _worded(what, partial(fault, place=Place(str(path))), found) from None


def visible(text: str) -> str:
    """Return a text whose control and direction signs are written out, as ``\\x1b`` or ``\\u202e``; spaces stay."""
    if text.isprintable():
        return text
    return "".join(
        sign if sign.isprintable() or category(sign) == "Zs" else sign.encode("unicode_escape").decode("ascii")
        for sign in text
    )


def shown(text: str) -> str:
    """Return a text of a stranger's file as it may be printed."""
    plain = visible(text)
    return plain if len(plain) <= 60 else plain[:57] + "..."


class _AsItWas(FileIO):
    """A file that ends where it ended when it was opened."""

    def __init__(self, descriptor: int, size: int) -> None:
        super().__init__(descriptor, "rb")
        self._size = size

    def readinto(self, buffer: bytearray | memoryview) -> int | None:  # type: ignore[override]
        left = max(0, self._size - self.tell())
        return super().readinto(memoryview(buffer)[:left])

    def readall(self) -> bytes:
        return super().read(max(0, self._size - self.tell())) or b""

    def seek(self, offset: int, whence: int = 0) -> int:
        return super().seek(self._size + offset if whence == SEEK_END else offset, 0 if whence == SEEK_END else whence)


def _judged(descriptor: int, what: str, most_bytes: int, refused: Fault) -> int:
    """Return the size of an open file that may be read."""
    found = os.fstat(descriptor)
    if S_ISDIR(found.st_mode):
        raise IsADirectoryError
    if not S_ISREG(found.st_mode):
        raise refused(f"is not an ordinary file; name the {what} itself")
    if found.st_size > most_bytes:
        most = f"{most_bytes / 1e6:.2g}" if most_bytes < 1e7 else f"{most_bytes / 1e6:.0f}"
        raise refused(f"is larger than {most} MB and therefore not a {what}; check the name")
    return found.st_size


def _worded(what: str, refused: Fault, found: OSError | ValueError) -> TilerError:
    if isinstance(found, FileNotFoundError):
        return refused("there is no such file; check the name and the folder")
    if isinstance(found, IsADirectoryError):
        return refused(f"is a folder; name the {what} itself")
    if isinstance(found, OSError) and found.errno in _NO_FILES:
        return refused(f"is not an ordinary file; name the {what} itself")
    return refused(f"cannot be read: {getattr(found, 'strerror', None) or found}")
