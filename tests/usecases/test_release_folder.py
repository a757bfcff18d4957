"""A release takes the place of an earlier one, whole, at every step at which it may be ended, and of nothing else."""

from __future__ import annotations

import os
import signal
import sys
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from stat import S_IMODE
from typing import Any

import pytest

from tests.chosen import each, long, over
from tests.ended import CAME_THROUGH, ENDED, ended
from tiler.commands import run
from tiler.errors import CannotWriteError
from tiler.usecases.bundle import folder as release_folder
from tiler.usecases.bundle.folder import ReleaseFolder, admitted_folder, staged
from tiler.usecases.bundle.listed import LIST, MARK, MARKED, checksums, sealed
from tiler.usecases.bundle.mend import mend
from tiler.usecases.files.exchange import exchanged
from tiler.usecases.files.held import held

OLD = {"a.pdf": b"old a", "b.pdf": b"old b", "only-old.csv": b"old"}
NEW = {"a.pdf": b"new a", "b.pdf": b"old b", "only-new.csv": b"new"}

no_windows = pytest.mark.skipif(os.name == "nt", reason="Windows has neither fork nor links for everybody")


def with_list(files: dict[str, bytes]) -> dict[str, bytes]:
    listed = [{"name": name, "sha256": sha256(data).hexdigest()} for name, data in files.items()]
    return {**files, LIST: sealed({"title": "Saltmarsh cuffs", "files": listed})}


def laid(folder: Path, files: dict[str, bytes]) -> Path:
    folder.mkdir()
    for name, data in files.items():
        (folder / name).write_bytes(data)
    return folder


def held_in(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in folder.iterdir() if path.name != MARK}


def released(out: Path, files: dict[str, bytes], force: bool = True) -> None:
    with staged(admitted_folder(out, force, ())) as new:
        try:
            for name, data in with_list(files).items():
                (new / name).write_bytes(data)
        except OSError as fault:
            raise CannotWriteError("the disk takes no more") from fault


# ------------------------------------------------------------------ what may be replaced


@no_windows
def test_what_is_missing_around_a_folder_is_named(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"")
    (tmp_path / "link").symlink_to(tmp_path / "gone" / "release")
    for wanted, words in (
        (tmp_path / "file" / "release", f"{tmp_path / 'file'} is a file and no folder; choose another"),
        (tmp_path / "gone" / "release", f"the folder {tmp_path / 'gone'} does not exist; make it first"),
        (tmp_path / "link", f"the folder {tmp_path / 'gone'} does not exist; make it first"),
    ):
        with pytest.raises(CannotWriteError) as fault:
            admitted_folder(wanted, False, ())
        assert str(fault.value).startswith(words)


@pytest.mark.parametrize(
    ("name", "data", "words"),
    [
        ("a.pdf", b"changed", r"holds a\.pdf, which was changed since it was released"),
        ("diary.txt", b"mine", r"holds diary\.txt, which is not part of a release"),
        ("other.zip", b"mine", r"holds other\.zip, which is not part of a release"),
        (LIST, b"{}", r"manifest\.json is not a list of a release as it was written"),
        (LIST, b'{"files": []}', r"manifest\.json was written by an earlier version of tiler.* move .*out away, or"),
        (LIST, b"\xff", r"manifest\.json is not a list"),
        (LIST, with_list(OLD)[LIST].replace(b"Saltmarsh", b"Sandmarsh"), r"manifest\.json is not a list"),
        (LIST, with_list({"../diary.txt": b"mine"})[LIST], r"manifest\.json is not a list"),
        ("inner", None, r"holds inner, which is not part of a release"),
        ("b.pdf", None, r"holds b\.pdf, which was changed since"),
        ("b.pdf", Path("a link"), r"holds b\.pdf, which was changed since"),
    ],
)
def test_only_what_the_list_names_with_its_checksum_is_replaced(
    tmp_path: Path, name: str, data: bytes | Path | None, words: str
) -> None:
    out = laid(tmp_path / "out", with_list(OLD))
    (tmp_path / "diary.txt").write_bytes(b"mine")
    if data is None or isinstance(data, Path):
        (out / name).unlink(missing_ok=True)
    if data is None:
        (out / name).mkdir()
    elif isinstance(data, Path):
        (tmp_path / "b.pdf").write_bytes(OLD["b.pdf"])
        (out / name).symlink_to(tmp_path / "b.pdf")
    else:
        (out / name).write_bytes(data)
    before = sorted(out.iterdir())
    with pytest.raises(CannotWriteError, match=words):
        admitted_folder(out, True, ())
    with pytest.raises(CannotWriteError, match=words), staged(ReleaseFolder(out, True, out)) as new:
        (new / "a.pdf").write_bytes(b"new a")
    assert sorted(out.iterdir()) == before
    assert not list(tmp_path.glob(".out.*"))


