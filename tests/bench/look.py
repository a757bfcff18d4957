"""Look at the pages of 300 random jobs: ``python -m tests.bench.look [JOBS] [CURVED]``.

Papers, margins, overlaps, arrangements, names in four scripts, one to twelve pieces, one to
twenty sizes; then as many jobs of curved pieces as are asked for, on papers down to the smallest window.
Each file is drawn without its proof and read as ``tests/look`` does; besides, no
piece that fits one page may be split, no joint may leave less than 40 mm of a piece, no register
mark may lie nearer than 2 mm to a cut line, and each joint has two or three. Of a curved piece no page shows
nothing, nor only what its neighbours show. Every broken rule is
counted by its kind; the script leaves with 1 when there is one.
"""

from __future__ import annotations

import random
import re
import sys
import tomllib
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from tests.look.curved import scraps
from tests.look.test_pages import faults
from tests.sheets.test_marks import whites
from tests.specs import Table, curved, piece, shaped, spec, straight, table
from tiler.declaration import Declaration, PageKind
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.drawn import ContourPiece
from tiler.errors import SpecError
from tiler.usecases.draft import Wishes, draw_job

JOBS, SEED = 300, 40
NAMES = (
    *("Neckband", "Armhole binding, left", "Neckline band for the gathered yoke, wrong side facing"),
    *("Горловина", "Бейка проймы, левая", "Πατιλέτα λαιμού", "Ταινία μασχάλης", "Վզի ժապավեն", "Թևանցքի եզր"),
)
FINISHES = (
    ("folded-band", 10, 60),
    ("double-fold-binding", 5, 12),
    ("french-binding", 5, 12),
    ("raw-edge-binding", 6, 16),
)
PAPERS = ("letter", "a4", "letter-a4", "legal", "tabloid", "a3")
LEAST_LEFT, LEAST_WHITE = 40.0, 2.0


def job(chance: random.Random) -> tuple[str, Wishes]:
    """Return the text of a job and how it is to be drawn."""
    sizes = [f"{30 + 2 * k}" for k in range(chance.randint(2, 20))] if chance.random() < 0.3 else None
    pieces = []
    for number in range(chance.randint(1, 3 if sizes else 12)):
        finish, low, high = chance.choice(FINISHES)
        whole, step = chance.uniform(200, 1100), chance.uniform(13, 40)
        lengths = {one: f"{whole + k * step:.0f} mm" for k, one in enumerate(sizes)} if sizes else f"{whole:.0f} mm"
        pieces.append(
            piece(
                f"{chance.choice(NAMES)} {number + 1}",
                f"{chance.uniform(low, high):.1f} mm",
                straight(lengths),
                finish,
                cut=chance.choice(("on-fold", "full-loop")),
                ratio="usual",
            )
        )
    wishes = Wishes(
        paper=chance.choice(PAPERS),
        margin=chance.choice((None, 5.0, 8.0, 15.0)),
        overlap=chance.choice((None, 8.0, 15.0, 20.0)),
        cover=chance.random() < 0.8,
        nest=chance.random() < 0.7,
        arrange=chance.choice((None, None, "grid", "stacked")),
    )
    return spec(*pieces, title="Random job", units="cm", **({"sizes": sizes} if sizes else {})), wishes


def curved_job(chance: random.Random) -> tuple[str, Wishes]:
    """Return the text of a job of curved pieces, and how it is to be drawn."""
    sizes = [f"{30 + 2 * k}" for k in range(chance.randint(2, 6))] if chance.random() < 0.3 else None
    pieces = []
    for number in range(chance.randint(1, 2 if sizes else 4)):
        pieces.append(
            piece(
                f"{chance.choice(NAMES)} {number + 1}",
                f"{chance.choice((6, 10, 15, 20, 30, 45, 60, 80)):.0f} mm",
                _curved_edge(chance, sizes),
                form="contour",
                cut=chance.choice((None, None, "full-loop")),
            )
        )
    small = chance.random() < 0.6
    wishes = Wishes(
        paper=chance.choice(PAPERS),
        margin=chance.choice((35.0, 45.0, 55.0, 65.0)) if small else chance.choice((None, 15.0)),
        overlap=chance.choice((None, 8.0, 15.0, 20.0)),
        cover=chance.random() < 0.8,
        nest=chance.random() < 0.7,
        arrange=chance.choice((None, None, "grid", "stacked")),
    )
    keys = {"sizes": sizes} if sizes else {}
    return spec(*pieces, title="Random job", units="cm", language=chance.choice(("en", "de", "fr")), **keys), wishes


