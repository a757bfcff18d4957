"""Time the page in the browser as a process of its own: ``python tests/bench/browser.py``.

It asks as a window does, over one connection.  The first page is what the opening address
leads to, measured from when the command prints it; a live answer is what follows a change
of the form.  Memory is that of the server alone (Linux), after 100 drafts and after as many
again.
"""

from __future__ import annotations

import argparse
import os
import statistics
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path
from time import perf_counter
from urllib.parse import urlencode, urlsplit

TILER = [sys.executable, "-m", "tiler"]
CREW = {"front-half": "7 1/4 in", "back-half": "3 3/4 in", "width": "1/2 in", "stretch": "50 %"}
STARTS, CHANGES, FILES, DRAFTS = 5, 200, 5, 200
FIRST_MS, LIVE_MS, FILES_MS, MOST_MB, GROWTH_MB = 300, 150, 1000, 250, 5


class Window:
    """One connection that has come by the opening address; the process is ended with it."""

    def __init__(self, page: subprocess.Popen[str]) -> None:
        assert page.stdout
        opening = urlsplit(page.stdout.readline().strip())
        began = perf_counter()
        self.line = HTTPConnection(opening.hostname or "", opening.port, timeout=120)
        self.headers = {"Origin": f"http://{opening.netloc}"}
        self.line.request("GET", f"{opening.path}?{opening.query}")
        led = self.line.getresponse()
        led.read()
        self.took = 1000 * (perf_counter() - began)
        self.headers["Cookie"] = led.headers["Set-Cookie"].split(";")[0]
        self.pid = page.pid

    def ask(self, path: str, form: dict[str, str] | None = None) -> tuple[float, str, str]:
        """Return how long an answer took, ms, what it is and where it leads."""
        began = perf_counter()
        body = urlencode(form) if form else None
        typed = {"Content-Type": "application/x-www-form-urlencoded"} if form else {}
        self.line.request("POST" if form else "GET", path, body, {**self.headers, **typed})
        answer = self.line.getresponse()
        text = answer.read().decode(errors="replace")
        if answer.status not in (200, 303):
            raise SystemExit(f"{path}: {answer.status} {text}")
        return 1000 * (perf_counter() - began), text, answer.headers.get("Location", "")

    @property
    def memory_mb(self) -> float:
        """What the server holds, MB."""
        pages = int(Path(f"/proc/{self.pid}/statm").read_text(encoding="ascii").split()[1])
        return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


@contextmanager
def window() -> Iterator[Window]:
    """Start the page, and end it."""
    with tempfile.TemporaryDirectory() as folder:
        environment = os.environ | {"TILER_PRINTERS": folder}
        command = [*TILER, "browser", "--no-open", "--keep"]
        with subprocess.Popen(
            command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True
        ) as page:
            try:
                yield Window(page)
            finally:
                page.terminate()


def first_page() -> tuple[float, float]:
    """Time the address from the start of the process, and the first page from the address, ms."""
    began = perf_counter()
    with window() as opened:
        told = 1000 * (perf_counter() - began)
        return told, opened.took + opened.ask("/strip")[0]


def changes(opened: Window, count: int) -> list[float]:
    """Time answers to a form that changes every time, ms."""
    took = []
    for number in range(count):
        answers = {**CREW, "front-half": f"{6 + number / 64:.4f} in", "width": f"{0.4 + number % 16 / 32:.4f} in"}
        ms, text, _ = opened.ask(f"/strip/figures?{urlencode(answers)}")
        assert "svg+xml" in text
        took.append(ms)
    return took


def verdict(what: str, value: float, most: float, unit: str) -> bool:
    """Print a measure beside its target."""
    print(f"{what:<46}{value:8.0f} {unit}   (target {most:g} {unit}){'' if value <= most else '   MISSED'}", flush=True)
    return value <= most


def main() -> int:
    """Measure everything, and leave with 1 when a target is missed."""
    asked = argparse.ArgumentParser(description="Time the page in the browser.")
    asked.add_argument("--drafts", type=int, default=DRAFTS, help="drafts before memory is read for the last time")
    drafts = asked.parse_args().drafts
    starts, firsts = zip(*(first_page() for _ in range(STARTS)), strict=True)
    print(f"{'start-up of the command':<46}{statistics.median(starts):8.0f} ms")
    held = [verdict("first page after it", statistics.median(firsts), FIRST_MS, "ms")]
    with window() as opened:
        changes(opened, 3)
        live = sorted(changes(opened, CHANGES))
        held.append(verdict(f"live answer, 95th of 100 ({CHANGES} changes)", live[int(0.95 * CHANGES)], LIVE_MS, "ms"))
        print(f"{'  the median of them':<46}{statistics.median(live):8.0f} ms")
        opened.ask("/strip/files", CREW)
        made = min(opened.ask("/strip/files", CREW)[0] for _ in range(FILES))
        held.append(verdict("files of one strip, proved and pictured", made, FILES_MS, "ms"))
        for _ in range(drafts // 2):
            opened.ask("/strip/files", CREW)
        half = opened.memory_mb
        for _ in range(drafts - drafts // 2):
            opened.ask("/strip/files", CREW)
        held.append(verdict(f"memory after {drafts} drafts", opened.memory_mb, MOST_MB, "MB"))
        held.append(verdict("  more than after half of them", opened.memory_mb - half, GROWTH_MB, "MB"))
    return 0 if all(held) else 1


if __name__ == "__main__":
    sys.exit(main())
