"""What runs that were killed have left beside the folder of a release: removed, finished or put back.

Only what is known by its name and by what is in it is touched, and nothing that a run still
holds: a folder that bears the mark, or whose list names every file in it unchanged.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from tiler.errors import CannotWriteError
from tiler.usecases.bundle.folder import clear, move_over, parts_of, unmark
from tiler.usecases.bundle.listed import LARGEST_LIST, LIST, MARK, is_marked, is_whole, listed_in
from tiler.usecases.files.held import Held, held, is_left


def mend(folder: Path) -> tuple[str, ...]:
    """Set right what interrupted runs have left of the release in ``folder``; return what was done, a line each.

    Raises :class:`CannotWriteError` when it cannot be.
    """
    target = folder.resolve()
    if not target.parent.is_dir() or not target.name:
        return ()
    with held(target.parent) as home:
        try:
            return tuple(f"{folder}: {words}" for words in _mended(home, target.name))
        except OSError as fault:
            raise CannotWriteError(f"cannot mend {folder}: {fault.strerror}") from fault


def _mended(home: Held, name: str) -> Iterator[str]:
    for part in parts_of(home, name):
        try:
            with home.folder(part) as left:
                if is_left(left.path if left.handle is None else left.handle):
                    yield from _part(home, part, left, name)
        except PermissionError as fault:
            yield f"{part} is left as it is: {fault.strerror}"
    yield from _put_back(home, name)
    unmark(home, name)


def _part(home: Held, part: str, left: Held, name: str) -> Iterator[str]:
    if home.stat(name) is None and not is_marked(left) and is_whole(left):
        home.move(part, name)
        yield f"put back; the release lay in {part} since a run was interrupted"
    elif home.is_folder(name) and _is_begun(home, left, name):
        move_over(home, part, name)
        yield "the new release is in place; a run was interrupted while its files changed their folder"
    elif clear(home, part, name):
        yield f"removed {part}, which an interrupted run had left"
    else:
        yield f"{part} is left as it is: it holds what no interrupted run leaves; look at it, and remove it yourself"


def _is_begun(home: Held, left: Held, name: str) -> bool:
    """Tell whether files of a new release have moved into the folder, which holds nothing else but the earlier one."""
    wanted = listed_in(left) if is_marked(left) else None
    with home.folder(name) as there:
        if not wanted or all(map(left.stat, wanted)):
            return False
        earlier = listed_in(there) or {}
        return all(checksum in (left.digest(one), there.digest(one)) for one, checksum in wanted.items()) and all(
            one in (LIST, MARK) or there.digest(one) in (earlier.get(one, ""), wanted.get(one, ""))
            for one in there.names()
        )


def _put_back(home: Held, name: str) -> Iterator[str]:
    """Put back a release that an earlier tiler had moved aside, in a folder of its own."""
    pattern = re.compile(rf"\.{re.escape(name[:60])}\.[a-z0-9_]{{8}}\.old")
    for aside in home.seen():
        if not pattern.fullmatch(aside) or not home.is_folder(aside):
            continue
        with home.folder(aside) as around:
            if not around.is_folder("old"):
                continue
            with around.folder("old") as old:
                if not _was_released(old):
                    continue
            if home.stat(name) is None:
                around.move("old", name, home)
                yield f"put back; the earlier release lay in {aside} since a run was interrupted"
            else:
                yield f"an earlier release lies in {aside} since a run was interrupted; remove it if you do not want it"
                continue
        home.remove_folder(aside)


def _was_released(old: Held) -> bool:
    """Tell whether a folder holds a release, with a list of any age, and all that it names unchanged."""
    with suppress(ValueError, TypeError, KeyError, RecursionError):
        files = json.loads(old.read(LIST, LARGEST_LIST) or b"")["files"]
        return all(old.digest(Path(one["name"]).name) == one["sha256"] for one in files)
    return False
