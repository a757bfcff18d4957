"""A request to end that Python or a library swallows still ends the work before anything is put in place."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.chosen import long

ROOT = Path(__file__).parent.parent.parent

LOST = """
import os, signal, sys
from tiler.usecases.files import ending
from tiler.usecases.{module} import {name}
import tiler.commands
ending.listen()

class Dropped:
    def __del__(self):
        os.kill(os.getpid(), signal.{end})
        for _ in range(1000):
            pass

Dropped()  # what is raised in __del__ goes nowhere (Python's data model, object.__del__)
{then}
"""

PUT = """
from pathlib import Path
write_file(Path("kept.txt"), b"new", force=True)
"""
EXCHANGE = """
from pathlib import Path
from tiler.usecases.bundle.folder import ReleaseFolder
with staged(ReleaseFolder(Path("out"), True, Path("out").resolve())) as folder:
    (folder / "new.txt").write_text("new")
"""
BOUNDARY = """
sys.exit(tiler.commands.run(["figures", "missing.toml"]))
"""


def run(script: str, folder: Path) -> subprocess.CompletedProcess[bytes]:
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    return subprocess.run([sys.executable, "-c", script], cwd=folder, env=environment, capture_output=True, check=False)


@pytest.mark.skipif(os.name == "nt", reason="Windows ends processes without asking them")
@pytest.mark.parametrize(
    ("module", "name", "then"),
    [("files.replace", "write_file", PUT), ("bundle.folder", "staged", EXCHANGE)],
    ids=["a file", "a folder"],
)
def test_nothing_is_put_in_place_after_a_lost_request(module: str, name: str, then: str, tmp_path: Path) -> None:
    (tmp_path / "kept.txt").write_text("old")
    done = run(LOST.format(module=module, name=name, end="SIGTERM", then=then), tmp_path)
    assert b"KeyboardInterrupt" in done.stderr.split(b"Exception ignored")[-1]
    assert done.returncode not in (0, 1)
    assert (tmp_path / "kept.txt").read_text() == "old"
    assert not (tmp_path / "out").exists()


@long
@pytest.mark.skipif(os.name == "nt", reason="Windows ends processes without asking them")
def test_another_fault_after_a_lost_request_is_told_as_the_interrupt(tmp_path: Path) -> None:
    done = run(LOST.format(module="files.replace", name="write_file", end="SIGINT", then=BOUNDARY), tmp_path)
    assert done.returncode == 130
    assert done.stderr.strip().endswith(b"interrupted")
