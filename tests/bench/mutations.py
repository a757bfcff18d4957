"""How many faults the proof finds: ``python tests/bench/mutations.py [--foreign | --ours]``.

Faults are put one at a time into files of ours and into files of others that are drawn
in different ways, on letter and on A4; and all of them are saved again by three
libraries, which harms nothing.  A fault is killed when the verdict is not
"true-to-scale".  Printed are killed, missed and false alarms, with the names of the
last two; the script leaves with 1 unless there are none of those.
"""

from __future__ import annotations

import re
import sys
import tempfile
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache, partial
from io import BytesIO
from multiprocessing import Pool
from pathlib import Path

import pikepdf
from pikepdf import Array, Dictionary, Name, Page, Pdf

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))

from tests.proof import faults as f  # noqa: E402
from tests.proof.foreign import PAPERS, foreign_files, rescaled  # noqa: E402
from tests.proof.test_faults import ALL, HARMLESS  # noqa: E402
from tiler.errors import TilerError  # noqa: E402
from tiler.proof import prove  # noqa: E402

PROCESSES = 2
PT = 72 / 25.4
FAR = 3000
"""Beyond every page, PDF units."""

OTHER = {"letter": "a4", "a4": "letter"}
TRUE = "true-to-scale"

Saved = Callable[[bytes], bytes]


@dataclass(frozen=True)
class Outcome:
    """What became of one file; ``kind`` is "fault" or "save"."""

    origin: str
    paper: str
    kind: str
    name: str
    verdict: str

    @property
    def wrong(self) -> bool:
        """Tell whether a fault was missed or a save was blamed."""
        return (self.verdict == TRUE) == (self.kind == "fault")


def changed(change: f.Change) -> Saved:
    def save(data: bytes) -> bytes:
        out = BytesIO()
        with pikepdf.open(BytesIO(data)) as pdf:
            change(pdf)
            pdf.save(out)
        return out.getvalue()

    return save


def around(before: str, after: str = "") -> Saved:
    """Put instructions before and after all that the first page paints."""

    def change(pdf: Pdf) -> None:
        page = pdf.pages[0]
        page.contents_add(f"q {before} ".encode(), prepend=True)
        page.contents_add(f" Q {after}".encode(), prepend=False)

    return changed(change)


def refitted(paper: str, margin: float) -> Saved:
    """Fit the page into a paper less its margins, mm, as a viewer's "fit" does."""

    def save(data: bytes) -> bytes:
        width, height = PAPERS[paper]
        with pikepdf.open(BytesIO(data)) as pdf:
            box, unit = sides(pdf.pages[0]), float(pdf.pages[0].get("/UserUnit", 1))
            turned = int(pdf.pages[0].get("/Rotate", 0)) % 180 == 90
        shown = [unit * (box[2] - box[0]), unit * (box[3] - box[1])]
        wide, high = reversed(shown) if turned else shown
        room = 2 * margin * PT
        return rescaled(data, min((width - room) / wide, (height - room) / high))

    return save


def sides(page: Page) -> list[float]:
    xa, ya, xb, yb = (float(side) for side in page.MediaBox)
    return [min(xa, xb), min(ya, yb), max(xa, xb), max(ya, yb)]


def in_a_layer(**settings: object) -> Saved:
    """Put all that the page paints into an optional content group (ISO 32000-1, 8.11)."""

    def change(pdf: Pdf) -> None:
        layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="Test square"))
        shown = Dictionary(Order=Array([layer]))
        if settings.get("print_only"):
            layer.Usage = Dictionary(Print=Dictionary(PrintState=Name.OFF))
            shown.AS = Array([Dictionary(Event=Name.Print, OCGs=Array([layer]), Category=Array([Name.Print]))])
            shown.ON = Array([layer])
        else:
            shown.OFF = Array([layer])
        pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=shown)
        resources = pdf.pages[0].Resources
        resources.Properties = Dictionary(L=layer)
        pdf.pages[0].contents_add(b"/OC /L BDC", prepend=True)
        pdf.pages[0].contents_add(b"EMC", prepend=False)

    return changed(change)


def faint(pdf: Pdf) -> None:
    resources = pdf.pages[0].Resources
    resources.ExtGState = Dictionary(Faint=Dictionary(Type=Name.ExtGState, CA=0.0, ca=0.0))
    pdf.pages[0].contents_add(b"/Faint gs", prepend=True)


def user_unit(factor: float) -> f.Change:
    def change(pdf: Pdf) -> None:
        page = pdf.pages[0]
        page.UserUnit = float(page.get("/UserUnit", 1)) * factor

    return change


def cropped(pdf: Pdf) -> None:
    left, low, *_ = sides(pdf.pages[0])
    pdf.pages[0].CropBox = Array([left, low, left + 40, low + 40])


def beside_its_page(pdf: Pdf) -> None:
    left, low, right, high = sides(pdf.pages[0])
    pdf.pages[0].MediaBox = Array([left + FAR, low, right + FAR, high])


def without(pattern: bytes) -> Saved:
    """Take something out of the content of the page and of its forms."""

    def change(pdf: Pdf) -> None:
        page = pdf.pages[0]
        page.contents_coalesce()
        forms = [one for one in pdf.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == Name.Form]
        for stream in (page.obj.Contents, *forms):
            stream.write(re.sub(pattern, b" ", stream.read_bytes(), flags=re.DOTALL))

    return changed(change)


