"""The process that reads for another one, forked from the one that runs the tests: its engines are loaded already.

Starting it anew takes most of the time of a small file. All else is as it is: the pipes,
the bounds of memory and time, the signals, and that whatever becomes of it harms nobody.
That it can be started anew is shown by the tests that start the command line as a whole.
"""

from __future__ import annotations

import faulthandler
import gc
import os
import subprocess
from collections.abc import Sequence
from importlib import import_module
from types import ModuleType
from typing import Any

from tiler.usecases.processes import apart, witness


class Processes(ModuleType):
    """The library's ``subprocess``, in which the command of the witness starts no interpreter."""

    def __getattr__(self, name: str) -> Any:
        return getattr(subprocess, name)

    def Popen(self, command: Sequence[str], **options: Any) -> subprocess.Popen[bytes]:  # noqa: N802
        """Fork the witness, which does its work in the place of the command."""
        *_, module, work, memory = command
        assert module == apart.WITNESS
        import_module(work)

        def begin() -> None:
            try:
                # what the tests have open is not for the witness; the library waits for the end of one of these
                os.closerange(3, os.sysconf("SC_OPEN_MAX"))
                faulthandler.disable()
                gc.enable()
                witness.main(work, int(memory))
                os._exit(0)
            finally:
                os._exit(1)

        return subprocess.Popen(command, preexec_fn=begin, **options)  # noqa: PLW1509
