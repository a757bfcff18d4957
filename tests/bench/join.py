"""What joining costs beside a plain clone: ``python tests/bench/join.py``.

The base has 300 pages with content, links, an outline, layers and labels.  A plain
clone reads it with pypdf, clones it whole and writes it; joining may add one second.
Both run in turn in this process, after one warm-up each.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))

import pikepdf  # noqa: E402
from pypdf import PdfReader, PdfWriter  # noqa: E402
from reportlab.pdfgen.canvas import Canvas  # noqa: E402

from tests.catalog import bases  # noqa: E402
from tests.sheets.jobs import EXAMPLES, drawn  # noqa: E402
from tiler.catalog.base.join import joinable  # noqa: E402
from tiler.proof import prove  # noqa: E402

PAGES, RUNS = 300, 5

# pypdf's clone follows the links from page to page by recursion.
sys.setrecursionlimit(50_000)


def base() -> bytes:
    """Draw 300 pages of a pattern: lines and words on each, a link and an outline entry, all kept raw."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=bases.LETTER, invariant=1)
    for number in range(1, PAGES + 1):
        canvas.bookmarkPage(f"sheet{number}")
        canvas.addOutlineEntry(f"Sheet {number}", f"sheet{number}")
        canvas.linkAbsolute("next", f"sheet{number % PAGES + 1}", (72, 690, 200, 715))
        canvas.drawString(72, 700, f"Heron dress, sheet {number}")
        for step in range(200):
            canvas.line(50 + step, 60 + step * 3 % 500, 550 - step, 700 - step * 7 % 500)
        canvas.showPage()
    canvas.save()
    return bases.edited(out.getvalue(), bases.labelled, bases.layered, bases.furnished)


def clone(data: bytes) -> bytes:
    out = BytesIO()
    PdfWriter(clone_from=PdfReader(BytesIO(data))).write(out)
    return out.getvalue()


def in_turn(runs: int, *actions: Callable[[], object]) -> list[tuple[float, ...]]:
    for action in actions:
        action()
    rounds = []
    for _ in range(runs):
        times = []
        for action in actions:
            start = time.perf_counter()
            action()
            times.append(time.perf_counter() - start)
        rounds.append(tuple(times))
    return rounds


def main() -> None:
    with TemporaryDirectory() as folder:
        ours = drawn(EXAMPLES / "saltmarsh-bindings.toml", Path(folder))
    for name, data in (
        ("plain objects", base()),
        ("object streams", bases.edited(base(), object_stream_mode=pikepdf.ObjectStreamMode.generate)),
    ):
        print(f"# base of {PAGES} pages, {len(data) / 1024:.0f} KiB, {name}", flush=True)
        rounds = in_turn(
            RUNS,
            lambda data=data: clone(data),
            lambda data=data: joinable(data, 100),
            lambda data=data: bases.joined(data, ours, 100),
        )
        cloned, surveyed, joined = (median(times[place] for times in rounds) for place in range(3))
        added = median(times[2] - times[0] for times in rounds)
        print(f"{'joining beyond a plain clone':<36} {added:>6.2f} s   target 1 s   {joined:.2f} s / {cloned:.2f} s")
        print(f"{'survey and forecast alone':<36} {surveyed:>6.2f} s")
        start = time.perf_counter()
        report = prove(bases.joined(data, ours, 100))
        print(f"{'joining and its proof':<36} {time.perf_counter() - start:>6.2f} s   {report.verdict}")


if __name__ == "__main__":
    main()
