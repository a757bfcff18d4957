"""Make a strip: the form is that of the options, the numbers are those of ``tiler band``, and the files are proved."""

from __future__ import annotations

import re
from base64 import b64decode
from html import unescape
from pathlib import Path

import pytest

from tests.browser.conftest import Window
from tiler.browser.said import about, names, said
from tiler.commands import run
from tiler.commands.one_piece.options import options_of

CREW = {"front-half": "7 1/4 in", "back-half": "3 3/4 in", "width": "1/2 in", "stretch": "50 %"}
NAMES = [option.names[0].removeprefix("--") for group in options_of(band=True).values() for option in group]


def text_of(page: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", page)).split())


def test_every_option_of_a_band_has_a_field_and_every_field_a_label(window: Window) -> None:
    page = window.get("/strip").text
    fields = re.findall(r'<(?:input|select)[^>]* id="([^"]+)"', page)
    assert sorted(fields) == sorted(NAMES)
    assert sorted(re.findall(r'<label for="([^"]+)"', page)) == sorted(NAMES)
    described = {one for ids in re.findall(r'aria-describedby="([^"]+)"', page) for one in ids.split()}
    assert described <= set(re.findall(r'id="([^"]+)"', page))
    assert len(re.findall(r'id="[^"]+"', page)) == len(set(re.findall(r'id="[^"]+"', page)))


def test_the_numbers_are_those_of_the_command(window: Window, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["band", *(word for name, value in CREW.items() for word in (f"--{name}", value))]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    shown = text_of(window.get("/strip/figures", query_string=CREW).text)
    assert shown == printed


def test_the_page_shows_without_scripts_what_scripts_fetch(window: Window) -> None:
    page, beside = (window.get(path, query_string=CREW).text for path in ("/strip", "/strip/figures"))
    # the whole page says at once what is in the way; of a change it is said when the typing stops
    assert beside.strip() in page
    assert 'value="7 1/4 in"' in page


def test_the_picture_is_the_drawing(window: Window) -> None:
    found = re.search('src="data:image/svg[+]xml;base64,([^"]+)"', window.get("/strip/figures", query_string=CREW).text)
    assert found
    drawn = b64decode(found[1]).decode()
    assert drawn.lstrip().startswith("<")
    assert "<script" not in drawn
    assert "Neckband" in drawn


@pytest.mark.parametrize(
    ("answers", "field", "doubt"),
    [
        ({"must-pass": "40 in"}, "must-pass", "The strip opens to only"),
        ({"must-pass": "40 in"}, "garment-stretch", "give “Garment stretch” to know"),
        ({"ratio": "50 %"}, "ratio", ""),
    ],
)
def test_a_doubt_stands_at_the_field_that_causes_it(
    window: Window, answers: dict[str, str], field: str, doubt: str
) -> None:
    page = window.get("/strip", query_string=CREW | answers).text
    place = re.search(rf'id="note-{field}">(.*?)</div>', page, re.DOTALL)
    assert place
    assert 'class="warning"' in place[1]
    assert doubt in place[1]
    # scripts find it in what they fetch
    assert f'data-note-for="{field}"' in window.get("/strip/figures", query_string=CREW | answers).text
    assert "--" not in text_of(page)


@pytest.mark.parametrize(
    ("field", "value", "why"),
    [
        ("width", "1,5 cmm", "is not a length"),
        ("stretch", "5000 %", "out of range"),
        ("kind", "sleeve", "sleeve"),
        ("front-half", "<script>", "is not a length"),
    ],
)
def test_a_mistake_is_a_sentence_at_its_field(window: Window, field: str, value: str, why: str) -> None:
    answer = window.get("/strip", query_string={**CREW, field: value})
    assert answer.status_code == 200
    place = re.search(rf'id="note-{field}">(.*?)</div>', answer.text, re.DOTALL)
    assert place
    assert why in unescape(place[1])
    assert re.search(rf'id="{field}"[^>]* aria-invalid="true"', answer.text)
    assert "<script>" not in answer.text


def test_options_are_said_by_their_labels_and_only_those_that_have_one() -> None:
    assert said("--front-half: give --stretch, not-this--width") == "“Front half”: give “Stretch”, not-this--width"
    assert said("--memory-limit gives it more") == "--memory-limit gives it more"
    assert about("beside --width stands --stretch", names()) == "width"


def test_a_form_that_is_empty_says_what_it_needs(window: Window) -> None:
    for path in ("/strip", "/strip/figures"):
        assert "front half and its back half" in text_of(window.get(path).text)


def test_parts_come_in_pairs_and_keep_their_places(window: Window) -> None:
    parts = ["front", "14 in", "", "", "back", "7 in"]
    page = window.get(
        "/strip", query_string={"kind": "curved", "part": parts, "width": "1/2 in", "turning": "360"}
    ).text
    assert "21 in" in text_of(page)
    assert [value for value in re.findall(r'name="part" value="([^"]*)"', page) if value] == [
        "front",
        "14 in",
        "back",
        "7 in",
    ]
    lone = window.get("/strip/figures", query_string={"kind": "curved", "part": ["front", ""], "width": "1/2 in"}).text
    assert 'class="fault"' in lone


def test_the_files_are_made_proved_and_shown(window: Window) -> None:
    led = window.post("/strip/files", CREW)
    assert led.status_code == 303
    page = window.get(led.location).text
    assert "True to scale: 1 page, 2 test squares" in page
    assert "Print page 1 alone at 100 %" in page
    links = re.findall(r'href="([^"]+)" download', page)
    files = [window.get(unescape(link)) for link in links]
    assert [file.headers["Content-Disposition"] for file in files] == [
        f"attachment; filename=band-for-a-neckline{end}" for end in (".pdf", ".svg", ".toml", "-instructions.pdf")
    ]
    assert [file.data[:5] for file in files] == [b"%PDF-", b"<?xml", b"# Dra", b"%PDF-"]
    for source in re.findall(r'<img[^>]*src="([^"]+)"', page):
        assert window.get(source).data[:8] == b"\x89PNG\r\n\x1a\n"
    back = re.search(r'href="(/strip[?][^"]+)"', page)
    assert back
    assert 'value="7 1/4 in"' in window.get(unescape(back[1])).text
    key = led.location.split("?")[0]
    for wrong in ("/page-9.png", "/file-9/x", "/file-0/x.pdf"):
        assert window.get(f"{key}{wrong}").status_code == 404


def test_the_spec_makes_the_same_strip(window: Window, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = window.get(window.post("/strip/files", {**CREW, "title": "../<b>Crew</b>\u00e9"}).location).text
    assert "<b>" not in page
    link = re.search(r'href="([^"]+[.]toml)"', page)
    assert link
    answer = window.get(unescape(link[1]))
    assert "/" not in answer.headers["Content-Disposition"].replace("UTF-8''", "")
    (tmp_path / "crew.toml").write_bytes(answer.data)
    assert run(["figures", str(tmp_path / "crew.toml")]) == 0
    assert "9½ in (24.1 cm) long from the fold" in capsys.readouterr().out


def test_what_cannot_be_drawn_is_told_at_the_form_with_its_answers(window: Window) -> None:
    told = window.post("/strip/files", {**CREW, "margin": "20 in"})
    assert told.status_code == 400
    assert 'role="alert"' in told.text
    assert 'value="20 in"' in told.text
    assert "--" not in text_of(told.text)


def test_what_is_no_longer_kept_is_told(window: Window) -> None:
    gone = window.get("/made/nothing")
    assert gone.status_code == 404
    assert "no longer kept" in gone.text
