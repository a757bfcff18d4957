"""Time ``tiler edge`` as a whole process: ``python tests/bench/edge.py``.

It is held against a bare pass of the same library over the same pages, in turn, and
the median of the ratios is printed beside its target.  Memory is compared between a
file of 50 pages and one of 200 with the same number of curves in all.
"""

from __future__ import annotations

import random
import sys
import tempfile
from pathlib import Path

from main_job import compare, in_turn, line
from reportlab.pdfgen.canvas import Canvas

BARE = """
import sys, pdfplumber
found = 0
with pdfplumber.open(sys.argv[1]) as pdf:
    for page in pdf.pages:
        found += sum(len(group) for group in page.objects.values())
        page.close()
print(found)
"""
RUNS = 7


def pattern(path: Path, pages: int, curves: int) -> Path:
    """Write a made-up pattern: lines, necklines, closed outlines and circles, a test square on the first page."""
    draw = random.Random(5)
    canvas = Canvas(str(path), pagesize=(612, 792))
    canvas.rect(400, 600, 144, 144)
    canvas.drawString(420, 660, "2 in test square")
    for number in range(curves - 1):
        if number % (curves // pages) == 0 and number:
            canvas.showPage()
        x, y, w, h = draw.uniform(40, 300), draw.uniform(40, 500), draw.uniform(40, 250), draw.uniform(40, 250)
        match number % 4:
            case 0:
                canvas.line(x, y, x + w, y + h)
            case 1:
                canvas.bezier(x, y, x, y + h / 2, x + 0.4 * w, y + h, x + w, y + h)
            case 2:
                canvas.circle(x, y, w / 4)
            case _:
                outline = canvas.beginPath()
                outline.moveTo(x, y)
                outline.curveTo(x, y + h / 2, x + 0.4 * w, y + h, x + w, y + h)
                outline.lineTo(x + w + 30, y + h - 10)
                outline.curveTo(x + w, y + h / 2, x + w + 20, y + 10, x + w + 60, y)
                outline.close()
                canvas.drawPath(outline)
    canvas.save()
    return path


def edge(path: Path) -> list[str]:
    return [sys.executable, "-m", "tiler", "edge", str(path), "--json"]


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        fifty = pattern(folder / "50.pdf", 50, 5000)
        rounds = in_turn(RUNS, edge(fifty), [sys.executable, "-c", BARE, str(fifty)])
        compare("edge, 50 pages of 5,000 curves", "1.5", rounds, 0, 1)
        few, many = pattern(folder / "few.pdf", 50, 2000), pattern(folder / "many.pdf", 200, 2000)
        ((small, large),) = in_turn(1, edge(few), edge(many))
        line("peak memory, 2,000 curves, 50 pages", f"{small.peak_mb:.0f} MB", "")
        line("the same, 200 pages", f"{large.peak_mb:.0f} MB", "as much")


if __name__ == "__main__":
    main()
