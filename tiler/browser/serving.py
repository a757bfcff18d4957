"""Listen on this computer alone until nobody needs the page any more, and leave nothing running."""

from __future__ import annotations

import errno
import logging
import os
import socket
import threading
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory
from time import sleep

from waitress import create_server

from tiler.browser.app import make_app
from tiler.browser.gate import Gate
from tiler.browser.presence import Presence
from tiler.browser.progress.pages import WORKS
from tiler.browser.uploads import LARGEST
from tiler.errors import SpecError
from tiler.sentence import Place

HERE = "127.0.0.1"
THREADS = 6
LOOK = 0.5
"""How often it is looked whether anybody is there, s."""


def listening(port: int | None) -> socket.socket:
    """Return a socket on this port of this computer, or on a free one.

    Raises :class:`SpecError` for a port that cannot be had.
    """
    place = Place("--port")
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if os.name == "posix":
        # a port whose last page has just ended may be taken again; elsewhere this would share it with another program
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        listener.bind((HERE, port or 0))
        listener.listen()
    except OverflowError:
        listener.close()
        raise SpecError(f"{port} is no port; take a number from 1024 to 65535, or leave it out", place) from None
    except OSError as fault:
        listener.close()
        why = "is in use by another program" if fault.errno == errno.EADDRINUSE else f"cannot be had ({fault.strerror})"
        raise SpecError(f"{port} {why}; take another number, or leave it out", place) from fault
    return listener


def serve(port: int | None, keep: bool, printers: Path, opened: Callable[[str], None]) -> None:
    """Serve the page until the last window is closed, the process that started it ends, or an interrupt comes.

    ``opened`` is told of the address once it answers; with ``keep`` closed windows end nothing.
    """
    if not os.environ.get("TILER_DEBUG"):
        # what the server says of its queue and of windows that went away tells nobody anything
        logging.getLogger("waitress").setLevel(logging.CRITICAL)
    presence = Presence()
    parent = os.getppid()
    with closing(listening(port)) as listener, TemporaryDirectory(prefix="tiler-", ignore_cleanup_errors=True) as work:
        gate = Gate(listener.getsockname()[1])
        app = make_app(gate, presence, printers, Path(work))
        server = create_server(
            app,
            sockets=[listener],
            threads=THREADS,
            ident=None,
            max_request_body_size=2 * LARGEST,
            # on a full disk it could say nothing of what it lays down there
            inbuf_overflow=2 * LARGEST,
            outbuf_overflow=2 * LARGEST,
            clear_untrusted_proxy_headers=True,
        )
        answering = threading.Thread(target=server.run, daemon=True)
        answering.start()
        opened(gate.address)
        try:
            while os.getppid() == parent and (keep or not presence.over):
                sleep(LOOK)
        finally:
            app.config[WORKS].stop(LOOK)
            # its own loop closes it: another one would take the sockets from under it
            server.trigger.pull_trigger(server.close)
            answering.join(LOOK)
            server.task_dispatcher.shutdown(timeout=LOOK)
