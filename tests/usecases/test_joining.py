"""Files that join the patterns of several papers: at the same time, in their order, and none after a fault."""

from __future__ import annotations

from pathlib import Path
from threading import Barrier, Event
from types import SimpleNamespace
from typing import Any

import pytest

from tiler.errors import FailedProofError
from tiler.usecases.bundle.archive import FileRecord
from tiler.usecases.bundle.drawing import Drawn
from tiler.usecases.bundle.joining import Joining

FOLDER = Path("release")


def drawn(name: str, paper: str | None, declared: bool = True, sizes: tuple[str, ...] = ()) -> Drawn:
    return Drawn(FileRecord(name, "", 0, paper=paper, sizes=sizes), b"{}" if declared else None)


def base(join: Any, ended: Event | None = None) -> Any:
    """A base whose process only calls ``join``."""
    process = SimpleNamespace(end=(ended or Event()).set)
    return SimpleNamespace(path=Path("top.pdf"), process=process, join=join)


def test_papers_join_at_the_same_time_and_come_in_their_order() -> None:
    # each waits for the other: one after the other would never end
    both = Barrier(2, timeout=20)
    files: dict[str, Any] = {}

    def join(path: Path, _declared: Any, hidden: list[str]) -> dict[str, Any]:
        both.wait()
        files[path.name] = hidden
        return {"pages": 7}

    tasks = [drawn("a", "letter", sizes=("S",)), drawn("b", "a4"), drawn("c", "a4", declared=False), drawn("d", None)]
    with Joining({"letter": base(join), "a4": base(join)}, ["S", "M"], FOLDER) as joining:
        found = [one.record for one in joining.joined(tasks)]
    assert [(one.name, one.base, one.pages) for one in found] == [
        ("a", "top.pdf", 7),
        ("b", "top.pdf", 7),
        ("c", None, None),
        ("d", None, None),
    ]
    assert files == {"a": ["M"], "b": []}


def test_after_a_fault_nothing_is_joined_any_more() -> None:
    ended = Event()

    def refuse(*_: Any) -> Any:
        raise FailedProofError("the joined file failed its own proof")

    def join(*_: Any) -> Any:
        # as a process that is ended, which leaves whoever waits for it with a fault
        assert ended.wait(20)
        raise FailedProofError("ended")

    tasks = [drawn("a", "letter"), drawn("b", "a4"), drawn("c", "a4")]
    bases = {"letter": base(refuse), "a4": base(join, ended)}
    with pytest.raises(FailedProofError, match="its own proof"), Joining(bases, [], FOLDER) as joining:
        list(joining.joined(tasks))
    assert ended.is_set()
