"""A draft that is asked to end tidies up and leaves nothing behind."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path
from time import sleep

import pytest

ROOT = Path(__file__).parent.parent.parent
MANY = (ROOT / "examples" / "saltmarsh-crew.toml").read_text()


@pytest.mark.skipif(os.name == "nt", reason="Windows ends processes without asking them")
@pytest.mark.parametrize("end", [signal.SIGTERM, signal.SIGINT])
def test_a_request_to_end_leaves_no_half_written_file(tmp_path: Path, end: signal.Signals) -> None:
    start = MANY.index("[[pieces]]")
    pieces = (MANY[start:].replace('name = "Neckband"', f'name = "Neckband {number}"') for number in range(8))
    (tmp_path / "many.toml").write_text(MANY[:start] + "".join(pieces))
    run = [sys.executable, "-m", "tiler", "draft", "many.toml", "-o", "out.pdf"]
    environment = os.environ | {"PYTHONPATH": str(ROOT)}
    with subprocess.Popen(
        run, cwd=tmp_path, env=environment, stderr=subprocess.PIPE, stdout=subprocess.PIPE
    ) as process:
        while not list(tmp_path.glob(".out.pdf.*.part")) and process.poll() is None:
            sleep(0.01)
        process.send_signal(end)
        _, said = process.communicate(timeout=60)
    assert process.returncode == 130
    assert b"interrupted" in said
    assert [path.name for path in tmp_path.iterdir()] == ["many.toml"]
