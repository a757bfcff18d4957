"""A folder that is held open: names in it are found through its handle, whatever is put in its place meanwhile.

So a link that is swapped in for the folder while a run goes on is not followed.  Windows opens no
folders; there names are found by their path.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from hashlib import file_digest
from pathlib import Path
from stat import S_IMODE, S_ISDIR, S_ISREG
from time import time
from types import ModuleType

from tiler.errors import CannotWriteError

locks: ModuleType | None
try:
    import fcntl as locks
except ImportError:
    locks = None

Identity = tuple[int, int]
"""Device and number of a file or folder: the same under every name, by every link."""

A_DAY = 24 * 3600.0
"""Where the system has no locks, what was not written for so long, in seconds, belongs to no run."""

ALLOW = "choose another folder, or see that this one can be written to"
"""What to do where a folder takes nothing."""

HANDLES = {os.open, os.stat, os.chmod, os.rename, os.unlink, os.mkdir, os.rmdir, os.link} <= os.supports_dir_fd
_FOLDER = os.O_RDONLY | getattr(os, "O_DIRECTORY", 0)


@dataclass(frozen=True)
class Held:
    """A folder with the path by which it was opened, and its handle where the system has such."""

    path: Path
    handle: int | None

    def at(self, name: str) -> str:
        """Return how a name in the folder is told to the system, beside ``dir_fd=self.handle``."""
        return name if self.handle is not None else str(self.path / name)

    @property
    def identity(self) -> Identity:
        """What tells this folder from every other."""
        return identity(os.stat(self.path if self.handle is None else self.handle))

    @property
    def is_in_place(self) -> bool:
        """Tell whether its path still leads to it."""
        try:
            return identity(os.stat(self.path)) == self.identity
        except OSError:
            return False

    def stat(self, name: str, follow: bool = False) -> os.stat_result | None:
        """Return what is known of a name; nothing when it is free."""
        try:
            return os.stat(self.at(name), dir_fd=self.handle, follow_symlinks=follow)
        except FileNotFoundError:
            return None

    def open(self, name: str, flags: int, rights: int = 0o666) -> int:
        """Open a file, never through a link, and return its handle."""
        plain = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_BINARY", 0) | getattr(os, "O_NONBLOCK", 0)
        return os.open(self.at(name), flags | plain, rights, dir_fd=self.handle)

    def is_plain(self, name: str) -> bool:
        """Tell whether a name is that of an ordinary file, no link."""
        known = self.stat(name)
        return known is not None and S_ISREG(known.st_mode)

    def read(self, name: str, most_bytes: int) -> bytes | None:
        """Return the bytes of an ordinary file; nothing where there is none, or a larger one."""
        if not self.is_plain(name):
            return None
        with os.fdopen(self.open(name, os.O_RDONLY), "rb") as file:
            data = file.read(most_bytes + 1)
        return data if len(data) <= most_bytes else None

    def digest(self, name: str) -> str | None:
        """Return the SHA-256 of an ordinary file; nothing where there is none."""
        if not self.is_plain(name):
            return None
        with os.fdopen(self.open(name, os.O_RDONLY), "rb") as file:
            return file_digest(file, "sha256").hexdigest()

    def move(self, name: str, other: str, to: Held | None = None) -> None:
        """Give a file or folder another name, in another folder too; a file that bears it is replaced."""
        there = to or self
        os.replace(self.at(name), there.at(other), src_dir_fd=self.handle, dst_dir_fd=there.handle)

    def is_folder(self, name: str) -> bool:
        """Tell whether a name is that of a folder, no link."""
        known = self.stat(name)
        return known is not None and S_ISDIR(known.st_mode)

    def rights(self, name: str) -> int:
        """Return who may do what with a file, or with the folder itself, ``.``."""
        known = self.stat(name)
        if known is None:
            return 0o600
        # what a folder hands on to new files in it stays, a file that runs as somebody else is not made
        return S_IMODE(known.st_mode) & (0o7777 if S_ISDIR(known.st_mode) else 0o777)

    def set_rights(self, name: str, rights: int) -> None:
        """Set who may do what with a file, or with the folder itself, ``.``."""
        os.chmod(self.at(name), rights, dir_fd=self.handle)

    def remove(self, name: str) -> None:
        """Remove a file."""
        os.unlink(self.at(name), dir_fd=self.handle)

    def remove_folder(self, name: str) -> None:
        """Remove a folder that is empty."""
        os.rmdir(self.at(name), dir_fd=self.handle)

    def names(self) -> list[str]:
        """Return all names in the folder, in order."""
        return sorted(os.listdir(self.path if self.handle is None else self.handle))

    def seen(self) -> list[str]:
        """Return the names that this user may see: none in a folder that he may only write into."""
        try:
            return self.names()
        except PermissionError:
            return []

    @contextmanager
    def folder(self, name: str) -> Iterator[Held]:
        """Hold a folder in this one, never through a link; raises ``OSError`` where there is none."""
        handle = None
        if HANDLES:
            handle = os.open(self.at(name), _FOLDER | os.O_NOFOLLOW, dir_fd=self.handle)
        elif not S_ISDIR(os.lstat(self.path / name).st_mode):
            raise NotADirectoryError(20, "Not a directory", str(self.path / name))
        with _closing(Held(self.path / name, handle)) as inner:
            yield inner


@contextmanager
def held(path: Path, known: Identity | None = None) -> Iterator[Held]:
    """Hold a folder open; raises :class:`CannotWriteError` when it is no longer the ``known`` one."""
    try:
        handle = os.open(path, _FOLDER) if HANDLES else None
    except PermissionError:
        # into a folder that cannot be listed may be written all the same
        handle = None
    except OSError as fault:
        raise CannotWriteError(f"cannot write into {path}: {fault.strerror}; {ALLOW}") from fault
    with _closing(Held(path, handle)) as folder:
        if known is not None and folder.identity != known:
            raise moved(path)
        yield folder


def moved(path: Path) -> CannotWriteError:
    """Return what is said of a folder in whose place another one, or a link, stands meanwhile."""
    return CannotWriteError(f"the folder {path} was moved or replaced meanwhile; nothing was changed, so run it again")


def identity(known: os.stat_result) -> Identity:
    """Return device and number."""
    return known.st_dev, known.st_ino


def locked(handle: int, wait: bool = False) -> bool:
    """Lock an open file or folder until it is closed; tell whether the system can, and nobody else has."""
    if locks is None:
        return False
    try:
        locks.flock(handle, locks.LOCK_EX | (0 if wait else locks.LOCK_NB))
    except OSError:
        return False
    return True


def is_left(opened: int | Path) -> bool:
    """Tell whether no run writes an open file or folder any more, and lock it: a run locks what it writes."""
    if locks is None or isinstance(opened, Path):
        return os.stat(opened).st_mtime < time() - A_DAY
    return locked(opened)


@contextmanager
def _closing(folder: Held) -> Iterator[Held]:
    try:
        yield folder
    finally:
        if folder.handle is not None:
            os.close(folder.handle)
