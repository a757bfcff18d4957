"""A pattern PDF that ours join, in a process apart: weighed there, and joined later by the same process.

It may come from a stranger; its bytes never come here, and it is looked through once.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from tiler.catalog.base.forecast import Forecast
from tiler.declaration import Host
from tiler.drawn import LayerNames
from tiler.errors import SpecError
from tiler.reading.limits import MOST_MEMORY, MOST_SECONDS
from tiler.records import record_of
from tiler.sentence import Place
from tiler.usecases.processes.apart import Apart

JOINING = 3
"""To join a base may take so many times as long as to weigh it: pieces are drawn and other papers joined meanwhile."""

MOST_DIGITS = 9
"""No base has a page of a longer number."""


@dataclass(frozen=True)
class BaseApart:
    """A base that was weighed: the size of most of its pages, mm, shorter side first, and what becomes of it.

    ``side`` is the length that most pages have as a side, ``host`` where our pages are to stand, and
    ``layers`` what our layers are called in it; ``doubts`` say what is not certain of its scale.
    """

    path: Path
    size: tuple[float, float]
    side: float
    host: Host
    layers: LayerNames
    forecast: Forecast
    doubts: tuple[str, ...]
    process: Apart

    def join(self, ours: Path, declared: bytes, hidden: Sequence[str] = ()) -> dict[str, Any]:
        """Join a file of ours, with what it declares, to the base, prove it and put it in the place of ours alone.

        The layers of the base for the ``hidden`` sizes are switched off.

        Returns its sha256, bytes, pages and verdict.  Raises :class:`FailedProofError`, and what
        :meth:`Apart.ask` raises.
        """
        request = {"ours": str(ours), "declaration": declared.decode(), "hidden": hidden}
        answer: dict[str, Any] = self.process.ask(self.path, request, JOINING * MOST_SECONDS)
        return answer


def base_process() -> Apart:
    """Return a process for one base; begun early, it loads what it needs while other things are done here."""
    return Apart("tiler.usecases.bundle.joined", MOST_MEMORY)


def weighed_in(
    process: Apart,
    path: Path,
    after: int | None,
    accept: Sequence[str],
    sizes: Sequence[str] = (),
    own_layers: bool = False,
) -> BaseApart:
    """Weigh a base in a process that is begun.

    Raises what :func:`tiler.usecases.bundle.joined.weigh` and :meth:`Apart.ask` raise.
    """
    asked = {"path": str(path), "after": after, "accept": accept, "sizes": sizes, "own_layers": own_layers}
    told = process.ask(path, asked, MOST_SECONDS)
    size, host, forecast = tuple(told["size"]), record_of(Host, told["host"]), record_of(Forecast, told["forecast"])
    layers = record_of(LayerNames, told["layers"])
    return BaseApart(path, size, told["side"], host, layers, forecast, tuple(told["doubts"]), process)


def weighed_at_once(weighings: Sequence[Callable[[], BaseApart]], processes: Sequence[Apart]) -> list[BaseApart]:
    """Weigh several bases at the same time, each in its process; the first fault ends them all."""
    with ThreadPoolExecutor(max(1, len(weighings))) as threads:
        try:
            return list(threads.map(lambda weigh: weigh(), weighings))
        except BaseException:
            for process in processes:
                process.end()
            raise


def placed(given: Path) -> tuple[Path, int | None]:
    """Part ``base.pdf@12`` into the file and the page of it that ours follow; a file of that very name is itself.

    Raises :class:`SpecError` for what is no page.
    """
    name, _, page = given.name.rpartition("@")
    if not name or given.exists():
        return given, None
    base = given.with_name(name)
    if page.isdecimal() and page.isascii() and len(page) <= MOST_DIGITS:
        return base, int(page)
    if base.exists():
        raise SpecError(f"{page!r} behind {base} is no page; write a number, such as {base.name}@12", Place("--with"))
    return given, None
