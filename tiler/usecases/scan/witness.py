"""The proof of a printed page in a picture, as the process that reads it does it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from tiler.proof.foreign.any_pdf import Expected
from tiler.proof.report.record import to_record
from tiler.proof.scan.cuts import square_cuts
from tiler.proof.scan.proving import prove_photo, prove_scan
from tiler.proof.scan.sheet import Sheet
from tiler.proof.scan.source import read_source
from tiler.usecases.scan.apart import Seen


def answers(requests: Iterator[dict[str, Any]], tell: Callable[[Any], None]) -> Iterator[Any]:
    """Measure the picture that the request names: tell of each wanted cutting, and return the report."""
    wanted = next(requests)
    seen = Seen(**wanted["seen"])
    expected = Expected(*wanted["expected"]) if wanted["expected"] else None
    source = read_source(Path(wanted["path"]), seen.dpi)
    if seen.photo:
        report, shown = prove_photo(source, wanted["path"], Sheet(*seen.sheet) if seen.sheet else None)
    else:
        report, shown = prove_scan(source, wanted["path"], expected, seen.card, seen.ruler), source.picture
    if wanted["pictures"]:
        for cut in square_cuts(shown, report):
            tell({"picture": cut.to_record()})
    yield to_record(report)
