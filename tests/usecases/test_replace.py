"""Putting a file in place: all of it or nothing, whatever happens on the way."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tiler.errors import CannotWriteError
from tiler.usecases.files.replace import refuse_existing, replacing, write_file


def test_an_existing_file_is_kept_without_force(tmp_path: Path) -> None:
    target = tmp_path / "band.pdf"
    target.write_bytes(b"old")
    with pytest.raises(CannotWriteError, match="--force"):
        refuse_existing(target, force=False)
    refuse_existing(target, force=True)


def test_a_file_that_appeared_meanwhile_is_kept_without_force(tmp_path: Path) -> None:
    target = tmp_path / "band.pdf"

    def meanwhile() -> None:
        with replacing(target, b"new", force=False) as part:
            assert part.read_bytes() == b"new"
            target.write_bytes(b"somebody else's")

    with pytest.raises(CannotWriteError, match="there already"):
        meanwhile()
    assert target.read_bytes() == b"somebody else's"
    assert list(tmp_path.iterdir()) == [target]


@pytest.mark.parametrize("force", [True, False])
def test_a_finished_file_gets_its_name_and_leaves_nothing_beside(tmp_path: Path, force: bool) -> None:
    target = tmp_path / "band.pdf"
    if force:
        target.write_bytes(b"old")
    write_file(target, b"new", force)
    assert target.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [target]


def test_a_fault_half_way_leaves_the_old_file(tmp_path: Path) -> None:
    target = tmp_path / "band.pdf"
    target.write_bytes(b"old")

    def half_way() -> None:
        with replacing(target, b"new", force=True):
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        half_way()
    assert target.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [target]


def test_the_input_is_never_the_output_even_through_a_link(tmp_path: Path) -> None:
    spec = tmp_path / "crew.toml"
    spec.write_text("title = 'x'")
    link = tmp_path / "link.pdf"
    link.symlink_to(spec)
    for target in (spec, link):
        with pytest.raises(CannotWriteError, match="input itself"):
            refuse_existing(target, force=True, inputs=(spec,))


@pytest.mark.parametrize("name", ["folder", "missing/band.pdf"])
def test_a_folder_or_a_missing_folder_is_refused(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(CannotWriteError, match="folder"):
        refuse_existing(tmp_path / name, force=True)


def test_a_device_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotWriteError, match="not an ordinary file"):
        refuse_existing(Path(os.devnull), force=True)


CHILD = """
import resource, sys
from pathlib import Path
from tiler.errors import CannotWriteError
from tiler.usecases.files.replace import write_file
resource.setrlimit(resource.RLIMIT_FSIZE, (4096, 4096))
target = Path(sys.argv[1])
try:
    write_file(target, b"x" * 100_000, True)
except CannotWriteError as fault:
    print(fault)
    sys.exit(7)
"""


def test_a_disk_that_takes_no_more_leaves_the_old_file(tmp_path: Path) -> None:
    """The limit on a file's size stands in for a full disk: the write fails half way in the same call."""
    target = tmp_path / "band.pdf"
    target.write_bytes(b"old")
    done = subprocess.run([sys.executable, "-c", CHILD, str(target)], capture_output=True, text=True, check=False)
    assert done.returncode == 7
    assert "nothing was changed" in done.stdout
    assert target.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [target]


SLOW = """
import sys, time
from pathlib import Path
from tiler.usecases.files.replace import replacing
with replacing(Path(sys.argv[1]), b"half", True):
    print("half", flush=True)
    time.sleep(60)
"""


@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGTERM, signal.SIGINT])
def test_a_kill_at_any_moment_never_shows_a_partial_file_under_the_name(tmp_path: Path, how: int) -> None:
    target = tmp_path / "band.pdf"
    target.write_bytes(b"old")
    child = subprocess.Popen([sys.executable, "-c", SLOW, str(target)], stdout=subprocess.PIPE, stderr=subprocess.PIPE)
    assert child.stdout is not None
    assert child.stdout.readline() == b"half\n"
    time.sleep(0.05)
    child.send_signal(how)
    child.communicate(timeout=20)
    assert child.returncode != 0
    assert target.read_bytes() == b"old"
    others = [path for path in tmp_path.iterdir() if path != target]
    assert all(path.name.startswith(".") and path.suffix == ".part" for path in others)
    assert how in (signal.SIGKILL, signal.SIGTERM) or not others
