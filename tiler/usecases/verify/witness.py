"""The process that reads the file of a stranger: ``python -m tiler.usecases.verify.witness REQUEST``.

It imports the engines, bounds its own memory, measures the file, and tells on standard
output, one JSON record a line: ``{"page": 3, "pages": 60}`` after each page, then
``{"picture": …}`` for each picture that is wanted, and ``{"report": …}`` or
``{"fault": {"code": 5, "message": …}}``.  Its standard input says nothing; when that
closes, the process that asked is gone, and this one ends too.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import threading
from typing import Any, BinaryIO

from tiler.errors import ExitCode, TilerError
from tiler.proof.foreign.any_pdf import Expected
from tiler.proof.proving import prove
from tiler.proof.report.record import to_record
from tiler.proof.report.square_pictures import square_pictures
from tiler.reading.limits import OutOfMemoryError, TooManyObjectsError, bounded_memory

ADVICE: dict[type[TilerError], str] = {
    TooManyObjectsError: "; --object-limit lets it",
    OutOfMemoryError: "; --memory-limit gives it more",
}
"""What the person can do about a limit that was reached."""


def main(request: str) -> None:
    """Measure the file that the request names, and tell what was found."""
    # Ctrl-C goes to all processes of a terminal; the one that asked answers the person.
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    threading.Thread(target=_end_with_the_asker, daemon=True).start()
    # What a library prints must not come between the records.
    with os.fdopen(os.dup(1), "wb") as answers:
        os.dup2(2, 1)
        answer(json.loads(request), answers)


def answer(wanted: dict[str, Any], answers: BinaryIO) -> None:
    """Measure what is wanted and write the records."""

    def tell(**record: Any) -> None:
        answers.write(json.dumps(record).encode("ascii") + b"\n")
        answers.flush()

    def refuse(code: ExitCode, message: str) -> None:
        tell(fault={"code": int(code), "message": message})

    try:
        with bounded_memory(wanted["memory"]):
            expected = Expected(*wanted["expected"]) if wanted["expected"] else None
            report = prove(
                wanted["path"], lambda page, pages: tell(page=page, pages=pages), expected, wanted["objects"]
            )
            if wanted["pictures"]:
                for picture in square_pictures(wanted["path"], report):
                    tell(picture=picture.to_record())
        tell(report=to_record(report))
    except TilerError as fault:
        refuse(fault.code, f"{fault}{ADVICE.get(type(fault), '')}")
    except MemoryError:
        refuse(
            ExitCode.UNREADABLE,
            f"{wanted['path']} needs more memory than it may take to be read{ADVICE[OutOfMemoryError]}",
        )


def _end_with_the_asker() -> None:
    while os.read(0, 1):
        pass
    os._exit(int(ExitCode.INTERRUPTED))


if __name__ == "__main__":
    main(sys.argv[1])
