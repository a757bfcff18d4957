"""Write what tiler prints today into the README and the guide: ``python examples/refresh_guide.py``.

A page is worked through from top to bottom in a folder of its own that holds the
examples, as a reader would do it:

- A block whose first line is a comment with a name, such as ``# crew.toml``, is that file.
- In a ``console`` block a line after ``$`` is a command and what follows is printed by
  it.  A line ``…`` stands for what is left out.  ``$ echo $?`` shows
  the exit code of the command before, which is 0 without it.  In a dialogue the answers
  stand after ``>``; to whatever follows ``…`` the answer is Enter.
- Each line of an ``sh`` block is a command, and so is inline code that begins with
  ``tiler``, but for headings.  With words in capitals, as in ``tiler draft SPEC``, or with
  nothing after the name of the command, it shows how to call: that runs with ``--help``.
- A command in a comment of the page, ``<!-- $ tiler … -->``, makes what a reader has been sent.

Seconds differ from run to run and are not compared.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import shlex
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from tiler.commands import run

ROOT = Path(__file__).parent.parent
GUIDE = ROOT / "examples" / "guide"
PAGES = (ROOT / "README.md", *sorted(GUIDE.glob("*.md")))

CUT = "…"
PRINTERS = ".printers"
SETTING_UP = re.compile(r"python3 -m venv |\. \.venv/bin/activate$")
"""What sets up the environment: ``.ci/run`` runs it as it stands in the README, no page does."""

_FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.DOTALL | re.MULTILINE)
_INLINE = re.compile(r"`(?:\.venv/bin/)?(tiler\s[^`]+)`|<!-- \$ (tiler .+?) -->")
_NAMED = re.compile(r"\A(?:# |<!-- )([\w.-]+\.\w+)(?: -->)?\n")
_USAGE_WORD = re.compile(r"\b[A-Z]{3,}\b")
_ANSWER = re.compile(r"^  (?:\[.*\] )?> ?(.*)$")
_ENTERS = 40 * [""]
_SECONDS = re.compile(r"\b(?:[0-9]+ min )?[0-9]+(?:\.[0-9])? s\b")
_SHELL = re.compile(r"[|<>$]")


@dataclass(frozen=True)
class Block:
    """A fenced block of a page: its language, its text, and where the text starts and ends in the page."""

    language: str
    text: str
    start: int
    end: int

    @property
    def file(self) -> str | None:
        """The file that the block is, by its first line."""
        named = _NAMED.match(self.text)
        return named[1] if named else None


@dataclass
class Told:
    """What became of a page: its text with today's outputs, and every command that ended otherwise than it says."""

    text: str = ""
    commands: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)


def blocks(page: str) -> Iterator[Block]:
    """Give the fenced blocks of a page in their order."""
    for found in _FENCE.finditer(page):
        yield Block(found[1], found[2], found.start(2), found.end(2))


def inline_commands(text: str) -> list[str]:
    """Give the commands that stand in running text, each as it is to be run."""
    text = re.sub(r"^#.*$", "", text, flags=re.MULTILINE)
    return [_as_run(" ".join((shown or hidden).split())) for shown, hidden in _INLINE.findall(text)]


def _as_run(command: str) -> str:
    shows_call = len(command.split()) == 2 or _USAGE_WORD.search(re.sub(r'"[^"]*"', "", command))
    return f"{command} --help" if shows_call else command


def walk(page: str, folder: Path) -> Told:
    """Work through a page in an empty folder; what earlier commands wrote is there for later ones."""
    told, done, position = Told(), Shell(folder), 0
    pieces = []
    for block in blocks(page):
        _run_inline(page[position : block.start], done, told)
        pieces += [page[position : block.start], _told_block(block, done, told)]
        position = block.end
    _run_inline(page[position:], done, told)
    told.text = "".join([*pieces, page[position:]])
    return told


def _run_inline(text: str, done: Shell, told: Told) -> None:
    for command in inline_commands(text):
        done.run(command)
        told.commands.append(command)
        _expect_success(done, told)


def _expect_success(done: Shell, told: Told) -> None:
    if done.code:
        told.faults.append(f"{told.commands[-1]}: exit code {done.code}, and the page says none\n{done.last_words}")
        done.code = 0


def _told_block(block: Block, done: Shell, told: Told) -> str:
    if block.file:
        (done.folder / block.file).write_text(block.text, encoding="utf-8")
    match block.language:
        case "sh":
            for line in block.text.splitlines():
                _print(line, [], done, told)
            _expect_success(done, told)
        case "console":
            lines = []
            for command, shown in _with_output(block.text):
                printed = _print(command, shown, done, told)
                lines += [f"$ {command}", *(shown if alike(printed, shown) else printed)]
            _expect_success(done, told)
            return "".join(f"{line.rstrip()}\n" for line in lines)
    return block.text


