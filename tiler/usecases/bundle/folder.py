"""A folder that takes its place as a whole, or not at all."""

from __future__ import annotations

import json
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from tiler.errors import CannotWriteError
from tiler.usecases.files.ending import go_on
from tiler.usecases.files.replace import part_of

LIST = "manifest.json"


def refuse_folder(folder: Path, force: bool, inputs: tuple[Path, ...]) -> None:
    """Raise :class:`CannotWriteError` when ``folder`` must not be written.

    It stands there and ``force`` is not given, or it holds what is not part of an earlier release.
    """
    if not folder.resolve().parent.is_dir():
        raise CannotWriteError(f"the folder {folder.parent} does not exist; make it first, or choose another")
    if not folder.exists():
        return
    if not folder.is_dir():
        raise CannotWriteError(f"{folder} is a file; name a folder for the release")
    held = {path.name for path in folder.iterdir()}
    if not held:
        return
    if not force:
        raise CannotWriteError(f"{folder} is there already; choose another folder, or replace it with --force")
    others = sorted(held - _of_release(folder))
    if others:
        raise CannotWriteError(
            f"{folder} holds {others[0]}, which is not part of a release, so it is not replaced; choose another folder"
        )
    for source in inputs:
        if source.resolve().parent == folder.resolve():
            raise CannotWriteError(f"{source} lies in {folder}, which is to be replaced; choose another folder")


def _of_release(folder: Path) -> set[str]:
    try:
        listed = json.loads((folder / LIST).read_text("utf-8"))
        names = {str(one["name"]) for one in listed["files"]}
    except (OSError, ValueError, TypeError, KeyError):
        return set()
    return {*names, LIST, *(path.name for path in folder.glob("*.zip"))}


@contextmanager
def staged(folder: Path, force: bool) -> Iterator[Path]:
    """Yield a new folder that takes the place of ``folder`` when the block ends well, and is gone when it does not."""
    target = folder.resolve()
    part = target.parent / part_of(target.name)
    try:
        try:
            part.mkdir(0o700)
        except OSError as fault:
            raise CannotWriteError(f"cannot write into {target.parent}: {fault.strerror}") from fault
        yield part
        go_on()
        part.chmod(0o755)
        _exchange(part, target, force)
    finally:
        shutil.rmtree(part, ignore_errors=True)


def _exchange(part: Path, target: Path, force: bool) -> None:
    old: Path | None = None
    try:
        if target.exists():
            refuse_folder(target, force, ())
            old = Path(tempfile.mkdtemp(prefix=f".{target.name[:60]}.", suffix=".old", dir=target.parent)) / "old"
            target.rename(old)
        part.rename(target)
    except OSError as fault:
        state = "nothing was changed" if _put_back(old, target) else f"the earlier release lies in {old}"
        raise CannotWriteError(f"cannot put {target} in place: {fault.strerror}; {state}") from fault
    finally:
        # an interrupt may come between the two renamings; what cannot be put back is the only release there is
        if old is not None and _put_back(old, target):
            shutil.rmtree(old.parent, ignore_errors=True)


def _put_back(old: Path | None, target: Path) -> bool:
    """Put the earlier release back under its name unless the new one bears it; return whether none is left aside."""
    if old is None or not old.exists() or target.exists():
        return True
    with suppress(OSError):
        old.rename(target)
    return target.exists()
