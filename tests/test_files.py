"""A file that cannot be read is refused with one sentence, the same for every kind of file."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

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
def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(UnreadableError, match="pipe: is not an ordinary file; name the PDF itself"):
        open_file(tmp_path / "pipe", "PDF")
