"""Make a whole release of an invented overall: ``python examples/make_release.py FOLDER``.

Twenty sizes of six edge pieces join the pattern's own PDF of forty pages, on letter and on A4.
The script writes the spec and both pattern files into the folder, and then has tiler
make ``release`` beside them.  The pattern has a layer for each size, called as everybody
calls them, and shapes that are invented like the rest.
"""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pikepdf
from make_base import DASHES, path, words
from pikepdf import Array, Dictionary, Name, OutlineItem, Pdf, String

SIZES = [str(size) for size in range(30, 70, 2)]
PAPERS = {"letter": (8.5, 11.0), "a4": (210 / 25.4, 297 / 25.4)}
MARGIN = 0.5
PARTS = (("Front", 3, 4), ("Back", 3, 4), ("Leg", 3, 5))
"""The parts of the pattern with their columns and rows of pages: with the first page they make forty."""

HEAD = """\
title = "Saltmarsh overall"
version = "2.0"
date = "2026-11-20"
copyright = "Saltmarsh Knits"
units = "cm"
logo = "mark.svg"
sizes = {sizes}
publisher = {{ name = "Saltmarsh Knits", web = "saltmarsh.example", contact = "help@saltmarsh.example" }}
changes = ["Sizes 62 to 68 are new.", "The waist band is 1 cm wider."]

[fabrics.rib]
stretch = "80 %"
recovery = "95 %"

[fabrics.jersey]
stretch = "50 %"
"""

MARK = """\
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 34">
  <path fill="#1f4e79" d="M2 18C12 6 22 6 30 18S48 30 58 18V25C48 37 38 35 30 25S12 13 2 25Z"/>
  <path fill="#b3541e" fill-rule="evenodd" d="M75 4a12 12 0 1 0 .01 0ZM75 10a6 6 0 1 1-.01 0Z"/>
</svg>
"""

PIECE = """
[[pieces]]
name = "{name}"
finish = "{finish}"
finished-width = "{width}"
cut = "{cut}"
fabric = "{fabric}"
garment-fabric = "jersey"
{more}
[pieces.edge]
kind = "{kind}"
measured-on = "seam-line"
{parts}
"""


def graded(first: float, step: float) -> str:
    """Give a length for each size as a table of the spec, cm."""
    lengths = (f'{size} = "{first + step * number:.1f} cm"' for number, size in enumerate(SIZES))
    return f"{{ {', '.join(lengths)} }}"


def spec() -> str:
    """Give the spec of the six edge pieces."""
    pieces = [
        ("Neckband", "folded-band", "1.5 cm", "on-fold", "rib", "neckline"),
        ("Armhole binding", "double-fold-binding", "0.9 cm", "full-loop", "jersey", "armhole"),
        ("Sleeve cuff", "folded-band", "4 cm", "full-loop", "rib", "straight"),
        ("Waist band", "folded-band", "5 cm", "on-fold", "rib", "straight"),
        ("Ankle cuff", "folded-band", "6 cm", "full-loop", "rib", "straight"),
        ("Pocket binding", "raw-edge-binding", "0.8 cm", "full-loop", "jersey", "straight"),
    ]
    edges: list[dict[str, tuple[float, float]]] = [
        {"front-half": (17.4, 0.4), "back-half": (9.0, 0.3)},
        {"front": (19.0, 0.6), "back": (20.0, 0.6)},
        *({"whole": grade} for grade in ((19.0, 0.5), (66.0, 3.5), (22.0, 0.6), (15.0, 0.4))),
    ]
    whole = HEAD.format(sizes=json.dumps(SIZES))
    for (name, finish, width, cut, fabric, kind), parts in zip(pieces, edges, strict=True):
        lines = "\n".join(f"{part} = {graded(*grade)}" for part, grade in parts.items())
        more = "quantity = 2\n" if name in ("Sleeve cuff", "Ankle cuff", "Pocket binding") else ""
        whole += PIECE.format(
            name=name, finish=finish, width=width, cut=cut, fabric=fabric, kind=kind, parts=lines, more=more
        )
    return whole


