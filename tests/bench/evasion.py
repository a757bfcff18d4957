"""What the proof can be talked into: ``python tests/bench/evasion.py``.

Deliberate changes of files of ours, random changes of their operands, and harmless saves.  A second renderer
(MuPDF), which the proof does not use, tells for each whether it alters what is printed or read: a pixel
differs by more than a tenth of all greys from everything that lies a pixel of 1/300 in beside it, or the
text, the pages or what is stuck on them are others (a single such pixel is none).  None that alters it may leave with 0; every harmless one must.
"""

from __future__ import annotations

import random
import sys
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import cache
from io import BytesIO
from multiprocessing import Pool
from pathlib import Path
from typing import Any

import pikepdf
import pymupdf
from pikepdf import Pdf
from PIL import Image, ImageChops

ROOT = Path(__file__).parent.parent.parent
sys.path.insert(0, str(ROOT))

from tests.bench.forged import FORGED  # noqa: E402
from tests.bench.harmless import harmless  # noqa: E402
from tests.proof import faults as f  # noqa: E402
from tests.proof.test_carried import AGAINST, CARRIED  # noqa: E402
from tests.proof.test_faults import ALL  # noqa: E402
from tests.proof.test_pane_faults import ALONG, PANES  # noqa: E402
from tests.proof.test_printed import CHANGES, other_meanings  # noqa: E402
from tests.sheets.jobs import PAIR, drawn_once  # noqa: E402
from tiler.errors import TilerError  # noqa: E402
from tiler.proof import prove  # noqa: E402
from tiler.sheets.document import Document  # noqa: E402
from tiler.usecases.draft import Wishes  # noqa: E402

PROCESSES = 2
DOTS = 300
TENTH = 25
"""Of 255 greys."""

MUTANTS = 400
SEED = 20261126


@dataclass(frozen=True)
class Outcome:
    """What became of one file; ``altered`` tells that the second renderer shows or reads something else."""

    kind: str
    name: str
    altered: bool
    answer: str


def grid() -> Document:
    return drawn_once(PAIR, Wishes(paper="letter", arrange="grid"))


def strips() -> Document:
    return drawn_once(ALONG, Wishes(paper="a4", arrange="stacked", cover=False))


ORIGINS: dict[str, Callable[[], Document]] = {"grid": grid, "strips": strips}


def saved(data: bytes, change: f.Change) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        change(pdf)
        pdf.save(out)
    return out.getvalue()


@dataclass(frozen=True)
class Shown:
    """What the second renderer shows of a file and reads in it."""

    pictures: list[Image.Image]
    words: list[str]
    notes: list[int]

    @classmethod
    def of(cls, data: bytes) -> Shown:
        pictures, words, notes = [], [], []
        with pymupdf.open(stream=data) as pdf:
            if pdf.needs_pass:
                pdf.authenticate("")
            for page in pdf:
                drawn = page.get_pixmap(dpi=DOTS, colorspace=pymupdf.csGRAY, annots=True)
                pictures.append(Image.frombytes("L", (drawn.width, drawn.height), drawn.samples))
                words.append(page.get_text())
                notes.append(len(list(page.annots())) + len(list(page.widgets())))
        return cls(pictures, words, notes)

    def differs(self, other: Shown) -> bool:
        if self.words != other.words or self.notes != other.notes:
            return True
        return any(_apart(one, two) for one, two in zip(self.pictures, other.pictures, strict=True))


def _apart(one: Image.Image, other: Image.Image) -> bool:
    if one.size != other.size:
        return True
    near = [(_extreme(picture, ImageChops.darker), _extreme(picture, ImageChops.lighter)) for picture in (one, other)]
    for picture, (dark, light) in ((one, near[1]), (other, near[0])):
        for beyond in (ImageChops.subtract(dark, picture), ImageChops.subtract(picture, light)):
            inner = beyond.crop((1, 1, beyond.width - 1, beyond.height - 1)).point(lambda grey: 255 * (grey > TENTH))
            # more than one pixel, which is less than a tenth of a millimetre
            if any(
                ImageChops.darker(inner, ImageChops.offset(inner, *beside)).getbbox() for beside in ((1, 0), (0, 1))
            ):
                return True
    return False


def _extreme(picture: Image.Image, of: Callable[[Image.Image, Image.Image], Image.Image]) -> Image.Image:
    for dx, dy in ((1, 0), (0, 1)):
        picture = of(of(picture, ImageChops.offset(picture, dx, dy)), ImageChops.offset(picture, -dx, -dy))
    return picture


@cache
def shown(origin: str) -> Shown:
    return Shown.of(ORIGINS[origin]().data)


