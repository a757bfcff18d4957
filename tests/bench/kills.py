"""What a kill leaves: ``python tests/bench/kills.py [MILLISECONDS] [joined]``, every 20 ms where nothing else is said.

A release stands in its folder and is made anew with another version.  The run is killed
(SIGKILL, which nothing can catch) after 20 ms, the next after 40 ms, until one ends by
itself.  Each time the folder must hold the old or the new release, whole and unchanged by
its own checksums; then ``tiler bundle --mend`` tidies up, and nothing but spec and release is left.
A release that is ``joined`` has three sizes, which join a pattern on letter and on A4; there every
other kill ends only the process that was asked, and the others have to end by themselves.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import signal
import subprocess
import sys
import time
from collections import Counter
from pathlib import Path
from tempfile import TemporaryDirectory

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))
from tests.catalog import bases  # noqa: E402

JOINED = "joined"
SPEC = """\
title = "Saltmarsh cuffs"
version = "{version}"
units = "cm"
[[pieces]]
name = "Cuff"
finish = "folded-band"
finished-width = "3 cm"
cut = "full-loop"
edge = {{ kind = "straight", whole = "20 cm" }}
"""
SIZED = SPEC.replace('units = "cm"', 'units = "cm"\nsizes = ["S", "M", "L"]')
PAPERS = {"letter.pdf": (612, 792), "a4.pdf": (595, 842)}
GONE = 10.0
"""Within so many seconds processes end whose asker was killed."""


def tiler(*words: str, folder: Path) -> subprocess.Popen[bytes]:
    """Start tiler in a group of processes of its own."""
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    command = [sys.executable, "-m", "tiler", *words]
    return subprocess.Popen(
        command, cwd=folder, env=environment, start_new_session=True, stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )


def held(folder: Path) -> str:
    """Say which release a folder holds, whole; anything else is an error."""
    listed = json.loads((folder / "manifest.json").read_bytes())
    names = {one["name"] for one in listed["files"]}
    assert {path.name for path in folder.iterdir()} == {*names, "manifest.json"}, "a file is missing or too much"
    for one in listed["files"]:
        assert hashlib.sha256((folder / one["name"]).read_bytes()).hexdigest() == one["sha256"], one["name"]
    return str(listed["version"])


def killed(group: int, run: subprocess.Popen[bytes], alone: bool) -> None:
    """Kill a run, or only the process that was asked, and wait until all of its group are gone."""
    if alone:
        run.kill()
    else:
        os.killpg(group, signal.SIGKILL)
    run.communicate()
    until = time.monotonic() + GONE
    while time.monotonic() < until:
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return
        time.sleep(0.01)
    raise AssertionError("they go on without the one that was asked")


def main(step: float, joined: bool) -> None:
    """Kill one run after the other, and say what was left how often."""
    text, words = (SIZED, [word for name in PAPERS for word in ("--with", name)]) if joined else (SPEC, [])
    inputs = {"cuffs.toml", *(PAPERS if joined else ())}
    found: Counter[str] = Counter()
    with TemporaryDirectory() as name:
        folder = Path(name)
        spec = folder / "cuffs.toml"
        for paper, size in PAPERS.items() if joined else ():
            (folder / paper).write_bytes(bases.plain(size=size))
        spec.write_text(text.format(version="old"))
        assert tiler("bundle", "cuffs.toml", "-o", "out", *words, folder=folder).wait() == 0
        shutil.copytree(folder / "out", folder / "kept")
        after, ended = 0.0, False
        while not ended:
            after += step
            shutil.rmtree(folder / "out")
            shutil.copytree(folder / "kept", folder / "out")
            spec.write_text(text.format(version="new"))
            run = tiler("bundle", "cuffs.toml", "-o", "out", "--force", *words, folder=folder)
            try:
                run.wait(after)
                ended = True
                run.communicate()
            except subprocess.TimeoutExpired:
                killed(run.pid, run, alone=joined and sum(found.values()) % 2 == 1)
            left = {path.name for path in folder.iterdir()} - {*inputs, "out", "kept"}
            version = held(folder / "out")
            mend = tiler("bundle", "--mend", "-o", "out", folder=folder)
            told, _ = mend.communicate()
            assert mend.returncode == 0, told
            assert {path.name for path in folder.iterdir()} == {*inputs, "out", "kept"}, "something is left"
            assert held(folder / "out") == version
            assert (b"nothing to mend" in told) == (not left), told
            found[f"{version} release under the name, {'something' if left else 'nothing'} to tidy up"] += 1
    for outcome, count in sorted(found.items()):
        print(f"{count:5d} x {outcome}")
    print(f"{sum(found.values())} runs, killed every {1000 * step:.0f} ms up to {after:.2f} s")


if __name__ == "__main__":
    numbers = [float(word) for word in sys.argv[1:] if word != JOINED]
    main(numbers[0] / 1000 if numbers else 0.02, JOINED in sys.argv[1:])
