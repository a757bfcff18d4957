"""Long work: how far it is, its result, its faults, and that a stop leaves nothing running."""

from __future__ import annotations

import os
import re
import threading
from collections.abc import Iterator
from contextlib import ExitStack
from io import BytesIO
from pathlib import Path
from time import monotonic, sleep

import pytest

from tests.browser.conftest import Window
from tests.chosen import long
from tiler.browser.pictures import strip
from tiler.browser.progress.pages import PATIENCE, WORKS, long_work
from tiler.browser.progress.work import MOST_AT_ONCE, MOST_KNOWN, Works, current
from tiler.errors import SpecError
from tiler.reading.limits import MOST_MEMORY
from tiler.sheets.document import Document
from tiler.usecases.processes import apart
from tiler.usecases.processes.apart import Apart


@pytest.fixture
def slow(window: Window) -> Iterator[Window]:
    """Give a window whose requests wait for no work."""
    config = window.client.application.config
    config[PATIENCE] = 0.0
    yield window
    config[WORKS].stop(20)
    assert all(work.done.is_set() for work in config[WORKS]._known.values())


def until(window: Window, path: str, status: int = 303) -> str:
    """Look at a work until it leads somewhere, or says what is in its way."""
    ends = monotonic() + 60
    while monotonic() < ends:
        answer = window.get(path)
        if answer.status_code == status:
            return answer.location or answer.text
        assert "At work" in answer.text
        sleep(0.02)
    raise AssertionError("the work does not end")


@long
@pytest.mark.usefixtures("forked")
def test_a_work_shows_how_far_it_is_and_leads_to_its_result(slow: Window, one_band: Document) -> None:
    led = slow.post("/check", {"pdf": (BytesIO(one_band.data), "piece.pdf")})
    assert led.status_code == 303
    assert led.location.startswith("/work/")
    assert slow.get(f"{led.location}/far").json.keys() == {"told", "step", "steps", "done"}
    assert "True to scale" in slow.get(until(slow, led.location)).text
    far = slow.get(f"{led.location}/far").json
    assert (far["done"], far["step"], far["steps"]) == (True, 3, 3)


@pytest.mark.usefixtures("forked")
def test_what_is_in_the_way_of_a_work_is_told_on_its_page(slow: Window, work: Path) -> None:
    led = slow.post("/check", {"pdf": (BytesIO(b"%PDF-1.7"), "plans.pdf")})
    page = until(slow, led.location, 400)
    if page.startswith("/"):
        page = slow.get(page).text
    assert "plans.pdf" in page
    assert str(work) not in page


def began(window: Window, started: threading.Event) -> str:
    """Begin a work that reads for ever, from within a request."""
    app = window.client.application

    def for_ever() -> str:
        with Apart("tests.browser.for_ever", MOST_MEMORY) as process:
            started.set()
            process.ask(Path("x"), {}, 600)
        return "/"

    with app.test_request_context():
        return long_work(for_ever, "/check").location


def test_a_stop_ends_the_process_at_once_and_leads_back(slow: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PYTHONPATH", str(Path(__file__).parents[2]))
    pids: list[int] = []
    entered = Apart.__enter__

    def noted(self: Apart) -> Apart:
        made = entered(self)
        pids.append(made.pid)
        return made

    monkeypatch.setattr(apart.Apart, "__enter__", noted)
    started = threading.Event()
    path = began(slow, started)
    assert started.wait(20)
    page = slow.get(path)
    assert 'http-equiv="refresh"' in page.text
    assert f'action="{path}/stop"' in page.text
    assert slow.post(f"{path}/stop").location == "/check"
    assert until(slow, path) == "/check"
    with pytest.raises(ProcessLookupError):
        os.kill(pids[0], 0)


def test_what_draws_here_ends_with_its_page_and_a_work_that_waits_never_begins(slow: Window) -> None:
    works = Works()
    held, done = threading.Event(), []

    def pages() -> str:
        held.wait(20)
        current("Drawing")(3, 9)
        done.append("drawn")
        return "/"

    running = [works.begin(pages, "/back")[1] for _ in range(MOST_AT_ONCE)]
    _, waits = works.begin(lambda: done.append("begun") or "/", "/back")
    assert waits.told.startswith("Waiting")
    works.stop(0)
    held.set()
    for work in (*running, waits):
        assert work.done.wait(20)
        assert work.leads_to is None
    assert done == []
    # what is no work is not stopped
    current("Drawing")(3, 9)


def test_what_a_quick_work_raises_is_raised_in_its_request_and_what_it_held_is_let_go_of(window: Window) -> None:
    def wrong() -> str:
        raise SpecError("no")

    ended: list[str] = []
    with ExitStack() as stack, window.client.application.test_request_context():
        stack.callback(ended.append, "let go of")
        with pytest.raises(SpecError, match="no"):
            long_work(wrong, "/check", stack.pop_all())
    assert ended == ["let go of"]


def test_answers_go_on_without_a_picture_while_files_are_made(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(strip, "PATIENCE", 0.01)
    answers = {"front-half": "7 1/4 in", "back-half": "3 3/4 in", "width": "1/2 in"}
    with strip.DRAWING:
        beside = window.get("/strip/figures", query_string=answers).text
    assert "long from the fold" in beside
    assert "svg+xml" not in beside
    assert "Files are being made" in beside
    beside = window.get("/strip/figures", query_string=answers).text
    assert "svg+xml" in beside
    assert "Files are being made" not in beside


def test_works_are_not_remembered_for_ever() -> None:
    works = Works()
    for _ in range(MOST_KNOWN + 3):
        key, work = works.begin(lambda: "/", "/")
        assert work.done.wait(20)
    assert len(works._known) <= MOST_KNOWN + 1
    assert works.get(key) is work


def test_a_work_that_is_not_known_is_a_sentence(window: Window) -> None:
    for path in ("/work/x", "/work/x/far"):
        assert window.get(path).status_code == 404
    assert re.search("no longer known", window.post("/work/x/stop").text)
