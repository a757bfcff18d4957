"""A publisher's logo: what is painted is read as it is painted, and what cannot be is refused."""

from __future__ import annotations

import struct
import zlib
from base64 import b64decode
from io import BytesIO
from pathlib import Path

import pymupdf
import pytest
from PIL import Image

from tests.chosen import long
from tests.specs import piece, spec, straight, written
from tiler.errors import SpecError, UnreadableError
from tiler.printed import Picture, Shape
from tiler.reading.logo import MOST_HIGH, MOST_WIDE, read_logo
from tiler.records import tree_of
from tiler.usecases.job import read_job

HEAD = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 30">'
MARK = (
    f"{HEAD.replace('30', '40')}<style>.sea{{fill:#1f4e79}}</style><g transform='translate(2 0)'>"
    "<path class='sea' d='M0 20 C 12 8 22 8 30 20 S 48 32 58 20 V 26 C 48 36 38 34 30 26 S 12 16 0 26 Z'/></g>"
    "<circle cx='72' cy='12' r='10' fill='none' stroke='rgb(179,84,30)' stroke-width='3'/>"
    "<rect x='84' y='4' width='5' height='20' fill-rule='evenodd'/></svg>"
)


def png(width: int, height: int, grey: int = 80) -> bytes:
    out = BytesIO()
    Image.new("L", (width, height), grey).save(out, "PNG")
    return out.getvalue()


def bomb(width: int, height: int) -> bytes:
    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", b"") + chunk(b"IEND", b"")


def test_a_drawing_is_read_as_another_library_paints_it() -> None:
    """MuPDF paints the SVG itself; where it is dark, so is what was read, and nowhere else."""
    logo = read_logo(MARK.encode(), "mark.svg")
    assert [type(sign) for sign in logo.signs] == [Shape] * 3
    assert logo.width == pytest.approx(MOST_WIDE) or logo.height == pytest.approx(MOST_HIGH)
    with pymupdf.open() as pdf:
        page = pdf.new_page(width=logo.width, height=logo.height)
        for sign in logo.signs:
            assert isinstance(sign, Shape)
            shape = page.new_shape()
            for line in sign.outlines:
                shape.draw_polyline([(x, logo.height - y) for x, y in line])
            line_colour, fill = (sign.colour, None) if sign.weight else (None, sign.colour)
            shape.finish(sign.weight, line_colour, fill, even_odd=sign.even_odd, closePath=not sign.weight)
            shape.commit()
        ours = page.get_pixmap(matrix=pymupdf.Matrix(6, 6))
    with pymupdf.open(stream=MARK.encode(), filetype="svg") as svg:
        # what shows of the drawing reaches from 2 to 89 across
        scale = logo.width / 87 * 6 * 90 / svg[0].rect.width
        theirs = svg[0].get_pixmap(matrix=pymupdf.Matrix(scale, scale))
    mine = Image.frombytes("RGB", (ours.width, ours.height), ours.samples)
    other = Image.frombytes("RGB", (theirs.width, theirs.height), theirs.samples)
    left = round(2 * logo.width / 87 * 6)
    dark = [image.convert("L").point(lambda v: 255 * (v < 200)).getbbox() for image in (mine, other)]
    assert all(dark)
    moved = [dark[1][k] - (left, dark[1][1] - dark[0][1])[k % 2] for k in range(4)]
    assert moved == pytest.approx(dark[0], abs=3)
    shares = [sum(image.convert("L").histogram()[:200]) for image in (mine, other)]
    assert shares[0] == pytest.approx(shares[1], rel=0.03)


