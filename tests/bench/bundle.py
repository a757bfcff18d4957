"""What a release costs: ``python tests/bench/bundle.py``, or with numbers of sizes, such as ``5 10 20 worked``.

Each number of sizes × 6 pieces × letter, A4 and one sheet, nested and a file for each
size, proofs included.  Tile pages a second over the whole command, and the most memory
that any of its processes took.  Beside it stands the bare script of ``floor.py``, which
writes as many empty pages, reads each file with pdfplumber and renders it: the
processor seconds of both for all files, and how many pages a second the script alone
would do if it were shared out over all cores.  ``worked`` is the release of ``examples/make_release.py``:
twenty sizes that join a pattern of forty pages on letter and A4.
"""

from __future__ import annotations

import json
import os
import resource
import subprocess
import sys
import time
from dataclasses import dataclass
from importlib import import_module
from pathlib import Path
from tempfile import TemporaryDirectory

import floor

ROOT = Path(__file__).parent.parent.parent
PIECES, TARGET = 6, 60

WORKED = "worked"


def spec(count: int) -> str:
    """Give a job of so many sizes that nest: 1/4 in of edge a half from size to size."""
    names = [f"Z{number}" for number in range(1, count + 1)]
    lines = ['title = "Saltmarsh measured"', 'units = "in"', f"sizes = {json.dumps(names)}"]
    for piece in range(PIECES):
        edge = ", ".join(f'{name} = "{10 + piece + number / 2} in"' for number, name in enumerate(names))
        lines += ["[[pieces]]", f'name = "Band {piece + 1}"', 'finish = "folded-band"', 'finished-width = "1 in"']
        lines += [f'edge = {{ kind = "straight", whole = {{ {edge} }} }}', 'cut = "full-loop"']
    return "\n".join(lines)


@dataclass(frozen=True)
class Measured:
    """What one release took: seconds by the clock and of processors, and the most memory of a process, MiB."""

    pages: int
    files: int
    seconds: float
    processor: float
    bare: float
    memory: int


def measured(count: int, folder: Path) -> Measured:
    """Make one release, and read its files with the bare script."""
    (folder / "spec.toml").write_text(spec(count))
    command = [sys.executable, "-m", "tiler", "bundle", str(folder / "spec.toml"), "-o", str(folder / "out"), "--json"]
    return _measured(command, folder)


def worked(folder: Path) -> Measured:
    """Make the release of the example, whose files are read with the bare script too."""
    sys.path.insert(0, str(ROOT / "examples"))
    make_release = import_module("make_release")
    commands: list[list[str]] = []
    make_release.main(folder, commands.append)
    command = [str(folder / "out") if word == str(folder / "release") else word for word in commands[0]]
    return _measured([*command, "--json"], folder)


def _measured(command: list[str], folder: Path) -> Measured:
    # a process of its own for each release, since the most memory of children is that of all of them so far
    script = (
        "import resource, subprocess, sys\n"
        "done = subprocess.run(sys.argv[1:], stdout=subprocess.PIPE, check=True)\n"
        "sys.stdout.buffer.write(done.stdout)\n"
        "used = resource.getrusage(resource.RUSAGE_CHILDREN)\n"
        "sys.stderr.write(f'\\n{used.ru_maxrss // 1024} {used.ru_utime + used.ru_stime}')"
    )
    environment = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    environment["PYTHONPATH"] = str(ROOT)
    start = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", script, *command], check=True, env=environment, capture_output=True)
    seconds = time.perf_counter() - start
    proved = [one for one in json.loads(done.stdout)["files"] if one["verdict"]]
    first_pages = sum(one["paper"] != "one-sheet" for one in proved)
    memory, processor = done.stderr.split()[-2:]
    bare = bare_seconds([(folder / "out" / one["name"], one["pages"]) for one in proved])
    pages = sum(one["pages"] for one in proved) - first_pages
    return Measured(pages, len(proved), seconds, float(processor), bare, int(memory))


def bare_seconds(files: list[tuple[Path, int]]) -> float:
    """Give the processor seconds of the bare script for all files, its imports left out."""
    before = resource.getrusage(resource.RUSAGE_SELF)
    for path, pages in files:
        floor.write(pages)
        floor.read(str(path))
        floor.render(str(path))
    after = resource.getrusage(resource.RUSAGE_SELF)
    return after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime


def main() -> None:
    print(f"# {PIECES} pieces, {os.cpu_count()} cores; target {TARGET} tile pages a second")
    cores = os.cpu_count() or 1
    for word in sys.argv[1:] or ["5", "10", "20"]:
        with TemporaryDirectory() as folder:
            one = worked(Path(folder)) if word == WORKED else measured(int(word), Path(folder))
        print(
            f"{word:>6} sizes  {one.files:>3} files  {one.pages:>4} tile pages  {one.seconds:>6.1f} s  "
            f"{one.pages / one.seconds:>5.1f} a second  {one.memory:>4} MiB;  processor {one.processor:.1f} s, "
            f"bare script {one.bare:.1f} s: {one.processor / one.bare:.2f} (target 1.6); by the clock "
            f"{one.seconds / (one.bare / cores):.2f} of it shared over all cores (target 1.0)",
            flush=True,
        )


if __name__ == "__main__":
    main()
