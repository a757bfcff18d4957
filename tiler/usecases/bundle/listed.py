"""What of a folder belongs to a release: the files that its list names, with the checksum that they still have.

The list bears a checksum of its own, so that a change of it is seen as well.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from contextlib import suppress
from hashlib import sha256
from pathlib import Path
from typing import Any

from tiler.errors import CannotWriteError
from tiler.usecases.files.held import Held

LIST = "manifest.json"

MARK = ".tiler-grows"
MARKED = b"A release grows here. What is left of it when no tiler runs is removed by the next.\n"
"""The first file in a folder that grows, by which it is known, and the last to go when it stands in its place."""

LARGEST_LIST = 4 * 2**20
"""A larger file is no list of a release, bytes."""


def sealed(tree: Mapping[str, Any]) -> bytes:
    """Return the bytes of a list; its last key is the checksum of the text without it."""
    return _text({**tree, "sha256": sha256(_text(tree)).hexdigest()})


def checksums(data: bytes | None) -> dict[str, str] | None:
    """Return the checksums by the names of the files, or nothing for what is not such a list, whole and unchanged."""
    try:
        tree = json.loads(data or b"")
        del tree["sha256"]
        files = {one["name"]: one["sha256"] for one in tree["files"]}
        whole = sealed(tree) == data and len(files) == len(tree["files"])
    except (ValueError, TypeError, KeyError, RecursionError):
        return None
    return files if whole and all(map(_is_name, files)) else None


def listed_in(folder: Held) -> dict[str, str] | None:
    """Return the checksums that the list in a folder gives."""
    return checksums(folder.read(LIST, LARGEST_LIST))


def held_by_release(folder: Held) -> tuple[str, ...]:
    """Return the names of all that a folder holds, every one part of a release and unchanged.

    Raises :class:`CannotWriteError` with the name of what is not.
    """
    names = [name for name in folder.names() if name != MARK or not is_marked(folder)]
    files = listed_in(folder) if LIST in names else {}
    if files is None and _is_unsealed(folder):
        raise CannotWriteError(
            f"{folder.path / LIST} was written by an earlier version of tiler, without a checksum of its own, so "
            "nobody can tell what was changed since, and nothing is replaced; "
            f"move {folder.path} away, or choose another folder"
        )
    if files is None:
        raise CannotWriteError(
            f"{folder.path / LIST} is not a list of a release as it was written, so nothing is replaced; "
            "choose another folder, or move this one away"
        )
    for name in names:
        if name != LIST and name not in files:
            raise CannotWriteError(
                f"{folder.path} holds {name}, which is not part of a release, so it is not replaced; "
                "choose another folder, or move it away"
            )
        if name != LIST and folder.digest(name) != files[name]:
            raise CannotWriteError(
                f"{folder.path} holds {name}, which was changed since it was released, so it is not replaced; "
                "choose another folder, or move it away"
            )
    return tuple(names)


def _is_unsealed(folder: Held) -> bool:
    """Tell whether the list in a folder is one from before lists bore a checksum of their own."""
    with suppress(ValueError, RecursionError):
        tree = json.loads(folder.read(LIST, LARGEST_LIST) or b"")
        return isinstance(tree, dict) and isinstance(tree.get("files"), list) and "sha256" not in tree
    return False


def is_whole(folder: Held) -> bool:
    """Tell whether a folder holds a release with all its files, unchanged."""
    files = listed_in(folder)
    return bool(files) and all(folder.digest(name) == checksum for name, checksum in (files or {}).items())


def is_marked(folder: Held) -> bool:
    """Tell whether a folder bears the mark of one that grows."""
    held = folder.read(MARK, len(MARKED))
    # a kill may come before it is written
    return held is not None and MARKED.startswith(held)


def _text(tree: Mapping[str, Any]) -> bytes:
    return (json.dumps(tree, indent=2, ensure_ascii=False) + "\n").encode("utf-8")


def _is_name(name: object) -> bool:
    """Tell whether a name is that of a file in the folder itself, on every system."""
    return (
        isinstance(name, str)
        and name not in ("", ".", "..", LIST, MARK)
        and Path(name).name == name
        and not set(name) & set("/\\:\0")
    )
