"""A folder that takes its place as a whole, or not at all.

It grows beside the one that is wanted, under a name of its own, and then the two names change
places at once.  Where the system cannot do that, the files change their folder one by one, the
list last: every name leads to a whole file at every moment, and what a kill leaves half
done :mod:`tiler.usecases.bundle.mend` finishes.  Of the earlier release only files are removed that
its list names with the checksum that they have.  Where the target is a link to a folder, that
folder is meant.  Two runs for one folder do not meet: the second is refused.
"""

from __future__ import annotations

import os
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager, suppress
from dataclasses import dataclass, replace
from pathlib import Path

from tiler.errors import CannotWriteError
from tiler.usecases.bundle.listed import LIST, MARK, MARKED, held_by_release, is_marked, is_whole, listed_in
from tiler.usecases.files.ending import go_on
from tiler.usecases.files.exchange import exchanged
from tiler.usecases.files.held import ALLOW, Held, Identity, held, identity, is_left, locked, moved
from tiler.usecases.files.replace import is_part, missing, part_of, refuse_read_only


@dataclass(frozen=True)
class ReleaseFolder:
    """A folder to be written, which may be.

    ``target`` is where it led to when it was looked at, and ``home`` the folder around that.
    """

    folder: Path
    force: bool
    target: Path
    home: Identity | None = None

    def spare(self, source: Path) -> None:
        """Raise :class:`CannotWriteError` when the folder holds an input, under whatever name."""
        for path in self.folder.iterdir() if self.folder.is_dir() else ():
            with suppress(OSError):
                if path.samefile(source):
                    raise CannotWriteError(
                        f"{source} lies in {self.folder}, which is to be replaced; choose another folder"
                    )


def admitted_folder(folder: Path, force: bool, inputs: tuple[Path, ...]) -> ReleaseFolder:
    """Return the folder, or raise :class:`CannotWriteError` when it must not be written.

    It stands there and ``force`` is not given, or it holds an input, or what is not part of an
    earlier release or was changed since.
    """
    target = folder.resolve()
    place = ReleaseFolder(folder, force, target)
    if not target.parent.is_dir():
        raise CannotWriteError(missing(target.parent if folder.parent.is_dir() else folder.parent))
    if target.exists() and not target.is_dir():
        raise CannotWriteError(f"{folder} is a file; name a folder for the release")
    try:
        if target.is_dir():
            if any(target.iterdir()) and not force:
                raise _there_already(folder)
            refuse_read_only(folder)
            for source in inputs:
                place.spare(source)
            with held(target) as earlier:
                for name in held_by_release(Held(folder, earlier.handle)):
                    refuse_read_only(folder / name)
    except OSError as fault:
        raise CannotWriteError(f"{folder} cannot be looked through: {fault.strerror}; choose another folder") from fault
    return replace(place, home=identity(target.parent.stat()))


@contextmanager
def staged(place: ReleaseFolder) -> Iterator[Path]:
    """Yield a new folder that takes the place of the wanted one when the block ends well, and is gone when not."""
    target = place.target
    part = part_of(target.name)
    with held(target.parent, place.home) as home:
        try:
            with _grown(home, part, place) as new:
                yield new.path
                go_on()
                if not (home.is_in_place and new.is_in_place):
                    raise moved(target.parent)
                try:
                    _put_in_place(home, part, new, target.name, place)
                except OSError as fault:
                    undone = clear(home, part, target.name)
                    state = "nothing was changed" if undone else f"tiler bundle --mend -o {place.folder} finishes it"
                    raise CannotWriteError(f"cannot put {place.folder} in place: {fault.strerror}; {state}") from fault
        finally:
            clear(home, part, target.name)
            unmark(home, target.name)


