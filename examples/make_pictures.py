"""Draft every example and make the pictures of README and guide: ``python examples/make_pictures.py FOLDER``.

The PDFs, and a picture of each of their pages, go to FOLDER; the few that the
pages show are reduced and go to ``examples/pictures``.
"""

from __future__ import annotations

import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pypdfium2 as pdfium
from draw_guide import drawings
from PIL import Image, ImageChops, ImageDraw

from tiler.draft.strip.finish import Finish
from tiler.sheets.canvas import Canvas
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.section_drawing import SCALE, draw_section

EXAMPLES = Path(__file__).parent
PICTURES = EXAMPLES / "pictures"
WIDEST = 1000
"""Pixels across: enough to read the type in the README, and small to keep."""

SECTION = (160.0, 60.0)
"""Room for one finish in section, mm."""

LONGEST, WHITE = 460, 8
"""How much of a section is shown, and the white round it, pixels."""

CARD = (85.60, 53.98, 3.18)
"""A bank card: its sides, and the radius of its corners (ISO/IEC 7810, ID-1), mm."""

CARD_AT = (45.0, 178.0)
"""Where it lies on the first page, mm from its left and its upper edge."""

SHOWN = {
    "crew-first-page.png": "saltmarsh-crew/page-01.png",
    "crew-page-a1.png": "saltmarsh-crew/page-02.png",
    "bindings-assembled.png": "saltmarsh-bindings/assembled.png",
    "child-assembled.png": "saltmarsh-child/assembled.png",
    "scoop-assembled.png": "saltmarsh-scoop/assembled.png",
    "vee-assembled.png": "saltmarsh-vee/assembled.png",
    "sizes-page.png": "saltmarsh-sizes/page-02.png",
    "chart.png": "chart/page-01.png",
    "instructions.png": "instructions/page-02.png",
    "report.png": "report/page-01.png",
    "curves.png": "curves.png",
    "readings.png": "readings/page-01.png",
    "scan.png": "scan.png",
}
"""The pictures of README and guide, and what they are made from."""


def tiler(*arguments: str | Path) -> None:
    """Run a command of this tiler."""
    subprocess.run([sys.executable, "-m", "tiler", *map(str, arguments)], check=True)


def pages_to_read(folder: Path) -> None:
    """Write chart, instructions, a tester's report and the chart of a test round, and make pictures of them."""
    sizes, crew = EXAMPLES / "saltmarsh-sizes.toml", folder / "saltmarsh-crew.pdf"
    tiler("chart", sizes, "-o", folder / "chart.pdf", "--force")
    tiler("instructions", EXAMPLES / "saltmarsh-crew.toml", "-o", folder / "instructions.pdf", "--force")
    tiler("verify", crew, "--report", folder / "report.pdf", "--force")
    tiler("readings", EXAMPLES / "saltmarsh-readings.csv", "--chart", folder / "readings.pdf", "--force")
    tiler("edge", EXAMPLES / "saltmarsh-necks.svg", "--picture", folder / "curves.png", "--force")
    for name in ("chart", "instructions", "report", "readings"):
        tiler("preview", folder / f"{name}.pdf", "-o", folder / name, "--force")


def finishes(folder: Path) -> None:
    """Draw each finish in section, as it looks when it is sewn."""
    canvas = Canvas()
    for finish in Finish:
        sewn = sections(finish, False)[-1]
        canvas.begin_page(*SECTION)
        draw_section(canvas, replace(sewn, needle=None, labels=()), (SECTION[0] / 2, SECTION[1] / 2))
        canvas.end_page()
    pages = pdfium.PdfDocument(canvas.finish().getvalue())
    for finish, page in zip(Finish, pages, strict=True):
        picture = page.render(scale=4 / SCALE, grayscale=True).to_pil()
        box = ImageChops.invert(picture).getbbox()
        assert box
        # the garment goes on to the left
        picture = picture.crop((box[2] - LONGEST, box[1] - WHITE, box[2] + WHITE, box[3] + WHITE))
        picture.save(folder / f"{finish}.png")
        reduce(folder / f"{finish}.png", PICTURES / f"{finish}.png")


def explained(folder: Path) -> None:
    """Draw how to measure, how to hold a ruler, and how to tape."""
    canvas = Canvas()
    for _, draw in drawings():
        draw(canvas)
    for (name, _), page in zip(drawings(), pdfium.PdfDocument(canvas.finish().getvalue()), strict=True):
        page.render(scale=WIDEST / page.get_width(), grayscale=True).to_pil().save(folder / name)
        reduce(folder / name, PICTURES / name)


def scan(page: Path, target: Path) -> None:
    """Show a first page as a scanner does: a little turned, on grey paper, with a card on its empty part."""
    with Image.open(page) as picture:
        paper = picture.convert("L")
    paper.thumbnail((WIDEST, 10 * WIDEST), Image.Resampling.LANCZOS)
    wide = paper.width
    mm = wide / (8.5 * 25.4)
    left, upper = CARD_AT[0] * mm, CARD_AT[1] * mm
    corners = (left, upper, left + CARD[0] * mm, upper + CARD[1] * mm)
    pen = ImageDraw.Draw(paper)
    pen.rounded_rectangle([side + 1.5 for side in corners], CARD[2] * mm, fill=150)
    pen.rounded_rectangle(corners, CARD[2] * mm, fill=70)
    pen.rectangle((left, upper + 9 * mm, corners[2], upper + 20 * mm), fill=40)
    turned = paper.rotate(-1.3, Image.Resampling.BICUBIC, fillcolor=255)
    turned.point([30 + grey * 205 // 255 for grey in range(256)]).save(target)


def reduce(source: Path, target: Path) -> None:
    """Save a picture smaller and in sixteen greys."""
    with Image.open(source) as picture:
        grey = picture.convert("L")
        grey.thumbnail((WIDEST, 10 * WIDEST), Image.Resampling.LANCZOS)
        grey.quantize(16).save(target, optimize=True)


def main(folder: Path) -> None:
    """Draft, preview and reduce."""
    folder.mkdir(parents=True, exist_ok=True)
    PICTURES.mkdir(exist_ok=True)
    for spec in sorted(EXAMPLES.glob("*.toml")):
        pdf = folder / f"{spec.stem}.pdf"
        # on one sheet of its own there would be no page of pieces to show
        ways = ("--arrange", "grid") if spec.stem == "saltmarsh-crew" else ()
        tiler("draft", spec, "-o", pdf, "--force", *ways)
        tiler("preview", pdf, "-o", folder / spec.stem, "--force")
    pages_to_read(folder)
    finishes(folder)
    explained(folder)
    scan(folder / "saltmarsh-crew" / "page-01.png", folder / "scan.png")
    for name, source in SHOWN.items():
        reduce(folder / source, PICTURES / name)
        print(PICTURES / name)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit("usage: python examples/make_pictures.py FOLDER")
    main(Path(sys.argv[1]))
