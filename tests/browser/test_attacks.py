"""What comes from outside the page, or is made to do harm: each gets a sentence, and nothing is left of it."""

from __future__ import annotations

import errno
import re
from html import unescape
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pytest
from flask.testing import FlaskClient
from werkzeug.datastructures import FileStorage

from tests.browser.conftest import PORT, Window
from tests.chosen import long
from tests.reading.hostile import hostile_files
from tiler.browser.drawn.answer import Drawn, word_of
from tiler.browser.gate import Gate
from tiler.curves import Bezier, Curve
from tiler.sheets.document import Document

ARC = Curve((Bezier((0j, 50 + 0j, 80 + 30j, 80 + 80j)),))
CREW = {"front-half": "7 1/4 in", "back-half": "3 3/4 in", "width": "1/2 in", "stretch": "50 %"}


def sentence(window: Window, path: str, data: Any) -> tuple[int, str]:
    answer = window.sent(path, data)
    told = re.search('class="fault"[^>]*>([^<]*)<', answer.text)
    assert told, answer.text
    assert "Traceback" not in answer.text
    return answer.status_code, unescape(told[1])


def test_a_cookie_of_an_earlier_start_opens_nothing(stranger: FlaskClient, gate: Gate) -> None:
    """This test ensures that a form that stayed open is refused by the next start at the same port."""
    earlier = Gate(PORT)
    stranger.set_cookie(gate.cookie, earlier._pass, domain="127.0.0.1")
    refused = stranger.post("/printers", base_url=gate.origin, headers={"Origin": gate.origin}, data={"name": "x"})
    assert refused.status_code == 403
    assert "it changes with every start" in refused.text


@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize("name", ["pages-in-a-circle", "reference-to-itself", "half"])
def test_a_hostile_file_is_a_sentence(window: Window, name: str, work: Path) -> None:
    _, data = hostile_files()[name]
    status, told = sentence(window, "/check", {"pdf": (BytesIO(data), "plan.pdf")})
    assert status == 400
    assert "plan.pdf" in told
    assert str(work) not in told


@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize(("path", "field"), [("/check", "pdf"), ("/strip/drawing", "drawing")])
def test_a_locked_file_is_a_sentence(window: Window, one_band: Document, path: str, field: str) -> None:
    locked = BytesIO()
    with pikepdf.open(BytesIO(one_band.data)) as file:
        file.save(locked, encryption=pikepdf.Encryption(owner="owner", user="user"))
    status, told = sentence(window, path, {field: (BytesIO(locked.getvalue()), "plan.pdf")})
    assert status == 400
    assert re.match("plan[.]pdf.*password", told)


@pytest.mark.parametrize(("path", "field"), [("/check", "pdf"), ("/strip/drawing", "drawing"), ("/spec/open", "spec")])
def test_a_full_disk_is_a_sentence_and_nothing_of_the_file_stays(
    window: Window, monkeypatch: pytest.MonkeyPatch, path: str, field: str
) -> None:
    def full(self: FileStorage, to: Path) -> None:
        to.write_bytes(b"half of it")
        raise OSError(errno.ENOSPC, "No space left on device", str(to))

    monkeypatch.setattr(FileStorage, "save", full)
    status, told = sentence(window, path, {field: (BytesIO(b"x"), "plan.pdf")})
    assert status == 500
    assert told.startswith("cannot write: No space left on device; free some space")


def test_a_full_disk_while_the_files_are_made_is_a_sentence(window: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    monkeypatch.setattr(Path, "write_text", full)
    status, told = sentence(window, "/strip/files", CREW)
    assert status == 500
    assert "free some space" in told


@long
@pytest.mark.usefixtures("forked")
def test_the_name_of_a_report_writes_no_header(window: Window, one_band: Document) -> None:
    led = window.post("/check", {"pdf": (BytesIO(one_band.data), "piece.pdf")})
    report = window.get(f"{led.location}/x%0d%0aSet-Cookie:%20a=b.pdf")
    assert report.status_code == 200
    assert "Set-Cookie" not in report.headers
    assert report.headers["Content-Disposition"].count("\n") == 0


@long
@pytest.mark.usefixtures("forked")
def test_names_in_a_drawing_are_text(window: Window) -> None:
    mark = "&quot;&gt;&lt;script&gt;alert(1)&lt;/script&gt;"
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="99mm" height="99mm"><path id="{mark}" d="M1 1 C 9 1 9 9 50 80" '
        'fill="none" stroke="black"/></svg>'
    )
    page = window.sent("/strip/drawing", {"drawing": (BytesIO(svg.encode()), "<b>.svg")}).text
    assert "alert(1)" in page
    assert page.count("<script") == 1
    assert "<b>" not in page
    choice = re.search(r'action="(/strip/drawing/[^"]+)"', page)
    assert choice
    led = window.get(choice[1], query_string={"pick": "0", "drawn-part": "front-half", "width": "15 mm"})
    for path in (led.location, led.location.replace("/strip?", "/strip/figures?")):
        assert "<script>" not in window.get(path).text
    assert "alert(1)" in window.get(led.location).text


@pytest.mark.parametrize("name", ["../../etc/passwd", "/etc/passwd", "<b>.svg", "a\nb.svg", ""])
def test_a_picked_curve_names_no_file_elsewhere(window: Window, name: str) -> None:
    word = word_of(Drawn({"svg": name, "curve": 1}, ARC))
    page = window.get("/strip", query_string={"width": "15 mm", "drawn-front-half": word}).text
    assert "pick it from its drawing again" in page
    assert "passwd" not in page.replace(word, "")


def test_a_request_of_too_many_parts_is_a_sentence(window: Window) -> None:
    answer = window.post("/check", {f"field{number}": (BytesIO(b""), "x") for number in range(1200)})
    assert answer.status_code == 413
    assert "Something is in the way" in answer.text
