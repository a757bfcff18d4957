"""``tiler verify --scan`` from the command line: pictures of every kind, and one sentence for what is none."""

from __future__ import annotations

import json
import struct
import zlib
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from tests.chosen import long
from tests.proof.scanned import Scanned, scanned
from tiler.commands import run
from tiler.commands.typed.sheet import SHEET
from tiler.sheets.document import Document

pytestmark = pytest.mark.usefixtures("forked")

UPPER = (0.1, 0.16, 0.92, 0.47)


@pytest.fixture(scope="module")
def scan(letter: Document) -> Image.Image:
    return Image.fromarray(scanned(letter.data, Scanned(dpi=150, turn=0.6, down=0.98, part=UPPER)))


@long
@pytest.mark.parametrize(
    ("name", "options"),
    [
        ("page.png", {"dpi": (150, 150)}),
        ("page.jpg", {"dpi": (150, 150), "quality": 70}),
        ("page.tif", {"dpi": (150, 150), "compression": "tiff_lzw"}),
        ("page.pdf", {"resolution": 150}),
    ],
)
def test_a_scan_of_every_kind_is_measured(
    scan: Image.Image, tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, options: dict[str, object]
) -> None:
    scan.save(tmp_path / name, **options)
    assert run(["verify", str(tmp_path / name), "--scan", "--json"]) == 3
    told = json.loads(capsys.readouterr().out)
    assert (told["verdict"], told["pages"]) == ("off-scale", 1)
    assert told["scale"] == {"across": pytest.approx(1, abs=0.001), "down": pytest.approx(0.98, abs=0.001)}


@long
def test_the_report_shows_the_squares_of_the_scan(scan: Image.Image, tmp_path: Path) -> None:
    scan.convert("RGB").save(tmp_path / "page.png")
    report = tmp_path / "report.pdf"
    assert run(["verify", str(tmp_path / "page.png"), "--scan", "--dpi", "150", "--report", str(report)]) == 3
    with pikepdf.open(report) as pdf:
        assert len(pdf.pages[0].get_images()) == 2


def png(wide: int, high: int) -> bytes:
    """Write a PNG of that size in which nothing but its head is there (ISO/IEC 15948, 5.3 and 11.2.2)."""
    head = b"IHDR" + struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    data = b"IDAT" + zlib.compress(bytes(100))
    chunks = (struct.pack(">I", len(one) - 4) + one + struct.pack(">I", zlib.crc32(one)) for one in (head, data))
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


BAD = {
    "words.png": (b"no picture at all", "is no picture in PNG, JPEG or TIFF"),
    "bomb.png": (png(60_000, 60_000), "far too many pixels, and at most 80 million are read"),
    "large.png": (png(10_000, 9_000), "has 90 million pixels, and at most 80 million"),
    "broken.png": (png(900, 900), "the picture is damaged"),
    "broken.pdf": (b"%PDF-1.7 and nothing else", "damaged"),
}


@pytest.mark.parametrize("name", BAD)
def test_what_is_no_picture_is_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str) -> None:
    data, sentence = BAD[name]
    path = tmp_path / name
    path.write_bytes(data)
    assert run(["verify", str(path), "--scan"]) == 5
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith(f"tiler: {path}: ")
    assert sentence in " ".join(told.err.split())


def test_what_is_not_said_is_asked_for(scan: Image.Image, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "page.png"
    scan.save(path)
    for words, code, sentence in (
        (["--scan"], 4, "does not state its resolution; say it with --dpi"),
        ([], 5, "is a picture; add --scan"),
        (["--dpi", "150"], 2, "--dpi: goes with --scan"),
        (["--card"], 2, "--card: goes with --scan"),
        (["--photo", "--ruler"], 2, "--ruler: goes with --scan; a photo is measured by what lies in it"),
        (["--scan", "--card", "--ruler"], 2, "--ruler: does not go with --card, which tells both axes by itself"),
        (["--scan", "--dpi", "150", "--ruler"], 4, "no ruler with millimetres or sixteenths of an inch is found"),
        (["--scan", "--sheet", "letter"], 2, "--sheet: goes with --photo"),
        (["--photo", "--sheet", "b5"], 2, '--sheet: "b5" is no sheet; write letter, a4, or its sides'),
        (["--photo", "--sheet", "21 cm x 40 cm"], 2, "is not about the size of Letter or A4; check it"),
        (["--photo", "--sheet", "21 cm x 297"], 2, "297"),
    ):
        assert run(["verify", str(path), *words]) == code
        assert sentence in " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize(
    ("text", "size"),
    [
        # ISO 216 lets a sheet be 2 mm otherwise; a ruler is read to half a millimetre
        ("letter", (215.9, 279.4, 2.0)),
        ("A4", (210.0, 297.0, 2.0)),
        ("279 mm x 215.5 mm", (215.5, 279.0, 0.5)),
        ("8 1/2 in × 11 in", (215.9, 279.4, 0.5)),
    ],
)
def test_a_sheet_is_named_or_measured(text: str, size: tuple[float, float, float]) -> None:
    assert SHEET.convert(text, None, None) == pytest.approx(size)


def test_a_drawn_file_and_a_locked_one_are_no_scans(
    letter: Document, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn, locked = tmp_path / "drawn.pdf", tmp_path / "locked.pdf"
    drawn.write_bytes(letter.data)
    assert run(["verify", str(drawn), "--scan"]) == 4
    assert "measured line by line without --scan" in " ".join(capsys.readouterr().err.split())
    with pikepdf.open(drawn) as pdf:
        pdf.save(locked, encryption=pikepdf.Encryption(owner="owner", user="user"))
    assert run(["verify", str(locked), "--scan"]) == 6
    assert "needs a password" in capsys.readouterr().err


def test_a_page_that_is_one_picture_says_how_it_is_measured(
    scan: Image.Image, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    scan.save(tmp_path / "page.pdf", resolution=150)
    assert run(["verify", str(tmp_path / "page.pdf")]) == 4
    assert "where it is the picture of a printed page, say --scan" in " ".join(capsys.readouterr().out.split())
