"""Open the page in the browser without a terminal: by a double-click, or by ``python3 tiler/launch.pyw``.

The first start fetches the libraries into ``.venv-page`` beside the folder ``tiler``: whoever removes the
folder has removed all.  Then it does what ``tiler browser`` does, with the same options.  It needs nothing
but the standard library, and an older Python reads it as well, to look for a newer one.
"""

from __future__ import annotations

import html
import os
import queue
import re
import shutil
import subprocess
import sys
import tempfile
import threading
import webbrowser
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parent.parent
HOME, MADE = ".venv-page", "made-for"
OLDEST = (3, 11)
NEWER = [f"python3.{minor}" for minor in range(19, OLDEST[1] - 1, -1)]
AGAIN = "and start this again"
PIPED: dict[str, Any] = {
    "stdin": subprocess.DEVNULL,
    "stdout": subprocess.PIPE,
    "encoding": "utf-8",
    # on Windows: without a terminal of its own
    "creationflags": getattr(subprocess, "CREATE_NO_WINDOW", 0),
}

FETCHED = re.compile(r"Collecting ([\w.-]+)")
OFFLINE = re.compile("connection broken|NewConnectionError|ConnectTimeout|ReadTimeout|ProxyError|Name or service")


class StartError(Exception):
    """What is in the way, as a sentence."""


class Work:
    """The commands of a first start, one after the other; another thread may stop them."""

    def __init__(self) -> None:
        """Begin with none."""
        self._lock = threading.Lock()
        self._process: subprocess.Popen[str] | None = None
        self._stopped = False

    def run(self, command: list[str], heard: Callable[[str], None]) -> None:
        """Run a command and tell each line that it prints; raises :class:`StartError` of all lines when it fails."""
        with self._lock:
            if self._stopped:
                raise KeyboardInterrupt
            self._process = subprocess.Popen(command, stderr=subprocess.STDOUT, errors="replace", **PIPED)
        lines = []
        with self._process as process:
            try:
                for line in process.stdout or ():
                    lines.append(line)
                    heard(line)
            except BaseException:
                process.kill()
                raise
        if self._stopped:
            raise KeyboardInterrupt
        if process.returncode:
            raise StartError("".join(lines))

    def stop(self) -> None:
        """End the command that runs, and begin no other."""
        with self._lock:
            self._stopped = True
            if self._process:
                self._process.kill()


def python_in(home: Path) -> Path:
    """Return the Python of an environment."""
    return home / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def libraries(root: Path) -> list[str]:
    """Return what is to be fetched, as the project states it; raises :class:`StartError`."""
    import tomllib

    try:
        with (root / "pyproject.toml").open("rb") as file:
            return list(tomllib.load(file)["project"]["dependencies"])
    except FileNotFoundError:
        raise StartError(f"{root} is not the whole folder of tiler; unpack all of it, {AGAIN}.") from None


def is_made(home: Path, wanted: Iterable[str]) -> bool:
    """Tell whether an environment is whole, and made for these libraries and this Python."""
    try:
        return python_in(home).exists() and (home / MADE).read_text(encoding="utf-8").split("\n") == [
            sys.version.split()[0],
            *wanted,
        ]
    except OSError:
        return False


def make(root: Path, told: Callable[[str], None], work: Work) -> None:
    """Make the environment of the page, and tell how far it is; nothing stays of one that does not become whole.

    Raises :class:`StartError`, and :class:`KeyboardInterrupt` when the work is stopped.
    """
    wanted = libraries(root)
    for module in ("venv", "ensurepip"):
        try:
            __import__(module)
        except ImportError:
            where = "on Debian and Ubuntu the package python3-venv has it"
            raise StartError(f"This Python has no module {module}. Install it ({where}), {AGAIN}.") from None
    try:
        # under another name until it is whole: another start may be at it too
        growing = Path(tempfile.mkdtemp(prefix=f"{HOME}-", dir=str(root)))
        try:
            told("Making room for the libraries …")
            _fill(growing, wanted, told, work)
            (growing / MADE).write_text("\n".join([sys.version.split()[0], *wanted]), encoding="utf-8")
            _settle(growing, root / HOME, wanted)
        finally:
            shutil.rmtree(str(growing), ignore_errors=True)
    except OSError as fault:
        raise StartError(
            f"Nothing can be stored in {root} ({fault.strerror}). Move the folder to where you may write, {AGAIN}."
        ) from fault


def _fill(growing: Path, wanted: list[str], told: Callable[[str], None], work: Work) -> None:
    def heard(line: str) -> None:
        found = FETCHED.match(line)
        if found:
            told(f"Fetching {found.group(1)} …")
        elif line.startswith("Installing"):
            told("Putting the libraries in place …")

    try:
        work.run([sys.executable, "-m", "venv", str(growing)], heard)
        pip = [str(python_in(growing)), "-m", "pip", "--disable-pip-version-check", "--no-input", "--retries", "2"]
        # nothing that would have to be built first: few people have a compiler
        work.run([*pip, "install", "--only-binary", ":all:", "--progress-bar", "off", *wanted], heard)
    except StartError as fault:
        raise StartError(understood(str(fault))) from None


