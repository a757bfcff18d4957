"""Put a finished file in place in one step, or leave everything as it was.

The new file grows beside its target under another name; what fails or is killed
half way never stands under the target's name and harms no file that was there.
"""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from tiler.errors import CannotWriteError
from tiler.usecases.files.ending import go_on


def refuse_existing(target: Path, force: bool, inputs: tuple[Path, ...] = (), ending: str = "") -> None:
    """Raise :class:`CannotWriteError` when ``target`` must not be written.

    It is an input, a folder or a device, its name lacks the ``ending`` by which programs
    know it, or it stands there and ``force`` is not given.
    """
    for source in inputs:
        if target.exists() and source.exists() and os.path.samefile(target, source):
            raise CannotWriteError(f"{target} is the input itself; choose another name for the output")
    if target.is_dir():
        raise CannotWriteError(f"{target} is a folder; name a file in it")
    if target.exists() and not target.is_file():
        raise CannotWriteError(f"{target} is not an ordinary file; choose another name")
    if ending and target.suffix.lower() != ending:
        raise CannotWriteError(f"{target} needs a name that ends in {ending}, by which other programs know it")
    if target.exists() and not force:
        raise CannotWriteError(f"{target} is there already; choose another name, or replace it with --force")
    if not target.parent.is_dir():
        raise CannotWriteError(f"the folder {target.parent} does not exist; make it first, or choose another")


def write_file(target: Path, data: bytes, force: bool = False) -> None:
    """Put a file of those bytes in place in one step; without ``force`` a file that is there stays.

    Raises :class:`CannotWriteError`; then nothing has changed.
    """
    with replacing(target, data, force):
        pass


@contextmanager
def replacing(target: Path, data: bytes, force: bool) -> Iterator[Path]:
    """Write a file beside ``target``, yield its path for a last look, and put it in place when the block ends well.

    When it does not, nothing has changed and nothing is left; raises :class:`CannotWriteError`.
    """
    part = part_of(target)
    try:
        try:
            os.close(os.open(part, os.O_CREAT | os.O_EXCL | os.O_WRONLY, 0o600))
        except OSError as fault:
            raise CannotWriteError(f"cannot write into {target.parent}: {fault.strerror}") from fault
        _write_through(part, data)
        yield part
        _put_in_place(part, target, force)
    finally:
        with suppress(FileNotFoundError):
            part.unlink()


def part_of(target: Path) -> Path:
    """Return where a file or folder grows: known before it is there, so that an interrupt at any moment finds it."""
    return target.parent / f".{target.name[:60]}.{secrets.token_hex(5)}.part"


def _write_through(part: Path, data: bytes) -> None:
    """Write all bytes to the disk, with the rights that a new file would have."""
    try:
        with part.open("wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        mask = os.umask(0)
        os.umask(mask)
        part.chmod(0o666 & ~mask)
    except OSError as fault:
        raise CannotWriteError(f"cannot write to {part.parent}: {fault.strerror}; nothing was changed") from fault


def _put_in_place(part: Path, target: Path, force: bool) -> None:
    """Put the finished file under its name; without ``force`` a file that appeared meanwhile stays."""
    go_on()
    try:
        if force:
            part.replace(target)
            return
        try:
            os.link(part, target)
        except FileExistsError:
            raise
        except OSError:
            # Some file systems have no links; the check that the name is free was made before.
            if target.exists():
                raise FileExistsError(target) from None
            part.replace(target)
    except FileExistsError:
        raise CannotWriteError(f"{target} is there already; choose another name, or replace it with --force") from None
    except OSError as fault:
        raise CannotWriteError(f"cannot put {target} in place: {fault.strerror}; nothing was changed") from fault
