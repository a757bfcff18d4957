"""``tiler preview``: a picture of every page, and the tiles put together as their marks say."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from PIL import Image, ImageChops

from tests.chosen import long
from tests.proof import faults as f
from tests.proof.conftest import changed
from tests.sheets.jobs import drawn_once
from tests.sheets.test_nest import SPEC
from tiler.commands import run
from tiler.proof.report.page_pictures import Pictures
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes

pytestmark = pytest.mark.usefixtures("forked")

PIXEL = 25.4 / 100


@pytest.fixture
def pdf(sample: Document, tmp_path: Path) -> Path:
    path = tmp_path / "sample.pdf"
    path.write_bytes(sample.data)
    return path


def extent(picture: Image.Image) -> tuple[float, float]:
    """Give the extent of the longest dark lines across and down, mm."""
    grey = picture.convert("L").point(lambda value: 255 if value < 128 else 0)
    box = grey.getbbox()
    assert box is not None
    return (box[2] - box[0]) * PIXEL, (box[3] - box[1]) * PIXEL


@long
def test_every_page_becomes_a_picture(pdf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "new" / "pictures"
    assert run(["preview", str(pdf), "-o", str(folder)]) == 0
    told = capsys.readouterr().out
    assert sorted(path.name for path in folder.iterdir()) == [
        "assembled.png",
        "page-01.png",
        "page-02.png",
        "page-03.png",
    ]
    assert "page-01.png to page-03.png" in told
    assert "assembled.png of 2 pages" in told
    with Image.open(folder / "page-02.png") as picture:
        # letter, 8.5 x 11 in, at 100 pixels to the inch
        assert picture.size == (850, 1100)
        assert picture.info["dpi"] == pytest.approx((100, 100), abs=0.1)


def test_the_assembled_picture_shows_the_pieces_whole(sample: Document) -> None:
    """This test ensures that the assembled sheet is as large as the windows together, to two pixels."""
    windows = [page.window for page in sample.declaration.pages if page.window]
    width = max(box.x1 for box in windows) - min(box.x0 for box in windows)
    height = max(box.y1 for box in windows) - min(box.y0 for box in windows)
    with Pictures(sample.data) as pictures:
        whole = pictures.assembled()
    assert whole.width * PIXEL == pytest.approx(width, abs=2 * PIXEL)
    assert whole.height * PIXEL == pytest.approx(height, abs=2 * PIXEL)
    assert extent(whole) == (pytest.approx(width, abs=3 * PIXEL), pytest.approx(height, abs=3 * PIXEL))


@long
def test_the_assembled_picture_follows_the_marks_and_not_the_declaration(sample: Document) -> None:
    """This test ensures that a tile is laid where its own marks say: 4 mm off on the page, in place in the picture."""
    moved = changed(sample, f.whole_pages(f.moved(-4.0, 3.0), [3]))
    with Pictures(sample.data) as pictures, Pictures(moved) as others:
        straight, other = pictures.assembled(), others.assembled()
    assert straight.size == other.size
    assert different(straight, other) < 0.0001
    with Pictures(changed(sample, f.alter_piece(3, 0, f.by(f.moved(4.0))))) as others:
        assert different(straight, others.assembled()) > 0.0004


def different(one: Image.Image, other: Image.Image) -> float:
    """Give the share of pixels that are black in one picture and white in the other, or nearly so."""
    apart = ImageChops.difference(one.convert("L"), other.convert("L")).point(lambda value: 255 if value > 200 else 0)
    return apart.histogram()[255] / (one.width * one.height)


def test_a_file_without_tiles_has_no_assembled_picture(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "blank.pdf"
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(path)
    assert run(["preview", str(path), "-o", str(tmp_path / "out")]) == 0
    assert [one.name for one in (tmp_path / "out").iterdir()] == ["page-01.png"]
    assert "there are no pages to put together" in capsys.readouterr().out


@long
def test_one_page_put_together_is_one_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "cuff.pdf"
    assert run(["band", "--kind", "straight", "--edge", "8 in", "--width", "1 in", "-o", str(path), "--no-cover"]) == 0
    capsys.readouterr()
    assert run(["preview", str(path), "-o", str(tmp_path / "out")]) == 0
    assert " ".join(capsys.readouterr().out.split()).endswith("page-01.png, and assembled.png of 1 page.")


@long
def test_pictures_are_replaced_only_with_force(pdf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    (folder / "page-03.png").write_bytes(b"mine")
    assert run(["preview", str(pdf), "-o", str(folder)]) == 7
    assert "--force" in capsys.readouterr().err
    assert [path.name for path in folder.iterdir()] == ["page-03.png"]
    assert (folder / "page-03.png").read_bytes() == b"mine"
    assert run(["preview", str(pdf), "-o", str(folder), "--force"]) == 0
    assert Image.open(BytesIO((folder / "page-03.png").read_bytes())).size == (850, 1100)


@long
def test_pictures_of_an_earlier_file_are_named_and_left(
    pdf: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = tmp_path / "out"
    folder.mkdir()
    for name in ("page-07.png", "page-08.png", "page-front.png"):
        (folder / name).write_bytes(b"mine")
    assert run(["preview", str(pdf), "-o", str(folder)]) == 0
    told = " ".join(capsys.readouterr().err.split())
    assert told.endswith("also holds page-07.png to page-08.png of another file.")
    assert (folder / "page-08.png").read_bytes() == b"mine"


@long
def test_colours_are_shown_and_panes_are_called_so(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path, folder = tmp_path / "sizes.pdf", tmp_path / "out"
    path.write_bytes(drawn_once(SPEC, Wishes(colour=True, arrange="stacked")).data)
    assert run(["preview", str(path), "-o", str(folder)]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert "assembled.png of 2 panes" in told
    modes = [Image.open(folder / f"{name}.png").mode for name in ("page-01", "page-02", "assembled")]
    assert modes == ["L", "RGB", "RGB"]
    with Image.open(folder / "assembled.png") as whole:
        colours = {colour for _, colour in whole.getcolors(whole.width * whole.height) or ()}
    # red and blue of the palette, on lines that may lie between two pixels
    assert max(red - max(green, blue) for red, green, blue in colours) > 120
    assert max(blue - max(red, green) for red, green, blue in colours) > 120


def test_a_file_is_no_folder(pdf: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["preview", str(pdf), "-o", str(pdf)]) == 7
    assert "name a folder" in capsys.readouterr().err


def test_what_cannot_be_read_makes_no_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "broken.pdf"
    path.write_bytes(b"no PDF")
    assert run(["preview", str(path), "-o", str(tmp_path / "out")]) == 5
    assert not (tmp_path / "out").exists()
    capsys.readouterr()
