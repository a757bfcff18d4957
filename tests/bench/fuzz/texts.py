"""Specs, drawings, tables, answers and profiles that are made to hurt: some by hand, the rest by a seed from good ones."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from pathlib import Path
from random import Random

ROOT = Path(__file__).parents[3]
EXAMPLES = ROOT / "examples"

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">'
NECK = '<path id="neck" d="M0,0 C0,80 60,100 90,100"/>'
PIECE = '[[pieces]]\nname = "Hem{}"\nfinish = "folded-band"\nfinished-width = "1 in"\nedge = {{ kind = "straight", whole = "20 in" }}\n'
SPEC = 'title = "Hem"\nunits = "in"\n'
TABLE = "tester,printer,viewer,paper,nominal,across,down,size,fit\n"

ODD = (
    *("0", "-1", "1e308", "nan", "inf", "-inf", "99999999999999999999", '""', "''", "[]", "{}", "true", "1979-05-27"),
    *(
        '"' + "9" * 400 + ' cm"',
        '"1/0 in"',
        '"½½ in"',
        '"1,5 cm"',
        '"\\u202Eabc"',
        '"\\u0000"',
        "[[[[1]]]]",
        "{ a = 1 }",
    ),
    *(
        '"-5 cm"',
        '"1e400 mm"',
        '"% cm"',
        "0x7fffffffffffffff",
        '"' + "x" * 5000 + '"',
        "\x1b[2J",
        "\u202e",
        "=",
        '"',
        "'''",
    ),
    *("[", "]", "}", "[[pieces]]", "#", "\r", "\x00", "\ud7ff", '"99999 m"', '"0.0000001 mm"'),
)


def mutated(text: str, random: Random) -> bytes:
    """Change a good text in one of a few ways, at places that the seed chooses."""
    data = text.encode()
    for _ in range(random.choice((1, 1, 2, 5))):
        way = random.randrange(6)
        lines = data.split(b"\n")
        if way == 0:
            values = list(re.finditer(rb'"[^"\n]*"|\b[0-9.]+\b|true|false', data))
            if values:
                hit = random.choice(values)
                data = data[: hit.start()] + random.choice(ODD).encode() + data[hit.end() :]
        elif way == 1:
            place = random.randrange(len(data) + 1)
            data = data[:place] + random.choice((random.choice(ODD).encode(), random.randbytes(20))) + data[place:]
        elif way == 2:
            line = random.randrange(len(lines))
            lines[line:line] = [random.choice(lines)] * random.choice((1, 3, 200))
            data = b"\n".join(lines)
        elif way == 3:
            del lines[random.randrange(len(lines))]
            data = b"\n".join(lines)
        elif way == 4:
            data = data[: random.randrange(len(data) + 1)]
        else:
            names = list(re.finditer(rb"[A-Za-z][\w-]+", data))
            if names:
                hit, other = random.choice(names), random.choice(names)
                data = data[: hit.start()] + random.choice((other[0], b"a" * 300, b"")) + data[hit.end() :]
    return data


def filled(by_hand: list[bytes | str], good: list[str], count: int, seed: int) -> Iterator[bytes]:
    """Yield the files that were made by hand, then so many as are wanted in all from good ones."""
    for one in by_hand:
        yield one if isinstance(one, bytes) else one.encode()
    for number in range(count - len(by_hand)):
        random = Random(seed + number)
        yield mutated(random.choice(good), random)


def specs(count: int) -> Iterator[bytes]:
    good = [path.read_text() for path in sorted(EXAMPLES.glob("saltmarsh-*.toml"))]
    hand: list[bytes | str] = [
        "a" + ".a" * 20_000 + " = 1",
        "[" + "a." * 20_000 + "a]",
        "a = " + "[" * 100_000,
        "a = " + "{ a = " * 50_000,
        "a." * 15 + "a = 1\n" + "".join(f"b{n}." * 15 + f"c{n} = 1\n" for n in range(5000)),
        "[[a]]\n" * 150_000,
        "a = 1\n" * 150_000,
        "".join(f"k{number} = 1\n" for number in range(70_000)),
        "a = [" + "1, " * 300_000 + "]",
        "a = " + "9" * 500_000,
        'a = "' + "\\u202e" * 100_000 + '"',
        'a = """' + '""' * 100_000,
        b"\xff\xfe" + "title".encode("utf-16-le") * 1000,
        b"\x00" * 1000,
        b"%PDF-1.7\n",
        b"",
        b"#" * (2**20 + 1),
        SPEC + "".join(PIECE.format(number) for number in range(1001)),
        SPEC + "".join(PIECE.format(number) for number in range(150)),
        SPEC + PIECE.format("") + "notches = [" + '{ name = "n", at = "1 in" }, ' * 300 + "]",
        SPEC
        + PIECE.format("")
        + "notches = ["
        + "".join(f'{{ name = "n{n}", at = "{n / 7 + 1:.3f} in" }}, ' for n in range(60))
        + "]",
        SPEC + "sizes = [" + '"S", ' * 10_000 + "]\n" + PIECE.format(""),
        SPEC + PIECE.format("").replace("20 in", "9999999 in"),
        SPEC + PIECE.format("").replace("20 in", "999 in"),
        SPEC + PIECE.format("").replace("1 in", "300 in"),
        SPEC + PIECE.format("\\u202e\\u001b[2J"),
        SPEC + PIECE.format("").replace('whole = "20 in"', 'whole = { svg = "/dev/zero" }'),
        SPEC + PIECE.format("").replace('whole = "20 in"', 'whole = { svg = "../../etc/passwd" }'),
        SPEC + PIECE.format("").replace('whole = "20 in"', 'whole = { svg = "' + "ä" * 200 + '" }'),
    ]
    return filled(hand, good, count, 1000)


