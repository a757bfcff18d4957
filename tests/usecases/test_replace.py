"""Putting a file in place: all of it or nothing, whatever happens on the way."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from stat import S_IMODE

import pytest

from tests.ended import CAME_THROUGH, ENDED, ended
from tiler.errors import CannotWriteError
from tiler.files import read_file
from tiler.usecases.files.replace import Output, admitted, part_of, replacing, write_file


def test_an_existing_file_is_kept_without_force(tmp_path: Path) -> None:
    target = tmp_path / "band.pdf"
    target.write_bytes(b"old")
    with pytest.raises(CannotWriteError, match="--force"):
        admitted(target, force=False)
    admitted(target, force=True)


def test_a_file_that_appeared_meanwhile_is_kept_without_force(tmp_path: Path) -> None:
    target = tmp_path / "band.pdf"

    def meanwhile() -> None:
        with replacing(Output(target), b"new") as part:
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
        with replacing(Output(target, force=True), b"new"):
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        half_way()
    assert target.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [target]


def test_the_input_is_never_the_output_even_through_a_link(tmp_path: Path) -> None:
    spec = tmp_path / "crew.toml"
    spec.write_text("title = 'x'")
    link, second = tmp_path / "link.pdf", tmp_path / "second.pdf"
    link.symlink_to(spec)
    second.hardlink_to(spec)
    for target in (spec, link, second):
        with pytest.raises(CannotWriteError, match="input itself"):
            admitted(target, force=True, inputs=(spec,))


@pytest.mark.parametrize("name", ["folder", "missing/band.pdf"])
def test_a_folder_or_a_missing_folder_is_refused(tmp_path: Path, name: str) -> None:
    (tmp_path / "folder").mkdir()
    with pytest.raises(CannotWriteError, match="folder"):
        admitted(tmp_path / name, force=True)


def test_a_device_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotWriteError, match="not an ordinary file"):
        admitted(Path(os.devnull), force=True)


@pytest.fixture(name="usual_mask")
def usual_mask() -> Iterator[None]:
    before = os.umask(0o027)
    yield
    os.umask(before)


@pytest.mark.skipif(os.name == "nt", reason="Windows knows one of these rights")
@pytest.mark.usefixtures("usual_mask")
@pytest.mark.parametrize("rights", [0o600, 0o664, 0o755])
def test_a_replaced_file_keeps_its_rights_and_a_new_one_has_the_usual_ones(tmp_path: Path, rights: int) -> None:
    target = tmp_path / "band.pdf"
    target.write_bytes(b"old")
    target.chmod(rights)
    with replacing(Output(target, force=True), b"new") as part:
        assert not part.stat().st_mode & 0o077 & ~rights
    assert (S_IMODE(target.stat().st_mode), target.read_bytes()) == (rights, b"new")
    write_file(tmp_path / "new.pdf", b"new")
    assert S_IMODE((tmp_path / "new.pdf").stat().st_mode) == 0o640


def test_a_file_that_must_not_be_written_is_refused_before_the_work(tmp_path: Path) -> None:
    target = tmp_path / "band.pdf"
    target.write_bytes(b"old")
    target.chmod(0o444)
    with pytest.raises(CannotWriteError, match="is read-only; choose another name, or allow writing"):
        admitted(target, force=True)


def test_a_link_that_leads_nowhere_is_something_that_is_there(tmp_path: Path) -> None:
    link = tmp_path / "band.pdf"
    link.symlink_to(tmp_path / "gone.pdf")
    with pytest.raises(CannotWriteError, match="there already"):
        admitted(link, force=False)


@pytest.mark.parametrize("swapped", ["before", "while"])
def test_a_link_that_is_swapped_in_for_the_folder_is_not_followed(tmp_path: Path, swapped: str) -> None:
    """A run may take minutes, and what the path leads to at its end is not what was looked at."""
    for name in ("out", "theirs"):
        (tmp_path / name).mkdir()
    (tmp_path / "theirs" / "band.pdf").write_bytes(b"theirs")
    output = admitted(tmp_path / "out" / "band.pdf", force=True)

    def swap() -> None:
        (tmp_path / "out").rename(tmp_path / "moved")
        (tmp_path / "out").symlink_to(tmp_path / "theirs")

    def write() -> None:
        if swapped == "before":
            swap()
        with replacing(output, b"new") as part:
            swap()
            read_file(part, "PDF")

    with pytest.raises(CannotWriteError, match="out was moved or replaced meanwhile; nothing was changed"):
        write()
    assert [path.name for path in (tmp_path / "theirs").iterdir()] == ["band.pdf"]
    assert (tmp_path / "theirs" / "band.pdf").read_bytes() == b"theirs"
    assert list((tmp_path / "moved").iterdir()) == []


def test_a_link_that_is_swapped_in_for_the_file_is_replaced_itself(tmp_path: Path) -> None:
    target, theirs = tmp_path / "band.pdf", tmp_path / "theirs.pdf"
    for path in (target, theirs):
        path.write_bytes(b"old")
    with replacing(admitted(target, force=True), b"new"):
        target.unlink()
        target.symlink_to(theirs)
    assert (target.read_bytes(), theirs.read_bytes(), target.is_symlink()) == (b"new", b"old", False)


def test_a_folder_that_was_moved_at_the_last_moment_is_said_to_be(tmp_path: Path) -> None:
    (tmp_path / "out").mkdir()

    def write() -> None:
        with replacing(admitted(tmp_path / "out" / "band.pdf", force=False), b"new"):
            (tmp_path / "out").rename(tmp_path / "moved")
            (tmp_path / "out").mkdir()

    with pytest.raises(CannotWriteError, match="out was moved or replaced meanwhile; nothing was changed"):
        write()
    assert list((tmp_path / "out").iterdir()) == list((tmp_path / "moved").iterdir()) == []


def test_a_name_as_long_as_the_system_takes_is_written(tmp_path: Path) -> None:
    # 255 bytes (Linux, limits.h: NAME_MAX), in characters of four bytes each (RFC 3629, 3)
    name = "\U0001f9f5" * 62 + ".pdf"
    write_file(tmp_path / name, b"new")
    assert [path.name for path in tmp_path.iterdir()] == [name]
    assert len(part_of(name).encode()) <= 255


def test_what_a_killed_run_left_is_cleaned_by_the_next_and_nothing_else(tmp_path: Path) -> None:
    target = tmp_path / "band.pdf"
    left = tmp_path / part_of(target.name)
    left.write_bytes(b"half")
    theirs = {
        ".band.pdf.part": b"no number",
        ".band.pdf.0123456789.part.txt": b"another ending",
        ".other.pdf.0123456789.part": b"another target",
    }
    for name, data in theirs.items():
        (tmp_path / name).write_bytes(data)
    (tmp_path / ".band.pdf.0123456789.part").mkdir()
    (tmp_path / ".band.pdf.1123456789.part").symlink_to(tmp_path / ".band.pdf.part")
    write_file(target, b"new")
    assert not left.exists()
    assert (tmp_path / ".band.pdf.0123456789.part").is_dir()
    assert (tmp_path / ".band.pdf.1123456789.part").is_symlink()
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir() if path.is_file() and path != target} == {
        **theirs,
        ".band.pdf.1123456789.part": b"no number",
    }


@pytest.mark.parametrize("force", [True, False])
def test_two_runs_for_one_target_do_not_touch_what_the_other_writes(tmp_path: Path, force: bool) -> None:
    target = tmp_path / "band.pdf"

    def both() -> None:
        with replacing(Output(target, force), b"first") as first:
            write_file(target, b"second", force)
            assert first.read_bytes() == b"first"

    if force:
        both()
    else:
        with pytest.raises(CannotWriteError, match="there already"):
            both()
    assert target.read_bytes() == (b"first" if force else b"second")
    assert list(tmp_path.iterdir()) == [target]


CHILD = """
import resource, sys
from pathlib import Path
from tiler.errors import CannotWriteError
from tiler.files import read_file
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
from tiler.files import read_file
from tiler.usecases.files.replace import Output, replacing
with replacing(Output(Path(sys.argv[1]), True), b"half"):
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
    write_file(target, b"new", force=True)
    assert list(tmp_path.iterdir()) == [target]


@pytest.mark.skipif(os.name == "nt", reason="Windows has no fork")
@pytest.mark.parametrize("how", ["kill", "interrupt", "fault"])
@pytest.mark.parametrize("before", [b"old", None])
def test_what_ends_a_run_at_any_step_leaves_the_old_file_or_the_new_one(
    tmp_path: Path, how: str, before: bytes | None
) -> None:
    step, code = 0, 0
    while code != CAME_THROUGH:
        step += 1
        target = tmp_path / str(step) / "band.pdf"
        target.parent.mkdir()
        if before:
            target.write_bytes(before)
            target.chmod(0o640)
        code = ended(step, how, lambda target=target: write_file(target, b"new", bool(before)))  # type: ignore[misc]
        assert code in {CAME_THROUGH, *{"kill": (-signal.SIGKILL,), "interrupt": (ENDED,), "fault": (7, 0)}[how]}
        assert (target.read_bytes() if target.exists() else None) in (before, b"new")
        write_file(target, b"newer", force=True)
        assert list(target.parent.iterdir()) == [target]
        assert not before or S_IMODE(target.stat().st_mode) == 0o640
    assert step >= 3