def second_square(pdf: Pdf) -> None:
    """Add a square that says 2 in and measures 1 % less."""
    page = pdf.pages[0]
    left, low, *_ = sides(page)
    unit = float(page.get("/UserUnit", 1))
    side, x, y = 0.99 * 144 / unit, left + 330 / unit, low + 560 / unit
    font = Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
    page.Resources.Font = Dictionary({**dict(page.Resources.get("/Font", Dictionary()).items()), "/Second": font})
    page.contents_add(b"q", prepend=True)
    words = f"BT /Second {9 / unit} Tf {x} {y + side + 5 / unit} Td (2 in) Tj ET"
    page.contents_add(f" Q q 1 1 1 rg {x - 20} {y - 20} {side + 40} {side + 40} re f Q ".encode(), prepend=False)
    page.contents_add(f"q 0 G 0 g {1 / unit} w {x} {y} {side} {side} re S {words} Q".encode(), prepend=False)


COVER = f"-{FAR} -{FAR} {3 * FAR} {3 * FAR} re f"


def foreign_faults(paper: str) -> dict[str, Saved]:
    """Give the faults that the proof of a file of others can see."""
    other = OTHER[paper]
    return {
        "smaller by 0.4 %": partial(rescaled, across=0.996),
        "larger by 0.4 %": partial(rescaled, across=1.004),
        "smaller by 3 %": partial(rescaled, across=0.97),
        "narrower by 0.4 %": partial(rescaled, across=0.996, down=1.0),
        "wider by 0.4 %": partial(rescaled, across=1.004, down=1.0),
        "shorter by 0.4 %": partial(rescaled, across=1.0, down=0.996),
        "taller by 0.4 %": partial(rescaled, across=1.0, down=1.004),
        "narrower and taller": partial(rescaled, across=0.996, down=1.004),
        "sheared by 2 %": around("1 0 0.02 1 0 0 cm"),
        "72 taken for 96 units": partial(rescaled, across=0.75),
        "96 taken for 72 units": partial(rescaled, across=4 / 3),
        "refitted to the other paper": refitted(other, 0.0),
        "refitted to the other paper with 1/4 in margins": refitted(other, 6.35),
        "refitted to the other paper with 10 mm margins": refitted(other, 10.0),
        "refitted to its paper with 12 pt margins": refitted(paper, 12 / PT),
        "refitted to its paper with 1/4 in margins": refitted(paper, 6.35),
        "UserUnit 2": changed(user_unit(2.0)),
        "UserUnit 1.004": changed(user_unit(1.004)),
        "layer off": in_a_layer(),
        "layer that is not printed": in_a_layer(print_only=True),
        "transparent": changed(faint),
        "covered in white": around("", f"1 g {COVER}"),
        "covered in black": around("", f"0 g {COVER}"),
        "on black": around(f"0 g {COVER}"),
        "clipped away": around("0 0 1 1 re W n"),
        "cropped away": changed(cropped),
        "beside its page": changed(beside_its_page),
        "square and lines removed": without(rb"(?<=\s)(S|s|f|f\*|B|b|h S)(?=\s|$)"),
        "label gone": without(rb"BT.*?ET"),
        "page empty": changed(lambda pdf: pdf.pages[0].obj.__setitem__("/Contents", pdf.make_stream(b""))),
        "second square off": changed(second_square),
    }


@cache
def whole(origin: str, paper: str) -> bytes:
    if origin != "ours":
        return foreign_files(paper)[origin]
    from tests.sheets.jobs import PAIR, drawn
    from tiler.usecases.draft import Wishes

    with tempfile.TemporaryDirectory() as folder:
        return drawn(PAIR, Path(folder), Wishes(paper=paper)).data


def faults(origin: str, paper: str) -> dict[str, Saved]:
    return foreign_faults(paper) if origin != "ours" else {fault.name: changed(fault.change) for fault in ALL}


def judged(case: tuple[str, str, str, str]) -> Outcome:
    origin, paper, kind, name = case
    make = faults(origin, paper)[name] if kind == "fault" else HARMLESS[name]
    try:
        verdict = prove(make(whole(origin, paper))).verdict
    except TilerError as fault:
        verdict = f"exit code {int(fault.code)}: {fault}"
    return Outcome(origin, paper, kind, name, verdict)


def cases(origins: list[str]) -> Iterator[tuple[str, str, str, str]]:
    for origin in origins:
        for paper in PAPERS:
            yield from ((origin, paper, "fault", name) for name in faults(origin, paper))
            yield from ((origin, paper, "save", name) for name in HARMLESS)


def main(which: str) -> int:
    origins = [] if which == "--foreign" else ["ours"]
    origins += [] if which == "--ours" else list(foreign_files())
    with Pool(PROCESSES) as pool:
        outcomes = list(pool.imap_unordered(judged, list(cases(origins)), chunksize=8))
    for title, found in (("ours", True), ("of others", False)):
        some = [one for one in outcomes if (one.origin == "ours") is found]
        counts = Counter((one.kind, one.wrong) for one in some)
        kinds = len({one.name for one in some if one.kind == "fault"})
        files = len({(one.origin, one.paper) for one in some})
        print(f"{title}: {files} files, {kinds} kinds of fault, {len(HARMLESS)} ways of saving again")
        print(f"  killed {counts['fault', False]}, missed {counts['fault', True]}", end="")
        print(f", let pass {counts['save', False]}, false alarms {counts['save', True]}")
    wrong = [one for one in outcomes if one.wrong]
    for one in wrong:
        word = "missed" if one.kind == "fault" else "false alarm"
        print(f"{word}: {one.origin} on {one.paper}, {one.name}: {one.verdict}")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1] if len(sys.argv) > 1 else ""))