def _print(command: str, shown: list[str], done: Shell, told: Told) -> list[str]:
    """Run a command of a block and give what the page is to show below it, where it shows ``shown`` now."""
    if command == "echo $?":
        code, done.code = done.code, 0
        return [str(code)]
    _expect_success(done, told)
    if SETTING_UP.match(command):
        return []
    done.run(command, [found[1] for found in map(_ANSWER.match, shown) if found])
    told.commands.append(command)
    return _cut_alike(done.printed.rstrip("\n").split("\n"), shown)


def _with_output(text: str) -> Iterator[tuple[str, list[str]]]:
    """Give each command of a ``console`` block with the lines that the page shows below it."""
    for part in re.split(r"^\$ ", text, flags=re.MULTILINE)[1:]:
        command, *shown = part.rstrip("\n").split("\n")
        yield command, shown


def _cut_alike(printed: list[str], shown: list[str]) -> list[str]:
    """Leave out of ``printed`` what the page leaves out: it shows so many lines from the start and from the end."""
    if printed == [""]:
        return []
    if CUT not in shown or len(printed) < len(shown):
        return printed
    head = shown.index(CUT)
    tail = len(shown) - head - 1
    return [*printed[:head], CUT, *printed[len(printed) - tail :]]


def alike(one: Sequence[str], other: Sequence[str]) -> bool:
    """Tell whether two outputs differ in nothing but the time that was taken."""
    return [_SECONDS.sub("s", line.rstrip()) for line in one] == [_SECONDS.sub("s", line) for line in other]


class Shell:
    """A reader's terminal: the folder, and what the last command printed and ended with."""

    def __init__(self, folder: Path) -> None:
        """Copy the examples into ``folder``, and put ``tiler`` and ``python`` on the path."""
        self.folder, self.code, self.printed = folder, 0, ""
        shutil.copytree(ROOT / "examples", folder / "examples", ignore=shutil.ignore_patterns("pictures", "guide"))
        programs = folder / ".programs"
        programs.mkdir()
        for name, call in (("tiler", f"{sys.executable} -m tiler"), ("python", sys.executable)):
            (programs / name).write_text(f'#!/bin/sh\nexec {call} "$@"\n', encoding="utf-8")
            (programs / name).chmod(0o755)
        self._environment = os.environ | {
            "PATH": f"{programs}{os.pathsep}{os.environ['PATH']}",
            "PYTHONPATH": str(ROOT),
            "TILER_PRINTERS": str(folder / PRINTERS),
            "COLUMNS": "80",
            "PYTHONIOENCODING": "utf-8",
        }

    @property
    def last_words(self) -> str:
        """The end of what was printed, where the reason of a fault stands."""
        return "\n".join(self.printed.rstrip().split("\n")[-3:])

    def run(self, command: str, answers: Sequence[str] = ()) -> None:
        """Run one line: of tiler in this process, which spares its start, any other in a shell."""
        if command.startswith("tiler ") and not _SHELL.search(command):
            self._run_here(shlex.split(command)[1:], answers)
            return
        ended = subprocess.run(
            ["bash", "-c", command],
            cwd=self.folder,
            env=self._environment,
            stdout=subprocess.PIPE,
            stderr=subprocess.STDOUT,
            stdin=subprocess.DEVNULL,
            check=False,
        )
        self.code, self.printed = ended.returncode, ended.stdout.decode()

    def _run_here(self, arguments: list[str], answers: Sequence[str]) -> None:
        out = io.TextIOWrapper(io.BytesIO(), encoding="utf-8", write_through=True)
        before = dict(os.environ), sys.stdin
        os.environ.update(self._environment)
        sys.stdin = io.StringIO("\n".join([*answers, *_ENTERS]) if answers else "")
        try:
            with contextlib.chdir(self.folder), contextlib.redirect_stdout(out), contextlib.redirect_stderr(out):
                self.code = int(run(arguments))
        finally:
            os.environ.clear()
            os.environ.update(before[0])
            sys.stdin = before[1]
        # the folder of the printers is another on each system
        self.printed = out.buffer.getvalue().decode().replace(f"{self.folder / PRINTERS}", CUT)


def main() -> None:
    """Refresh all pages, and name what fails."""
    faults = []
    for page in PAGES:
        text = page.read_text(encoding="utf-8")
        with tempfile.TemporaryDirectory() as folder:
            told = walk(text, Path(folder))
        faults += [f"{page.name}: {fault}" for fault in told.faults]
        if told.text != text:
            page.write_text(told.text, encoding="utf-8")
            print(f"{page.relative_to(ROOT)}: written anew")
    if faults:
        sys.exit("\n".join(faults))


if __name__ == "__main__":
    main()
