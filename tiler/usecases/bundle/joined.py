"""Our pages joined to a pattern PDF: weighed before anything is written, proved afterwards."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import dataclass
from gc import collect, freeze
from pathlib import Path
from typing import Any, BinaryIO

from tiler.catalog.base.join import Base, join, joinable
from tiler.catalog.base.opening import Source
from tiler.declaration import Declaration, printed_pages
from tiler.errors import EncryptedError, FailedProofError, OffScaleError, SpecError, UnreadableError
from tiler.proof import Report, prove
from tiler.proof.alike import Alike
from tiler.proof.report.check import CheckName
from tiler.proof.report.verdict import Verdict
from tiler.records import tree_of
from tiler.sentence import Place
from tiler.usecases.bundle.doubts import OFF_SCALE
from tiler.usecases.files.digest import sha256_of
from tiler.usecases.files.replace import Output, replacing


@dataclass(frozen=True)
class Weighed:
    """A base that may be joined, and how its own squares measure."""

    base: Base
    report: Report
    alike: Alike
    """Its pages without anything to measure."""

    @property
    def doubts(self) -> tuple[str, ...]:
        """What is to be said of the scale of the base; empty when its own squares are right."""
        if self.report.verdict is Verdict.NOTHING:
            return ("the base has no test square that says its size; nobody can tell whether it is true to scale",)
        if self.report.verdict is Verdict.OFF:
            return (f"the base is off scale, and accepted so: {_off(self.report)}",)
        if self.report.failed:
            return (f"it is not certain that the base is true to scale: {self.report.first_failure()}",)
        return ()


def weigh(
    base: Source,
    after: int | None = None,
    accept: Collection[str] = (),
    sizes: Sequence[str] = (),
    own_layers: bool = False,
) -> Weighed:
    """Say what joining pages to a base would keep and lose, and measure its own squares; writes nothing.

    Raises :class:`OffScaleError` when a square or ruler line of the base is wrong and ``accept`` does
    not hold :data:`OFF_SCALE`, and what :func:`joinable` raises.
    """
    found = joinable(base, after, accept, sizes, own_layers)
    alike = Alike()
    report = prove(base, called="the file", alike=alike)
    if report.verdict is Verdict.OFF and OFF_SCALE not in accept:
        raise OffScaleError(
            f"the base is off scale: {_off(report)}; mend it before anything is added, or accept it as it is "
            f"(--accept {OFF_SCALE})"
        )
    return Weighed(found, report, alike)


def join_proved(target: Path, weighed: Weighed, declaration: Declaration, hidden: Collection[str] = ()) -> Report:
    """Join the pages of ``target``, with what they declare, to a base that was weighed, and put the longer file there.

    It is proved first.  The layers of the base for the ``hidden`` sizes are switched off.

    Raises :class:`FailedProofError` when ours are not true to scale and whole in there,
    or when a square of the base measures differently from before.
    """
    ours = target.read_bytes()

    def write(out: BinaryIO) -> None:
        join(weighed.base, ours, declaration, out, hidden)
        # its objects hold each other, and all that the base has
        collect()

    with replacing(Output(target, force=True), write) as part:
        report = prove(part, as_made=True, called="the file", alike=weighed.alike)
        _hold(report, weighed, declaration)
    return report


def _hold(report: Report, weighed: Weighed, declaration: Declaration) -> None:
    after, count = weighed.base.forecast.after, len(printed_pages(declaration.pages))
    first, last = after + 1, after + count
    wrong = [check for check in report.failed if check.page is None or first <= check.page <= last]
    if wrong:
        where = f"on page {wrong[0].page}, " if wrong[0].page else ""
        raise FailedProofError(f"the joined file failed its own proof and was not written: {where}{wrong[0].detail}")
    before = [(check.page, check.measured_mm) for check in weighed.report.sizes]
    now = [
        (check.page - count if check.page > last else check.page, check.measured_mm)
        for check in report.sizes
        if check.page is not None and not first <= check.page <= last
    ]
    if before != now:
        raise FailedProofError("the joined file was not written: a square of the base measures differently in it")


def answers(requests: Iterator[dict[str, Any]], _tell: Callable[[Any], None]) -> Iterator[Any]:
    """Weigh the base that the first request names, and join to it each file of ours that a later one names.

    This is the work of a process apart, see :mod:`tiler.usecases.bundle.base_apart`.
    """
    wanted = next(requests)
    path = Path(wanted["path"])
    try:
        weighed = weigh(path, wanted["after"], wanted["accept"], wanted["sizes"], wanted["own_layers"])
    except (SpecError, UnreadableError, EncryptedError, OffScaleError) as fault:
        # what cannot be opened is named already
        named = fault.place is not None and fault.place.source == str(path)
        raise fault if named else fault.at(Place(str(path))) from fault
    collect()
    # what is known of the base stays, and need not be looked through after each file
    freeze()
    base = weighed.base
    size, side = base.survey.usual_size, base.survey.usual_side
    forecast, host = tree_of(base.forecast), tree_of(base.host)
    told = {"size": size, "side": side, "host": host, "layers": tree_of(base.layers), "forecast": forecast}
    yield {**told, "doubts": weighed.doubts}
    for request in requests:
        target = Path(request["ours"])
        declaration = Declaration.from_bytes(request["declaration"].encode())
        report = join_proved(target, weighed, declaration, request["hidden"])
        yield {
            "sha256": sha256_of(target),
            "bytes": target.stat().st_size,
            "pages": report.pages,
            "verdict": report.verdict,
        }


def _off(report: Report) -> str:
    """Word the size that is furthest from what it should be."""
    wrong = [check for check in report.failed if check.ratio is not None]
    worst = max(wrong, key=lambda check: round(abs((check.ratio or 1.0) - 1), 6), default=None)
    if worst is None:
        return report.first_failure()
    kind = "ruler line" if worst.name is CheckName.RULE else "square"
    return (
        f"the {worst.label} {kind} on page {worst.page} measures {worst.measured_mm:.2f} mm {worst.axis} "
        f"instead of {worst.nominal_mm:.2f} mm"
    )
