"""The server as a process of its own: where it listens, how it is reached, and that it ends with nothing left."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
from http.client import HTTPConnection
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from tests.chosen import long
from tiler.browser import serving
from tiler.browser.serving import listening, serve
from tiler.commands import run
from tiler.errors import SpecError


def asked(address: str, path: str, **headers: str) -> tuple[int, str, str]:
    where = urlsplit(address)
    line = HTTPConnection(where.hostname or "", where.port, timeout=10)
    try:
        line.request("GET", path, headers=headers)
        answer = line.getresponse()
        return answer.status, answer.headers.get("Set-Cookie", ""), answer.read().decode()
    finally:
        line.close()


@long
@pytest.mark.skipif(os.name != "posix", reason="another system ends processes by other means")
def test_it_answers_on_this_computer_alone_and_an_interrupt_ends_it(tmp_path: Path) -> None:
    environment = os.environ | {"TMPDIR": str(tmp_path), "TILER_PRINTERS": str(tmp_path / "printers")}
    command = [sys.executable, "-m", "tiler", "browser", "--no-open"]
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as page:
        assert page.stdout
        address = page.stdout.readline().strip()
        where = urlsplit(address)
        assert where.hostname == "127.0.0.1"
        assert len(list(tmp_path.iterdir())) == 1
        assert asked(address, "/strip")[0] == 403
        status, cookie, _ = asked(address, f"{where.path}?{where.query}")
        assert status == 303
        assert "Make a strip" in asked(address, "/strip", Cookie=cookie.split(";")[0])[2]
        assert asked(address, "/static/page.css", Cookie=cookie.split(";")[0])[0] == 200
        # a name that leads to all of this computer's addresses does not reach it
        with socket.socket() as other, pytest.raises(OSError):  # noqa: PT011 (which one is the system's)
            other.connect(("127.0.0.2", where.port or 0))
        page.send_signal(signal.SIGINT)
        out, err = page.communicate(timeout=20)
    assert page.returncode == 0
    assert out == ""
    assert err.split("\n")[0] == "Ctrl-C ends the page."
    assert "Traceback" not in err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("keep", "over", "parents", "looks"),
    [
        pytest.param(False, [False, False, True], [7] * 9, 3, id="the last window is closed"),
        pytest.param(True, [True] * 9, [7, 7, 7, 7, 1], 4, id="kept until the process that started it ends"),
        pytest.param(False, [False] * 9, [7, 7, 1], 2, id="the process that started it ends"),
    ],
)
def test_it_ends_when(
    keep: bool,
    over: list[bool],
    parents: list[int],
    looks: int,
    monkeypatch: pytest.MonkeyPatch,
    tmp_path: Path,
) -> None:
    told, naps = iter(over), []
    ids = iter(parents)
    monkeypatch.setattr(serving.Presence, "over", property(lambda _: next(told)))
    monkeypatch.setattr(serving.os, "getppid", lambda: next(ids))
    monkeypatch.setattr(serving, "sleep", naps.append)
    opened: list[str] = []
    serve(None, keep, tmp_path, opened.append)
    assert len(naps) == looks - 1
    where = urlsplit(opened[0])
    with socket.socket() as gone, pytest.raises(OSError):  # noqa: PT011 (which one is the system's)
        gone.connect((where.hostname, where.port or 0))


def test_a_port_that_is_taken_is_one_sentence(capsys: pytest.CaptureFixture[str]) -> None:
    with listening(None) as taken:
        port = taken.getsockname()[1]
        assert run(["browser", "--no-open", "--port", str(port)]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err == f"tiler: --port: {port} is in use by another program; take another number, or leave it out\n"


def test_a_number_that_is_no_port_is_one_sentence() -> None:
    with pytest.raises(SpecError, match="70000 is no port"):
        listening(70000)
