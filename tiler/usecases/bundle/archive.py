"""The list of a release and its archive, the same bytes for the same files."""

from __future__ import annotations

import zipfile
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path
from shutil import copyfileobj
from typing import BinaryIO

from tiler import __version__
from tiler.draft.spec.read import Job
from tiler.usecases.bundle.listed import sealed

EARLIEST, LATEST = 1980, 2107
"""The first and the last year that an archive can state."""

RIGHTS = 0o100644 << 16


@dataclass(frozen=True)
class FileRecord:
    """A file of a release; paper, pages and verdict are those of a true-scale PDF, ``base`` what it was joined to."""

    name: str
    sha256: str
    bytes: int
    paper: str | None = None
    sizes: tuple[str, ...] = ()
    pages: int | None = None
    verdict: str | None = None
    base: str | None = None


def manifest(job: Job, records: Sequence[FileRecord], doubts: Sequence[tuple[str, str]]) -> bytes:
    """Return the bytes of ``manifest.json``; each of the doubts has the pieces that it is about."""
    held = {
        "tiler": __version__,
        "title": job.edition.title,
        "version": job.edition.version,
        "date": job.edition.date,
        "doubts": [{"about": about, "text": text} for about, text in doubts],
        "files": [asdict(record) for record in records],
    }
    return sealed(held)


def archive(folder: Path, names: Sequence[str], dated: str | None, out: BinaryIO) -> None:
    """Pack files of a folder, in the given order; all bear the ``dated`` day of the release where that is one."""
    moment = _moment(dated)
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as packed:
        for name in names:
            entry = zipfile.ZipInfo(name, moment)
            entry.compress_type, entry.external_attr, entry.create_system = zipfile.ZIP_DEFLATED, RIGHTS, 3
            entry.file_size = (folder / name).stat().st_size
            with (folder / name).open("rb") as file, packed.open(entry, "w") as held:
                copyfileobj(file, held)


def _moment(dated: str | None) -> tuple[int, int, int, int, int, int]:
    """Return midnight of a day written as in ISO 8601, else of the first day that an archive can state."""
    try:
        day = date.fromisoformat(dated or "")
    except ValueError:
        day = date.min
    return (day.year, day.month, day.day, 0, 0, 0) if EARLIEST <= day.year <= LATEST else (EARLIEST, 1, 1, 0, 0, 0)
