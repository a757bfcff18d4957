"""A request to end, by Ctrl-C or by the system, is noted as well as raised.

Python drops an exception that is raised while an object is being let go of, and some
libraries make another fault of it.  So it is asked again before anything is put in place.
"""

from __future__ import annotations

import signal
from types import FrameType

_asked: list[int] = []


def listen() -> None:
    """Take requests to end from now on; both kinds tidy up alike."""
    for number in (signal.SIGTERM, signal.SIGINT):
        if signal.getsignal(number) is not signal.SIG_IGN:
            signal.signal(number, _end)


def asked_to_end() -> bool:
    """Tell whether a request has come."""
    return bool(_asked)


def go_on() -> None:
    """Raise ``KeyboardInterrupt`` when a request has come and been lost."""
    if _asked:
        raise KeyboardInterrupt


def _end(number: int, _frame: FrameType | None) -> None:
    _asked.append(number)
    raise KeyboardInterrupt
