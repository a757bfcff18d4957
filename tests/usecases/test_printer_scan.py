"""A printer by the scan of a page that it printed."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from tests.chosen import long
from tests.proof.scanned import Scanned, scanned
from tiler.commands import run
from tiler.sheets.document import Document
from tiler.usecases.printers.profiles import load_printer

pytestmark = pytest.mark.usefixtures("forked")

UPPER = (0.1, 0.16, 0.92, 0.47)


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("TILER_PRINTERS", str(tmp_path / "printers"))
    return tmp_path / "printers"


def saved(letter: Document, folder: Path, **how: object) -> str:
    path = folder / "page.png"
    Image.fromarray(scanned(letter.data, Scanned(dpi=150, turn=0.6, part=UPPER, **how))).save(path, dpi=(150, 150))
    return str(path)


@long
def test_the_factors_of_the_scan_are_kept(letter: Document, folder: Path, tmp_path: Path) -> None:
    assert run(["printer", "add", "kitchen", "--scan", saved(letter, tmp_path, across=0.992, down=1.004)]) == 0
    printer = load_printer(folder, "kitchen")
    assert printer.across.scale == pytest.approx(0.992, abs=0.0005)
    assert printer.down.scale == pytest.approx(1.004, abs=0.0005)
    # the scanner itself may be off by 0.2 %
    assert 0.4 <= printer.across.reading_error <= 0.5
    assert printer.across.decides


@long
def test_a_mirror_image_tells_nothing_of_a_printer(
    letter: Document, folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    # a mirrored page lies the other way round in the picture
    page = Image.fromarray(scanned(letter.data, Scanned(dpi=150, part=UPPER))).transpose(
        Image.Transpose.FLIP_TOP_BOTTOM
    )
    page.save(tmp_path / "page.png", dpi=(150, 150))
    assert run(["printer", "add", "kitchen", "--scan", str(tmp_path / "page.png")]) == 4
    assert "as in a mirror" in capsys.readouterr().err
    assert not folder.exists()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["--nominal", "5 cm", "--down", "5 cm"], "--across is missing; add it, or name a scan"),
        (["--scan", "page.png", "--down", "5 cm"], "--down: does not go with --scan"),
        (["--scan", "page.png", "--reading-error", "1 mm"], "--reading-error: does not go with --scan"),
        (["--nominal", "5 cm", "--across", "5 cm", "--down", "5 cm", "--card"], "--card: goes with --scan"),
        (["--nominal", "5 cm", "--across", "5 cm", "--down", "5 cm", "--ruler"], "--ruler: goes with --scan"),
        (["--scan", "page.png", "--card", "--ruler"], "--ruler: does not go with --card"),
    ],
)
def test_one_way_to_measure_at_a_time(
    folder: Path, capsys: pytest.CaptureFixture[str], words: list[str], sentence: str
) -> None:
    assert run(["printer", "add", "kitchen", *words]) == 2
    assert sentence in capsys.readouterr().err