def answer(data: bytes) -> str:
    """Return the exit code that ``verify`` gives, and why."""
    try:
        report = prove(data)
    except TilerError as fault:
        return f"{int(fault.exit_code)} {fault}"
    return f"{int(report.exit_code)} {report.verdict}"


def changes() -> dict[tuple[str, str], Callable[[bytes], bytes]]:
    """Return the deliberate changes by the file that they are made to and their name."""
    named: dict[tuple[str, str], f.Change] = {("grid", fault.name): fault.change for fault in ALL}
    named |= {("grid", name): change for name, change in CHANGES.items()}
    named |= {("grid", f"carries {name}"): change for name, (change, _) in CARRIED.items()}
    named |= {("grid", f"wishes for {name}"): change for name, change in AGAINST.items()}
    named |= {("grid", "characters are read as others"): other_meanings}
    named |= {("strips", fault.name): fault.change for fault in PANES}
    found: dict[tuple[str, str], Callable[[bytes], bytes]] = {
        key: lambda data, change=change: saved(data, change) for key, change in named.items()
    }
    return found | {("grid", f"forged: {name}"): forge for name, forge in FORGED.items()}


def changed(key: tuple[str, str]) -> Outcome:
    origin, name = key
    data = changes()[key](ORIGINS[origin]().data)
    try:
        altered = Shown.of(data).differs(shown(origin))
    except (RuntimeError, ValueError):
        altered = True
    return Outcome("change", f"{origin}: {name}", altered, answer(data))


def mutated(number: int) -> Outcome:
    """Change one operand of one instruction of a page or a form by chance."""
    chance = random.Random(SEED + number)
    origin = chance.choice(list(ORIGINS))
    told: list[str] = []

    def change(pdf: Pdf) -> None:
        forms = [form for page in pdf.pages for form in page.Resources.get("/XObject", {}).values()]
        streams = [*pdf.pages, *forms]
        stream = chance.choice(streams)
        instructions = list(pikepdf.parse_content_stream(stream))
        index = chance.choice([i for i, one in enumerate(instructions) if len(one.operands)])
        operands = list(instructions[index].operands)
        place = chance.randrange(len(operands))
        operands[place] = other(operands[place], chance)
        told.append(f"{instructions[index].operator} {instructions[index].operands} to {operands}")
        instructions[index] = pikepdf.ContentStreamInstruction(operands, instructions[index].operator)
        data = pikepdf.unparse_content_stream(instructions)
        if isinstance(stream, pikepdf.Page):
            stream.Contents = pdf.make_stream(data)
        else:
            stream.write(data)

    data = saved(ORIGINS[origin]().data, change)
    altered = Shown.of(data).differs(shown(origin))
    return Outcome("mutant", f"{number} {origin}: {told[0]}"[:150], altered, answer(data))


def other(operand: Any, chance: random.Random) -> Any:
    """Return another operand of the same kind."""
    if isinstance(operand, pikepdf.String):
        old = bytearray(bytes(operand))
        if old:
            old[chance.randrange(len(old))] = chance.randrange(0x20, 0x7F)
        return pikepdf.String(bytes(old))
    if isinstance(operand, pikepdf.Array):
        return pikepdf.Array([other(one, chance) for one in operand])
    if isinstance(operand, pikepdf.Name):
        return operand
    number = float(operand)
    ways = (number * chance.uniform(0.9, 1.1), number + chance.uniform(-3, 3), -number, 0.0, number * 1.004, 1 - number)
    return round(chance.choice(ways), 4)


def harmed(name: str) -> Outcome:
    """Save a file without harm, and see that it stays what it was."""
    return Outcome("harmless", name, False, answer(harmless()[name](grid().data)))


def outcomes() -> Iterator[Outcome]:
    with Pool(PROCESSES) as pool:
        yield from pool.imap_unordered(changed, changes(), chunksize=4)
        yield from pool.imap_unordered(mutated, range(MUTANTS), chunksize=8)
        yield from pool.imap_unordered(harmed, harmless(), chunksize=2)


def main() -> int:
    counts: Counter[str] = Counter()
    wrong = []
    for one in outcomes():
        passed = one.answer.startswith("0")
        kind = (
            one.kind if one.kind == "harmless" else f"{one.kind}, {'altered' if one.altered else 'nothing to be seen'}"
        )
        counts[f"{kind}: {'passed' if passed else 'refused'}"] += 1
        if passed != (one.kind == "harmless") and (one.altered or one.kind != "mutant"):
            wrong.append(f"{kind}: {one.name}: {one.answer}")
    for name, count in sorted(counts.items()):
        print(f"{count:5} {name}")
    print(*wrong, sep="\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
