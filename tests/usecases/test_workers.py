"""Work shared out over processes: in order, few at a time, and nothing left running after an error or an interrupt."""

from __future__ import annotations

import multiprocessing
import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.chosen import long
from tests.usecases.tasks import ignores_interrupts, marking, refusing, times
from tiler.usecases.files import ending
from tiler.usecases.processes import workers
from tiler.usecases.processes.workers import FEW, each

TASKS = tuple(range(8))
HERE = os.getpid()


def test_few_tasks_are_done_here() -> None:
    assert list(each(times, TASKS[:FEW], (10, 1), 4)) == [(1, HERE), (11, HERE), (21, HERE)]
    assert {process for _, process in each(times, TASKS, (10, 1), 1)} == {HERE}
    assert list(each(times, (), (10, 1))) == []


@long
def test_results_come_in_the_order_of_the_tasks_from_other_processes() -> None:
    found = list(each(times, TASKS, (10, 1), 2))
    assert [result for result, _ in found] == [10 * task + 1 for task in TASKS]
    assert HERE not in {process for _, process in found}
    assert not multiprocessing.active_children()


def test_an_error_is_raised_at_its_task_and_ends_the_others() -> None:
    results = each(refusing, TASKS, (5,), 2)
    assert [next(results) for _ in range(5)] == [0, 1, 2, 3, 4]
    with pytest.raises(ValueError, match="no 5"):
        next(results)
    assert not multiprocessing.active_children()


@long
def test_closing_ends_what_is_at_work_and_what_waits(tmp_path: Path) -> None:
    results = each(marking, TASKS, (tmp_path,), 2)
    began = time.monotonic()
    assert next(results) == 0
    results.close()
    assert time.monotonic() - began < 50
    assert not multiprocessing.active_children()
    assert len(list(tmp_path.iterdir())) < len(TASKS)


def test_a_request_to_end_that_was_lost_is_asked_for_between_the_tasks(monkeypatch: pytest.MonkeyPatch) -> None:
    results = each(refusing, TASKS, (99,), 2)
    assert next(results) == 0
    monkeypatch.setattr(ending, "_asked", [signal.SIGTERM])
    with pytest.raises(KeyboardInterrupt):
        next(results)
    assert not multiprocessing.active_children()


def test_an_interrupt_of_the_terminal_is_left_to_the_one_that_asked(monkeypatch: pytest.MonkeyPatch) -> None:
    before = signal.getsignal(signal.SIGINT)
    try:
        workers._begin((Path(),))
        assert workers._do(ignores_interrupts, 1) is True
    finally:
        signal.signal(signal.SIGINT, before)
        monkeypatch.setattr(workers, "_shared", ())


WAITING = """
import time
from tiler.usecases.processes.workers import each

def wait(task):
    time.sleep(60 if task else 0)

if __name__ == "__main__":
    results = each(wait, range(8), (), 2)
    next(results)
    print("begun", flush=True)
    time.sleep(60)
"""


@pytest.mark.skipif(os.name == "nt", reason="Windows has no groups of processes")
def test_a_kill_of_the_one_that_asked_ends_the_others(tmp_path: Path) -> None:
    (tmp_path / "waiting.py").write_text(WAITING)
    root = Path(__file__).parent.parent.parent
    command = [sys.executable, str(tmp_path / "waiting.py")]
    with subprocess.Popen(
        command, env=os.environ | {"PYTHONPATH": str(root)}, stdout=subprocess.PIPE, start_new_session=True
    ) as asked:
        assert asked.stdout
        assert asked.stdout.readline() == b"begun\n"
        asked.kill()
    for _ in range(500):
        try:
            os.killpg(asked.pid, 0)
        except ProcessLookupError:
            return
        time.sleep(0.01)
    os.killpg(asked.pid, signal.SIGKILL)
    pytest.fail("they go on without the one that asked")
