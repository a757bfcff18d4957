"""How well labels of squares are read in pictures: ``python tests/bench/written.py [COUNT] [--first SEED]``.

Squares with a label, with a label of two sizes, or with other words in or by them are drawn in the fonts that are
found on the machine, 7 to 20 points high, at 150 to 600 dots per inch, any way up, then worn as scans are.
Printed are for each font how many labels were read, and every false reading: a size that is not that of the label, any
size where there is none or two, or one read in the wrong way up. The script leaves with 1 when there is one.
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import dataclass
from multiprocessing import Pool
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFilter, ImageFont

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))

from tests.proof.scanned import INCH, Scanned, worn  # noqa: E402
from tiler.errors import TilerError  # noqa: E402
from tiler.proof.scan.pixels.picture import Picture  # noqa: E402
from tiler.proof.scan.proving import prove_scan  # noqa: E402
from tiler.proof.scan.source import Source  # noqa: E402

FOLDERS = ("/usr/share/fonts", *sys.path)
LEFT_OUT = ("Siz", "NonUni", "LastResort", "cmex", "cmsy", "cmmi", "Display", "Math", "hb-test")
"""Parts of names of fonts that have no letters, or those of formulas."""

SIZED = {
    50.8: ("2 in", "2 inch", '2"', "2in", "2 in × 2 in", "test square 2 in"),
    50.0: ("5 cm", "50 mm", "5cm", "5 x 5 cm", "Test 5 cm"),
    100.0: ("10 cm", "10cm", "100 mm"),
    101.6: ("4 in", '4"', "4 inches"),
    76.2: ("3 in", "3 inches"),
    25.4: ("1 in", "1 inch", '1"'),
    25.0: ("2.5 cm", "25 mm"),
}
OF_TWO = {50.8: ("2 in / 5 cm", '2" / 5 cm', "2 in (5 cm)"), 50.0: ("5 cm / 2 in",), 101.6: ("4 in / 10 cm",)}
OTHER = ("cut 2", "size 10", "12", "cut 2 in pairs", "A3", "test square", "page 2 of 5", "10", "1/2 in seam", "v2.1")
OTHERS = (*OTHER, "No. 4", "front", "S M L", "cut 1 on fold", "size 5", "5", "2")
DRAWN = 600.0

Drawn = tuple[NDArray[np.uint8], float]


def fonts() -> list[Path]:
    found = {path.name: path for folder in FOLDERS for path in Path(folder).rglob("*.ttf") if folder}
    return [found[name] for name in sorted(found) if not any(part in name for part in LEFT_OUT)]


@dataclass(frozen=True)
class Outcome:
    seed: int
    font: str
    text: str
    beside: str
    what: str
    told: str


def drawn(chance: np.random.Generator, font: Path, side: float, text: str, beside: str) -> Drawn:
    """Return a square with its words, at 600 dots per inch, and how long its sides became, mm."""
    dots, points = DRAWN / INCH, min(float(chance.uniform(7, 20)), side * 0.28) * DRAWN / 72
    wide = round((side + 40) * dots)
    image = Image.new("L", (wide, wide), 255)
    draw, start, end = ImageDraw.Draw(image), 20 * dots, (20 + side) * dots
    line = max(2, round(chance.uniform(0.15, 0.5) * dots))
    outer = round(start - line / 2), round(end + line / 2)
    draw.rectangle([outer[0], outer[0], outer[1], outer[1]], outline=0, width=line)
    letters = ImageFont.truetype(str(font), round(points))
    _, _, right, lower = draw.textbbox((0, 0), text, font=letters)
    y = float(chance.choice([start + side * dots * 0.45 - lower / 2, end + 2 * dots, start - 2.5 * dots - lower]))
    x = (wide - right) / 2
    draw.text((x, y), text, font=letters, fill=0)
    draw.text((x, y + 1.7 * points), beside, font=ImageFont.truetype(str(font), round(points * 0.7)), fill=0)
    return np.asarray(image), (outer[1] - outer[0] + 1 - line) / dots


def scan(chance: np.random.Generator, clean: NDArray[np.uint8], dpi: float, quarters: int) -> NDArray[np.uint8]:
    step, wide = DRAWN / dpi, len(clean)
    size, turn = int(wide / step), np.radians(chance.uniform(-3, 3))
    c, s, middle = step * np.cos(turn), step * np.sin(turn), wide / step / 2
    matrix = (c, -s, wide / 2 - (c - s) * middle, s, c, wide / 2 - (s + c) * middle)
    soft = Image.fromarray(clean).filter(ImageFilter.BoxBlur((step - 1) / 2))
    turned = soft.transform((size, size), Image.Transform.AFFINE, matrix, Image.Resampling.BILINEAR, fillcolor=255)
    how = Scanned(
        dpi=dpi,
        noise=float(chance.uniform(0, 8)),
        blur=float(chance.uniform(0, 1)) * dpi / 300,
        jpeg=int(chance.choice([0, 60, 80])),
        paper=float(chance.uniform(200, 255)),
        ink=float(chance.uniform(0, 60)),
        dust=int(chance.integers(0, 30)),
    )
    return worn(np.rot90(np.asarray(turned), -quarters).copy(), how, chance)


def read(task: tuple[int, Path]) -> Outcome:
    seed, font = task
    chance = np.random.default_rng(seed)
    table = {"sized": SIZED, "two": OF_TWO, "none": dict.fromkeys((*SIZED,), OTHERS)}
    kind = str(chance.choice(["sized", "two", "none"], p=[0.7, 0.1, 0.2]))
    nominal = float(chance.choice(list(table[kind])))
    text = str(chance.choice(table[kind][nominal]))
    beside = str(chance.choice(OTHERS)) if chance.random() < 0.5 else ""
    factor = float(chance.choice([1, 1, 0.97, 0.995, 1.02]))
    dpi, quarters = float(chance.choice([150, 200, 300, 600], p=[0.25, 0.25, 0.4, 0.1])), int(chance.integers(4))
    clean, side = drawn(chance, font, nominal * factor, text, beside)
    grey = scan(chance, clean, dpi, quarters)
    try:
        report = prove_scan(Source(Picture(grey, (dpi, dpi))), "label")
    except TilerError as fault:
        return Outcome(seed, font.name, text, beside, "not read" if kind == "sized" else "rightly not read", str(fault))
    one = report.sizes[0]
    turned = sum(int(check.numbers["degrees"]) // 90 for check in report.warned if "degrees" in check.numbers)
    right = kind == "sized" and one.nominal_mm == nominal and turned == quarters
    measured = report.scale and max(abs(one * nominal / side - 1) for one in report.scale) < 0.002
    return Outcome(
        seed, font.name, text, beside, "read" if right and measured else "FALSE", f"{one.label} {report.scale}"
    )


def main(words: list[str]) -> int:
    numbers = [int(word) for word in words if word.isdigit()]
    first = numbers[1] if "--first" in words else 0
    known = fonts()
    tasks = [(seed, known[seed % len(known)]) for seed in range(first, first + (numbers[0] if numbers else 400))]
    with Pool(2) as pool:
        outcomes = pool.map(read, tasks, chunksize=5)
    for font in sorted({one.font for one in outcomes}):
        kinds = Counter(one.what for one in outcomes if one.font == font)
        print(f"{font:<36}" + ", ".join(f"{count} {kind}" for kind, count in kinds.most_common()))
    print(f"{len(known)} fonts:", dict(Counter(one.what for one in outcomes)))
    for one in outcomes:
        if one.what == "FALSE" or ("-v" in words and one.what == "not read"):
            print(one)
    return 1 if any(one.what == "FALSE" for one in outcomes) else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
