"""The page that tells what a proof found: read back by another library, it says the verdict and no more."""

from __future__ import annotations

from datetime import date
from io import BytesIO
from pathlib import Path

import pdfplumber
import pymupdf
import pytest

from tests.chosen import long
from tests.proof.foreign import foreign_files, rescaled
from tests.proof.test_foreign import changed_page, square, words
from tiler.commands import run
from tiler.errors import CannotWriteError
from tiler.proof import prove
from tiler.proof.report.square_pictures import square_pictures
from tiler.usecases.files.replace import Output
from tiler.usecases.verify.report import write_report

FILES = foreign_files("letter")


def reported(folder: Path, data: bytes, name: str = "pattern.pdf") -> bytes:
    source = folder / name
    source.write_bytes(data)
    report = prove(source)
    write_report(source, report, square_pictures(source, report), Output(folder / "report.pdf", force=True))
    return (folder / "report.pdf").read_bytes()


def words_of(data: bytes) -> str:
    with pdfplumber.open(BytesIO(data)) as pdf:
        assert len(pdf.pages) == 1
        return " ".join((pdf.pages[0].extract_text() or "").split())


@pytest.mark.parametrize("scale", [1.0, 127 / 135])
def test_the_page_says_verdict_sizes_and_errors(tmp_path: Path, scale: float) -> None:
    """127/135 is A4 refitted to letter without margins, a closed form."""
    words = words_of(reported(tmp_path, rescaled(FILES["rectangle"], scale)))
    if scale == 1.0:
        assert "True to scale: 1 test square right across and down (page 1 of 1 measured)" in words
        assert f"measured on {date.today().isoformat()}" in words
        assert "50.80 mm 0.00 %" in words
    else:
        assert "Off scale: a length of 100 mm comes out at 94.07 mm" in words
        assert "True to scale" not in words
        assert "47.79 mm −5.93 %" in words
        assert "A 20 in strip prints 1.19 in short across" in words


def test_the_picture_shows_the_square(tmp_path: Path) -> None:
    """This test ensures, through MuPDF, that a picture holds four dark sides with white within, another its page."""
    with pymupdf.open(stream=reported(tmp_path, FILES["rectangle"])) as pdf:
        found = [pymupdf.Pixmap(pymupdf.csGRAY, pymupdf.Pixmap(pdf, one[0])) for one in pdf[0].get_images()]
    picture, page = sorted(found, key=lambda one: one.height)
    # ANSI/ASME Y14.1: letter is 8.5 × 11 in
    assert page.height / page.width == pytest.approx(11 / 8.5, abs=0.01)
    # 50.8 mm and 6 mm round it at 100 dots per inch
    assert picture.width == pytest.approx((50.8 + 12) / 25.4 * 100, abs=2)
    middle = picture.height // 2
    row = picture.samples[middle * picture.stride : middle * picture.stride + picture.width]
    dark = [column for column, grey in enumerate(row) if grey < 128]
    assert dark[-1] - dark[0] == pytest.approx(200, abs=2)
    assert all(grey > 200 for grey in row[dark[0] + 3 : dark[-1] - 2])


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (square(100, 300, 50) + words(110, 310, "sew here"), "no size is said; it may be 5 cm"),
        (square(100, 300, 100) + words(110, 310, "10 cm") + "1 g 90 290 320 310 re f", "the file holds no"),
        (square(100, 300, 120) + words(110, 310, "pocket 12 cm, cut 2"), "12 cm, not counted"),
    ],
)
def test_what_was_not_measured_is_shown(content: str, words: str, tmp_path: Path) -> None:
    data = reported(tmp_path, changed_page(content))
    assert words in words_of(data)
    with pymupdf.open(stream=data) as pdf:
        assert len(pdf[0].get_images()) == (0 if "holds" in words else 2)


def test_nothing_to_measure_is_said_plainly(tmp_path: Path) -> None:
    words = words_of(reported(tmp_path, rescaled(FILES["rectangle"], 0.1)))
    assert "Nothing to measure" in words
    assert "True to scale" not in words


def test_every_font_is_embedded_and_strange_names_are_printed(tmp_path: Path) -> None:
    data = reported(tmp_path, FILES["rectangle"], name="муж 縫う.pdf")
    with pymupdf.open(stream=data) as pdf:
        assert all(font[1] == "ttf" for font in pdf[0].get_fonts())
    assert "муж ??.pdf" in words_of(data)


def test_a_report_that_is_there_stays_without_force(tmp_path: Path) -> None:
    source = tmp_path / "pattern.pdf"
    source.write_bytes(FILES["rectangle"])
    target = tmp_path / "report.pdf"
    target.write_text("mine")
    with pytest.raises(CannotWriteError):
        write_report(source, prove(source), [], Output(target))
    assert target.read_text() == "mine"
    assert [path.name for path in sorted(tmp_path.iterdir())] == ["pattern.pdf", "report.pdf"]


@long
@pytest.mark.usefixtures("forked")
def test_the_command_writes_the_page_beside_its_verdict(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "pattern.pdf").write_bytes(rescaled(FILES["rectangle"], 127 / 135))
    target = tmp_path / "report.pdf"
    assert run(["verify", str(tmp_path / "pattern.pdf"), "--report", str(target)]) == 3
    assert "Off scale" in capsys.readouterr().out
    assert "Off scale" in words_of(target.read_bytes())
    with pymupdf.open(target) as pdf:
        assert len(pdf[0].get_images()) == 2
    before = target.read_bytes()
    assert run(["verify", str(tmp_path / "pattern.pdf"), "--report", str(target)]) == 7
    assert run(["verify", str(tmp_path / "pattern.pdf"), "--report", str(target), "--force"]) == 3
    assert target.read_bytes() == before
    assert run(["verify", str(tmp_path / "pattern.pdf"), "--report", str(tmp_path / "pattern.pdf"), "--force"]) == 7


@long
def test_no_page_is_written_for_a_file_that_cannot_be_read(tmp_path: Path) -> None:
    (tmp_path / "pattern.pdf").write_bytes(b"no PDF")
    assert run(["verify", str(tmp_path / "pattern.pdf"), "--report", str(tmp_path / "report.pdf")]) == 5
    assert not (tmp_path / "report.pdf").exists()
