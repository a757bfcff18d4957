"""How a strip is drawn, as the form says: with ties that are let pass, and for a printer that is kept."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path

from flask import current_app

from tiler.browser.form import ACCEPT, CORRECT, PRINTER, Given, one_of
from tiler.commands.printer import effect_words, errors_of
from tiler.draft.fastening.running_on import TIES
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job
from tiler.errors import TilerError
from tiler.sentence import Place
from tiler.usecases.draft import Wishes
from tiler.usecases.printers.print_error import doubts
from tiler.usecases.printers.profiles import Printer, load_printer, printers

KEPT = "PRINTERS"
"""The key of the app's settings for the folder of the printers."""


def known_printers() -> list[str]:
    """Return the names of the printers that are kept and can be read."""
    return [one.name for one in printers(_folder()) if isinstance(one, Printer)]


def chosen_printer(form: Given) -> Printer | None:
    """Return the printer that is chosen; raises what loading it raises."""
    name = one_of(form, PRINTER)
    try:
        return load_printer(_folder(), name) if name else None
    except TilerError as fault:
        raise fault.at(Place(f"--{PRINTER}")) from fault


def wishes_of(form: Given) -> Wishes:
    """Return what the form asks for; raises what loading a printer raises."""
    accept = (TIES,) if one_of(form, ACCEPT) else ()
    return Wishes(accept=accept, printer=chosen_printer(form) if one_of(form, CORRECT) else None)


def effects(job: Job, pieces: Sequence[Figures], printer: Printer) -> Iterator[str]:
    """Yield what a printer does to each piece, and what speaks against undoing it."""
    for error in errors_of(job, tuple(pieces), printer):
        yield effect_words(error, job.edition.units)
    yield from doubts(printer)


def _folder() -> Path:
    folder: Path = current_app.config[KEPT]
    return folder