@contextmanager
def _grown(home: Held, part: str, place: ReleaseFolder) -> Iterator[Held]:
    """Make a folder with its mark, and lock it; raises :class:`CannotWriteError`, also while another run has one."""
    name = place.target.name
    with ExitStack() as stack:
        try:
            os.mkdir(home.at(part), 0o700 if home.stat(name) else 0o777, dir_fd=home.handle)
            new = stack.enter_context(home.folder(part))
            if new.handle is not None:
                locked(new.handle, wait=True)
            with os.fdopen(new.open(MARK, os.O_CREAT | os.O_EXCL | os.O_WRONLY), "wb") as file:
                file.write(MARKED)
        except FileNotFoundError:
            # what is empty and not locked yet was taken for left by another run, which looks after that first
            raise _busy(place.folder) from None
        except OSError as fault:
            raise CannotWriteError(f"cannot write into {home.path}: {fault.strerror}; {ALLOW}") from fault
        for other in parts_of(home, name):
            with suppress(OSError), home.folder(other) as theirs:
                if other != part and theirs.handle is not None and not is_left(theirs.handle):
                    raise _busy(place.folder)
        yield new


def parts_of(home: Held, name: str) -> list[str]:
    """Return the names of the folders in which a release of that name grows or was left."""
    return [found for found in home.seen() if is_part(found, name) and home.is_folder(found)]


def clear(home: Held, part: str, name: str) -> bool:
    """Remove a folder that grew beside ``name``, or that gave its place up; tell whether it is gone.

    Of the first only files are removed, and none when some have moved already; of the second only
    what its list names unchanged, when the new release is whole.
    """
    with suppress(OSError, CannotWriteError):
        with home.folder(part) as left:
            if not left.names():
                names = []
            elif is_marked(left):
                if any(not left.stat(one) for one in listed_in(left) or ()):
                    return False
                names = [one for one in left.names() if left.is_plain(one)]
                # in this order what a kill leaves of it is known again
                names.sort(key=lambda one: (one != LIST, one == MARK))
            else:
                with home.folder(name) as other:
                    if not is_whole(other):
                        return False
                names = sorted(held_by_release(left), key=lambda one: one == LIST)
            for one in names:
                left.remove(one)
        home.remove_folder(part)
    return home.stat(part) is None


def unmark(home: Held, name: str) -> None:
    """Take the mark off a folder that has come to its place."""
    with suppress(OSError), home.folder(name) as there:
        if is_marked(there):
            there.remove(MARK)


def move_over(home: Held, part: str, name: str) -> None:
    """Move the files of a new release, one by one, into the folder of the earlier one, the list last.

    Begun and broken off, it may be begun again.  Raises ``OSError``.
    """
    with home.folder(part) as new, home.folder(name) as old:
        wanted, earlier = listed_in(new) or {}, listed_in(old) or {}
        for one in wanted:
            if new.stat(one):
                new.move(one, one, old)
        for one in earlier:
            if one not in wanted and old.digest(one) == earlier[one]:
                old.remove(one)
        new.move(LIST, LIST, old)
        new.remove(MARK)
    home.remove_folder(part)


def _put_in_place(home: Held, part: str, new: Held, name: str, place: ReleaseFolder) -> None:
    if home.stat(name) is None:
        home.move(part, name)
        return
    with home.folder(name) as old:
        if old.names() and not place.force:
            raise _there_already(place.folder)
        for one in held_by_release(old):
            if new.is_plain(one):
                new.set_rights(one, old.rights(one))
        new.set_rights(".", old.rights("."))
        unmark(home, name)
        if not exchanged(home, part, name):
            move_over(home, part, name)
            return
        try:
            # what came in between the last look and the exchange is nobody's to remove
            held_by_release(old)
        except (CannotWriteError, OSError):
            exchanged(home, part, name)
            raise


def _busy(folder: Path) -> CannotWriteError:
    return CannotWriteError(f"another run is making {folder} just now; wait until it has ended")


def _there_already(folder: Path) -> CannotWriteError:
    return CannotWriteError(f"{folder} is there already; choose another folder, or replace it with --force")
