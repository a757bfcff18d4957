"""``tiler browser``: the page for people who use no terminal."""

from __future__ import annotations

import threading
import webbrowser

import click

from tiler.commands.output.terminal import say
from tiler.commands.typed import options
from tiler.commands.typed.printer_folder import printer_folder


@click.command(epilog="Example: tiler browser")
@options.count("--port", 1, "NUMBER", "Answer at this port.", show_default="a free one")
@click.option("--no-open", is_flag=True, help="Print the address only, and open no window.")
@click.option("--keep", is_flag=True, help="Stay when the last window is closed.")
def command(port: int | None, no_open: bool, keep: bool) -> None:
    """Open a page in your browser: make a strip, check a PDF, keep a printer.

    Only this computer can reach it, by the address that is printed, which
    changes with every start. It ends a minute after the last window is
    closed, or with Ctrl-C. A window that may not run scripts counts as open
    for half an hour.
    """
    # what answers a browser is nothing that a help needs
    from tiler.browser.serving import serve

    def opened(address: str) -> None:
        say(address)
        say("Ctrl-C ends the page.", err=True)
        if not no_open:
            # one that runs in a terminal comes back only when it is left
            threading.Thread(target=webbrowser.open, args=(address,), daemon=True).start()

    try:
        serve(port, keep, printer_folder(), opened)
    except KeyboardInterrupt:
        # the way to end it, and no fault
        say(err=True)
