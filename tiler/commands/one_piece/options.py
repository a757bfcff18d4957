"""The one table of what states a piece: every key that an option can state, and what is asked for it.

An option's help is also the comment beside its key when the spec is saved.  Values are
texts, as in a spec: the reader of the spec judges them.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click

from tiler.commands.one_piece.edge_options import MEASURED, SHAPED
from tiler.commands.one_piece.elastic_options import ELASTIC
from tiler.commands.one_piece.fabric_options import FABRIC
from tiler.commands.one_piece.form_options import FORM
from tiler.commands.one_piece.open_options import BUTTONS, ENDS, RUNNING_ON
from tiler.commands.one_piece.option import PieceOption, Value
from tiler.commands.one_piece.page_options import PAPER, TITLE
from tiler.commands.one_piece.replaced_options import REPLACED
from tiler.commands.one_piece.section_options import SECTIONS
from tiler.commands.one_piece.strip_options import FINISH, LENGTH, OPENING, WIDTH

GROUPS: dict[str, tuple[PieceOption, ...]] = {
    "Edge, as measured": MEASURED,
    "Neckline, as a shape": SHAPED,
    "What the pattern has": REPLACED,
    "Fabric": FABRIC,
    "Strip": (*WIDTH, *FORM, *SECTIONS, *ENDS, *RUNNING_ON, *BUTTONS, *ELASTIC, TITLE),
    "Length of the strip": LENGTH,
    "Opening": OPENING,
    "Paper": PAPER,
}
"""The rows by their group, in the order of the help."""

ALL = (FINISH, *(option for options in GROUPS.values() for option in options))
"""All rows."""

ONLY_BINDINGS = ("cover", "trim-allowance", "cut-on")
ONLY_BANDS = ("seam-allowance", "stands", "turned-over", "form")
"""Keys of what a band or a binding alone has, besides elastic and buttons."""


def options_of(band: bool) -> dict[str, tuple[PieceOption, ...]]:
    """Return the options of a band, or of a binding, by group."""
    left_out = ONLY_BINDINGS if band else ONLY_BANDS
    groups = {
        group: tuple(one for one in options if one.key not in left_out and (band or one not in (*ELASTIC, *BUTTONS)))
        for group, options in GROUPS.items()
    }
    return groups if band else {"Binding": (FINISH,), **groups}


class Words(click.Choice[str]):
    """A few fixed words, shown in the help and completed by the shell, but judged by the reader of the spec."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:  # noqa: ARG002
        """Leave the word as it was typed."""
        return str(value)


class GroupedOption(click.Option):
    """An option that knows under which heading of the help it stands."""

    def __init__(self, *names: str, group: str, **more: Any) -> None:
        """Take what click takes, and the heading."""
        super().__init__(list(names), **more)
        self.group = group


class GroupedCommand(click.Command):
    """A command whose help lists its options by group, and that remembers how they were typed."""

    other: str = ""
    """The command that drafts the other kind of strip."""

    elsewhere: frozenset[str] = frozenset()
    """The options that only that command has."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Keep the words as typed, so that a message can name an option as its reader knows it."""
        ctx.meta["typed"] = [word.partition("=")[0] for word in args]
        try:
            return super().parse_args(ctx, args)
        except click.NoSuchOption as fault:
            if fault.option_name not in self.elsewhere:
                raise
            way = f'"{fault.option_name}" is for {self.other}s: leave it out, or take tiler {self.other}'
            raise click.UsageError(way, ctx) from fault

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write one list for each group."""
        rows: dict[str, list[tuple[str, str]]] = {}
        for parameter in self.get_params(ctx):
            row = parameter.get_help_record(ctx)
            if row is not None:
                rows.setdefault(getattr(parameter, "group", "File"), []).append(row)
        for group, entries in rows.items():
            with formatter.section(group):
                formatter.write_dl(entries)


def with_piece_options(band: bool) -> Callable[[click.Command], click.Command]:
    """Put the options of a band, or of a binding, before those that a command has already."""

    def put(command: click.Command) -> click.Command:
        own = [_click_option(option, group) for group, options in options_of(band).items() for option in options]
        if isinstance(command, GroupedCommand):
            command.other = "binding" if band else "band"
            command.elsewhere = _names(not band) - _names(band)
        command.params[:0] = own
        return command

    return put


def _names(band: bool) -> frozenset[str]:
    return frozenset(name for options in options_of(band).values() for option in options for name in option.names)


WIDEST_WORDS = 50
"""Words of more characters in all stand in the text of the help, not behind the name of their option."""


def _listed(option: PieceOption) -> str:
    """Return the words of an option as a list behind its help."""
    return f": {', '.join(option.words)}" if option.words else ""


def _click_option(option: PieceOption, group: str) -> GroupedOption:
    more: dict[str, Any] = {"type": Words(option.words)} if option.words else {"type": str, "metavar": option.value}
    if sum(map(len, option.words)) > WIDEST_WORDS:
        more["metavar"] = option.value
    if option.value is Value.FLAG:
        more = {"is_flag": True}
    elif option.value is Value.NAMED:
        more |= {"nargs": 2, "type": (str, str)}
    return GroupedOption(
        option.parameter,
        *option.names,
        group=group,
        help=f"{option.help[0].upper()}{option.help[1:]}{_listed(option) if 'metavar' in more else ''}.",
        show_default=option.default or None,
        multiple=option.repeated,
        **more,
    )
