"""My printer: readings are kept, listed and removed as by the command."""

from __future__ import annotations

import re
from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from werkzeug.test import TestResponse

from tests.browser.conftest import Window
from tests.chosen import long
from tests.proof.scanned import Scanned, scanned
from tiler.sheets.document import Document
from tiler.usecases.printers.profiles import load_printer

KITCHEN = {
    "name": "kitchen",
    "nominal-across": "15 cm",
    "across": "14.9 cm",
    "nominal-down": "20 cm",
    "down": "19.8 cm",
    "reading-error": "0.5 mm",
}


def test_a_printer_is_kept_listed_and_removed(window: Window, printer_files: Path) -> None:
    assert window.post("/printers", KITCHEN).status_code == 303
    kept = load_printer(printer_files, "kitchen")
    assert (kept.across.measured, kept.down.nominal) == (149.0, 200.0)
    page = window.get("/printers").text
    # 149/150 and 198/200, to 0.5 mm in 150 and in 200
    assert "99.33 % ± 0.33 %" in page
    assert "99.00 % ± 0.25 %" in page
    assert window.post("/printers/remove", {"name": "kitchen"}).status_code == 303
    assert "99.33" not in window.get("/printers").text
    assert list(printer_files.iterdir()) == []


def test_what_is_kept_is_replaced_only_when_asked(window: Window, printer_files: Path) -> None:
    window.post("/printers", KITCHEN)
    told = window.post("/printers", {**KITCHEN, "down": "20 cm"})
    assert told.status_code == 400
    assert "“Replace what is kept”" in told.text
    assert load_printer(printer_files, "kitchen").down.measured == 198.0
    assert window.post("/printers", {**KITCHEN, "down": "20 cm", "force": "yes"}).status_code == 303
    assert load_printer(printer_files, "kitchen").down.measured == 200.0


@long
@pytest.mark.usefixtures("forked")
def test_a_printer_is_kept_by_the_scan_of_a_page(window: Window, printer_files: Path, letter: Document) -> None:
    how = Scanned(dpi=150, across=0.992, down=1.004, part=(0.1, 0.16, 0.92, 0.47))
    page = BytesIO()
    Image.fromarray(scanned(letter.data, how)).save(page, "PNG")

    def sent(**more: str) -> TestResponse:
        told = {"name": "kitchen", "dpi": "150", "scan": (BytesIO(page.getvalue()), "page.png"), **more}
        return window.sent("/printers/scan", told)

    assert "99.2" in sent().text
    kept = load_printer(printer_files, "kitchen")
    assert kept.across.scale == pytest.approx(0.992, abs=0.001)
    assert kept.down.scale == pytest.approx(1.004, abs=0.001)
    for more, field, why in (
        ({}, "scan", "“Replace what is kept”"),
        ({"name": "../x"}, "scan-name", "is not a name for a printer"),
        ({"name": "attic", "dpi": "9"}, "dpi", "is not from 50 to 2500"),
    ):
        told = sent(**more)
        assert told.status_code == 400
        assert why in told.text
        assert re.search(rf'id="{field}"[^>]*why" aria-invalid="true"', told.text), field
    assert len(list(printer_files.iterdir())) == 1


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("down", ""),
        ("down", "19,8 cmm"),
        ("across", "3 cm"),
        ("name", "../kitchen"),
        ("name", ""),
        ("reading-error", "3 cm"),
    ],
)
def test_a_mistake_is_a_sentence_at_its_field(window: Window, printer_files: Path, field: str, value: str) -> None:
    told = window.post("/printers", {**KITCHEN, field: value})
    assert told.status_code == 400
    assert re.search(rf'id="{field}"[^>]* why" aria-invalid="true"', told.text)
    assert 'value="14.9 cm"' in told.text or field == "across"
    assert not printer_files.exists()


def test_a_coarse_reading_is_doubted_and_a_damaged_file_told(window: Window, printer_files: Path) -> None:
    window.post("/printers", {**KITCHEN, "across": "14.98 cm"})
    (printer_files / "old.json").write_text("{}")
    page = window.get("/printers").text
    assert "too coarse to decide" in page
    assert "old.json is not a file of a printer" in page
    assert window.post("/printers/remove", {"name": "attic"}).status_code == 400