def understood(printed: str) -> str:
    """Return the sentence for what was printed when the environment could not be made."""
    if "No space left" in printed:
        return f"The disk is full. Make room, {AGAIN}."
    if OFFLINE.search(printed):
        return f"The libraries could not be fetched. See that this computer is on the network, {AGAIN}."
    return f"The libraries could not be fetched: {_last(printed)}"


def _last(printed: str) -> str:
    lines = [line.strip() for line in printed.splitlines() if line.strip()]
    faults = [line.replace("ERROR: ", "") for line in lines if line.startswith("ERROR: ")]
    return (faults or lines or ["nothing was said why."])[-1]


def _settle(growing: Path, home: Path, wanted: Iterable[str]) -> None:
    """Give an environment its name, unless another start has just done so."""
    if not is_made(home, wanted):
        shutil.rmtree(str(home), ignore_errors=True)
        try:
            growing.rename(home)
        except OSError:
            if not is_made(home, wanted):
                raise


def start(root: Path, seen: bool, options: list[str]) -> int:
    """Make the environment where it is missing, open the page, and stay as long as it does; return its exit code."""
    home = root / HOME
    if not is_made(home, libraries(root)) and (seen or not _waited(root)):
        make(root, lambda text: print(text, file=sys.stderr, flush=True), Work())
    # the current folder is left out of the search for modules
    command = [str(python_in(home)), "-P", "-m", "tiler", "browser", *options]
    environment = {**os.environ, "PYTHONPATH": str(root)}
    if not seen:
        return _unseen(command, environment)
    with subprocess.Popen(command, env=environment) as page:
        while True:
            try:
                return page.wait()
            except KeyboardInterrupt:
                # the page has got it too, and ends by itself
                continue


def _unseen(command: list[str], environment: dict[str, str]) -> int:
    """Open the page where nobody sees what is printed."""
    opens = "--no-open" not in command
    command = [*command, "--no-open"] if opens else command
    with subprocess.Popen(command, env=environment, stderr=subprocess.PIPE, **PIPED) as page:
        assert page.stdout
        address = page.stdout.readline().strip()
        if sys.stdout is not None:
            print(address, flush=True)
        if address and opens and not webbrowser.open(address):
            show(f"No browser could be opened. Open one yourself, at the address {address}")
        _, said = page.communicate()
        if page.returncode and not address:
            raise StartError(_last(said))
        return page.returncode


def _waited(root: Path) -> bool:
    """Make the environment while a window shows how far it is; closing it stops the work.

    Return whether there was a window, without which nothing is done.
    """
    try:
        import tkinter

        window = tkinter.Tk()
    except Exception:  # where windows cannot be had, they fail in many ways
        return False
    told: queue.Queue[str] = queue.Queue()
    work, faults = Work(), []

    def do() -> None:
        try:
            make(root, told.put, work)
        except BaseException as fault:
            faults.append(fault)

    thread = threading.Thread(target=do)
    window.title("tiler")
    tkinter.Label(window, text="The first start fetches the libraries that tiler works with.", padx=20, pady=12).pack()
    line = tkinter.Label(window, text="", width=50, padx=20)
    line.pack()
    tkinter.Button(window, text="Stop", command=work.stop).pack(pady=12)
    window.protocol("WM_DELETE_WINDOW", work.stop)

    def look() -> None:
        while not told.empty():
            line.config(text=told.get())
        if thread.is_alive():
            window.after(100, look)
        else:
            window.destroy()

    thread.start()
    look()
    window.mainloop()
    thread.join()
    if faults:
        raise faults[0]
    return True


def show(sentence: str) -> None:
    """Show a sentence where there is no terminal: in a window, or else as a page in the browser."""
    try:
        import tkinter
        from tkinter import messagebox

        window = tkinter.Tk()
        window.withdraw()
        messagebox.showinfo("tiler", sentence, parent=window)
        window.destroy()
    except Exception:  # where windows cannot be had, they fail in many ways
        number, path = tempfile.mkstemp(prefix="tiler-", suffix=".html")
        with open(number, "w", encoding="utf-8") as file:
            file.write(f"<!doctype html><meta charset=utf-8><title>tiler</title><p>{html.escape(sentence)}")
        webbrowser.open(Path(path).as_uri())


def main() -> int:
    """Start, and say what is in the way."""
    seen = any(stream is not None and stream.isatty() for stream in (sys.stdout, sys.stderr))
    try:
        if sys.version_info < OLDEST:
            other = next(filter(None, map(shutil.which, NEWER)), None)
            if other is None:
                here = ".".join(map(str, sys.version_info[:2]))
                raise StartError(f"tiler needs Python 3.11 or later, and this is {here}. Install a newer one, {AGAIN}.")
            return subprocess.call([other, *sys.argv])
        return start(ROOT, seen, sys.argv[1:])
    except StartError as fault:
        if sys.stderr is not None:
            print(f"tiler: {fault}", file=sys.stderr)
        if not seen:
            show(str(fault))
        return 2
    except KeyboardInterrupt:
        return 130


if __name__ == "__main__":
    sys.exit(main())
