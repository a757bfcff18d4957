"""Squares of others, drawn in general-purpose ways: ``python -m tests.bench.foreign [--keep FOLDER] [WORD …]``.

Every scene is drawn by every way that is installed here (the rest is named), and measured as it is, scaled,
and stretched along one axis.  Counted are files that are found with the right verdict, those that are left
open, and what must never be: "true" of a file that is off, "off" of one that is true, and a
factor that is wrong by more than 0.1 %.  The script leaves with 1 when there is one of these, or when fewer
than 93 % are found.  Words pick the drawings whose names hold them.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from io import BytesIO
from multiprocessing import get_context
from pathlib import Path

from pikepdf import Array, Pdf

from tests.bench.drawn.scenes import SCENES
from tests.bench.drawn.special import SPECIAL
from tests.bench.drawn.ways import WAYS
from tests.proof.foreign import rescaled
from tiler.errors import TilerError
from tiler.proof import Expected, prove

SCALES = {
    "1": (1.0, 1.0),
    "0.97": (0.97, 0.97),
    "0.996": (0.996, 0.996),
    "1.02": (1.02, 1.02),
    "across 0.97": (0.97, 1.0),
    "down 0.97": (1.0, 0.97),
}
LEAST_FOUND = 0.93
WITHIN = 0.001
TRUE = 0.0025


@dataclass(frozen=True)
class Drawn:
    """A file at true size, which way drew it, and what the person says of its square, mm."""

    name: str
    way: str
    data: bytes
    expect: float | None = None


@dataclass(frozen=True)
class Outcome:
    """What became of a file at one scale."""

    name: str
    way: str
    scale: str
    what: str
    told: str


def drawings(words: list[str]) -> Iterator[Drawn]:
    for way, maker in WAYS.items():
        for scene, draw in SCENES.items():
            name = f"{way}: {scene}"
            if all(word in name for word in words):
                try:
                    canvas = maker()
                    expect = draw(canvas)
                    yield Drawn(name, way, canvas.saved(), expect)
                except ImportError as missing:
                    print(f"not installed, left out: {way} ({missing})")
                    break
                except NotImplementedError:
                    continue
    for name, special in SPECIAL.items():
        if all(word in name for word in words):
            try:
                made = special()
            except (ImportError, FileNotFoundError) as missing:
                print(f"not installed, left out: {name} ({missing})")
                continue
            data, expect = made if isinstance(made, tuple) else (made, None)
            yield Drawn(name, name.split(":")[0], data, expect)


def scaled(data: bytes, across: float, down: float) -> bytes:
    """Scale a file as a placement does: content, boxes and annotations."""
    changed = rescaled(data, across, down)
    with Pdf.open(BytesIO(changed)) as pdf:
        for page in pdf.pages:
            box = [float(side) for side in page.MediaBox]
            x, y = min(box[0], box[2]), min(box[1], box[3])

            def moved(sides: object, x: float = x, y: float = y) -> Array:
                xa, ya, xb, yb = (float(side) for side in sides)
                return Array([x + across * (xa - x), y + down * (ya - y), x + across * (xb - x), y + down * (yb - y)])

            for key in ("/MediaBox", "/CropBox"):
                if key in page:
                    page[key] = moved(page[key])
            for annotation in page.get("/Annots", ()):
                annotation.Rect = moved(annotation.Rect)
        out = BytesIO()
        pdf.save(out)
    return out.getvalue()


def judged(task: tuple[Drawn, str]) -> Outcome:
    drawn, scale = task
    across, down = SCALES[scale]
    turned = "turned page" in drawn.name
    try:
        expected = Expected(drawn.expect, f"{drawn.expect:g} mm") if drawn.expect else None
        report = prove(scaled(drawn.data, across, down), expected=expected)
        # what is shown across the page is written down it
        across, down = (down, across) if turned else (across, down)
    except TilerError as fault:
        return Outcome(drawn.name, drawn.way, scale, "missed", str(fault))
    told = " ".join(f"{one:.5f}" if one else "-" for one in report.scale or ()) + f" {report.verdict}"
    verdict = str(report.verdict)
    known = [(one, want) for one, want in zip(report.scale or (), (across, down), strict=False) if one is not None]
    right = all(abs(one / want - 1) <= WITHIN for one, want in known)
    # along the axis that a bar does not measure nothing can be found
    is_true = all(abs(want - 1) <= TRUE for _, want in known)
    if verdict == "true-to-scale":
        what = "found" if is_true and right else "false true"
    elif verdict == "off-scale":
        what = "false off" if is_true else "found" if right else "wrong factor"
    elif verdict == "incomplete" and known and is_true and right and len(known) == 1:
        what = "found"
    else:
        what = "left open" if verdict == "undecided" else "missed"
    return Outcome(drawn.name, drawn.way, scale, what, told)


def main() -> int:
    words = sys.argv[1:]
    keep = None
    if "--keep" in words:
        at = words.index("--keep")
        keep = Path(words[at + 1])
        del words[at : at + 2]
    drawn = list(drawings(words))
    if keep:
        keep.mkdir(parents=True, exist_ok=True)
        for one in drawn:
            (keep / f"{one.name.replace('/', '-').replace(' ', '-').replace(':', '')}.pdf").write_bytes(one.data)
    # some of the libraries that drew have threads, so nothing is forked
    with ProcessPoolExecutor(2, get_context("spawn")) as pool:
        outcomes = list(pool.map(judged, [(one, scale) for one in drawn for scale in SCALES], chunksize=12))
    for one in outcomes:
        if one.what != "found":
            print(f"{one.what}: {one.name} at {one.scale}: {one.told}")
    kinds = ("found", "left open", "missed", "false true", "false off", "wrong factor")
    print(f"\n{'way':<16}" + "".join(f"{kind:>14}" for kind in kinds))
    ways = dict.fromkeys(one.way for one in outcomes)
    for way in (*ways, "all"):
        counts = Counter(one.what for one in outcomes if way in (one.way, "all"))
        print(f"{way:<16}" + "".join(f"{counts[kind]:>14}" for kind in kinds))
    total = Counter(one.what for one in outcomes)
    share = total["found"] / len(outcomes)
    print(f"{len(drawn)} drawings, {len(outcomes)} files, {100 * share:.1f} % found")
    never = total["false true"] + total["false off"] + total["wrong factor"]
    return 1 if never or (share < LEAST_FOUND and not words) else 0


if __name__ == "__main__":
    sys.exit(main())
