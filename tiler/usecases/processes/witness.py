"""The process that reads the file of a stranger: ``python -m tiler.usecases.processes.witness WORK MEMORY``.

It imports the module WORK with its engines, bounds its own memory, and answers: requests
come on standard input, one JSON record a line; on standard output goes ``{"told": …}``
for what is told on the way, then ``{"answer": …}``, ``{"fault": {"code": 5, "message": …}}``
or ``{"memory": MEMORY}``, when that was not enough.  When standard input closes, the
process that asked is gone, and this one ends too.
"""

from __future__ import annotations

import json
import os
import signal
import sys
import threading
from collections.abc import Callable, Iterator
from importlib import import_module
from queue import SimpleQueue
from typing import Any, BinaryIO

from tiler.errors import ExitCode, TilerError
from tiler.reading.limits import bounded_memory

Request = dict[str, Any]

Work = Callable[[Iterator[Request], Callable[[Any], None]], Iterator[Any]]
"""Takes the requests as they come and what to tell on the way to, and gives an answer to each."""


def main(work: str, memory: int) -> None:
    """Answer the requests of the process that asks, until it asks no more."""
    # Ctrl-C goes to all processes of a terminal; the one that asked answers the person.
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    requests: SimpleQueue[Request] = SimpleQueue()
    threading.Thread(target=_listen, args=(requests,), daemon=True).start()
    # What a library prints must not come between the records.
    with os.fdopen(os.dup(1), "wb") as answers:
        os.dup2(2, 1)
        serve(import_module(work).answers, iter(requests.get, None), memory, answers)


def serve(work: Work, requests: Iterator[Request], memory: int, out: BinaryIO) -> None:
    """Do the work, each answer within so many bytes beyond what is in use, and write the records."""

    def tell(**record: Any) -> None:
        out.write(json.dumps(record).encode("ascii") + b"\n")
        out.flush()

    answers = work(requests, lambda told: tell(told=told))
    try:
        while True:
            with bounded_memory(memory):
                answer = next(answers)
            tell(answer=answer)
    except StopIteration:
        return
    except TilerError as fault:
        tell(fault={"code": int(fault.code), "message": str(fault)})
    except MemoryError:
        tell(memory=memory)


def _listen(requests: SimpleQueue[Request]) -> None:
    with os.fdopen(os.dup(0), "rb") as lines:
        for line in lines:
            requests.put(json.loads(line))
    os._exit(int(ExitCode.INTERRUPTED))


if __name__ == "__main__":
    main(sys.argv[1], int(sys.argv[2]))
