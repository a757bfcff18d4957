"""Draw the pattern that the edge pieces of ``saltmarsh-sizes.toml`` belong to: ``python examples/make_base.py FILE``.

Front and back of an invented top, tiled over letter pages, with a test square on the
first page, an outline, page labels, and a layer for each size.  Necklines and armholes
are as long as the spec says.  Lengths are inches, points in the file itself.
"""

from __future__ import annotations

import sys
import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import pikepdf
from pikepdf import Array, Dictionary, Name, OutlineItem, Pdf, String

SPEC = Path(__file__).parent / "saltmarsh-sizes.toml"
WIDTH, HEIGHT = 8.5, 11.0
WINDOW = (7.5, 10.0)
COLUMNS, ROWS = 2, 3
INSET = 0.25
"""From the first window's edges to fold and hem, so that both are seen whole."""

UNDERARM = 14.5
"""From hem to underarm, the same in front and back, so that their side seams match."""

SLOPE = 1.0
QUARTER = 0.5522847498
"""Handle of the Bézier curve that comes nearest to a quarter circle, for a radius of 1."""

DASHES = ("", "9 3", "6 3", "3 3", "1 3", "9 3 1 3", "9 3 3 3", "9 3 1 3 1 3")
Point = tuple[float, float]
Curve = tuple[Point, Point, Point, Point]


@dataclass(frozen=True)
class Outline:
    """Half a front or back, from the centre fold (x = 0) outwards; y counts from the hem."""

    neckline: Curve
    armhole: Curve


def outlines(back: bool) -> dict[str, Outline]:
    """Give the outline for each size."""
    spec = tomllib.loads(SPEC.read_text(encoding="utf-8"))
    neck, arm = (spec["pieces"][index]["edge"] for index in (0, 1))
    side = "back" if back else "front"
    drawn = {}
    for step, size in enumerate(spec["sizes"]):
        half_neck = inches(neck["back-half"][size]) - 0.6
        tip, chest = 6.5 + 0.25 * step, 8.75 + 0.5 * step

        def hole(deep: float, tip: float = tip, chest: float = chest) -> Curve:
            top = UNDERARM + deep
            return (tip, top), (tip - 0.3, top - 0.6 * deep), (tip + 0.2, UNDERARM), (chest, UNDERARM)

        armhole = fitted(hole, inches(arm[side][size]))
        high = armhole[0][1] + SLOPE

        def scoop(deep: float, wide: float = half_neck, high: float = high) -> Curve:
            low = high - deep
            return (0, low), (QUARTER * wide, low), (wide, low + (1 - QUARTER) * deep), (wide, high)

        drawn[size] = Outline(fitted(scoop, inches(neck[f"{side}-half"][size])), armhole)
    return drawn


def inches(text: str) -> float:
    """Read a length such as "7 1/4 in"."""
    return float(sum(Fraction(part) for part in text.removesuffix(" in").split()))


def fitted(curve: Callable[[float], Curve], length: float) -> Curve:
    """Give the curve of that length; it grows with its depth."""
    low, high = 0.01, 20.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if measured(curve(middle)) < length else (low, middle)
    return curve(low)


def measured(curve: Curve, steps: int = 64) -> float:
    """Give the length of a Bézier curve: its speed, summed by Simpson's rule."""
    a, b, c, d = (complex(*point) for point in curve)
    ab, bc, cd = b - a, c - b, d - c
    total = 0.0
    for step in range(steps + 1):
        t = step / steps
        speed = 3 * abs((1 - t) ** 2 * ab + 2 * t * (1 - t) * bc + t * t * cd)
        total += speed * (1 if step in (0, steps) else 4 if step % 2 else 2)
    return total / (3 * steps)


