"""A base in a process apart: weighed and joined by the same one, which has one sentence for whatever becomes of it."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path
from threading import Barrier, Event
from types import SimpleNamespace
from typing import Any

import pytest
from pikepdf import Encryption

from tests.catalog import bases
from tests.chosen import long
from tests.reading.files import saved
from tests.sheets.jobs import drawn_in
from tiler.declaration import Host
from tiler.errors import EncryptedError, FailedProofError, OffScaleError, SpecError, TilerError, UnreadableError
from tiler.sheets.document import Document
from tiler.usecases.bundle import base_apart
from tiler.usecases.bundle.base_apart import BaseApart, base_process, placed, weighed_at_once, weighed_in

ENCRYPTED = bases.edited(bases.plain(), encryption=Encryption(owner="a", user="b"), deterministic_id=False)


@contextmanager
def weighed_apart(path: Path, after: int | None, accept: tuple[str, ...]) -> Iterator[BaseApart]:
    """Weigh a base in a process of its own, which ends with the block."""
    with base_process() as process:
        yield weighed_in(process, path, after, accept)


@pytest.fixture(scope="module")
def ours(one_band: Document) -> Document:
    return one_band


@long
@pytest.mark.usefixtures("forked")
def test_a_base_is_joined_by_the_process_that_weighed_it(ours: Document, tmp_path: Path) -> None:
    there = drawn_in(ours, Host(2, 4))
    path, file = saved(tmp_path, "top.pdf", bases.full()), saved(tmp_path, "ours.pdf", there.data)
    with weighed_apart(path, 2, ()) as base:
        assert base.host == Host(2, 4)
        assert (base.size, base.forecast.after, base.forecast.losses, base.doubts) == ((216, 279), 2, (), ())
        told = base.join(file, there.declaration.to_bytes())
    joined = bases.joined(bases.full(), ours, 2)
    assert file.read_bytes() == joined
    assert (told["sha256"], told["bytes"]) == (sha256(joined).hexdigest(), len(joined))
    assert (told["pages"], told["verdict"]) == (6 + len(ours.declaration.pages), "true-to-scale")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["ours.pdf", "top.pdf"]
    with pytest.raises(ProcessLookupError):
        os.kill(base.process.pid, 0)


@long
@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize("by_now", [b"another file", bases.plain()], ids=["no PDF", "another base"])
def test_a_base_that_is_another_by_now_is_not_joined(ours: Document, tmp_path: Path, by_now: bytes) -> None:
    there = drawn_in(ours, Host(2, 4))
    path, file = saved(tmp_path, "top.pdf", bases.full()), saved(tmp_path, "ours.pdf", there.data)
    with weighed_apart(path, 2, ()) as base:
        path.write_bytes(by_now)
        with pytest.raises(
            UnreadableError, match="changed after it was looked at; run again when nothing writes to it"
        ):
            base.join(file, there.declaration.to_bytes())
    assert file.read_bytes() == there.data
    assert sorted(one.name for one in tmp_path.iterdir()) == ["ours.pdf", "top.pdf"]


@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize(
    ("data", "kind", "words"),
    [
        (bases.edited(bases.plain(), bases.signed), SpecError, "top.pdf: the base is signed"),
        (bases.plain()[:300], UnreadableError, "top.pdf: the base is damaged or not a PDF"),
        (bases.plain(side=140), OffScaleError, "top.pdf: the base is off scale: the 2 in square"),
        (None, UnreadableError, "top.pdf: there is no such file"),
        (
            ENCRYPTED,
            EncryptedError,
            "top.pdf: the base is",
        ),
    ],
    ids=["signed", "damaged", "off scale", "missing", "encrypted"],
)
def test_faults_arrive_as_what_they_are(data: bytes | None, kind: type[TilerError], words: str, tmp_path: Path) -> None:
    path = tmp_path / "top.pdf"
    if data is not None:
        path.write_bytes(data)
    with pytest.raises(kind) as fault, weighed_apart(path, None, ()):
        pytest.fail("it was weighed")
    assert words in str(fault.value)
    assert str(fault.value).count("top.pdf") == 1


def test_what_stands_behind_a_base_is_a_page_or_refused(tmp_path: Path) -> None:
    path, odd = saved(tmp_path, "top.pdf", b""), saved(tmp_path, "a@b.pdf", b"")
    assert placed(path) == (path, None)
    assert placed(odd) == (odd, None)
    assert placed(tmp_path / "top.pdf@12") == (path, 12)
    with pytest.raises(
        SpecError, match=r"^--with: 'x' behind .*top\.pdf is no page; write a number, such as top\.pdf@12$"
    ):
        placed(tmp_path / "top.pdf@x")
    assert placed(tmp_path / "gone@x") == (tmp_path / "gone@x", None)


@long
@pytest.mark.usefixtures("forked")
def test_a_joined_file_that_fails_its_proof_leaves_ours_as_it_was(ours: Document, tmp_path: Path) -> None:
    """This test ensures it for pages of ours that are not what they declare: one is missing."""
    path = saved(tmp_path, "top.pdf", bases.plain())
    short = bases.edited(ours.data, lambda pdf: pdf.pages.__delitem__(1))
    file = saved(tmp_path, "ours.pdf", short)
    with weighed_apart(path, None, ()) as base, pytest.raises(FailedProofError, match="was not written"):
        base.join(file, ours.declaration.to_bytes())
    assert file.read_bytes() == short


@long
@pytest.mark.usefixtures("forked")
@pytest.mark.skipif(not hasattr(signal, "SIGKILL"), reason="no such signals here")
def test_a_process_that_is_ended_is_one_sentence(ours: Document, tmp_path: Path) -> None:
    path, file = saved(tmp_path, "top.pdf", bases.plain()), saved(tmp_path, "ours.pdf", ours.data)
    words = r"top\.pdf cannot be read: .* \(SIGKILL\); the file is damaged, or needs more memory than it may take$"
    with weighed_apart(path, None, ()) as base:
        os.kill(base.process.pid, signal.SIGKILL)
        with pytest.raises(UnreadableError, match=words):
            base.join(file, ours.declaration.to_bytes())


@long
@pytest.mark.parametrize(
    ("limit", "most", "words"),
    [
        ("MOST_SECONDS", 0.05, r"top\.pdf takes more than 0\.05 seconds to read; it was given up$"),
        pytest.param(
            "MOST_MEMORY",
            2**20,
            r"top\.pdf.* needs more memory than",
            marks=pytest.mark.skipif(not Path("/proc/self/statm").exists(), reason="no bound of memory here"),
        ),
    ],
)
def test_a_limit_is_one_sentence(
    limit: str, most: float, words: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(base_apart, limit, most)
    with (
        pytest.raises(UnreadableError, match=words),
        weighed_apart(saved(tmp_path, "top.pdf", bases.plain()), None, ()),
    ):
        pytest.fail("it was weighed")


def test_bases_are_weighed_at_once_and_the_first_fault_ends_all() -> None:
    both = Barrier(2, timeout=20)

    def weighed() -> Any:
        return both.wait()

    assert sorted(weighed_at_once([weighed, weighed], [])) == [0, 1]
    ended = Event()
    process: Any = SimpleNamespace(end=ended.set)

    def waiting() -> Any:
        assert ended.wait(20)

    def off() -> Any:
        raise OffScaleError("the base is off scale")

    with pytest.raises(OffScaleError, match="off scale"):
        weighed_at_once([off, waiting], [process])
    assert weighed_at_once([], []) == []