@over("name", ["", ".", "..", "../x", "/x", "a/b", "a\\b", "C:x", LIST, MARK, 7])
def test_a_list_names_files_in_its_folder_alone(name: object) -> None:
    assert checksums(sealed({"files": [{"name": "x", "sha256": ""}]})) == {"x": ""}
    assert checksums(sealed({"files": [{"name": name, "sha256": ""}]})) is None


def test_a_list_that_names_a_file_twice_is_none() -> None:
    assert checksums(sealed({"files": [{"name": "x", "sha256": "1"}, {"name": "x", "sha256": "2"}]})) is None


@no_windows
def test_a_read_only_file_or_folder_is_refused(tmp_path: Path) -> None:
    out = laid(tmp_path / "out", with_list(OLD))
    for path in (out / "b.pdf", out):
        path.chmod(0o555)
        with pytest.raises(CannotWriteError, match=rf"{path} is read-only"):
            admitted_folder(out, True, ())
        path.chmod(0o755)
    empty = laid(tmp_path / "empty", {})
    empty.chmod(0o555)
    with pytest.raises(CannotWriteError, match="empty is read-only; choose another name, or allow writing"):
        admitted_folder(empty, False, ())


@no_windows
@pytest.mark.parametrize("linked", [Path.symlink_to, Path.hardlink_to])
def test_an_input_in_the_folder_is_refused_under_every_name(
    tmp_path: Path, linked: Callable[[Path, Path], None]
) -> None:
    out = laid(tmp_path / "out", with_list(OLD))
    source = tmp_path / "base.pdf"
    linked(source, out / "a.pdf")
    with pytest.raises(CannotWriteError, match=rf"{source} lies in {out}, which is to be replaced"):
        admitted_folder(out, True, (source,))
    with pytest.raises(CannotWriteError, match="lies in"):
        admitted_folder(out, True, ()).spare(source)


