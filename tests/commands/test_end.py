"""A draft that is asked to end tidies up and leaves nothing behind."""

from __future__ import annotations

import os
import signal
import subprocess
from pathlib import Path
from time import sleep

import pytest

from tests.chosen import long
from tests.forked import command

ROOT = Path(__file__).parent.parent.parent
MANY = (ROOT / "examples" / "saltmarsh-crew.toml").read_text()


@long
@pytest.mark.skipif(not hasattr(os, "fork"), reason="no process can be forked here")
@pytest.mark.parametrize("end", [signal.SIGTERM, signal.SIGINT])
def test_a_request_to_end_leaves_no_half_written_file(tmp_path: Path, end: signal.Signals) -> None:
    start = MANY.index("[[pieces]]")
    pieces = (MANY[start:].replace('name = "Neckband"', f'name = "Neckband {number}"') for number in range(8))
    (tmp_path / "many.toml").write_text(MANY[:start] + "".join(pieces))
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    with command("draft", "many.toml", "-o", "out.pdf", cwd=tmp_path, **pipes) as process:
        while not list(tmp_path.glob(".out.pdf.*.part")) and process.poll() is None:
            sleep(0.01)
        process.send_signal(end)
        _, said = process.communicate(timeout=60)
    assert process.returncode == 130
    assert b"interrupted" in said
    assert [path.name for path in tmp_path.iterdir()] == ["many.toml"]
