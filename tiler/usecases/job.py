"""The spec with the drawings that its edges name, and the logo that it names."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

from tiler.curves import Curve
from tiler.draft.edge.from_drawing import Source
from tiler.draft.spec.read import Job, read_spec

if TYPE_CHECKING:
    from tiler.usecases.drawings.apart import FetchCurve


def read_job(path: Path, spare: Callable[[Path], None] | None = None, languages: tuple[str, ...] | None = None) -> Job:
    """Read a spec; drawings stand relative to its folder and inside it.

    ``spare`` is told of every drawing before it is read, and refuses one that would be replaced.
    ``languages`` win over those of the spec.

    Raises what :func:`tiler.draft.spec.read.read_spec` raises, and for a drawing that
    cannot be used :class:`UnreadableError`, :class:`EncryptedError`,
    :class:`NothingToMeasureError` or :class:`OffScaleError`.
    """

    with ExitStack() as stack:
        fetches: list[FetchCurve] = []

        @cache
        def find(source: Source) -> Curve:
            # a spec without drawings needs no process that reads them
            from tiler.usecases.drawings.apart import curves_apart, inside

            file = inside(path.parent, source.file)
            if spare:
                spare(file)
            if not fetches:
                fetches.append(stack.enter_context(curves_apart()))
            return fetches[0](file, source)

        job = read_spec(path, find)
        if job.logo:
            from tiler.usecases.drawings.apart import inside, logo_apart

            file = inside(path.parent, job.logo)
            if spare:
                spare(file)
            job = replace(job, edition=replace(job.edition, logo=logo_apart(file)))
        return replace(job, edition=replace(job.edition, languages=languages)) if languages else job
