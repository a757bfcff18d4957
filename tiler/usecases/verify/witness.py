"""The proof of a stranger's file, as the process that reads it does it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

from tiler.errors import TilerError, UnreadableError
from tiler.proof.foreign.any_pdf import Expected
from tiler.proof.proving import prove
from tiler.proof.report.record import to_record
from tiler.proof.report.square_pictures import square_pictures
from tiler.reading.limits import OutOfMemoryError, TooManyObjectsError

ADVICE: dict[type[TilerError], str] = {
    TooManyObjectsError: "--object-limit lets it",
    OutOfMemoryError: "--memory-limit gives it more",
}
"""What the person can do about a limit that was reached."""


def answers(requests: Iterator[dict[str, Any]], tell: Callable[[Any], None]) -> Iterator[Any]:
    """Measure the file that the request names: tell of each page and each wanted picture, and return the report."""
    wanted = next(requests)
    expected = Expected(*wanted["expected"]) if wanted["expected"] else None
    try:
        report = prove(
            wanted["path"], lambda page, pages: tell({"page": page, "pages": pages}), expected, wanted["objects"]
        )
        if wanted["pictures"]:
            for picture in square_pictures(wanted["path"], report):
                tell({"picture": picture.to_record()})
    except (TooManyObjectsError, OutOfMemoryError) as fault:
        raise UnreadableError(f"{fault}; {ADVICE[type(fault)]}") from fault
    yield to_record(report)
