"""This checks what is told, printed and refused where a piece does not pass a check."""

from __future__ import annotations

import json
from io import BytesIO
from pathlib import Path

import pdfplumber
import pytest

from tests.chosen import long
from tests.specs import neckline, piece, shaped, spec, table, written
from tiler.commands import run

WIDE = piece(
    "Neckband",
    "2.5 cm",
    shaped("square", "18 cm", "12 cm", "2 cm"),
    fabric="rib",
    garment_fabric="rib",
    opening=table(must_pass="75 cm"),
)
GOOD = piece("Binding", "6 mm", neckline("16 cm", "9 cm"), finish="raw-edge-binding", fabric="stretchy")
JOB = spec(WIDE, GOOD, units="cm", fabrics={"rib": "30 %", "stretchy": "60 %"})

SIZES = {size: f"{48 + 2 * step} cm" for step, size in enumerate(["XS", "S", "M", "L", "XL", "2XL"])}
SIZES_SPEC = spec(
    piece("Band", "3 cm", table(kind="neckline", whole=SIZES), fabric="rib"),
    units="cm",
    sizes=list(SIZES),
    fabrics={"rib": "30 %"},
)


@pytest.fixture(name="wide")
def wide_file(tmp_path: Path) -> Path:
    return written(JOB, tmp_path)


def words_of(data: bytes, page: int) -> str:
    with pdfplumber.open(BytesIO(data)) as pdf:
        return " ".join((pdf.pages[page].extract_text() or "").split())


@long
def test_a_failed_check_is_told_and_printed_and_the_file_is_drawn(wide, tmp_path, capsys):
    out = tmp_path / "out.pdf"
    assert run(["draft", str(wide), "-o", str(out)]) == 0
    told = capsys.readouterr().err
    assert "Neckband: drawn although the strip does not go over 75.0 cm" in told
    assert told.index("drawn although") < told.index("The strip opens to only")
    page = words_of(out.read_bytes(), 0)
    assert "Before you cut: checks that are not passed" in page
    assert "Neckband: No good length: only up to" in page
    assert "Binding: " not in page
    with pdfplumber.open(out) as pdf:
        printed = "".join(char["text"] for page in pdf.pages[1:] for char in page.chars)
    assert printed.count("CHECK NOT PASSED") == 1


def test_strict_draws_nothing_and_names_the_piece(wide, tmp_path, capsys):
    out = tmp_path / "out.pdf"
    assert run(["draft", str(wide), "-o", str(out), "--strict"]) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert told.err.startswith("tiler: Neckband: not drawn, since a check is not passed. The strip opens to only")
    assert not out.exists()


@long
def test_strict_draws_what_passes(tmp_path):
    out = tmp_path / "out.pdf"
    good = written(spec(GOOD, units="cm", fabrics={"stretchy": "60 %"}), tmp_path)
    assert run(["draft", str(good), "-o", str(out), "--strict"]) == 0
    assert "not passed" not in words_of(out.read_bytes(), 0)


@long
def test_options_are_spoken_of_as_options(tmp_path, capsys):
    out = tmp_path / "out.pdf"
    words = [
        "band",
        "--front-half",
        "18 cm",
        "--back-half",
        "11 cm",
        "--width",
        "3 cm",
        "--stretch",
        "20 %",
        "-o",
        str(out),
    ]
    assert run([*words, "--units", "cm", "--json"]) == 0
    (made,) = json.loads(capsys.readouterr().out)["pieces"]
    assert made["failed"][0]["text"] == made["warnings"][0]
    assert "Neckband: No good length" in words_of(out.read_bytes(), 0)
    assert run([*words, "--strict", "--force"]) == 2
    assert "not drawn, since a check is not passed. No good length" in capsys.readouterr().err


@long
def test_many_failing_sizes_are_told_in_short(tmp_path, capsys):
    out = tmp_path / "out.pdf"
    assert run(["draft", str(written(SIZES_SPEC, tmp_path)), "-o", str(out)]) == 0
    page = words_of(out.read_bytes(), 0)
    assert f"Band XS, Band S, Band M and {len(SIZES) - 3} more: it has no good length." in page
    with pdfplumber.open(out) as pdf:
        printed = "".join(char["text"] for page in pdf.pages[1:] for char in page.chars)
    # two lines of the label
    assert "CHECK NOT PASSED: it" in printed
    assert "has no good length" in printed
    assert "figures" not in printed
    assert "drawn although it has no good length" in capsys.readouterr().err