def test_a_picture_is_printed_at_300_to_the_inch_and_no_larger_than_its_samples_allow() -> None:
    (fine,) = read_logo(png(1200, 400), "mark.png").signs
    assert isinstance(fine, Picture)
    assert fine.area.height == pytest.approx(MOST_HIGH)
    assert fine.columns / (fine.area.width / 25.4) == pytest.approx(300, rel=0.01)
    assert zlib.decompress(b64decode(fine.samples)) == bytes([80]) * fine.columns * fine.rows * 3
    assert read_logo(png(60, 60), "mark.png").width == pytest.approx(60 / 150 * 25.4)


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (f"{HEAD}<script>1</script><rect width='3' height='3'/></svg>", "holds a script"),
        (f"{HEAD}<defs><g><script/></g></defs><rect width='3' height='3'/></svg>", "holds a script"),
        (f"{HEAD}<rect width='3' height='3' onload='x()'/></svg>", "runs a script (onload)"),
        (f"{HEAD}<a href='Java script:x()'><rect width='3' height='3'/></a></svg>", "runs a script (href)"),
        (f"{HEAD}<rect width='3' height='3' fill='url(#g)'/></svg>", "the colour 'url(#g)' is not read"),
        (f"{HEAD}<text>Saltmarsh</text></svg>", "holds words; turn them into curves"),
        (f"{HEAD}<image href='data:image/png;base64,AA'/></svg>", "a picture within it"),
        (f"{HEAD}<image href='http://saltmarsh.example/a.png'/></svg>", "refers to another file"),
        (f"{HEAD}<rect width='3' height='3' style='opacity:.5'/></svg>", "its opacity is '.5'"),
        (f"{HEAD}<g transform='scale(2 1)'><path d='M0 0L3 3' stroke='red'/></g></svg>", "stretched one way"),
        (f"{HEAD}<path d='M0 0L3 3' stroke='red' stroke-linecap='round'/></svg>", "its stroke-linecap is 'round'"),
        (f"{HEAD}</svg>", "paints nothing"),
        (f"{HEAD}<path d='M0 0L9 0'/></svg>", "has no area"),
        ("<svg xmlns='http://www.w3.org/2000/svg'><rect width='3' height='3'/></svg>", "neither a viewBox nor"),
        ("<!DOCTYPE svg [<!ENTITY a 'b'>]>" + HEAD + "</svg>", "entities of its own"),
        ("a logo", "is neither an SVG nor a PNG"),
        (b"%PDF-1.7", "is neither an SVG nor a PNG"),
        (png(90, 30)[:60], "is damaged"),
        (bomb(60_000, 60_000), "60000 by 60000 pixels"),
        (bomb(0, 10), "0 by 10 pixels"),
        (bomb(20, 10), "is damaged"),
    ],
)
def test_what_is_no_logo_is_refused_in_a_sentence(data: str | bytes, why: str) -> None:
    with pytest.raises(UnreadableError) as refused:
        read_logo(data.encode() if isinstance(data, str) else data, "mark")
    assert why in str(refused.value)
    assert str(refused.value).startswith("mark")


@long
def test_a_drawing_of_endless_points_is_refused() -> None:
    zigzag = " ".join(f"L{k % 90} {k % 29}" for k in range(60_000))
    with pytest.raises(UnreadableError, match="more than 50,000 points"):
        read_logo(f"{HEAD}<path d='M0 0{zigzag}'/></svg>".encode(), "mark")


@long
def test_a_spec_names_a_logo_beside_it(tmp_path: Path) -> None:
    (tmp_path / "mark.svg").write_text(MARK)
    (tmp_path / "folder").mkdir()
    cuff = piece("Cuff", "2 in", straight("9 in"))
    job = read_job(written(spec(cuff, logo="mark.svg"), tmp_path))
    logo = read_logo(MARK.encode(), "mark.svg")
    assert job.edition.logo
    # it comes from a process apart, to a tenth of a micrometre
    assert tree_of(job.edition.logo) == tree_of(logo)
    with pytest.raises(SpecError, match="leads outside the spec's folder"):
        read_job(written(spec(cuff, logo="../mark.svg"), tmp_path / "folder"))
    with pytest.raises(UnreadableError, match="there is no such file"):
        read_job(written(spec(cuff, logo="none.svg"), tmp_path))
