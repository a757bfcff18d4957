"""Check a PDF: the verdict is that of ``tiler verify``, and whatever is sent is answered with a sentence."""

from __future__ import annotations

import re
from html import unescape
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from tests.browser.conftest import Window
from tests.chosen import long
from tests.proof import faults
from tests.proof.scanned import Scanned, scanned
from tiler.browser.uploads import LARGEST, safe_name
from tiler.commands import run
from tiler.sheets.document import Document


def sent(window: Window, data: bytes, name: str = "piece.pdf", **more: str) -> tuple[int, str]:
    answer = window.sent("/check", {"pdf": (BytesIO(data), name), **more})
    return answer.status_code, unescape(answer.text)


@long
@pytest.mark.usefixtures("forked")
def test_a_true_file_is_said_to_be_true_as_by_the_command(
    window: Window, one_band: Document, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "piece.pdf").write_bytes(one_band.data)
    assert run(["verify", str(tmp_path / "piece.pdf")]) == 0
    status, page = sent(window, one_band.data)
    assert status == 200
    assert capsys.readouterr().out.splitlines()[0] in page
    assert 'class="verdict true"' in page
    assert "50.00 mm" in page
    # each square as a picture, with its sizes below it
    assert page.count('<li><figure><img src="data:image/png;base64,') >= 2
    assert "50.00 × 50.00 mm" in page
    link = re.search(r'href="([^"]+)" download', page)
    assert link
    report = window.get(link[1])
    assert report.data[:5] == b"%PDF-"
    assert report.headers["Content-Disposition"].startswith("attachment;")


@long
@pytest.mark.usefixtures("forked")
def test_of_a_file_that_is_off_causes_and_findings_are_told_as_by_the_command(
    window: Window, one_band: Document, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """This test ensures that every remark is there, the first ones at once and the others below the squares."""
    off = BytesIO()
    with pikepdf.open(BytesIO(one_band.data)) as file:
        faults.whole_pages(faults.scaled(0.97, 0.97))(file)
        file.save(off)
    (tmp_path / "off.pdf").write_bytes(off.getvalue())
    assert run(["verify", str(tmp_path / "off.pdf")]) == 3
    printed = [line.strip() for line in capsys.readouterr().out.splitlines()]
    status, page = sent(window, off.getvalue(), "off.pdf")
    assert status == 200
    assert f">{printed[0]}</p>" in page
    findings = [line for line in printed[1:] if line.endswith(("short.", "page", "setting.")) or "more like" in line]
    assert len(findings) > 4
    assert [line for line in findings if line not in page] == []
    assert page.index(findings[0]) < page.index("<figure>") < page.index(findings[-1])


@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize("data", [b"%PDF-1.7 and no more", b"\0" * 100])
def test_junk_is_a_sentence_with_the_name_that_it_was_sent_under(window: Window, data: bytes, work: Path) -> None:
    status, page = sent(window, data, "../../\u202eplans.pdf")
    assert status == 400
    assert "plans.pdf" in page
    assert str(work) not in page
    assert "Traceback" not in page


@pytest.fixture(scope="module")
def scan(letter: Document) -> bytes:
    """Give the scan of a print that is 2 % too short."""
    data = BytesIO()
    picture = scanned(letter.data, Scanned(dpi=150, down=0.98, part=(0.1, 0.16, 0.92, 0.47)))
    Image.fromarray(picture).save(data, "PNG")
    return data.getvalue()


@long
@pytest.mark.usefixtures("forked")
def test_the_scan_of_a_print_is_measured_and_its_squares_are_shown(window: Window, scan: bytes) -> None:
    status, page = sent(window, scan, "page.png", shows="scan", dpi="150")
    assert status == 200
    assert 'class="verdict wrong"' in page
    assert re.search("(48[.]9|49[.]0).? mm", page)
    assert "say “A bank card lies on the glass”" in page
    assert page.count('<li><figure><img src="data:image/png;base64,') == 2


@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize(
    ("answers", "field", "why"),
    [
        ({}, "pdf", "is a picture; add “A scan of a printed page”"),
        ({"shows": "scan"}, "dpi", "“Dots per inch of the scan” 300"),
        ({"shows": "photo"}, "pdf", "no bank card"),
        ({"shows": "photo", "expect": "2 in"}, "expect", "does not go with “A photo"),
        ({"shows": "scan", "only": "2"}, "only", "does not go with a picture"),
        ({"shows": "scan", "dpi": "many"}, "dpi", "is not from 50 to 2500"),
        ({"dpi": "150"}, "dpi", "goes with “A scan"),
        (
            {"shows": "scan", "dpi": "150", "card": "yes", "ruler": "yes"},
            "ruler",
            "“A ruler lies on the glass”: does not",
        ),
        ({"shows": "scan", "dpi": "150", "ruler": "yes"}, "pdf", "no ruler with millimetres"),
    ],
)
def test_what_does_not_go_with_a_picture_is_a_sentence(
    window: Window, scan: bytes, answers: dict[str, str], field: str, why: str
) -> None:
    status, page = sent(window, scan, "page.png", **answers)
    assert status == 400
    assert why in page


def test_no_file_is_a_sentence(window: Window) -> None:
    answer = window.post("/check", {})
    assert answer.status_code == 400
    assert "choose a file first" in answer.text


@pytest.mark.parametrize(
    ("field", "value"), [("expect", "2 inchs of"), ("expect", "2"), ("only", "-1"), ("only", "two")]
)
def test_a_mistake_is_a_sentence_at_its_field(window: Window, field: str, value: str) -> None:
    status, page = sent(window, b"", **{field: value})
    assert status == 400
    assert re.search(rf'id="{field}"[^>]* why" aria-invalid="true"', page)


def test_a_file_that_is_too_large_is_not_read(window: Window) -> None:
    told = {"CONTENT_LENGTH": str(LARGEST + 1), "CONTENT_TYPE": "multipart/form-data; boundary=x"}
    answer = window.post("/check", b"", environ_overrides=told)
    assert answer.status_code == 413
    assert "larger than 64 MB" in answer.text


@pytest.mark.parametrize(
    ("name", "safe"),
    [
        ("crew.pdf", "crew.pdf"),
        ("../../etc/passwd", "usual.pdf"),
        ("C:\\plans\\crew 2.pdf", "crew 2.pdf"),
        ("..", "usual.pdf"),
        (".pdf", "usual.pdf"),
        ("-rf.pdf", "rf.pdf"),
        ('a"\r\nX: y\u202e.pdf', "a-X- y.pdf"),
        ("\u00e9t\u00e9.pdf", "\u00e9t\u00e9.pdf"),
        ("x" * 300 + ".pdf", "x" * 60 + ".pdf"),
    ],
)
def test_a_name_is_made_safe(name: str, safe: str) -> None:
    assert safe_name(name, "usual.pdf") == safe
