"""What the shell completes beside commands and options: sizes of the spec, names of printers.

A shell asks while somebody is typing, so nothing here may fail or take long.
"""

from __future__ import annotations

from pathlib import Path

import click

from tiler.commands.typed.printer_folder import printer_folder
from tiler.draft.spec.toml import LARGEST_SPEC, read_toml
from tiler.errors import TilerError
from tiler.files import visible
from tiler.usecases.printers.profiles import Printer, printers


def size_names(ctx: click.Context, _parameter: click.Parameter, typed: str) -> list[str]:
    """Return the sizes of the spec that was named before; of a list such as ``S,M`` the last is completed."""
    # while an option waits for its value, the words before it are not taken apart yet
    spec = ctx.params.get("spec") or next((word for word in ctx.args if word.lower().endswith(".toml")), None)
    try:
        sizes = read_toml(Path(spec), LARGEST_SPEC, "spec").get("sizes") if spec else None
    except TilerError:
        return []
    before, _, last = typed.rpartition(",")
    start = f"{before}," if before else ""
    names = sizes if isinstance(sizes, list) else []
    known = [name for name in names if isinstance(name, str) and visible(name) == name]
    return [f"{start}{name}" for name in known if name.startswith(last)]


def printer_names(_ctx: click.Context, _parameter: click.Parameter, typed: str) -> list[str]:
    """Return the printers that are stored."""
    try:
        known = list(printers(printer_folder()))
    except OSError:
        return []
    return [one.name for one in known if isinstance(one, Printer) and one.name.startswith(typed)]