@no_windows
@pytest.mark.parametrize("at_once", [True, False])
def test_folder_and_files_keep_their_rights(tmp_path: Path, at_once: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if not at_once:
        monkeypatch.setattr(release_folder, "exchanged", lambda *_: False)
    out = laid(tmp_path / "out", with_list(OLD))
    out.chmod(0o2750)
    (out / "a.pdf").chmod(0o640)
    usual = S_IMODE((out / LIST).stat().st_mode)
    released(out, NEW)
    assert held_in(out) == with_list(NEW)
    rights = [S_IMODE(path.stat().st_mode) for path in (out, out / "a.pdf", out / "only-new.csv")]
    assert rights == [0o2750, 0o640, usual]


@no_windows
def test_a_new_folder_has_the_rights_that_a_new_folder_has(tmp_path: Path) -> None:
    mask = os.umask(0o027)
    try:
        released(tmp_path / "out", NEW)
    finally:
        os.umask(mask)
    assert [S_IMODE(path.stat().st_mode) for path in (tmp_path / "out", tmp_path / "out" / LIST)] == [0o750, 0o640]


# ------------------------------------------------------------------ who else is there


def test_a_second_run_for_one_folder_is_refused_and_harms_nothing(tmp_path: Path) -> None:
    out = laid(tmp_path / "out", with_list(OLD))
    with staged(ReleaseFolder(out, True, out)) as first:
        with pytest.raises(CannotWriteError, match=f"another run is making {out} just now; wait"):
            released(out, NEW)
        assert mend(out) == ()
        assert first.is_dir()
        for name, data in with_list(NEW).items():
            (first / name).write_bytes(data)
    assert held_in(out) == with_list(NEW)
    assert list(tmp_path.iterdir()) == [out]


def test_a_file_that_comes_at_the_last_moment_is_kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = laid(tmp_path / "out", with_list(OLD))

    def late(*names: Any) -> bool:
        (out / "diary.txt").write_bytes(b"mine")
        monkeypatch.undo()
        return exchanged(*names)

    monkeypatch.setattr(release_folder, "exchanged", late)
    with pytest.raises(CannotWriteError, match=r"diary\.txt, which is not part"):
        released(out, NEW)
    assert held_in(out) == {**with_list(OLD), "diary.txt": b"mine"}
    assert list(tmp_path.iterdir()) == [out]


@no_windows
@pytest.mark.parametrize("first", [True, False], ids=["before anything is made", "while it is made"])
@pytest.mark.parametrize("swapped", ["out", "home"])
def test_a_link_that_is_swapped_in_is_not_followed(tmp_path: Path, swapped: str, first: bool) -> None:
    """What it leads to is a release of somebody else, which the list alone would allow to replace."""
    home = tmp_path / "home"
    home.mkdir()
    out = laid(home / "out", with_list(OLD))
    (tmp_path / "theirs").mkdir()
    theirs = laid(tmp_path / "theirs" / "out", with_list(OLD))

    place = admitted_folder(out, True, ())

    def swap() -> None:
        (out if swapped == "out" else home).rename(tmp_path / "moved")
        (out if swapped == "out" else home).symlink_to(theirs if swapped == "out" else tmp_path / "theirs")

    def release() -> None:
        if first:
            swap()
        with staged(place) as new:
            (new / "a.pdf").write_bytes(b"new a")
            if not first:
                swap()

    with pytest.raises(CannotWriteError, match=r"cannot put|was moved or replaced"):
        release()
    assert held_in(theirs) == with_list(OLD)
    assert list((tmp_path / "theirs").iterdir()) == [theirs]
    assert not list(tmp_path.rglob(".out.*"))


# ------------------------------------------------------------------ ended at any step


@long
@no_windows
@pytest.mark.parametrize(
    ("how", "before", "at_once"),
    [
        *(("kill", *way) for way in ((OLD, True), (OLD, False), (None, True))),
        *((how, *way) for how, way in each(["interrupt", "fault"], [(OLD, False), (OLD, True), (None, True)])),
    ],
    ids=lambda one: one if isinstance(one, str) else "",
)
def test_what_ends_a_run_at_any_step_leaves_a_whole_release(
    tmp_path: Path, how: str, at_once: bool, before: dict[str, bytes] | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    if not at_once:
        monkeypatch.setattr(release_folder, "exchanged", lambda *_: False)
    whole = [with_list(NEW), *([with_list(before)] if before else [])]
    step, code, found = 0, 0, []
    while code != CAME_THROUGH:
        step += 1
        home = tmp_path / str(step)
        home.mkdir()
        theirs = laid(home / ".out.0123456789.part", {"diary.txt": b"mine"})
        out = home / "out"
        if before:
            laid(out, with_list(before))
        code = ended(step, how, lambda out=out: released(out, NEW))  # type: ignore[misc]
        assert code in {CAME_THROUGH, *{"kill": (-signal.SIGKILL,), "interrupt": (ENDED,), "fault": (7, 0)}[how]}
        if before or out.exists():
            at_this_moment = held_in(out)
            if at_once:
                assert at_this_moment in whole
            for name, data in at_this_moment.items():
                assert any(data == one.get(name) for one in whole)
        said = mend(out)
        assert not out.exists() if not before and not out.exists() else held_in(out) in whole
        found += [words for one in said for words in ("put back", "in place", "removed") if words in one]
        assert not (out / MARK).exists()
        assert held_in(theirs) == {"diary.txt": b"mine"}
        assert {path.name for path in home.iterdir()} <= {theirs.name, "out"}
        released(out, NEW)
        assert held_in(out) == with_list(NEW)
        assert {path.name for path in home.iterdir()} == {theirs.name, "out"}
    assert step > 8
    if how == "kill":
        assert "removed" in found
        assert ("in place" in found) == bool(before and not at_once)


@long
@no_windows
def test_mending_that_is_killed_at_any_step_is_finished_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(release_folder, "exchanged", lambda *_: False)

    def half_moved(out: Path) -> None:
        """Lay what a kill leaves after the first file has moved."""
        laid(out, with_list(OLD | {"a.pdf": NEW["a.pdf"]}) | {LIST: with_list(OLD)[LIST]})
        rest = {name: data for name, data in with_list(NEW).items() if name != "a.pdf"}
        laid(out.parent / ".out.0123456789.part", rest | {MARK: MARKED})

    step, code = 0, 0
    while code != CAME_THROUGH:
        step += 1
        (tmp_path / str(step)).mkdir()
        out = tmp_path / str(step) / "out"
        half_moved(out)
        code = ended(step, "kill", lambda out=out: mend(out))  # type: ignore[misc]
        mend(out)
        assert held_in(out) == with_list(NEW)
        assert list(out.parent.iterdir()) == [out]
    assert step > 5


def test_what_was_half_moved_and_then_changed_by_somebody_is_left_alone(tmp_path: Path) -> None:
    out = laid(tmp_path / "out", with_list(OLD) | {"b.pdf": b"mine"})
    rest = {name: data for name, data in with_list(NEW).items() if name != "a.pdf"}
    part = laid(tmp_path / ".out.0123456789.part", rest | {MARK: MARKED})
    before = held_in(out), held_in(part)
    (words,) = mend(out)
    assert "is left as it is" in words
    assert (held_in(out), held_in(part)) == before


# ------------------------------------------------------------------ mending


def test_a_release_that_an_earlier_tiler_had_moved_aside_is_put_back(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / ".out.abcd_123.old").mkdir()
    unsealed = with_list(OLD)[LIST].replace(b"sha256", b"sha256", 1)
    laid(tmp_path / ".out.abcd_123.old" / "old", OLD | {LIST: unsealed, "cuffs.zip": b"zip"})
    (tmp_path / ".out.abcd_124.old").mkdir()
    theirs = laid(tmp_path / ".out.abcd_124.old" / "old", {"diary.txt": b"mine"})
    out = tmp_path / "out"
    assert run(["bundle", "-o", str(out), "--mend"]) == 0
    assert "put back; the earlier release lay in .out.abcd_123.old" in " ".join(capsys.readouterr().out.split())
    assert held_in(out) == OLD | {LIST: unsealed, "cuffs.zip": b"zip"}
    assert held_in(theirs) == {"diary.txt": b"mine"}
    assert run(["bundle", "-o", str(out), "--mend", "--json"]) == 0
    assert '"mended": []' in capsys.readouterr().out


def test_a_release_that_lies_whole_beside_an_empty_name_is_put_back(tmp_path: Path) -> None:
    laid(tmp_path / ".out.0123456789.part", with_list(OLD))
    (words,) = mend(tmp_path / "out")
    assert words.startswith(f"{tmp_path / 'out'}: put back")
    assert held_in(tmp_path / "out") == with_list(OLD)


def test_two_names_change_places_at_once_or_it_is_told_that_they_cannot(tmp_path: Path) -> None:
    for name in ("one", "other"):
        (tmp_path / name).mkdir()
        (tmp_path / name / name).touch()
    with held(tmp_path) as folder:
        done = exchanged(folder, "one", "other")
        assert (tmp_path / "one" / ("other" if done else "one")).exists()
        if sys.platform == "linux" and done:
            with pytest.raises(FileNotFoundError):
                exchanged(folder, "one", "missing")


def test_a_run_without_a_spec_says_what_is_missing(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["bundle", "-o", str(tmp_path / "out")]) == 2
    assert "the SPEC is missing; add it" in capsys.readouterr().err
