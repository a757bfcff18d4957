"""What a kill leaves: ``python tests/bench/kills.py [MILLISECONDS]``, every 20 ms of a run where nothing else is said.

A release stands in its folder and is made anew with another version.  The run is killed
(SIGKILL, which nothing can catch) after 20 ms, the next after 40 ms, until one ends by
itself.  Each time the folder must hold the old or the new release, whole and unchanged by
its own checksums; then ``tiler bundle --mend`` tidies up, and nothing but spec and release is left.
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


def main(step: float) -> None:
    """Kill one run after the other, and say what was left how often."""
    found: Counter[str] = Counter()
    with TemporaryDirectory() as name:
        folder = Path(name)
        spec = folder / "cuffs.toml"
        spec.write_text(SPEC.format(version="old"))
        assert tiler("bundle", "cuffs.toml", "-o", "out", folder=folder).wait() == 0
        shutil.copytree(folder / "out", folder / "kept")
        after, ended = 0.0, False
        while not ended:
            after += step
            shutil.rmtree(folder / "out")
            shutil.copytree(folder / "kept", folder / "out")
            spec.write_text(SPEC.format(version="new"))
            run = tiler("bundle", "cuffs.toml", "-o", "out", "--force", folder=folder)
            try:
                run.wait(after)
                ended = True
            except subprocess.TimeoutExpired:
                os.killpg(run.pid, signal.SIGKILL)
            run.communicate()
            time.sleep(0.02)
            left = {path.name for path in folder.iterdir()} - {"cuffs.toml", "out", "kept"}
            version = held(folder / "out")
            mend = tiler("bundle", "--mend", "-o", "out", folder=folder)
            told, _ = mend.communicate()
            assert mend.returncode == 0, told
            assert {path.name for path in folder.iterdir()} == {"cuffs.toml", "out", "kept"}, "something is left"
            assert held(folder / "out") == version
            assert (b"nothing to mend" in told) == (not left), told
            found[f"{version} release under the name, {'something' if left else 'nothing'} to tidy up"] += 1
    for words, count in sorted(found.items()):
        print(f"{count:5d} x {words}")
    print(f"{sum(found.values())} runs, killed every {1000 * step:.0f} ms up to {after:.2f} s")


if __name__ == "__main__":
    main(float(sys.argv[1]) / 1000 if len(sys.argv) > 1 else 0.02)