def main(target: Path) -> None:
    """Write the pattern."""
    with Pdf.new() as pdf:
        sizes = list(outlines(back=False))
        layers = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(f"size {size}"))) for size in sizes]
        resources = pdf.make_indirect(
            Dictionary(
                Font=Dictionary(F=Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)),
                Properties=Dictionary({f"/L{number}": layer for number, layer in enumerate(layers)}),
            )
        )
        for content in (first_page(sizes), *tiles("Front", outlines(back=False)), *tiles("Back", outlines(back=True))):
            page = Dictionary(
                Type=Name.Page,
                MediaBox=Array([0, 0, WIDTH * 72, HEIGHT * 72]),
                Resources=resources,
                Contents=pdf.make_stream(content.encode("ascii")),
            )
            pdf.pages.append(pikepdf.Page(pdf.make_indirect(page)))
        pdf.Root.OCProperties = Dictionary(OCGs=Array(layers), D=Dictionary(Order=Array(layers), ON=Array(layers)))
        count = COLUMNS * ROWS
        pdf.Root.PageLabels = Dictionary(
            Nums=Array(
                [
                    *(0, Dictionary(S=Name.r)),
                    *(1, Dictionary(S=Name.D, P=String("F"))),
                    *(1 + count, Dictionary(S=Name.D, P=String("B"))),
                ]
            )
        )
        pdf.Root.Lang = String("en")
        pdf.docinfo["/Title"] = "Saltmarsh pattern top"
        with pdf.open_outline() as outline:
            outline.root += [
                OutlineItem(words, at) for words, at in (("Start here", 0), ("Front", 1), ("Back", 1 + count))
            ]
        pdf.save(target, deterministic_id=True)


def first_page(sizes: list[str]) -> str:
    """Give the page with the test square and the lines of the sizes."""
    lines = [
        words((1, 9.8), "Saltmarsh pattern top", 20),
        words((1, 9.4), "Print at 100 %. The square is 2 in wide and high.", 11),
        "1 w 72 468 144 144 re S",
        words((1.75, 7.4), "2 in", 12),
    ]
    for number, size in enumerate(sizes):
        y = 5.6 - 0.4 * number
        lines += [words((1, y), size, 11), f"[{DASHES[number]}] 0 d", path([(1.8, y + 0.05), (4, y + 0.05)]), "[] 0 d"]
    return "\n".join(lines)


def tiles(name: str, drawn: dict[str, Outline]) -> Iterator[str]:
    """Give the pages of a piece, row by row from the top."""
    left, low = (WIDTH - WINDOW[0]) / 2, (HEIGHT - WINDOW[1]) / 2
    for row in range(ROWS):
        for column in range(COLUMNS):
            x, y = left + INSET - column * WINDOW[0], low + INSET - (ROWS - 1 - row) * WINDOW[1]
            frame = f"{left * 72:.3f} {low * 72:.3f} {WINDOW[0] * 72:.3f} {WINDOW[1] * 72:.3f} re"
            code = f"{name} {chr(ord('A') + row)}{column + 1}"
            lines = ["0.3 w", frame, "S", words((left, low - 0.2), f"Saltmarsh pattern top, {code}", 9), "1 w"]
            lines += ["q", frame, "W n", f"1 0 0 1 {x * 72:.3f} {y * 72:.3f} cm"]
            lines += [words((1, 9), f"{name}, cut 1 on fold", 14)]
            for number, one in enumerate(drawn.values()):
                lines += [f"/OC /L{number} BDC", f"[{DASHES[number]}] 0 d", shape(one), "EMC"]
            yield "\n".join([*lines, "Q"])


def shape(one: Outline) -> str:
    """Give an outline as one path, closed at the centre fold."""
    parts = [
        f"{at((0, 0))} m",
        f"{at(one.neckline[0])} l",
        " ".join(map(at, one.neckline[1:])) + " c",
        f"{at(one.armhole[0])} l",
        " ".join(map(at, one.armhole[1:])) + " c",
        f"{at((one.armhole[-1][0], 0))} l",
        "s",
    ]
    return " ".join(parts)


def path(points: list[Point]) -> str:
    """Give a line through points."""
    first, *rest = map(at, points)
    return " ".join([f"{first} m", *(f"{one} l" for one in rest), "S"])


def at(point: Point) -> str:
    """Give a point in points."""
    return f"{point[0] * 72:.4f} {point[1] * 72:.4f}"


def words(place: Point, text: str, size: float) -> str:
    """Give a line of text."""
    return f"BT /F {size} Tf {at(place)} Td ({text}) Tj ET"


if __name__ == "__main__":
    main(Path(sys.argv[1]))
