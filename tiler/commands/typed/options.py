"""Options that several commands share, each stated once, so that one word means one thing everywhere."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from tiler.commands.typed.completion import size_names
from tiler.commands.typed.length import LENGTH
from tiler.languages.chosen import chosen
from tiler.paper import Projected
from tiler.reading.limits import MOST_MEMORY, MOST_SECONDS
from tiler.sentence import Place

if TYPE_CHECKING:
    from click.types import OptionHelpExtra

Decorator = Callable[[Callable[..., Any]], Callable[..., Any]]
"""What puts an option or an argument on a command."""

MB = 2**20

FILE = click.Path(path_type=Path)
"""A file or a folder; whether it is there is judged where it is opened."""

MOST = 10**9
"""No count is larger; beyond it lie numbers that no system takes as a limit."""

spec = click.argument("spec", type=FILE)
sizes = click.option(
    "--sizes",
    metavar="S,M",
    shell_complete=size_names,
    show_default="all",
    help="Take only these sizes of the spec.",
)
nest = click.option("--nest/--apart", default=True, help="Draw the sizes of a piece within each other, or each apart.")
colour = click.option(
    "--colour/--black",
    default=None,
    show_default="the spec's, or black",
    help="Draw the sizes within each other in colours as well, or all in black.",
)
no_cover = click.option("--no-cover", is_flag=True, help="Leave out the first page: its squares go on the next one.")
line_weight = click.option(
    "--line-weight",
    type=LENGTH,
    metavar="LENGTH",
    show_default="0.5 mm",
    help="Draw the cut line this wide, such as '1 mm'.",
)


def projector(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the two options for a file that is shown and not printed."""
    light, dark = Projected
    wanted = (
        ("--projector", light, "For a projector, one sheet in heavy lines."),
        ("--projector-dark", dark, "The same, white on black, which dazzles less."),
    )
    for name, how, told in reversed(wanted):
        command = click.option(name, "projector", flag_value=how, type=click.UNPROCESSED, default=None, help=told)(
            command
        )
    return command


roll = click.option(
    "--roll",
    type=LENGTH,
    metavar="WIDTH",
    show_default="36 in",
    help="Set the width of the roll for the one sheet, such as '36 in'.",
)
language = click.option(
    "--language",
    "languages",
    metavar="CODE",
    show_default="the spec's, or en",
    callback=lambda _context, _parameter, value: value and chosen(value, Place("--language")),
    help="Print in this language: en, de, fr, es, nl; or in two, such as en,de.",
)
accept = click.option(
    "--accept",
    multiple=True,
    metavar="NAME",
    help="Let this pass: 'ties' at a child's neck; in a release also a piece, a size, a base 'signed' or 'off-scale'.",
)
SCAN = "Measure a printed page in its scan: PNG, JPEG, TIFF or PDF."

dpi = click.option(
    "--dpi", type=click.FloatRange(50, 2500), metavar="DOTS", help="Dots per inch of the scan, if not those it states."
)
card = click.option(
    "--card", is_flag=True, help="Take out the scanner's own error by a bank card that lies on the glass."
)
ruler = click.option(
    "--ruler",
    is_flag=True,
    help="Take it out by a ruler on the glass, along that ruler; two at a right angle tell both axes.",
)
strict = click.option("--strict", is_flag=True, help="Draw nothing while a check of a piece is not passed.")
force = click.option("--force", is_flag=True, help="Replace files that are there already.")
as_json = click.option("--json", "as_json", is_flag=True, help="Print JSON for other programs, lengths in mm.")


def output(metavar: str, place: str = "file") -> Decorator:
    """Return the option for the file, or other place, that a command writes; it must be given."""
    return click.option("-o", "--output", required=True, type=FILE, metavar=metavar, help=f"Write to this {place}.")


def paper(names: Sequence[str], usual: str | None = None) -> Decorator:
    """Return the option for one of several papers; without it the usual one is taken, or that of the spec."""
    told = usual is not None or "the spec's, or letter"
    return click.option(
        "--paper", type=click.Choice(names), default=usual, show_default=told, help="Paper to print on."
    )


def limits(command: Callable[..., Any]) -> Callable[..., Any]:
    """Put on the options for the time, s, and the memory, MB, that reading the file of a stranger may take."""
    time = count("--time-limit", 1, "SECONDS", "Spend no more time on the file.", default=MOST_SECONDS)
    memory = count("--memory-limit", 1, "MB", "Spend no more memory on the file.", default=MOST_MEMORY // MB)
    decorated: Callable[..., Any] = time(memory(command))
    return decorated


def reading_error(usual_mm: float) -> Decorator:
    """Return the option for how closely a ruler was read, mm."""
    return click.option(
        "--reading-error", type=LENGTH, default=f"{usual_mm:g} mm", help="State how closely the ruler was read."
    )


def count(name: str, least: int, metavar: str, help: str, **more: Any) -> Decorator:
    """Return an option for a whole number from ``least`` on."""
    return click.option(name, cls=_Count, type=click.IntRange(least, MOST), metavar=metavar, help=help, **more)


class _Count(click.Option):
    """An option for a whole number whose help leaves out the range, which click writes as a formula."""

    def get_help_extra(self, ctx: click.Context) -> OptionHelpExtra:
        """Return the default alone."""
        extra = super().get_help_extra(ctx)
        extra.pop("range", None)
        return extra
