"""Damaged files from whole ones: the same seed gives the same damage to the same file."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from io import BytesIO
from random import Random

from pikepdf import Array, Dictionary, Name, Object, Pdf, PdfError, Stream

ODD_NUMBERS = ("0", "-1", "1e308", "nan", "99999999999999999999", "-99999999", "0.0000000001", "1", "2147483648", "--5")
ODD_VALUES = (0, -1, 10**15, 10**-9, True, None, Name.Odd, b"odd", [], [0, 0], [-(10**9), 5, 10**9, 7, 8])
OPERATORS = (
    "m",
    "l",
    "c",
    "v",
    "y",
    "h",
    "re",
    "S",
    "s",
    "f",
    "F",
    "B",
    "b",
    "n",
    "W",
    "q",
    "Q",
    "cm",
    "Do",
    "BT",
    "ET",
    "Tf",
    "Td",
    "Tm",
    "Tj",
    "TJ",
    "gs",
    "BMC",
    "EMC",
    "BDC",
    "d",
    "w",
    "g",
    "rg",
    "k",
    "sh",
    "BI",
)
PAGE_KEYS = ("MediaBox", "CropBox", "Rotate", "UserUnit", "Resources", "Contents", "Parent", "Annots", "Group")

Damage = Callable[[bytes, Random], bytes]


def changed_bytes(data: bytes, random: Random) -> bytes:
    out = bytearray(data)
    for _ in range(random.choice((1, 3, 10, 40))):
        out[random.randrange(len(out))] = random.randrange(256)
    return bytes(out)


def cut_short(data: bytes, random: Random) -> bytes:
    return data[: random.randrange(len(data))]


def piece_lost(data: bytes, random: Random) -> bytes:
    start, end = sorted(random.randrange(len(data)) for _ in range(2))
    return data[:start] + data[min(end, start + 4000) :]


def piece_doubled(data: bytes, random: Random) -> bytes:
    start, end = sorted(random.randrange(len(data)) for _ in range(2))
    return data[:end] + data[start:end] * random.choice((1, 2, 20)) + data[end:]


def pieces_swapped(data: bytes, random: Random) -> bytes:
    a, b, c, d = sorted(random.randrange(len(data)) for _ in range(4))
    return data[:a] + data[c:d] + data[b:c] + data[a:b] + data[d:]


def noise_put_in(data: bytes, random: Random) -> bytes:
    place = random.randrange(len(data))
    return data[:place] + random.randbytes(random.choice((1, 100, 5000))) + data[place:]


def number_in_the_structure(data: bytes, random: Random) -> bytes:
    return _replaced(data, rb"(?<=[ /\[\n(])-?\d+(\.\d+)?", random, ODD_NUMBERS)


def length_of_a_stream(data: bytes, random: Random) -> bytes:
    return _replaced(data, rb"(?<=/Length )\d+", random, ODD_NUMBERS)


def key_renamed(data: bytes, random: Random) -> bytes:
    keys = ("/Kids", "/Page", "/Pages", "/Form", "/Filter", "/FlateDecode", "/Type", "/LZWDecode", "/Odd")
    return _replaced(data, rb"/[A-Za-z]+", random, keys)


def object_numbers_swapped(data: bytes, random: Random) -> bytes:
    heads = list(re.finditer(rb"\d+ 0 obj", data))
    if len(heads) < 2:
        return changed_bytes(data, random)
    one, other = sorted(random.sample(heads, 2), key=lambda head: head.start())
    between = data[one.end() : other.start()]
    return data[: one.start()] + other[0] + between + one[0] + data[other.end() :]


def tokens_of_content(data: bytes, random: Random) -> bytes:
    """Change numbers and operators in a stream once it is decompressed."""

    def change(pdf: Pdf) -> None:
        stream = random.choice(_streams(pdf))
        tokens = stream.read_bytes().split(b" ")
        for _ in range(random.choice((1, 4, 30))):
            place = random.randrange(len(tokens))
            odd = random.choice((*ODD_NUMBERS, *OPERATORS, "", "/Odd", "(", "<<", "[", ">>"))
            tokens[place : place + random.randrange(3)] = [odd.encode()] * random.choice((1, 1, 50))
        stream.write(b" ".join(tokens))

    return _rewritten(data, change)


def text_of_a_stream(data: bytes, random: Random) -> bytes:
    """Change words and numbers in any stream, the attached declaration among them."""

    def change(pdf: Pdf) -> None:
        stream = random.choice([one for one in pdf.objects if isinstance(one, Stream)])
        odd = (*ODD_NUMBERS, "null", "[]", "{}", '"odd"', "[[[", "NaN", "-Infinity", "1e999", "true")
        text = stream.read_bytes()
        for _ in range(random.choice((1, 1, 5))):
            text = _replaced(text, rb"-?\d+(\.\d+)?", random, odd)
        stream.write(text)

    return _rewritten(data, change)


def declaration(data: bytes, random: Random) -> bytes:
    """Change values of the attached declaration; another file gets one that is none."""

    def change(pdf: Pdf) -> None:
        if "tiler.json" not in pdf.attachments:
            pdf.attachments["tiler.json"] = random.choice((b"", b"{}", b"[]", b"null", b"{" * 99999, b'{"pages": 3}'))
            return
        text = pdf.attachments["tiler.json"].get_file().read_bytes()
        odd = ("0", "-1", "1e300", "NaN", "null", "[]", "{}", '"odd"', "1e999", "12345678901234567890", "[1, 2]", "0.1")
        for _ in range(random.choice((1, 1, 3, 20))):
            text = _replaced(text, rb'(?<=[:,\[] )(-?\d+(\.\d+)?|"[^"]*"|true|false|null)', random, odd)
        del pdf.attachments["tiler.json"]
        pdf.attachments["tiler.json"] = text

    return _rewritten(data, change)


def reference_in_a_circle(data: bytes, random: Random) -> bytes:
    """Let an entry of any object refer to any other, or to its own object."""

    def change(pdf: Pdf) -> None:
        owners = [one for one in pdf.objects if isinstance(one, Dictionary | Stream | Array) and len(one)]
        for _ in range(random.choice((1, 2, 5))):
            owner = random.choice(owners)
            target = random.choice((owner, random.choice(owners)))
            if isinstance(owner, Array):
                owner[random.randrange(len(owner))] = target
            else:
                owner[random.choice(list(owner.keys()))] = target

    return _rewritten(data, change)


def entry_of_a_page(data: bytes, random: Random) -> bytes:
    def change(pdf: Pdf) -> None:
        page = random.choice(list(pdf.pages)).obj
        for _ in range(random.choice((1, 1, 2))):
            key = f"/{random.choice(PAGE_KEYS)}"
            if random.random() < 0.3 and key in page:
                del page[key]
            else:
                page[key] = _value(random)

    return _rewritten(data, change)


def entry_of_an_object(data: bytes, random: Random) -> bytes:
    def change(pdf: Pdf) -> None:
        owners = [one for one in pdf.objects if isinstance(one, Dictionary | Stream) and len(one.keys())]
        for _ in range(random.choice((1, 3))):
            owner = random.choice(owners)
            owner[random.choice(list(owner.keys()))] = _value(random)

    return _rewritten(data, change)


DAMAGES: tuple[Damage, ...] = (
    changed_bytes,
    cut_short,
    piece_lost,
    piece_doubled,
    pieces_swapped,
    noise_put_in,
    number_in_the_structure,
    length_of_a_stream,
    key_renamed,
    object_numbers_swapped,
    tokens_of_content,
    text_of_a_stream,
    declaration,
    reference_in_a_circle,
    entry_of_a_page,
    entry_of_an_object,
)


def damaged(wholes: Sequence[bytes], seed: int) -> tuple[str, bytes]:
    """Give the name of the damage and the damaged file of a seed."""
    random = Random(seed)
    damage = DAMAGES[seed % len(DAMAGES)]
    return damage.__name__, damage(random.choice(wholes), random)


def _replaced(data: bytes, pattern: bytes, random: Random, odd: Sequence[str]) -> bytes:
    found = list(re.finditer(pattern, data))
    if not found:
        return data
    one = random.choice(found)
    return data[: one.start()] + random.choice(odd).encode() + data[one.end() :]


def _rewritten(data: bytes, change: Callable[[Pdf], None]) -> bytes:
    out = BytesIO()
    with Pdf.open(BytesIO(data)) as pdf:
        try:
            change(pdf)
            pdf.save(out)
        except (PdfError, ValueError, TypeError, LookupError, RuntimeError, NotImplementedError):
            # The library that does the damage refuses some; bytes it cannot refuse.
            return changed_bytes(data, Random(len(data)))
    return out.getvalue()


def _streams(pdf: Pdf) -> list[Stream]:
    """Give the streams that draw: contents of pages and forms."""
    contents = [page.obj.Contents for page in pdf.pages if isinstance(page.obj.get("/Contents"), Stream)]
    forms = [one for one in pdf.objects if isinstance(one, Stream) and one.get("/Subtype") == Name.Form]
    return [*contents, *forms]


def _value(random: Random) -> Object | int | float | bool | bytes | None:
    value = random.choice(ODD_VALUES)
    return Array(value) if isinstance(value, list) else value
