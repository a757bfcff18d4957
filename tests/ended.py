"""A piece of work that is ended before one of its changes of the disk: by a kill, by Ctrl-C, or by a fault.

Python tells of every such call before it is made (audit events, PEP 578), so that no step is left out.
"""

from __future__ import annotations

import os
import signal
import sys
import warnings
from collections.abc import Callable
from contextlib import suppress
from typing import Any

from tiler.errors import TilerError

CAME_THROUGH, ENDED = 100, 9


def ended(step: int, how: str, work: Callable[[], Any]) -> int:
    """Do the work in a process that is ended before its ``step``-th change of the disk; return its code.

    It is ``CAME_THROUGH`` when there are not so many steps, and 0 when a fault at that step mattered to nobody.
    """
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        pid = os.fork()
    if pid:
        return os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    left = step

    def count(event: str, arguments: tuple[Any, ...]) -> None:
        nonlocal left
        writes = event == "open" and isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR)
        if writes or event in ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.chmod", "os.link"):
            left -= 1
            if left == 0 and how == "kill":
                os.kill(os.getpid(), signal.SIGKILL)
            if left == 0:
                raise KeyboardInterrupt if how == "interrupt" else PermissionError(13, "not allowed")

    code = ENDED
    with suppress(BaseException):
        sys.addaudithook(count)
        try:
            work()
            code = 0
        except TilerError as fault:
            code = int(fault.code)
    os._exit(CAME_THROUGH if left > 0 else code)
