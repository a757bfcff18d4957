"""Drawings of strangers, read in a process apart: their list, their picture, and the curve that a spec names."""

from __future__ import annotations

from base64 import b64decode
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from tiler.curves import Curve
from tiler.curves.record import curve_of
from tiler.draft.edge.from_drawing import Source
from tiler.errors import SpecError
from tiler.files import shown
from tiler.printed import Logo
from tiler.reading.limits import MOST_MEMORY, MOST_SECONDS
from tiler.records import record_of
from tiler.usecases.drawings.listing import Listing
from tiler.usecases.processes.apart import Apart

WORK = "tiler.usecases.drawings.witness"

Progress = Callable[[int, int], None]

FetchCurve = Callable[[Path, Source], Curve]


@dataclass(frozen=True)
class Picture:
    """The picture of a listing's curves as a PNG, and the page of a PDF that it shows."""

    png: bytes
    page: int | None


def list_apart(
    file: Path,
    page: int | None = None,
    least: float = 0.0,
    *,
    scale_from_square: bool = False,
    picture: bool = False,
    progress: Progress | None = None,
    seconds: float = MOST_SECONDS,
    memory: int = MOST_MEMORY,
) -> tuple[Listing, Picture | None]:
    """List the curves of a drawing, with their picture if it is wanted.

    Raises what :func:`tiler.usecases.drawings.edges.list_curves` raises, and what :meth:`Apart.ask` raises.
    """
    wanted = {
        "path": str(file),
        "page": page,
        "least": least,
        "scale_from_square": scale_from_square,
        "picture": picture,
    }
    with Apart(WORK, memory, limits_given=True) as process:
        answer = process.ask(file, wanted, seconds, _told(progress))
    drawn = answer["picture"] and Picture(b64decode(answer["picture"]["png"]), answer["picture"]["page"])
    return Listing.from_record(answer["listing"]), drawn


def choice_apart(
    file: Path, page: int | None, most: int, *, scale_from_square: bool, progress: Progress | None = None
) -> tuple[Listing, tuple[Curve, ...], Picture]:
    """List the curves of a drawing with the picture of a page, and return the ``most`` longest of them to choose from.

    Raises what :func:`list_apart` raises.
    """
    wanted = {"path": str(file), "page": page, "least": 0.0, "picture": True, "curves": most}
    with Apart(WORK, MOST_MEMORY) as process:
        answer = process.ask(file, wanted | {"scale_from_square": scale_from_square}, MOST_SECONDS, _told(progress))
    drawn = answer["picture"]
    curves = tuple(map(curve_of, answer["curves"]))
    return Listing.from_record(answer["listing"]), curves, Picture(b64decode(drawn["png"]), drawn["page"])


def _told(progress: Progress | None) -> Callable[[dict[str, Any]], None] | None:
    return (lambda told: progress(told["page"], told["pages"])) if progress else None


@contextmanager
def curves_apart() -> Iterator[FetchCurve]:
    """Yield what fetches the curve of a drawing that a spec names, from one process that reads them all.

    It raises what :func:`tiler.usecases.drawings.edges.edge_curve` raises, and what :meth:`Apart.ask` raises.
    """
    with Apart(WORK, MOST_MEMORY) as process:
        yield lambda file, source: curve_of(
            process.ask(file, {"path": str(file), "source": asdict(source)}, MOST_SECONDS)
        )


def logo_apart(file: Path) -> Logo:
    """Read a publisher's logo.

    Raises what :func:`tiler.reading.logo.read_logo` raises, and what :meth:`Apart.ask` raises.
    """
    with Apart(WORK, MOST_MEMORY) as process:
        return record_of(Logo, process.ask(file, {"path": str(file), "logo": True}, MOST_SECONDS))


def inside(folder: Path, name: str) -> Path:
    """Return the path of a drawing that a spec in ``folder`` names; raises :class:`SpecError` when it leads out."""
    try:
        home = folder.resolve()
        path = (home / name).resolve()
    except (OSError, RuntimeError, ValueError) as fault:
        raise SpecError(f"'{shown(name)}' is not a path; name a file in the spec's folder") from fault
    if not path.is_relative_to(home):
        raise SpecError(f"'{shown(name)}' leads outside the spec's folder; put the drawing into it")
    return folder / name
