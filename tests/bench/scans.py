"""How well scans are measured: ``python tests/bench/scans.py [COUNT] [--first SEED] [--photos]``.

First pages of the examples are rendered by PDFium under a random map and then worn: noise,
blur, grey paper, dust, shadow, JPEG, edges cut off, 150 to 600 dots per inch, the print itself true, at
97 %, at 99.5 %, or off along one axis. Printed are for each resolution the verdicts, the errors of the factors and
every false verdict: one that calls a print true that is off by more than 0.4 %, or
off that is off by less than 0.1 %. With ``--photos`` pages are seen from aside through a lens, with a
card beside, with ``--sheets`` with none and a sheet that is not quite what is said of it, with ``--shadows`` cards in
soft shadows are scanned, with ``--rulers`` one ruler or two of every kind lie on the glass of a scanner that is off by up
to 1 %, with ``--graduations`` they lie alone; with ``--time`` a page of A4 is measured at 300 and at 600 dots per inch. The
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

from tests.proof.ruled import HIGH, OnGlass  # noqa: E402
from tests.proof.scanned import INCH, Photo, Scanned, as_source, photographed, scanned, with_card, worn  # noqa: E402
from tests.sheets.jobs import EXAMPLES, SAMPLE, drawn_once  # noqa: E402
from tiler.errors import TilerError  # noqa: E402
from tiler.paper import PAPERS  # noqa: E402
from tiler.proof.report.sentences import Says  # noqa: E402
from tiler.proof.scan.card import card_on  # noqa: E402
from tiler.proof.scan.graduation import graduations  # noqa: E402
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


def ruler_at_random(chance: np.random.Generator, middle: tuple[float, float], turn: float) -> OnGlass:
    """Return a ruler whose middle lies there, mm, turned by about so many degrees, with its figures either way up."""
    turn += float(chance.choice([0, 180]) + chance.uniform(-5, 5))
    long = float(chance.uniform(90, 180))
    along, right = np.exp(1j * np.radians(turn)), np.exp(1j * np.radians(turn + 90))
    at = complex(*middle) - along * long / 2 - right * HIGH / 2
    return OnGlass(
        at=(at.real, at.imag),
        turn=turn,
        unit=str(chance.choice(["mm", "in"])),
        long=long,
        body=str(chance.choice(["clear", "steel", "wood", "dark"])),
        weight=float(chance.uniform(0.1, 0.25)),
        both=bool(chance.random() < 0.4),
        hidden=(float(chance.uniform(20, 50)), float(chance.uniform(10, 25))) if chance.random() < 0.3 else None,
        finer=bool(chance.random() < 0.2),
    )


def off_scanner(chance: np.random.Generator) -> tuple[float, float]:
    across, down = (1 + chance.uniform(-0.01, 0.01, 2)).tolist()
    return across, down


def measured_by_rulers(seed: int) -> Outcome:
    how, spec, paper = worn_at_random(seed)
    chance = np.random.default_rng(seed + 2_000_000)
    size = PAPERS[paper].size
    quarter = int(chance.random() < 0.2)
    wide, high = (size[0], size[1] / 2) if not quarter else (size[1] / 2, size[0])
    lain = []
    where = str(chance.choice(["below", "beside", "both", "both", "askew"], p=[0.25, 0.25, 0.2, 0.2, 0.1]))
    if where in ("below", "both"):
        lain.append(ruler_at_random(chance, (wide / 2, high + 28), 0))
    if where in ("beside", "both"):
        lain.append(ruler_at_random(chance, (wide + 28, high / 2 + (0 if where == "both" else 20)), 90))
    if where == "askew":
        lain.append(ruler_at_random(chance, (wide / 2, high + 90), float(chance.uniform(20, 70))))
    how = replace(
        how,
        dpi=float(chance.choice([150, 200, 300, 600], p=[0.4, 0.25, 0.25, 0.1])),
        turn=float(chance.uniform(-3, 3)) + 90 * quarter,
        part=(0.0, 0.0, 1.0, 0.5) if not quarter else (shift := size[1] / size[0] / 2, 0.0, 1 + shift, 0.5),
        bare=(56.0 if where in ("beside", "both") else 0.0, {"askew": 180.0, "beside": 40.0}.get(where, 56.0)),
        blur=how.blur / how.dpi * 300,
        scanner=off_scanner(chance),
        lain=tuple(lain),
        mirrored=False,
        shadow=0.0,
    )
    how = replace(how, blur=how.blur * how.dpi / 300)
    name = f"{spec} {paper}, {where}"
    try:
        report = prove_scan(as_source(scanned(page_of(spec, paper), how), how.dpi), name, by_ruler=True)
    except TilerError as fault:
        return Outcome(seed, how, name, f"exit {int(fault.code)}", detail=str(fault))
    assert report.scale
    said = {check.says for check in report.checks}
    across, down = Says.RULER_DOWN not in said, Says.RULER_ACROSS not in said
    told = (down, across) if quarter else (across, down)
    told = (False, False) if Says.RULER_ASKEW in said else told
    errors = tuple(abs(one / true - 1) for one, true, known in zip(report.scale, how.truth, told, strict=True) if known)
    return Outcome(seed, how, name, str(report.verdict), errors, report.first_failure())


def measured_graduation(seed: int) -> Outcome:
    chance = np.random.default_rng(seed + 3_000_000)
    scanner, dpi = off_scanner(chance), float(chance.choice([150, 200, 300, 600], p=[0.4, 0.3, 0.2, 0.1]))
    ruler = ruler_at_random(chance, (100, 100), float(chance.choice([0, 90, chance.uniform(0, 180)])))
    dots = dpi / INCH
    clean = ruler.on(np.full((round(200 * dots),) * 2, 245, np.uint8), (dots * scanner[0], dots * scanner[1]))
    how = Scanned(
        dpi=dpi,
        noise=float(chance.uniform(0, 10)),
        blur=float(chance.uniform(0, 1.2) * dpi / 300),
        jpeg=int(chance.choice([0, 60, 80])),
        paper=float(chance.uniform(200, 255)),
        ink=float(chance.uniform(0, 60)),
        seed=seed,
    )
    true = float(np.hypot(np.cos(np.radians(ruler.turn)) * scanner[0], np.sin(np.radians(ruler.turn)) * scanner[1]))
    found = list(graduations(worn(clean, how, chance), np.array([dots, dots])))
    wrong = {one.unit for one in found} - ({"mm", "in"} if ruler.both else {ruler.unit})
    verdict = f"wrong unit {wrong}" if wrong else "found" if found else "exit 4"
    errors = (1.0,) if wrong else tuple(abs(one.factor / true - 1) for one in found)
    return Outcome(seed, how, f"{ruler} by {scanner}", verdict, errors)


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


MODES = {
    "--photos": measured_photo,
    "--sheets": measured_by_its_sheet,
    "--shadows": measured_in_shadow,
    "--rulers": measured_by_rulers,
    "--graduations": measured_graduation,
}


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
