"""Files that a browser sends and gets: how large, under which name, and where they lie while they are read."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from flask import Response, current_app, request

from tiler.errors import SpecError, TilerError
from tiler.sentence import Place

LARGEST = 64 * 2**20
"""A larger file is not taken, bytes."""

LONGEST_NAME = 60
DPI = (50, 2500)
"""Dots per inch that a scan may have."""

WORK = "WORK"
"""The key of the app's settings for the folder of what is in work."""

_UNSAFE = re.compile(r"[^\w .()+-]+")


def safe_name(name: str, usual: str) -> str:
    """Return the last part of a name without what a folder, a header or a terminal could take for more than a name."""
    last = re.split(r"[\\/]", name)[-1]
    stem, dot, ending = _UNSAFE.sub("-", last).rpartition(".")
    stem = stem.strip(" .-")[:LONGEST_NAME].strip(" .-")
    return f"{stem}{dot}{ending[:8]}" if stem and ending else usual


@contextmanager
def folder() -> Iterator[Path]:
    """Yield a folder for one work, which ends with it."""
    with TemporaryDirectory(dir=current_app.config[WORK], ignore_cleanup_errors=True) as path:
        yield Path(path)


@contextmanager
def uploaded(field: str, usual: str) -> Iterator[Path]:
    """Yield the file that was sent in a field, under its safe name in a folder that ends with the work.

    Raises :class:`SpecError` where none was sent.
    """
    sent = request.files.get(field)
    if sent is None or not sent.filename:
        raise SpecError("is missing; choose a file first", Place(f"--{field}"))
    with folder() as here:
        path = here / safe_name(sent.filename, usual)
        sent.save(path)
        yield path


MOST_FILES = 24
"""So many files are taken together."""


@contextmanager
def uploaded_together(field: str) -> Iterator[dict[str, Path]]:
    """Yield the files that were sent in a field by the last part of their names, in a folder that ends with the work.

    Raises :class:`SpecError` where none was sent, and for more than anybody needs.
    """
    sent = [file for file in request.files.getlist(field) if file.filename]
    if not sent:
        raise SpecError("is missing; choose a file first", Place(f"--{field}"))
    if len(sent) > MOST_FILES:
        raise SpecError(f"are {len(sent)} files; choose the spec and its drawings alone", Place(f"--{field}"))
    with folder() as here:
        found = {}
        for number, file in enumerate(sent):
            own = here / str(number)
            own.mkdir()
            name = re.split(r"[\\/]", file.filename or "")[-1]
            found[name] = own / safe_name(name, "file")
            file.save(found[name])
        yield found


@contextmanager
def own_name(path: Path) -> Iterator[None]:
    """Call a file in what is raised by the name that it was sent under; that of the folder here says nothing."""
    try:
        yield
    except TilerError as fault:
        if str(path) not in str(fault):
            raise
        raise type(fault)(str(fault).replace(str(path), path.name)) from fault


def dpi_by(text: str) -> float | None:
    """Return the dots per inch that a form says; None where it says none."""
    if not text.strip():
        return None
    try:
        dpi = float(text)
    except ValueError:
        dpi = 0.0
    if not DPI[0] <= dpi <= DPI[1]:
        raise SpecError(f"{text[:20]!r} is not from {DPI[0]} to {DPI[1]}; write for instance 300", Place("--dpi"))
    return dpi


def sent(data: bytes, name: str, mimetype: str) -> Response:
    """Return a file to be saved under its name."""
    response = Response(data, mimetype=mimetype)
    response.headers.set("Content-Disposition", "attachment", filename=name)
    return response
