"""Put a finished file in place in one step, or leave everything as it was.

The new file grows beside its target under another name; what fails or is killed
half way never stands under the target's name and harms no file that was there, and what
a killed run left is cleaned by the next one for the same target.  Of two runs for one
target each puts a whole file in place: with ``force`` the later one stays, without it the
first.  A replaced file keeps its rights; where the target is a link, the file takes the
place of the link, and what it led to stays.
"""

from __future__ import annotations

import os
import re
import secrets
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from stat import S_IMODE
from typing import BinaryIO

from tiler.accents import composed
from tiler.errors import CannotWriteError, TilerError
from tiler.usecases.files.ending import go_on
from tiler.usecases.files.held import ALLOW, Held, Identity, held, identity, is_left, locked, locks, moved

ANYONE_WRITES = 0o222


Writing = Callable[[BinaryIO], None]
"""Writes what a file is to hold: for what is too long to be held in memory."""


@dataclass(frozen=True)
class Output:
    """A file to be written, which may be; ``home`` is the folder that its path led to when it was looked at."""

    path: Path
    force: bool = False
    home: Identity | None = None

    def spare(self, source: Path) -> None:
        """Raise :class:`CannotWriteError` when this is an input, under whatever name."""
        with suppress(OSError):
            if os.path.samefile(self.path, source):
                which = "" if self.path == source else f", {source}"
                raise CannotWriteError(f"{self.path} is the input itself{which}; choose another name for the output")


def missing(folder: Path) -> str:
    """Say why there is no such folder to write into, and what to do."""
    there = next((one for one in (folder, *folder.parents) if one.exists()), folder)
    if there.is_file():
        return f"{there} is a file and no folder; choose another"
    return f"the folder {folder} does not exist; make it first, or choose another"


def admitted(target: Path, force: bool, inputs: tuple[Path, ...] = (), *endings: str) -> Output:
    """Return the output at ``target``, or raise :class:`CannotWriteError` when it must not be written.

    It is an input, a folder or a device, read-only, its name has none of the ``endings`` by
    which programs know it, or it stands there and ``force`` is not given.
    """
    output = Output(target, force)
    for source in inputs:
        output.spare(source)
    if target.is_dir():
        raise CannotWriteError(f"{target} is a folder; name a file in it")
    if target.exists() and not target.is_file():
        raise CannotWriteError(f"{target} is not an ordinary file; choose another name")
    if endings and target.suffix.lower() not in endings:
        known = " or ".join(endings)
        raise CannotWriteError(f"{target} needs a name that ends in {known}, by which other programs know it")
    if os.path.lexists(target) and not force:
        raise _there_already(target)
    refuse_read_only(target)
    if not target.parent.is_dir():
        raise CannotWriteError(missing(target.parent))
    return Output(target, force, identity(target.parent.stat()))


def refuse_read_only(target: Path) -> None:
    """Raise :class:`CannotWriteError` for a file or folder that nobody, or not this user, may write."""
    if target.exists() and not (target.stat().st_mode & ANYONE_WRITES and os.access(target, os.W_OK)):
        raise CannotWriteError(f"{target} is read-only; choose another name, or allow writing to it first")


def same_place(one: Path, other: Path) -> bool:
    """Tell whether two names would be one file, on a system too where neither case nor the form of accents counts."""

    first, second = (composed(path.name).casefold() for path in (one, other))
    with suppress(OSError):
        return first == second and os.path.samefile(one.parent, other.parent)
    return False


def write_file(target: Path, data: bytes | Writing, force: bool = False) -> None:
    """Put a file of those bytes in place in one step; without ``force`` a file that is there stays.

    Raises :class:`CannotWriteError`; then nothing has changed.
    """
    put(Output(target, force), data)


def put(output: Output, data: bytes | Writing) -> None:
    """Put a file of those bytes in place in one step.

    Raises :class:`CannotWriteError`; then nothing has changed.
    """
    with replacing(output, data):
        pass


