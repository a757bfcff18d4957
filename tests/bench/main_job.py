"""Time the main job as whole processes: ``python tests/bench/main_job.py``.

Every ratio is the median over pairs that run in turn, A B A B, so that a machine
whose speed drifts slows both.  Nothing is asserted: timings belong to a machine,
and the numbers stand beside their targets for a person to read.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parent.parent.parent
FLOOR = Path(__file__).parent / "floor.py"
EXAMPLE = ROOT / "examples" / "saltmarsh-crew.toml"
# an installed package has its bytecode
ENVIRONMENT = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
ENVIRONMENT["PYTHONPATH"] = str(ROOT)
SMALL_RUNS, LARGE_RUNS = 7, 3
KIB = 1024 if sys.platform != "darwin" else 1
"""``ru_maxrss`` counts KiB on Linux and bytes on a Mac."""

FINISHES = ("folded-band", "double-fold-binding", "french-binding", "raw-edge-binding")


@dataclass(frozen=True)
class Run:
    """One finished process."""

    seconds: float
    peak_mb: float


def run(command: Sequence[str]) -> Run:
    """Run a command to its end; its own memory is taken from the system's account of it."""
    start = time.perf_counter()
    process = subprocess.Popen(command, stdout=subprocess.DEVNULL, env=ENVIRONMENT)
    _, status, usage = os.wait4(process.pid, 0)
    seconds = time.perf_counter() - start
    process.returncode = os.waitstatus_to_exitcode(status)
    if process.returncode:
        sys.exit(f"failed with {process.returncode}: {' '.join(command)}")
    return Run(seconds, usage.ru_maxrss * KIB / 1e6)


def in_turn(runs: int, *commands: Sequence[str]) -> list[tuple[Run, ...]]:
    """Run all commands once as a warm-up, then in turn."""
    for command in commands:
        run(command)
    return [tuple(run(command) for command in commands) for _ in range(runs)]


def compare(name: str, target: str, rounds: Sequence[tuple[Run, ...]], above: int, below: int) -> None:
    """Print the median ratio of two commands, and the median time of each."""
    ratio = median(one[above].seconds / one[below].seconds for one in rounds)
    times = [median(one[index].seconds for one in rounds) for index in (above, below)]
    line(name, f"{ratio:.2f}", target, f"{times[0]:.2f} s / {times[1]:.2f} s")


def line(name: str, value: str, target: str, times: str = "") -> None:
    print(f"{name:<36} {value:>8}   target {target:<8} {times}".rstrip(), flush=True)


def draft(spec: Path, output: Path) -> list[str]:
    return [sys.executable, "-m", "tiler", "draft", str(spec), "-o", str(output), "--force"]


def band(output: Path) -> list[str]:
    """Give the main job as options alone: the piece of the example."""
    words = (
        "--front-half=7 5/8 in", "--back-half=3 7/8 in", "--measured-on=cut-edge", "--garment-allowance=1/4 in",
        "--end-allowance=1/4 in", "--width=5/8 in", "--fabric=rib", "--stretch=60 %", "--garment-stretch=40 %",
        "--ratio=flat", "--must-pass=head, woman",
    )  # fmt: skip
    return [sys.executable, "-m", "tiler", "band", *words, "-o", str(output), "--force"]


def floor(spec: Path, output: Path) -> list[str]:
    """Draft once, and give the bare script for as many pages."""
    made = subprocess.run(
        [*draft(spec, output), "--json"],
        stdout=subprocess.PIPE,
        check=True,
        env=ENVIRONMENT,
    )
    pages = json.loads(made.stdout)["pages"]
    print(f"# {output.name}: {pages} pages, {output.stat().st_size / 1024:.0f} KiB", flush=True)
    return [sys.executable, str(FLOOR), str(output), str(pages)]


def piece(number: int) -> str:
    """Give one piece of a mixed lot, the same for the same number."""
    finish = FINISHES[number % 4]
    band = finish == "folded-band"
    cover = 'cover = "3 mm"' if finish in ("double-fold-binding", "french-binding") else ""
    width = 12 + number % 9 if band else 6 + number % 5
    edge = 300 + number * 37 % 350
    return f"""
[[pieces]]
name = "Strip {number + 1}"
finish = "{finish}"
finished-width = "{width} mm"
{cover}
cut = "{"full-loop" if number % 3 == 0 else "on-fold"}"
fabric = "rib"
ratio = "flat"
edge = {{ kind = "neckline", front-half = "{0.31 * edge:.1f} mm", back-half = "{0.19 * edge:.1f} mm" }}
"""


def lot(folder: Path, count: int) -> Path:
    spec = folder / f"lot-{count}.toml"
    head = 'title = "Saltmarsh lot"\nunits = "cm"\n\n[fabrics.rib]\nstretch = "100 %"\n'
    spec.write_text(head + "".join(piece(number) for number in range(count)), encoding="utf-8")
    return spec


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        one = folder / "one.pdf"
        bare = floor(EXAMPLE, one)
        rounds = in_turn(SMALL_RUNS, draft(EXAMPLE, one), bare, band(folder / "band.pdf"))
        compare("draft of one piece / bare script", "1.5", rounds, 0, 1)
        compare("tiler band / bare script", "1.5", rounds, 2, 1)
        show_help = [sys.executable, "-m", "tiler", "--help"]
        only_click = [sys.executable, "-c", "import click"]
        compare("tiler --help / import click", "2", in_turn(SMALL_RUNS, show_help, only_click), 0, 1)
        few, many = lot(folder, 24), lot(folder, 240)
        few_pdf, many_pdf = folder / "24.pdf", folder / "240.pdf"
        bare = floor(many, many_pdf)
        rounds = in_turn(LARGE_RUNS, draft(many, many_pdf), bare, draft(few, few_pdf))
        compare("draft of 240 pieces / bare script", "1.6", rounds, 0, 1)
        compare("draft of 240 pieces / of 24 pieces", "12", rounds, 0, 2)
        line("peak memory, 240 pieces", f"{max(one[0].peak_mb for one in rounds):.0f} MB", "200 MB")


if __name__ == "__main__":
    main()
