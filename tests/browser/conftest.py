"""A window of the page, as Flask's client is one."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from jinja2.bccache import Bucket, BytecodeCache
from werkzeug.test import TestResponse

from tiler.browser.app import make_app
from tiler.browser.gate import Gate
from tiler.browser.presence import Presence

PORT = 8123
PATIENCE = 60.0
"""How long a request waits for its work, s: longer than any of these takes, unless a test sets it."""


class Compiled(BytecodeCache):
    """Templates that are compiled already, since each test has an app of its own and that is most of its time."""

    def __init__(self) -> None:
        self._held: dict[str, bytes] = {}

    def load_bytecode(self, bucket: Bucket) -> None:
        if bucket.key in self._held:
            bucket.bytecode_from_string(self._held[bucket.key])

    def dump_bytecode(self, bucket: Bucket) -> None:
        self._held[bucket.key] = bucket.bytecode_to_string()


COMPILED = Compiled()


class Clock:
    """Seconds that go on when they are told to."""

    def __init__(self) -> None:
        self.now = 1000.0

    def __call__(self) -> float:
        return self.now


class Window:
    """A client that has come by the opening address and says where its requests come from."""

    def __init__(self, client: FlaskClient, gate: Gate) -> None:
        self.client, self.gate = client, gate

    def get(self, path: str, **more: Any) -> TestResponse:
        return self.client.get(path, base_url=self.gate.origin, **more)

    def sent(self, path: str, data: Any = None, **more: Any) -> TestResponse:
        """Send a form, and go where its answer leads."""
        answer = self.post(path, data, **more)
        return self.get(answer.location) if answer.status_code == 303 else answer

    def post(self, path: str, data: Any = None, **more: Any) -> TestResponse:
        headers = {"Origin": self.gate.origin, **more.pop("headers", {})}
        return self.client.post(path, data=data, base_url=self.gate.origin, headers=headers, **more)


@pytest.fixture
def gate() -> Gate:
    return Gate(PORT)


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def presence(clock: Clock) -> Presence:
    return Presence(clock)


@pytest.fixture
def printer_files(tmp_path: Path) -> Path:
    return tmp_path / "printers"


@pytest.fixture
def work(tmp_path: Path) -> Path:
    (tmp_path / "work").mkdir()
    return tmp_path / "work"


@pytest.fixture
def stranger(gate: Gate, presence: Presence, printer_files: Path, work: Path) -> FlaskClient:
    """A client that knows no secret."""
    app = make_app(gate, presence, printer_files, work, PATIENCE)
    app.jinja_env.bytecode_cache = COMPILED
    return app.test_client()


@pytest.fixture
def window(stranger: FlaskClient, gate: Gate, work: Path) -> Iterator[Window]:
    found = Window(stranger, gate)
    assert found.get(gate.address.removeprefix(gate.origin)).status_code == 303
    yield found
    assert list(work.iterdir()) == []