def _ten(level: int) -> str:
    """Give a group that draws the one below it ten times."""
    uses = f'<use href="#g{level - 1}"/>' * 10
    return f'<g id="g{level}">{uses}</g>'


def drawings(count: int) -> Iterator[bytes]:
    inner = {
        "sheet": f"<style>{'a' * 60_000}</style>{NECK}",
        "braces": f"<style>{'{ {}' * 15_000}</style>{NECK}",
        "rules": "<style>" + "".join(f"#a{n}{{display:none}}" for n in range(20_000)) + f"</style>{NECK * 1000}",
        "attributes": f'<path a="{"url( " * 8_000_000}"/>',
        "path": f'<path d="{"M0 0L1 1 " * 4_000_000}"/>',
        "one path": f'<path d="M0 0{"L1 1L2 0" * 50_000}"/>',
        "transform": f'<path d="M0 0L1 1" transform="{"rotate(1) " * 5_000_000}"/>',
        "spaces": f'<path a="url({" " * 50_000_000}"/>',
        "numbers": f'<polyline points="{"1" * 3_000_000}"/>',
        "dots": f'<path d="M{"0." * 100_000}"/>',
        "uses": '<g id="a">' + '<use href="#a"/>' * 10 + "</g>",
        "laughs": "".join(_ten(n) for n in range(1, 9)) + f'<defs><g id="g0">{NECK}</g></defs>',
        "deep": "<g>" * 100_000,
        "wide": "<g/>" * 300_000,
        "ids": '<path id="\u202e&#x9b;" d="M0 0L9 9"/>' * 3,
        "huge": '<path d="M0 0L1e308 1e308"/>',
        "arcs": f'<path d="M0 0{"A1e-300 1 0 0 1 1 1" * 1000}"/>',
        "crossing": f'<path d="M0 0{"".join(f"L{n * 7919 % 200} {n * 104729 % 100}" for n in range(3000))}"/>',
    }
    entities = '<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;">]>'
    hand: list[bytes | str] = [
        *(f"{HEAD}{content}</svg>" for content in inner.values()),
        entities + HEAD + "&b;</svg>",
        "<svg " + "a" * 1_000_000,
        (HEAD + NECK).encode("utf-16"),
        b"\x1f\x8b" + bytes(1000),
        HEAD.replace("200mm", "1e999mm") + NECK + "</svg>",
        b"<" * 1_000_000,
    ]
    good = [(EXAMPLES / "saltmarsh-necks.svg").read_text(), f"{HEAD}{NECK}<rect width='3' height='4'/></svg>"]
    return filled(hand, good, count, 2000)


def tables(count: int) -> Iterator[bytes]:
    row = "Ana{},Inkjet {},Reader,A4,15 cm,14.9{} cm,15 cm,S,fits {}\n"
    hand: list[bytes | str] = [
        TABLE + "".join(row.format(n, n, n % 10, n) for n in range(999)),
        TABLE + "".join(row.format(n, n, n % 10, n) for n in range(20_000)),
        TABLE + "".join(row.format(1, n, n % 10, n) for n in range(900)),
        TABLE + '"' * 100_000,
        TABLE + "," * 1_000_000,
        TABLE + "a" * 8_000_000,
        TABLE * 2,
        "\n" * 1_000_000,
        b"\x00" * 100_000,
        b"\xff\xfe" + b"\x00\xd8" * 1000,
        "tester;" * 100_000,
        TABLE + row.format("\x1b[2J", "\u202e", 1, "\x9b"),
        TABLE + "Ana,Inkjet,Reader,A4,1e308 cm,1e-308 cm,nan,S,x\n",
        TABLE + "Ana,Inkjet,Reader,A4," + "9" * 5000 + " cm,15 cm,15 cm,S,x\n",
    ]
    return filled(hand, [(EXAMPLES / "saltmarsh-readings.csv").read_text()], count, 3000)


def answers(count: int) -> Iterator[bytes]:
    good = 'place = "neckline"\nfinish = "folded-band"\nfront-half = "18 cm"\nback-half = "12 cm"\nwidth = "2 cm"\npulled = "20 cm"\n'
    hand: list[bytes | str] = [
        "a" + ".a" * 20_000 + " = 1",
        "a = " + "[" * 40_000,
        b"\x00",
        good * 2,
        'kind = "\\u001b"',
    ]
    return filled(hand, [good], count, 4000)


def profiles(count: int) -> Iterator[bytes]:
    good = (
        '{"format": 1, "name": "Laser", "nominal_across_mm": 150.0, "across_mm": 149.0, "nominal_down_mm": 150.0, '
        '"down_mm": 149.5, "reading_error_mm": 0.5}'
    )
    hand: list[bytes | str] = ["[" * 90_000, "{}", "null", good.replace("150.0", "1e999"), good.replace("149.0", "NaN")]
    hand += [good.replace("150.0", "9" * 5000), good.replace("Laser", "\\u202e"), good + " " * 200_000, b"\xff"]
    return filled(hand, [good], count, 5000)


KINDS: dict[str, tuple[Callable[[int], Iterator[bytes]], int]] = {
    "spec": (specs, 250),
    "svg": (drawings, 100),
    "csv": (tables, 100),
    "answers": (answers, 50),
    "profile": (profiles, 50),
}
