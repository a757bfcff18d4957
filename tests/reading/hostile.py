"""Small PDFs that are made to do harm, or that ended up broken; by name, with the exit code that each must get."""

from __future__ import annotations

import zlib
from io import BytesIO
from random import Random

import pikepdf
from pikepdf import Array, Dictionary, Name, Pdf

from tests.reading.files import labelled_square, pdf
from tiler.errors import ExitCode

MEGABYTE = 2**20


def written(file: Pdf, **options: object) -> bytes:
    out = BytesIO()
    file.save(out, **options)
    return out.getvalue()


def honest() -> bytes:
    """A page with a test square of 2 in."""
    return pdf(labelled_square(144.0))


def by_hand(*objects: str, root: int = 1) -> bytes:
    """Give a PDF of objects that no library would write, numbered from 1, with a correct table."""
    out, places = bytearray(b"%PDF-1.7\n"), []
    for number, text in enumerate(objects, 1):
        places.append(len(out))
        out += f"{number} 0 obj\n{text}\nendobj\n".encode()
    start = len(out)
    out += f"xref\n0 {len(places) + 1}\n0000000000 65535 f \n".encode()
    out += b"".join(b"%010d 00000 n \n" % place for place in places)
    return bytes(out) + f"trailer\n<</Size {len(places) + 1}/Root {root} 0 R>>\nstartxref\n{start}\n%%EOF\n".encode()


CATALOG = "<</Type/Catalog/Pages 2 0 R>>"


def squeezed(line: bytes, times: int) -> bytes:
    """Give a page whose content, a line again and again, inflates from next to nothing: two rounds of Flate."""
    file = pikepdf.open(BytesIO(honest()))
    deflate = zlib.compressobj(9, zlib.DEFLATED, -zlib.MAX_WBITS)
    # after a full flush nothing refers back, so the same block may follow itself (RFC 1951, 3.2)
    block = deflate.compress(line) + deflate.flush(zlib.Z_FULL_FLUSH)
    once = b"\x78\xda" + block * times + b"\x03\x00" + repeated_sum(line, times).to_bytes(4)
    content = pikepdf.Stream(file, zlib.compress(once, 9))
    content.Filter = Array([Name.FlateDecode, Name.FlateDecode])
    file.pages[0].Contents = file.make_indirect(content)
    return written(file, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.none)


def repeated_sum(line: bytes, times: int) -> int:
    """Give the Adler-32 sum of a line again and again, without writing it out (RFC 1950, 9)."""
    one = zlib.adler32(line)
    low, high = one & 0xFFFF, one >> 16
    a, b = 1, 0
    for _ in range(times):
        a, b = (a + low - 1) % 65521, (b + high + len(line) * (a - 1)) % 65521
    return b << 16 | a


def forms_in_forms(levels: int, times: int) -> bytes:
    """Give a page that paints times ** levels forms, all of them empty."""
    forms = {"L0": ("1 0 0 1 0 0", "n")}
    for level in range(1, levels + 1):
        forms[f"L{level}"] = ("1 0 0 1 0 0", f"/L{level - 1} Do " * times)
    return pdf(f"/L{levels} Do", forms=forms)


def form_in_itself() -> bytes:
    file = pikepdf.open(BytesIO(pdf("/A Do", forms={"A": ("1 0 0 1 0 0", "/A Do")})))
    form = file.pages[0].Resources.XObject.A
    form.Resources = Dictionary(XObject=Dictionary(A=form))
    return written(file)


def with_page(**entries: object) -> bytes:
    file = pikepdf.open(BytesIO(honest()))
    for key, value in entries.items():
        file.pages[0].obj[f"/{key}"] = value
    return written(file)


def content(data: str, entries: str = "") -> str:
    return f"<<{entries}/Length {len(data)}>>\nstream\n{data}\nendstream"


def one_page(catalog: str, page: str, *objects: str) -> bytes:
    """Give a PDF of one page; what both refer to are the objects from 4 on."""
    root = CATALOG.replace(">>", f"{catalog}>>")
    pages = "<</Type/Pages/Kids[3 0 R]/Count 1>>"
    return by_hand(root, pages, f"<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]{page}>>", *objects)


