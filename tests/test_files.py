"""A file that cannot be read is refused with one sentence, the same for every kind of file."""

from __future__ import annotations

import os
from collections.abc import Callable
from io import SEEK_END
from pathlib import Path
from socket import AF_UNIX, socket

import pytest

from tiler.draft.spec.toml import read_toml
from tiler.errors import SpecError, TilerError, UnreadableError
from tiler.files import open_file, read_file
from tiler.reading.drawing import is_pdf, svg_curves
from tiler.reading.pdf.document import Document
from tiler.usecases.rounds.table import read_table

READERS: dict[str, Callable[[Path], object]] = {
    "spec": lambda path: read_toml(path, 1000, "spec"),
    "drawing": is_pdf,
    "SVG": svg_curves,
    "PDF": Document,
    "table": read_table,
}


@pytest.mark.parametrize("read", READERS.values(), ids=READERS)
def test_a_missing_file_and_a_folder_are_said_alike_for_all_that_is_read(
    read: Callable[[Path], object], tmp_path: Path
) -> None:
    with pytest.raises(TilerError) as missing:
        read(tmp_path / "none")
    assert str(missing.value) == f"{tmp_path / 'none'}: there is no such file; check the name and the folder"
    with pytest.raises(TilerError, match=r": is a folder; name the [\w ]+ itself$"):
        read(tmp_path)


@pytest.mark.parametrize("read", [open_file, read_file])
def test_what_the_system_refuses_is_said_in_its_words(
    read: Callable[[Path, str, type[TilerError]], object], tmp_path: Path
) -> None:
    with pytest.raises(UnreadableError, match=r"x+: cannot be read: File name too long$"):
        read(tmp_path / ("x" * 300), "PDF")  # type: ignore[call-arg]
    with pytest.raises(UnreadableError, match=r"cannot be read: embedded null byte$"):
        read(tmp_path / "a\0b", "PDF")  # type: ignore[call-arg]


def test_a_file_may_be_as_large_as_it_may_and_no_larger(tmp_path: Path) -> None:
    path = tmp_path / "a.toml"
    path.write_bytes(b"#" * 100_000)
    assert read_file(path, "spec", 100_000) == path.read_bytes()
    path.write_bytes(b"#" * 100_001)
    with pytest.raises(SpecError, match=r"a\.toml: is larger than 0\.1 MB and therefore not a spec; check the name"):
        read_file(path, "spec", 100_000, SpecError)
    assert len(read_file(path, "drawing")) == 100_001


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
@pytest.mark.parametrize("read", READERS.values(), ids=READERS)
def test_no_pipe_is_waited_for_and_no_device_read_to_its_end(read: Callable[[Path], object], tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    listener = socket(AF_UNIX)
    listener.bind(str(tmp_path / "socket"))
    for path in (tmp_path / "pipe", Path("/dev/zero"), tmp_path / "socket"):
        with pytest.raises(TilerError, match=r": is not an ordinary file; name the [\w ]+ itself$"):
            read(path)
    listener.close()


@pytest.mark.parametrize("read", READERS.values(), ids=READERS)
def test_a_giant_without_content_is_refused_by_its_size(read: Callable[[Path], object], tmp_path: Path) -> None:
    with (tmp_path / "giant").open("wb") as file:
        file.truncate(2**40)
    with pytest.raises(
        TilerError, match=r"giant: is larger than [\d.]+ MB and therefore not a [\w ]+; check the name$"
    ):
        read(tmp_path / "giant")


def test_a_file_that_grows_is_read_as_it_was_when_it_was_opened(tmp_path: Path) -> None:
    path = tmp_path / "growing.pdf"
    path.write_bytes(b"0123456789")
    with open_file(path, "PDF", 20) as file:
        assert file.read(4) == b"0123"
        with path.open("ab") as more:
            more.write(b"x" * 10_000)
        assert file.read() == b"456789"
        assert file.seek(0, SEEK_END) == 10
        assert file.seek(-3, SEEK_END) == 7
        assert file.read(10_000) == b"789"
        assert file.read() == b""
