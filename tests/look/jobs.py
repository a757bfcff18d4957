"""Jobs that try the look of pages: every pair of what can differ, and what is crowded."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations, product
from typing import NamedTuple

from tests.specs import CUTS, FINISHES, armhole, neckline, piece, spec, straight, table
from tiler.usecases.draft import Wishes

LONG = "Neckline band for the gathered yoke, wrong side facing, left"
assert len(LONG) == 60
TITLE = "Saltmarsh smock with the gathered yoke, longer sleeves and cuffs, second edition of the year"

WIDTHS = ("1/2 in", "3/4 in", "1 in", "2 in", "3 in", "6 in", "12 in")
NAMES = ("Neckband", LONG)
NOTES = ("few", "many")
PAPERS = ("letter", "a4", "one-sheet")
ARRANGEMENTS = ("grid", "stacked", "fewest")

CROWD = {
    "notches": [
        table(name="pocket opening", at="1 in"),
        table(name="pocket opening, end", at="1 1/4 in"),
        table(name="pleat", at="1 1/2 in"),
        table(name="dart", at="5 in"),
        table(name="gathers from here", at="5 1/16 in"),
    ],
    "trials": [
        table(shorten="3/16 in", on="fold", note="gapes at the back of the neck, see photograph"),
        table(lengthen="1/8 in", on="loop", note="pulls"),
    ],
}
HEAD = {"version": "2.1", "date": "2026-10-04", "copyright": "Saltmarsh Knits"}


class Case(NamedTuple):
    """One job of a single piece."""

    width: str
    finish: str
    cut: str
    name: str
    notes: str
    paper: str
    arrange: str

    @property
    def spec(self) -> str:
        wide = self.width in ("3 in", "6 in", "12 in")
        strip = piece(
            self.name,
            None,
            straight("21 in") if wide else armhole("10 in", "11 in"),
            self.finish,
            cut_width=self.width,
            seam_allowance="1/8 in" if self.finish == "folded-band" else None,
            fabric="rib",
            cut=self.cut,
            **(CROWD if self.notes == "many" else {}),
        )
        return spec(
            strip,
            title=TITLE if self.name is LONG else "Saltmarsh smock",
            units="in" if self.paper == "letter" else "cm",
            fabrics={"rib": "60 %"},
            **HEAD,
        )

    @property
    def wishes(self) -> Wishes:
        return Wishes(paper=self.paper, arrange=None if self.paper == "one-sheet" else self.arrange)


def cases() -> list[Case]:
    """Give few jobs in which every pair of two choices occurs; a strip wider than a page is not stacked."""
    every = [
        Case(*one)
        for one in product(WIDTHS, FINISHES, CUTS, NAMES, NOTES, PAPERS, ARRANGEMENTS)
        if (one[0], one[6]) != ("12 in", "stacked")
    ]
    bits: dict[object, int] = {}
    # a bit for each pair: 2000 jobs are weighed some thirty times
    own = {case: sum(1 << bits.setdefault(pair, len(bits)) for pair in pairs(case)) for case in every}
    wanting = (1 << len(bits)) - 1
    found = []
    while wanting:
        best = max(every, key=lambda case: (wanting & own[case]).bit_count())
        wanting &= ~own[best]
        found.append(best)
    return found


def pairs(case: Case) -> Iterator[tuple[tuple[int, str], tuple[int, str]]]:
    """Give what of two columns occurs together."""
    return combinations(enumerate(case), 2)


def sizes(
    names: Sequence[str],
    step: float,
    piece_name: str = "Neckband",
    finish: str = "folded-band",
    width: str = "5/8 in",
    cut: str = "on-fold",
    units: str = "in",
) -> str:
    """Give a job of sizes whose fronts grow by a step, in."""
    fronts = {name: f"{7 + k * step} in" for k, name in enumerate(names)}
    strip = piece(piece_name, width, neckline(fronts, "4 in"), finish, cut=cut, fabric="rib", ratio="90 %")
    return spec(strip, title=TITLE, units=units, sizes=list(names), fabrics={"rib": "70 %"}, **HEAD)


NARROW = spec(
    piece("Binding", "5 mm", straight("70 cm"), finish="double-fold-binding", cut="full-loop"),
    title="Narrow",
    units="cm",
)

CROWDED = spec(
    *(
        piece(f"{name} {number}", width, straight(whole), finish=finish, cut=cut, ratio="usual")
        for number, (name, width, whole, finish, cut) in enumerate(
            (
                ("Neckband", "8.3 mm", "411 mm", "double-fold-binding", "full-loop"),
                ("Binding", "15.8 mm", "254 mm", "raw-edge-binding", "full-loop"),
                ("Armhole binding, left", "11 mm", "478 mm", "french-binding", "on-fold"),
                ("Armhole binding, left", "10.1 mm", "974 mm", "raw-edge-binding", "full-loop"),
                ("Hem binding", "8.1 mm", "247 mm", "raw-edge-binding", "on-fold"),
                ("Neckband", "5.2 mm", "486 mm", "double-fold-binding", "full-loop"),
            ),
            1,
        )
    ),
    title="Crowded",
    units="cm",
)
"""Strips that leave no room for a test square beside them on the first page of A4 with margins of 15 mm."""

THREE = ("34 petite", "36 regular", "38 tall")
TWELVE = ("XXS", "XS", "S", "M", "L", "XL", "2XL", "3XL", "4XL", "5XL", "6XL", "7XL")


def of_sizes(finish: str, width: str, cut: str, whole: int, step: int, count: int) -> str:
    """Give a strip of many sizes that grow by a step, mm."""
    lengths = {f"{30 + 2 * k}": f"{whole + k * step} mm" for k in range(count)}
    own = piece("Binding", width, straight(lengths), finish, cut=cut, ratio="usual")
    return spec(own, title="T", units="cm", sizes=list(lengths))


AT_JOINTS = {
    "code in thin lanes": (
        of_sizes("raw-edge-binding", "6 mm", "full-loop", 1100, 37, 8),
        Wishes(paper="a4", arrange="stacked", cover=False),
    ),
    "label on a short part": (
        of_sizes("raw-edge-binding", "7 mm", "on-fold", 320, 36, 8),
        Wishes(margin=15.0, overlap=20.0, arrange="stacked", cover=False),
    ),
    "names of sizes in a grid": (
        of_sizes("folded-band", "17 mm", "on-fold", 720, 34, 12),
        Wishes(paper="a4", arrange="grid", cover=False),
    ),
}
"""Strips whose words have little room between the joints."""

IN_SECTIONS = spec(
    piece(
        "Neckband",
        "1 1/4 in",
        neckline({"S": "5 in", "M": "6 in", "L": "7 in"}, {"S": "4 in", "M": "4 3/4 in", "L": "5 1/2 in"}),
        fabric="rib",
        cut="on-fold",
    ),
    piece("Hem", "1/2 in", straight({"S": "32 in", "M": "34 in", "L": "56 in"}), "french-binding", fabric="rib"),
    piece("Armhole", "5/8 in", armhole("9 in", {"S": "9 in", "M": "10 in", "L": "11 in"}), FINISHES[3], fabric="rib"),
    title="Saltmarsh smock",
    sizes=["S", "M", "L"],
    fabrics={"rib": table(stretch="60 %", width="14 in")},
)
"""Strips of which some sizes are whole, and the others in sections of several plans."""

NESTS = {
    "three, panes": (sizes(THREE, 0.5, LONG), Wishes(arrange="stacked")),
    "three, thin": (sizes(THREE, 0.5, width="1/8 in", cut="full-loop"), Wishes()),
    "three, apart": (sizes(THREE, 0.5, LONG, "double-fold-binding", "3/4 in"), Wishes(paper="a4", nest=False)),
    "twelve, grid": (sizes(TWELVE, 0.25), Wishes(arrange="grid")),
    "twelve, panes": (sizes(TWELVE, 0.25, LONG, "raw-edge-binding", "1/4 in", "full-loop"), Wishes(paper="a4")),
    "twelve, one sheet": (sizes(TWELVE, 0.25, cut="full-loop"), Wishes(paper="one-sheet")),
    "sections": (IN_SECTIONS, Wishes()),
    "sections, whole": (IN_SECTIONS.replace("on-fold", "full-loop"), Wishes(paper="a4", arrange="stacked")),
    "six, apart": (sizes(TWELVE[:6], 0.25), Wishes(paper="a4", arrange="stacked", nest=False)),
}
