"""How well scans are measured: ``python tests/bench/scans.py [COUNT] [--first SEED] [--photos]``.

First pages of the examples are rendered by PDFium under a random map and then worn: noise,
blur, grey paper, dust, shadow, JPEG, edges cut off, 150 to 600 dots per inch, the print itself true, at
97 %, at 99.5 %, or off along one axis. Printed are for each resolution the verdicts, the errors of the factors and
every false verdict: one that calls a print true that is off by more than 0.4 %, or
off that is off by less than 0.1 %. With ``--photos`` pages are seen from aside through a lens, with a
card beside, with ``--sheets`` with none and a sheet that is not quite what is said of it, with ``--shadows`` cards in
soft shadows are scanned; with ``--time`` a page of A4 is measured at 300 and at 600 dots per inch. The
script leaves with 1 when a verdict is false or a factor further off than it may be.
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from dataclasses import dataclass, replace
from functools import cache
from multiprocessing import Pool
from pathlib import Path

import numpy as np

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))

from tests.proof.scanned import INCH, Photo, Scanned, as_source, photographed, scanned, with_card, worn  # noqa: E402
from tests.sheets.jobs import EXAMPLES, SAMPLE, drawn_once  # noqa: E402
from tiler.errors import TilerError  # noqa: E402
from tiler.paper import PAPERS  # noqa: E402
from tiler.proof.scan.card import card_on  # noqa: E402
from tiler.proof.scan.pixels.picture import Picture  # noqa: E402
from tiler.proof.scan.proving import prove_photo, prove_scan  # noqa: E402
from tiler.proof.scan.sheet import Sheet  # noqa: E402
from tiler.proof.scan.source import Source  # noqa: E402
from tiler.usecases.draft import Wishes  # noqa: E402

SPECS = ("crew", "bindings", "sizes", "vee", "child")
DPI = (150, 200, 300, 300, 400, 600)
FACTORS = ((1.0, 1.0), (1.0, 1.0), (0.97, 0.97), (0.995, 0.995), (1.0, 0.99), (0.985, 1.0), (1.006, 1.0))
ALLOWED = {0: 0.005, 150: 0.002, 200: 0.002}
"""How far a measured factor may be from the true one, 0 for a photo that decides; 0.001 at all other resolutions."""


@dataclass(frozen=True)
class Outcome:
    seed: int
    how: Scanned | Photo
    page: str
    verdict: str
    errors: tuple[float, ...] = ()
    detail: str = ""

    @property
    def false(self) -> bool:
        off = max(abs(one - 1) for one in self.how.truth)
        return (self.verdict == "true-to-scale" and off > 0.004) or (self.verdict == "off-scale" and off < 0.001)

    @property
    def inexact(self) -> bool:
        return bool(self.errors) and max(self.errors) > ALLOWED.get(self.dots, 0.001)

    @property
    def dots(self) -> int:
        """The resolution; 0 for a photo."""
        return int(self.how.dpi) if isinstance(self.how, Scanned) else 0


@cache
def page_of(spec: str, paper: str) -> bytes:
    text = (EXAMPLES / f"saltmarsh-{spec}.toml").read_text(encoding="utf-8")
    return drawn_once(text, Wishes(paper=paper)).data


def worn_at_random(seed: int) -> tuple[Scanned, str, str]:
    chance = np.random.default_rng(seed)
    dpi = float(chance.choice(DPI))
    across, down = FACTORS[int(chance.integers(len(FACTORS)))]
    sides = chance.uniform(0, 0.04, 4) * (chance.random(4) < 0.3)
    how = Scanned(
        across=across,
        down=down,
        dpi=dpi,
        turn=float(chance.uniform(-3, 3) + chance.choice([0, 0, 0, 0, 90, 180, 270])),
        noise=float(chance.uniform(0, 10)),
        blur=float(chance.uniform(0, 1.2) * dpi / 300),
        paper=float(chance.uniform(190, 255)),
        ink=float(chance.uniform(0, 70)),
        slope=float(chance.uniform(0, 0.25)),
        shadow=float(chance.choice([0, 0, 0, 0.35])),
        dust=int(chance.integers(0, 250)),
        jpeg=int(chance.choice([0, 60, 60, 80])),
        part=(float(sides[0]), float(sides[1]), float(1 - sides[2]), float(1 - sides[3])),
        mirrored=bool(chance.random() < 0.04),
        seed=seed,
    )
    return how, str(chance.choice(SPECS)), str(chance.choice(["letter", "a4"]))


def measured(seed: int) -> Outcome:
    how, spec, paper = worn_at_random(seed)
    picture = as_source(scanned(page_of(spec, paper), how), how.dpi)
    name = f"{spec} {paper}"
    try:
        report = prove_scan(picture, name)
    except TilerError as fault:
        return Outcome(seed, how, name, f"exit {int(fault.code)}", detail=str(fault))
    assert report.scale
    errors = tuple(abs(one / true - 1) for one, true in zip(report.scale, how.truth, strict=True))
    return Outcome(seed, how, name, str(report.verdict), errors, report.first_failure())


def photographed_at_random(seed: int) -> tuple[Photo, str, str]:
    chance = np.random.default_rng(seed)
    across, down = FACTORS[int(chance.integers(len(FACTORS)))]
    how = Photo(
        across=across,
        down=down,
        tilt=float(chance.uniform(0, 30)),
        towards=float(chance.uniform(0, 360)),
        spin=float(chance.uniform(-5, 5) + chance.choice([0, 0, 90, 180, 270])),
        above=float(chance.uniform(380, 600)),
        barrel=float(chance.uniform(-0.005, 0.02)),
        card=(float(chance.uniform(95, 120)), float(chance.uniform(208, 212)), float(chance.uniform(-4, 4)), 50),
        noise=float(chance.uniform(0, 8)),
        blur=float(chance.uniform(0.3, 1.3)),
        jpeg=int(chance.choice([60, 80, 95])),
        slope=float(chance.uniform(0, 0.3)),
        seed=seed,
    )
    return how, "photo", str(chance.choice(["letter", "a4"]))


def measured_photo(seed: int) -> Outcome:
    how, name, paper = photographed_at_random(seed)
    data = drawn_once(SAMPLE, Wishes(paper=paper, arrange="grid")).data
    source = Source(Picture(photographed(data, how), None))
    try:
        report, _ = prove_photo(source, name)
    except TilerError as fault:
        return Outcome(seed, how, name, f"exit {int(fault.code)}", detail=str(fault))
    assert report.scale
    errors = tuple(abs(one / true - 1) for one, true in zip(report.scale, how.truth, strict=True))
    undecided = report.verdict == "undecided"
    return Outcome(seed, how, name, str(report.verdict), () if undecided else errors, report.first_failure())


def measured_by_its_sheet(seed: int) -> Outcome:
    how, name, paper = photographed_at_random(seed)
    how = replace(
        how, card=None, spin=how.spin % 90 - 45 if how.spin % 90 > 45 else how.spin % 90, barrel=how.barrel / 2
    )
    chance = np.random.default_rng(seed + 1_000_000)
    off = float(chance.choice([2.0, 0.5]))
    # the sheet is what was drawn, so what is said of it is off
    said = [float(side + chance.uniform(-off, off)) for side in PAPERS[paper].size]
    data = drawn_once(SAMPLE, Wishes(paper=paper, arrange="grid")).data
    source = Source(Picture(photographed(data, how), None))
    try:
        report, _ = prove_photo(source, name, Sheet(said[0], said[1], off))
    except TilerError as fault:
        return Outcome(seed, how, name, f"exit {int(fault.code)}", detail=str(fault))
    # of its factors only the verdict counts: they are off by what was said wrong
    return Outcome(seed, how, f"{name}, sheet to {off} mm", str(report.verdict), (), report.first_failure())


def measured_in_shadow(seed: int) -> Outcome:
    chance = np.random.default_rng(seed)
    scanner = (1 + float(chance.uniform(-0.005, 0.005)), 1 + float(chance.uniform(-0.005, 0.005)))
    dpi = float(chance.choice([150, 200, 300]))
    card = (55.0, 42.0, float(chance.uniform(-5, 5)), int(chance.integers(30, 120)))
    shade = (float(chance.uniform(0.1, 0.65)), float(chance.uniform(0.4, 5)), float(chance.uniform(0, 1.6)))
    dots = dpi / INCH
    clean = np.full((round(85 * dots), round(112 * dots)), 245, np.uint8)
    lain = with_card(clean, card, (dots * scanner[0], dots * scanner[1]), shade)
    how = Scanned(dpi=dpi, noise=float(chance.uniform(0, 6)), blur=0.6 * dpi / 300, jpeg=80, seed=seed)
    found = card_on(worn(lain, how, chance), np.array([dots, dots]))
    name = f"card of {card[3]} in a shadow of {shade}"
    if found is None:
        return Outcome(seed, how, name, "exit 4")
    errors = tuple(abs(one / true - 1) for one, true in zip((found.across, found.down), scanner, strict=True))
    return Outcome(seed, how, name, "found", errors)


def told(outcomes: list[Outcome]) -> bool:
    """Print the table, and tell whether all is well."""
    print(f"{'dpi':>5} {'scans':>6} {'mean':>8} {'worst':>8}  verdicts")
    for dpi in sorted({one.dots for one in outcomes}):
        group = [one for one in outcomes if one.dots == dpi]
        errors = [error for one in group for error in one.errors] or [0.0]
        kinds = Counter(one.verdict for one in group)
        listed = ", ".join(f"{count} {kind}" for kind, count in kinds.most_common())
        print(f"{dpi:5.0f} {len(group):6} {100 * np.mean(errors):7.3f}% {100 * max(errors):7.3f}%  {listed}")
    for factors in sorted({one.how.truth for one in outcomes}):
        kinds = Counter(one.verdict for one in outcomes if one.how.truth == factors)
        print(f"  printed at {factors}: {dict(kinds)}")
    bad = [one for one in outcomes if one.false or one.inexact]
    for one in [*bad, *[one for one in outcomes if one.verdict.startswith("exit")]]:
        kind = "FALSE" if one.false else "inexact" if one.inexact else "none"
        print(f"{kind}: seed {one.seed}, {one.page}, {one.verdict} {one.errors} {one.detail}\n   {one.how}")
    return not bad


def timed() -> None:
    for dpi in (300.0, 600.0):
        how = replace(worn_at_random(1)[0], dpi=dpi, turn=1.5)
        picture = as_source(scanned(page_of("bindings", "a4"), how), dpi)
        start = time.process_time()
        prove_scan(picture, "timed")
        print(f"A4 at {dpi:.0f} dots per inch: {time.process_time() - start:.2f} s of the processor")


MODES = {"--photos": measured_photo, "--sheets": measured_by_its_sheet, "--shadows": measured_in_shadow}


def main(words: list[str]) -> int:
    numbers = [int(word) for word in words if word.isdigit()]
    if "--time" in words:
        timed()
        return 0
    first = numbers[1] if "--first" in words else 0
    with Pool(2) as pool:
        outcomes = pool.map(
            next((work for mode, work in MODES.items() if mode in words), measured),
            range(first, first + (numbers[0] if numbers else 500)),
            chunksize=5,
        )
    return 0 if told(outcomes) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
