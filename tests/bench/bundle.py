"""What a release costs: ``python tests/bench/bundle.py``, or with numbers of sizes, such as ``5 10 20``.

Each number of sizes × 6 pieces × letter, A4 and one sheet, nested and a file for each
size, proofs included.  Tile pages a second over the whole command, and the most memory
that any of its processes took.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).parent.parent.parent
PIECES, TARGET = 6, 60


def spec(count: int) -> str:
    """Give a job of so many sizes that nest: 1/4 in of edge a half from size to size."""
    names = [f"Z{number}" for number in range(1, count + 1)]
    lines = ['title = "Saltmarsh measured"', 'units = "in"', f"sizes = {json.dumps(names)}"]
    for piece in range(PIECES):
        edge = ", ".join(f'{name} = "{10 + piece + number / 2} in"' for number, name in enumerate(names))
        lines += ["[[pieces]]", f'name = "Band {piece + 1}"', 'finish = "folded-band"', 'finished-width = "1 in"']
        lines += [f'edge = {{ kind = "straight", whole = {{ {edge} }} }}', 'cut = "full-loop"']
    return "\n".join(lines)


def measured(count: int, folder: Path) -> tuple[int, int, float, int]:
    """Make one release; give tile pages, files, seconds, and the most memory of a process, MiB."""
    (folder / "spec.toml").write_text(spec(count))
    command = [sys.executable, "-m", "tiler", "bundle", str(folder / "spec.toml"), "-o", str(folder / "out"), "--json"]
    # a process of its own for each release, since the most memory of children is that of all of them so far
    script = (
        "import resource, subprocess, sys\n"
        "done = subprocess.run(sys.argv[1:], stdout=subprocess.PIPE, check=True)\n"
        "sys.stdout.buffer.write(done.stdout)\n"
        "sys.stderr.write(str(resource.getrusage(resource.RUSAGE_CHILDREN).ru_maxrss // 1024))"
    )
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    start = time.perf_counter()
    done = subprocess.run([sys.executable, "-c", script, *command], check=True, env=environment, capture_output=True)
    seconds = time.perf_counter() - start
    proved = [one for one in json.loads(done.stdout)["files"] if one["verdict"]]
    first_pages = sum(one["paper"] != "one-sheet" for one in proved)
    return sum(one["pages"] for one in proved) - first_pages, len(proved), seconds, int(done.stderr.split()[-1])


def main() -> None:
    print(f"# {PIECES} pieces, {os.cpu_count()} cores; target {TARGET} tile pages a second")
    for count in [int(word) for word in sys.argv[1:]] or [5, 10, 20]:
        with TemporaryDirectory() as folder:
            pages, files, seconds, memory = measured(count, Path(folder))
        print(
            f"{count:>3} sizes  {files:>3} files  {pages:>4} tile pages  {seconds:>6.1f} s  "
            f"{pages / seconds:>5.1f} a second  {memory:>4} MiB",
            flush=True,
        )


if __name__ == "__main__":
    main()