def _curved_edge(chance: random.Random, sizes: list[str] | None) -> Table:
    """Return an edge that bends: of a size table, of a neckline, of one part or several."""
    turning, whole = chance.choice((-140, -60, -25, 15, 40, 75, 120, 200)), chance.uniform(120, 1000)

    def lengths(share: float = 1.0) -> str | Table:
        step = chance.uniform(8, 30) * share
        of_sizes = {one: f"{share * whole + k * step:.0f} mm" for k, one in enumerate(sizes or ())}
        return of_sizes if sizes else f"{share * whole:.0f} mm"

    kind = chance.choice(("curved", "curved", "parts", "neckline"))
    if kind == "neckline" and not sizes:
        deep = (f"{chance.uniform(50, 180):.0f} mm", f"{chance.uniform(20, 90):.0f} mm")
        return shaped(chance.choice(("scoop", "vee", "square")), f"{chance.uniform(150, 260):.0f} mm", *deep)
    if kind == "parts":
        names = ("front", "side", "back")[: chance.randint(2, 3)]
        parts = [
            table(name=name, length=lengths(1 / len(names)), turning=f"{turning / len(names):.0f}") for name in names
        ]
        return table(kind="curved", parts=parts)
    return curved(lengths(), f"{turning}")


def joints(declaration: Declaration) -> Iterator[str]:
    """Name each joint that should not be, or leaves too little, and marks too few or too near to a cut line."""
    longest = {}
    for one in declaration.pieces:
        if isinstance(one, ContourPiece):
            continue
        if one.cut_length_mm > longest.get((one.at, one.turned), one).cut_length_mm or (
            (one.at, one.turned) not in longest
        ):
            longest[one.at, one.turned] = one
    for one in longest.values():
        box = one.sheet_bounds()
        shown = [page.window for page in declaration.pages if page.window and page.window.overlaps(box)]
        along = sorted({(w.y0, w.y1) if one.turned else (w.x0, w.x1) for w in shown})
        low = one.at[1] if one.turned else one.at[0]
        high = low + one.cut_length_mm
        for (_, end), (start, _) in pairwise(along):
            # what ends on the shared strip is whole on one of both pages
            if low < start and high > end and min(start - low, high - end) < LEAST_LEFT - 0.01:
                yield f"a joint leaves {min(start - low, high - end):.0f} mm of a piece"
    for white in whites(declaration) if declaration.marks else ():
        if white < LEAST_WHITE - 0.01:
            yield f"a mark {white:.1f} mm from a cut line"
    counts = Counter(mark.tiles for mark in declaration.marks)
    for tiles, count in counts.items():
        if count not in (2, 3):
            yield f"{count} marks between {tiles[0]} and {tiles[1]}"
    if any(page.kind is PageKind.PANE for page in declaration.pages):
        lonely = {page.code for page in declaration.pages if page.column} - {code for pair in counts for code in pair}
        yield from (f"pane {code} has no marks" for code in sorted(str(code) for code in lonely))


def kind(fault: str) -> str:
    """Return what a fault has in common with others."""
    plain = re.sub(r"'[^']*'", "'…'", re.sub(r"page [0-9]+: ", "", fault))
    return re.sub(r"-?[0-9]+(\.[0-9]+)?", "#", plain)


def main() -> int:
    chance = random.Random(SEED)
    found: Counter[str] = Counter()
    first: dict[str, str] = {}
    wanted = int(sys.argv[1]) if len(sys.argv) > 1 else JOBS
    bent = int(sys.argv[2]) if len(sys.argv) > 2 else 0
    drawn = broken = pages = 0
    while drawn < wanted + bent:
        text, wishes = job(chance) if drawn < wanted else curved_job(chance)
        try:
            read = read_tables(tomllib.loads(text), "spec.toml:")
            document = draw_job(read, figure_job(read), wishes)
        except SpecError:
            # wider than a page and stacked, sizes too near for a nest, a margin that leaves no window
            continue
        drawn += 1
        pages += len({page.number for page in document.declaration.pages})
        own = [*faults(document), *joints(document.declaration), *scraps(document.declaration)]
        broken += bool(own)
        for fault in own:
            found[kind(fault)] += 1
            first.setdefault(kind(fault), f"job {drawn}, {wishes.paper}, {wishes.arrange}: {fault}")
    print(f"{drawn} jobs of {pages} pages, {broken} with a broken rule, {sum(found.values())} in all")
    for what, count in found.most_common():
        print(f"{count:6} {what}\n       first: {first[what]}")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