def outline(part: str, step: int) -> str:
    """Give one size of a part as one closed path, from its lower left corner; inches."""
    wide, high = (9.0 + 0.35 * step, 25.0 + 0.3 * step) if part != "Leg" else (8.0 + 0.3 * step, 33.0 + 0.3 * step)
    neck = 3.2 + 0.06 * step if part != "Leg" else 1.5
    deep = {"Front": 4.0, "Back": 1.2, "Leg": 3.0}[part]
    corners = [(0, 0), (wide, 0), (wide - 0.8, high - 7), (wide - 2, high - 1), (neck, high), (0, high - deep), (0, 0)]
    return path([(float(x), float(y)) for x, y in corners])


def contents(paper: tuple[float, float]) -> Iterator[tuple[str, str]]:
    """Yield a title and the content of each page."""
    wide, high = paper[0] - 2 * MARGIN, paper[1] - 2 * MARGIN
    first = [
        words((1, 9.8), "Saltmarsh overall", 20),
        words((1, 9.4), "Print at 100 %. The square is 2 in wide and high.", 11),
        "1 w 72 468 144 144 re S",
        words((1.75, 7.4), "2 in", 12),
    ]
    yield "Start here", "\n".join(first)
    for part, columns, rows in PARTS:
        for row in range(rows):
            for column in range(columns):
                frame = f"{MARGIN * 72:.3f} {MARGIN * 72:.3f} {wide * 72:.3f} {high * 72:.3f} re"
                x, y = MARGIN + 0.25 - column * wide, MARGIN + 0.25 - (rows - 1 - row) * high
                code = f"{part} {chr(ord('A') + row)}{column + 1}"
                lines = ["0.3 w", frame, "S", words((MARGIN, MARGIN - 0.2), f"Saltmarsh overall, {code}", 9), "1 w"]
                lines += ["q", frame, "W n", f"1 0 0 1 {x * 72:.3f} {y * 72:.3f} cm"]
                for step in range(len(SIZES)):
                    dash = DASHES[step % len(DASHES)]
                    lines += [f"/OC /L{step} BDC", f"[{dash}] 0 d", outline(part, step), "EMC"]
                yield part, "\n".join([*lines, "Q"])


def write_base(target: Path, paper: tuple[float, float]) -> None:
    """Write the pattern on a paper, its sides in inches."""
    with Pdf.new() as pdf:
        layers = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(f"Size {size}"))) for size in SIZES]
        resources = pdf.make_indirect(
            Dictionary(
                Font=Dictionary(F=Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)),
                Properties=Dictionary({f"/L{number}": layer for number, layer in enumerate(layers)}),
            )
        )
        starts: dict[str, int] = {}
        for number, (title, content) in enumerate(contents(paper)):
            starts.setdefault(title, number)
            page = Dictionary(
                Type=Name.Page,
                MediaBox=Array([0, 0, paper[0] * 72, paper[1] * 72]),
                Resources=resources,
                Contents=pdf.make_stream(content.encode("ascii")),
            )
            pdf.pages.append(pikepdf.Page(pdf.make_indirect(page)))
        pdf.Root.OCProperties = Dictionary(OCGs=Array(layers), D=Dictionary(Order=Array(layers), ON=Array(layers)))
        pdf.docinfo["/Title"] = "Saltmarsh overall"
        with pdf.open_outline() as outline_of:
            outline_of.root += [OutlineItem(title, number) for title, number in starts.items()]
        pdf.save(target, deterministic_id=True)


def main(folder: Path, run: Callable[[list[str]], object] = subprocess.check_call) -> None:
    """Write the spec and the pattern into a folder, and make the release there."""
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "overall.toml").write_text(spec(), encoding="utf-8")
    (folder / "mark.svg").write_text(MARK, encoding="utf-8")
    bases = []
    for name, paper in PAPERS.items():
        write_base(folder / f"overall-{name}.pdf", paper)
        bases += ["--with", str(folder / f"overall-{name}.pdf")]
    command = [sys.executable, "-m", "tiler", "bundle", str(folder / "overall.toml"), "-o", str(folder / "release")]
    run([*command, *bases, "--projector"])


if __name__ == "__main__":
    main(Path(sys.argv[1]))