def tree_in_itself(of: str, kids: int = 30) -> bytes:
    """Give a PDF whose tree of names or numbers, a few hundred bytes, has itself for kids, again and again."""
    return one_page(of, "", f"<</Kids[{'4 0 R ' * kids}]>>")


def pattern_in_itself() -> bytes:
    """Give a page that is filled with a pattern of a billion cells, each of them filled with it again."""
    tiling = "/PatternType 1/PaintType 1/TilingType 1/BBox[0 0 1 1]/XStep 0.0001/YStep 0.0001"
    names = "/Resources<</Pattern<</P 5 0 R>>>>"
    return one_page(
        "",
        f"{names}/Contents 4 0 R",
        content("/Pattern cs /P scn 0 0 612 792 re f"),
        content("0 0 .5 .5 re f /Pattern cs /P scn 0 0 1 1 re f", tiling + names),
    )


def hostile_files() -> dict[str, tuple[ExitCode, bytes]]:
    """Give every file with the exit code that it must get; small all of them."""
    unreadable, good = ExitCode.UNREADABLE, honest()
    page = "<</Type/Page/Parent 2 0 R/MediaBox[0 0 612 792]>>"
    encrypted = pikepdf.Encryption(owner="owner", user="user")
    return {
        "empty": (unreadable, b""),
        "one-byte": (unreadable, b"%"),
        "header-alone": (unreadable, b"%PDF-1.7\n"),
        "random": (unreadable, Random(7).randbytes(20_000)),
        "random-after-header": (unreadable, b"%PDF-1.7\n" + Random(8).randbytes(20_000)),
        "half": (unreadable, good[: len(good) // 2]),
        "no-pages": (unreadable, by_hand(CATALOG, "<</Type/Pages/Kids[]/Count 0>>")),
        "pages-in-a-circle": (unreadable, by_hand(CATALOG, "<</Type/Pages/Kids[2 0 R]/Count 1>>")),
        "pages-of-themselves": (unreadable, by_hand("<</Type/Catalog/Pages 1 0 R>>")),
        "reference-to-itself": (unreadable, by_hand(CATALOG, "2 0 R")),
        "box-of-references": (
            unreadable,
            by_hand(CATALOG, "<</Type/Pages/Kids[3 0 R]/Count 1>>", page.replace("[0 0 612 792]", "4 0 R"), "4 0 R"),
        ),
        "more-pages-than-there-are": (
            unreadable,
            by_hand(CATALOG, "<</Type/Pages/Kids[3 0 R 9 0 R 10 0 R]/Count 100000>>", page),
        ),
        "zero-size": (unreadable, with_page(MediaBox=Array([0, 0, 0, 0]))),
        "no-numbers-in-box": (unreadable, with_page(MediaBox=Array([Name.A, Name.B, Name.C, Name.D]))),
        "endless-page": (unreadable, with_page(MediaBox=Array([0, 0, 10**15, 10**15]))),
        "inflates-to-2-gigabytes": (unreadable, squeezed(bytes(MEGABYTE), 2048)),
        "inflates-to-64-megabytes": (unreadable, squeezed(b"0 0 m 9 9 l S\n" * 1000, 4700)),
        "paints-200000-lines": (unreadable, squeezed(b"0 0 m 9 9 l S\n" * 1000, 200)),
        "paints-forms-without-end": (unreadable, forms_in_forms(9, 10)),
        "names-in-a-circle": (ExitCode.NOTHING_TO_MEASURE, tree_in_itself("/Names<</EmbeddedFiles 4 0 R>>")),
        "labels-in-a-circle": (ExitCode.NOTHING_TO_MEASURE, tree_in_itself("/PageLabels 4 0 R")),
        "paints-itself": (ExitCode.NOTHING_TO_MEASURE, form_in_itself()),
        "password": (ExitCode.ENCRYPTED, written(pikepdf.open(BytesIO(good)), encryption=encrypted)),
    }
