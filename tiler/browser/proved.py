"""A file, a scan or a photo is measured in a process apart, and its verdict told as ``tiler verify`` does."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from tiler.proof.report.check import Check, Status
from tiler.proof.report.effect import error
from tiler.proof.report.record import Picture
from tiler.proof.report.size_table import named, rows_of
from tiler.proof.report.verdict import Verdict
from tiler.proof.report.wording import remarks, sentence
from tiler.usecases.files.replace import admitted
from tiler.usecases.scan.apart import Seen, prove_scan_apart
from tiler.usecases.verify.apart import Limits, prove_apart

KINDS = {Verdict.TRUE: "true", Verdict.COMPENSATED: "true", Verdict.OFF: "wrong", Verdict.INCOMPLETE: "wrong"}
"""How a verdict looks; any other one is open."""

MOST_SHOWN = 24
"""Pictures of squares that are shown."""

Expected = tuple[float | None, str, int | None] | None


@dataclass(frozen=True)
class Shown:
    """The picture of a square (a PNG as the address of a picture), and the lines below it: name, sizes, errors."""

    address: str
    lines: tuple[str, ...]


@dataclass(frozen=True)
class Checked:
    """What was found out about a file: verdict, table, pictures, remarks, and the report as a PDF."""

    name: str
    kind: str
    verdict: str
    rows: tuple[tuple[str, ...], ...]
    pictures: tuple[Shown, ...]
    remarks: tuple[str, ...]
    report: bytes


def check_file(
    path: Path, expected: Expected, seen: Seen | None, progress: Callable[[int, int], None] | None
) -> Checked:
    """Measure a PDF, or with ``seen`` the printed page in a picture.

    Raises what :func:`prove_apart` and :func:`prove_scan_apart` raise.
    """
    pictures: list[Picture] = []
    if seen:
        report = prove_scan_apart(path, seen, Limits(), expected, pictures)
    else:
        report = prove_apart(path, progress, expected, pictures=pictures)
    # what draws a report takes its time to load
    from tiler.usecases.verify.report import caption, write_report

    output = admitted(path.with_name(f"report-of-{path.stem}.pdf"), False, (path,), ".pdf")
    write_report(path, report, pictures, output)
    sizes = rows_of(report.sizes)
    return Checked(
        path.name,
        KINDS.get(report.verdict, "open"),
        str(sentence(report)),
        tuple(_rows(sizes)),
        tuple(
            Shown(
                f"data:image/png;base64,{b64encode(picture.png).decode('ascii')}",
                caption(picture, sizes, report.checks),
            )
            for picture in pictures[:MOST_SHOWN]
        ),
        tuple(map(str, remarks(report))),
        output.path.read_bytes(),
    )


def _rows(sizes: Sequence[tuple[Check, dict[str, Check]]]) -> Iterator[tuple[str, ...]]:
    for check, by_axis in sizes:
        read = [
            f"{by_axis[axis].measured_mm or 0:.2f} mm {error(by_axis[axis].ratio or 0)}" if axis in by_axis else "–"
            for axis in ("across", "down")
        ]
        wrong = any(one.status is Status.FAIL for one in by_axis.values())
        open_ = any(one.status is Status.WARN for one in by_axis.values())
        nominal = f"{(check.nominal_mm or 0) / 25.4:.3f} in {check.nominal_mm or 0:.2f} mm"
        yield str(check.page), str(named(check)), nominal, *read, "open" if open_ else "wrong" if wrong else "right"
