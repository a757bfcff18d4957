"""Time ``verify`` on a file of 100 pages: ``python tests/bench/verify_many.py``.

It is held against one bare pass of pdfplumber over all pages plus one rendering of
them by PDFium at 100 dpi.  Each is timed inside a process of its own once the
libraries are loaded, in turn, A B A B, in seconds of the processor, and the median of the ratios is printed with the
peak of memory.  The file is of tiler, so everything in it is judged.  Nothing is asserted.
"""

from __future__ import annotations

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from statistics import median

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))

PIECES, RUNS = 306, 3


def bare(path: str) -> None:
    from tests.bench.floor import read, render

    start = time.process_time()
    read(path)
    render(path)
    told(start)


def proved(path: str) -> None:
    from tiler.proof import prove

    start = time.process_time()
    assert prove(path).verdict == "true-to-scale"
    told(start)


def told(start: float) -> None:
    seconds = time.process_time() - start
    print(seconds, resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform == "linux" else 2**20))


def timed(what: str, path: Path) -> tuple[float, float]:
    command = [sys.executable, __file__, what, str(path)]
    seconds, peak = subprocess.run(command, capture_output=True, text=True, check=True).stdout.split()
    return float(seconds), float(peak)


def drafted(folder: Path) -> Path:
    """Draw a lot of pieces that fills about a hundred pages."""
    from tests.bench.main_job import lot
    from tests.sheets.jobs import drawn
    from tiler.declaration import printed_pages

    document = drawn(lot(folder, PIECES), folder)
    target = folder / "many.pdf"
    target.write_bytes(document.data)
    print(
        f"# {PIECES} pieces on {len(printed_pages(document.declaration.pages))} pages, {len(document.data) / 1024:.0f} KiB",
        flush=True,
    )
    return target


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        path = drafted(Path(name))
        rounds = [(timed("proved", path), timed("bare", path)) for _ in range(RUNS)]
        ratio = median(ours[0] / floor[0] for ours, floor in rounds)
        times = [median(one[index][0] for one in rounds) for index in (0, 1)]
        print(
            f"{'verify / bare reading and rendering':<40} {ratio:.2f}   target 1.6   {times[0]:.2f} s / {times[1]:.2f} s"
        )
        for label, index in (("verify", 0), ("bare reading and rendering", 1)):
            print(f"{'peak memory, ' + label:<40} {max(one[index][1] for one in rounds):.0f} MiB")


if __name__ == "__main__":
    if len(sys.argv) == 3:
        {"bare": bare, "proved": proved}[sys.argv[1]](sys.argv[2])
    else:
        os.environ["PYTHONPATH"] = str(ROOT)
        main()
