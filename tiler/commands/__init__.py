"""The command line: one group whose commands load when they are called, and one error boundary.

Every expected fault arrives here as a :class:`~tiler.errors.TilerError` or as a
click exception and leaves as one sentence on stderr, or as JSON on stdout, and
as an exit code.  A command module holds a click command named ``command``; it
ends with the exit code that it returns, 0 for ``None``.
"""

from __future__ import annotations

import contextlib
import errno
import json
import os
import sys
from collections.abc import Sequence
from importlib import import_module

import click

from tiler import __version__
from tiler.commands.output.terminal import close_output, prepare_output, say, say_json
from tiler.commands.typed.text import composing
from tiler.commands.typed.words import nearest_of, usage_message
from tiler.errors import ExitCode, TilerError
from tiler.usecases.files.ending import asked_to_end

COMMANDS = {
    "start": "Answer a few questions, see the figures, get the PDF: begin here.",
    "band": "Draft one band from what you measured, without a spec.",
    "binding": "Draft one binding from what you measured, without a spec.",
    "figures": "Print the numbers to cut by.",
    "edge": "List the curves of a drawing, to pick an edge from.",
    "chart": "Write the cutting chart of all pieces and sizes as a PDF or CSV.",
    "draft": "Draw the pieces to a PDF and prove its scale.",
    "bundle": "Write a release: all papers and sizes, chart, instructions, zip.",
    "instructions": "Write how each finish is sewn, a page each.",
    "verify": "Measure a PDF and say whether it is true to scale.",
    "preview": "Make a picture of every page and of the pages put together.",
    "readings": "Judge what testers printed and measured.",
    "printer": "Store a printer's measured error, and see what it does to a piece.",
    "browser": "Do the same in a browser: make a strip, check a PDF, keep a printer.",
}
"""Every command with its line in the help: known without importing the command."""

_FULL = (errno.ENOSPC, errno.EDQUOT, errno.EFBIG, errno.EROFS, errno.EBADF)


class CommandGroup(click.Group):
    """The group that imports a command's module only when the command is called."""

    def list_commands(self, ctx: click.Context) -> list[str]:  # noqa: ARG002 (click calls it so)
        """Return the names in the order of the work."""
        return list(COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:  # noqa: ARG002
        """Import one command."""
        if cmd_name not in COMMANDS:
            return None
        command: click.Command = import_module(f"tiler.commands.{cmd_name}").command
        return composing(command)

    def resolve_command(
        self, ctx: click.Context, args: list[str]
    ) -> tuple[str | None, click.Command | None, list[str]]:
        """Find the command, or say which ones there are."""
        if args[0] not in COMMANDS:
            if args[0].startswith("-"):
                return super().resolve_command(ctx, args)
            raise click.UsageError(f'"{args[0]}" is not a command; {nearest_of(args[0], list(COMMANDS))}', ctx)
        return super().resolve_command(ctx, args)

    def format_commands(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:  # noqa: ARG002
        """Write the list of commands without importing them."""
        with formatter.section("Commands"):
            formatter.write_dl(list(COMMANDS.items()))


@click.group(
    cls=CommandGroup,
    context_settings={"help_option_names": ["-h", "--help"], "show_default": True},
    epilog="Example: tiler draft examples/saltmarsh-crew.toml -o crew.pdf, then tiler verify crew.pdf",
)
@click.version_option(__version__, prog_name="tiler", message="%(prog)s %(version)s")
@click.pass_context
def group(ctx: click.Context) -> None:
    """Draft bands and bindings for knit edges, true to scale.

    A spec, a small TOML file, states the measured edge, the finish and the
    fabric. tiler computes the strip, draws it over home paper, and proves the
    printed scale of the file.
    """
    if os.environ.get("NO_COLOR"):
        ctx.color = False


def run(arguments: Sequence[str]) -> int:
    """Run the command line and return the exit code; never raises for an expected fault."""
    prepare_output()
    asked = os.environ.get("_TILER_COMPLETE")
    code = _completed(asked) if asked else _guarded(list(arguments))
    return close_output(code)


def _completed(asked: str) -> int:
    """Answer the shell, which asks by an environment variable for the words that fit at the cursor."""
    from click.shell_completion import shell_complete

    return ExitCode.OK if shell_complete(group, {}, "tiler", "_TILER_COMPLETE", asked) == 0 else ExitCode.USAGE


def _guarded(arguments: list[str]) -> int:
    try:
        with group.make_context("tiler", arguments) as context:
            result = group.invoke(context)
        sys.stdout.flush()
        return result if isinstance(result, int) else ExitCode.OK
    except click.exceptions.Exit as end:
        return end.exit_code
    except click.exceptions.NoArgsIsHelpError as fault:
        for line in fault.format_message().splitlines():
            say(line, err=True)
        return ExitCode.USAGE
    except BrokenPipeError:
        return ExitCode.CANNOT_WRITE
    except BaseException as fault:
        code, message = explained(fault)
        _tell(code, message, as_json="--json" in arguments)
        return code


def explained(fault: BaseException) -> tuple[int, str]:
    """Return the exit code and the sentence for what was raised."""
    if isinstance(fault, KeyboardInterrupt | click.Abort | EOFError) or asked_to_end():
        return ExitCode.INTERRUPTED, "interrupted"
    if isinstance(fault, TilerError):
        return fault.code, str(fault)
    if isinstance(fault, click.UsageError):
        path = fault.ctx.command_path if fault.ctx else "tiler"
        said = usage_message(fault)
        return ExitCode.USAGE, f"{said}{' See' if said.endswith('?') else '; see'} {path} --help"
    if isinstance(fault, click.ClickException):
        return ExitCode.USAGE, fault.format_message()
    if isinstance(fault, OSError) and (refusal := _refusal(fault)):
        return ExitCode.CANNOT_WRITE, refusal
    if os.environ.get("TILER_DEBUG"):
        import traceback

        traceback.print_exception(fault)
    return ExitCode.UNREADABLE, (
        f"stopped by a fault of its own ({type(fault).__name__}: {str(fault)[:200]}); "
        "set TILER_DEBUG=1 to see where, and report it"
    )


def _refusal(fault: OSError) -> str:
    """Return the sentence for what the system refuses; empty where it does not say what of."""
    if fault.errno in _FULL:
        return f"cannot write: {fault.strerror}; free some space or write elsewhere"
    if fault.strerror and isinstance(fault.filename, str | bytes | os.PathLike):
        return f"{os.fsdecode(fault.filename)}: {fault.strerror}; check the name and the rights"
    return ""


def _tell(code: int, message: str, *, as_json: bool) -> None:
    """Print the one sentence; where nothing can be written, the exit code alone tells."""
    if as_json:
        with contextlib.suppress(OSError, TilerError):
            say_json(json.dumps({"error": {"code": int(code), "message": message}}))
            return
    say(f"tiler: {message}", err=True)