@contextmanager
def replacing(output: Output, data: bytes | Writing) -> Iterator[Path]:
    """Write a file beside its target, yield its path for a last look, and put it in place when the block ends well.

    When it does not, nothing has changed and nothing is left; raises :class:`CannotWriteError`.
    """
    target = output.path
    refuse_read_only(target)
    with held(target.parent, output.home) as folder:
        _clean(folder, target.name)
        part = part_of(target.name)
        try:
            handle = _written(folder, part, target, data)
            try:
                yield folder.path / part
                if not folder.is_in_place:
                    raise moved(folder.path)
                _put_in_place(folder, part, output)
            except TilerError:
                # a last look by the path may have met another file, or none
                if not folder.is_in_place:
                    raise moved(folder.path) from None
                raise
            finally:
                if handle is not None:
                    os.close(handle)
        finally:
            with suppress(OSError):
                folder.remove(part)


def part_of(name: str) -> str:
    """Return under which name a file or folder grows: known before it is there, so that an interrupt finds it."""
    return f".{name[:50]}.{secrets.token_hex(5)}.part"


def is_part(found: str, name: str) -> bool:
    """Tell whether ``found`` is a name that :func:`part_of` gives."""
    return re.fullmatch(rf"\.{re.escape(name[:50])}\.[0-9a-f]{{10}}\.part", found) is not None


def _clean(folder: Held, name: str) -> None:
    """Remove what killed runs for the same target have left; what one still writes is locked."""
    for found in folder.seen():
        if not is_part(found, name) or not folder.is_plain(found):
            continue
        with suppress(OSError):
            handle = folder.open(found, os.O_RDONLY)
            try:
                if is_left(handle):
                    folder.remove(found)
            finally:
                os.close(handle)


def _written(folder: Held, part: str, target: Path, data: bytes | Writing) -> int | None:
    """Write all bytes to the disk, with the rights of the file that is replaced or that a new one has.

    Returns the handle by whose lock other runs know that the file is wanted.
    """
    try:
        before = folder.stat(target.name, follow=True)
        handle = _begun(folder, part, 0o666 if before is None else 0o600)
    except OSError as fault:
        raise CannotWriteError(f"cannot write into {folder.path}: {fault.strerror}; {ALLOW}") from fault
    try:
        with os.fdopen(handle, "wb", closefd=False) as file:
            if isinstance(data, bytes):
                file.write(data)
            else:
                data(file)
        os.fsync(handle)
        if before is not None:
            folder.set_rights(part, S_IMODE(before.st_mode) & 0o777)
    except BaseException as fault:
        os.close(handle)
        if isinstance(fault, OSError):
            why = f"cannot write to {folder.path}: {fault.strerror}; nothing was changed"
            raise CannotWriteError(why) from fault
        raise
    if locks is None:
        # what is open has no other name there
        os.close(handle)
        return None
    return handle


def _begun(folder: Held, part: str, rights: int) -> int:
    """Make a file and lock it, anew where another run took it for left before it was locked."""
    while True:
        handle = folder.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, rights)
        locked(handle, wait=True)
        if folder.stat(part):
            return handle
        os.close(handle)


def _put_in_place(folder: Held, part: str, output: Output) -> None:
    """Put the finished file under its name; without ``force`` a file that appeared meanwhile stays."""
    go_on()
    target, name = output.path, output.path.name
    try:
        if output.force:
            folder.move(part, name)
            return
        try:
            os.link(folder.at(part), folder.at(name), src_dir_fd=folder.handle, dst_dir_fd=folder.handle)
        except FileExistsError:
            raise
        except OSError:
            # Some file systems have no links; the check that the name is free was made before.
            if folder.stat(name):
                raise FileExistsError(target) from None
            folder.move(part, name)
    except FileExistsError:
        raise _there_already(target) from None
    except OSError as fault:
        raise CannotWriteError(f"cannot put {target} in place: {fault.strerror}; nothing was changed") from fault


def _there_already(target: Path) -> CannotWriteError:
    return CannotWriteError(f"{target} is there already; choose another name, or replace it with --force")
