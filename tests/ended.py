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
from dataclasses import dataclass
from typing import Any

from tiler.errors import TilerError

CAME_THROUGH, ENDED = 100, 9


def ended(step: int, how: str, work: Callable[[], Any]) -> int:
    """Do the work, which is ended before its ``step``-th change of the disk; return its code.

    It is ``CAME_THROUGH`` when there are not so many steps, and 0 when a fault at that step mattered to nobody.
    A kill ends a process of its own, and its code is that of the signal.
    """
    if how != "kill":
        return _done(step, KeyboardInterrupt if how == "interrupt" else PermissionError(13, "not allowed"), work)
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)
        pid = os.fork()
    if pid:
        return os.waitstatus_to_exitcode(os.waitpid(pid, 0)[1])
    os._exit(_done(step, None, work))


def _done(step: int, fault: Any, work: Callable[[], Any]) -> int:
    """Do the work, with a fault before one of its changes; without one, the process is killed there."""
    steps = _Steps(step, fault)
    _counting.append(steps)
    if not _hooked:
        _hooked.append(True)
        sys.addaudithook(_count)
    code = ENDED
    try:
        with suppress(BaseException):
            try:
                work()
                code = 0
            except TilerError as told:
                code = int(told.code)
    finally:
        _counting.clear()
    return CAME_THROUGH if steps.left > 0 else code


@dataclass
class _Steps:
    """How many changes are left, and what is raised before the last of them."""

    left: int
    fault: Any


# what Python has once been asked to tell of, it tells to the end
_hooked: list[bool] = []
_counting: list[_Steps] = []


def _count(event: str, arguments: tuple[Any, ...]) -> None:
    if not _counting:
        return
    writes = event == "open" and isinstance(arguments[2], int) and arguments[2] & (os.O_WRONLY | os.O_RDWR)
    if writes or event in ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.chmod", "os.link"):
        steps = _counting[0]
        steps.left -= 1
        if steps.left == 0 and not steps.fault:
            os.kill(os.getpid(), signal.SIGKILL)
        if steps.left == 0:
            raise steps.fault
