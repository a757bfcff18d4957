"""Make a strip: the form is that of the options, the numbers are those of ``tiler band``, and the files are proved."""

from __future__ import annotations

import re
from base64 import b64decode
from html import unescape
from pathlib import Path

import pytest

from tests.browser.conftest import Window
from tests.chosen import long
from tiler.browser.form import DRAWN, PAGE_FIELDS
from tiler.browser.said import about, names, said
from tiler.commands import run
from tiler.commands.one_piece.options import ALL

CREW = {"front-half": "7 1/4 in", "back-half": "3 3/4 in", "width": "1/2 in", "stretch": "50 %"}
NAMES = [*(option.names[0].removeprefix("--") for option in ALL), *(one for one in PAGE_FIELDS if one not in DRAWN)]


def text_of(page: str) -> str:
    return " ".join(unescape(re.sub(r"<[^>]*>", " ", page)).split())


def numbers(page: str) -> str:
    """Give the numbers to cut by as text."""
    found = re.search(r'<div id="numbers">(.*?)</div>', page, re.DOTALL)
    assert found, text_of(page)
    return text_of(found[1])


def note_at(field: str, page: str) -> str:
    """Give what is said below a field."""
    found = re.search(rf'id="note-{field}">(.*?)</div>', page, re.DOTALL)
    assert found, field
    return unescape(found[1])


def test_every_option_of_a_band_or_a_binding_has_a_field_and_every_field_a_label(window: Window) -> None:
    page = window.get("/strip").text
    page = page.partition("</form>")[0]
    fields = re.findall(r'<(?:input|select)[^>]* id="([^"]+)"', page)
    assert sorted(fields) == sorted(NAMES)
    assert sorted(re.findall(r'<label for="([^"]+)"', page)) == sorted(NAMES)
    described = {one for ids in re.findall(r'aria-describedby="([^"]+)"', page) for one in ids.split()}
    assert described <= set(re.findall(r'id="([^"]+)"', page))
    assert len(re.findall(r'id="[^"]+"', page)) == len(set(re.findall(r'id="[^"]+"', page)))


def test_the_numbers_are_those_of_the_command(window: Window, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["band", *(word for name, value in CREW.items() for word in (f"--{name}", value))]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    assert numbers(window.get("/strip/figures", query_string=CREW).text) == printed


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
        ("width", "1,5 cmm", "has the unit cmm"),
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


@long
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


@long
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


def test_every_wrong_number_is_told_at_once_each_at_its_field(window: Window) -> None:
    page = window.get(
        "/strip", query_string={"front-half": "7 in 3", "stretch": "a lot", "shoulder-slope": "3 cm"}
    ).text
    assert "is not a length" in note_at("front-half", page)
    assert "is not a percentage" in note_at("stretch", page)
    assert "is not an angle" in note_at("shoulder-slope", page)
    # of what is still to come it is told what, and not as a mistake
    page = window.get("/strip", query_string={"front-half": "7 in", "width": "1 cm"}).text
    assert '<p class="wanted">“Back half”: is missing' in note_at("back-half", page)
    assert "aria-invalid" not in page


@pytest.mark.parametrize(
    ("answers", "field", "told"),
    [
        ({"front-half": "18,5", "back-half": "9.5 cm"}, "front-half", "18.5 cm"),
        ({"front-half": "18,5", "back-half": "9.5 cm", "width": "1"}, "back-half", "whole neckline 56.0 cm"),
        ({"stretch": "50"}, "stretch", "50 %"),
        ({"rest": "4 in", "pulled": "6 in"}, "pulled", "it stretches by 50 %"),
    ],
)
def test_what_was_understood_is_said_back(window: Window, answers: dict[str, str], field: str, told: str) -> None:
    page = window.get("/strip", query_string=answers).text
    read = re.search(r'<p class="read">(.*?)</p>', note_at(field, page))
    assert read
    assert told in read[1]
    if len(answers) == 3:
        assert numbers(page)


def test_an_answer_that_was_typed_as_the_spec_wants_it_is_not_repeated(window: Window) -> None:
    assert 'class="read"' not in note_at("front-half", window.get("/strip", query_string=CREW).text)


def test_how_long_the_strip_shall_be_is_also_answered_by_a_length(window: Window) -> None:
    page = window.get("/strip", query_string=CREW | {"ratio": "18 in"}).text
    assert "18 in (45.7 cm), 81.8 % of the edge" in numbers(page)
    assert 'name="ratio" value="18 in"' in page


@pytest.mark.parametrize(
    ("answers", "shown", "left_out"),
    [
        ({}, {"front-half", "front", "edge", "neck-width"}, {"cover", "front-ratio", "replaces-width", "accept"}),
        ({"kind": "armhole"}, {"front", "back", "shoulder-slope"}, {"front-half", "shape", "front-ratio", "corner"}),
        ({"kind": "leg"}, {"front-ratio", "turning"}, {"front-half", "shoulder-slope", "ends"}),
        ({"kind": "straight"}, {"edge", "body", "part"}, {"turning", "shape", "front", "shoulder-slope"}),
        ({"kind": "curved"}, {"turning", "corner"}, {"shape", "shoulder-slope"}),
        ({"finish": "double-fold-binding"}, {"cover", "cut-on"}, {"seam-allowance", "stands", "elastic", "buttons"}),
        ({"finish": "raw-edge-binding"}, {"trim-allowance"}, {"cover"}),
        ({"front-half": "7 in"}, {"back-half", "end-allowance"}, {"shape", "edge"}),
        ({"shape": "vee"}, {"neck-width", "corner", "widen"}, {"front-half", "edge"}),
        ({"kind": "curved", "ends": "turned"}, {"free-before", "buttons"}, {"must-pass", "first-button"}),
        ({"ends": "turned", "buttons": "3"}, {"first-button", "button-width"}, set()),
        ({"cloth-width": "16 in"}, {"section"}, set()),
        ({"elastic": "1 cm"}, {"elastic-ratio", "elastic-overlap"}, {"ends", "ends-allowance"}),
        ({"kind": "straight", "ends": "turned", "buttons": "3"}, {"ends-allowance", "buttonholes"}, {"buttons-on"}),
        (
            {"kind": "curved", "part": ["a", "9 in", "b", "7 in"], "ends": "turned", "buttons": "3"},
            {"buttons-on"},
            set(),
        ),
        ({"kind": "curved", "part": ["a", "9 in, 0 deg, 90 %", "b", "7 in, 90, 80 %"]}, {"turning"}, {"ratio", "edge"}),
        ({"kind": "curved", "part": ["a", "9 in, 0 deg, 90 %", "b", "7 in, 90"]}, {"ratio"}, {"edge"}),
    ],
)
def test_the_fields_that_have_no_meaning_are_left_out(
    window: Window, answers: dict[str, str], shown: set[str], left_out: set[str]
) -> None:
    page = window.get("/strip", query_string=answers).text
    hidden = set(re.findall(r'data-of="([^"]+)" hidden', page))
    assert left_out <= hidden
    assert not shown & hidden
    # what stands in a field is never out of sight
    assert not answers.keys() & hidden
    told = re.search(r'id="left-out" data-names="([^"]*)"', window.get("/strip/figures", query_string=answers).text)
    assert told
    assert set(told[1].split()) == hidden


def test_a_value_in_a_field_without_meaning_is_seen_and_told(window: Window) -> None:
    page = window.get("/strip", query_string=CREW | {"cover": "3 mm"}).text
    assert 'data-of="cover" hidden' not in page
    assert "has no meaning for a folded-band" in note_at("cover", page)


@pytest.mark.parametrize("finish", ["double-fold", "french", "raw-edge"])
def test_a_binding_is_that_of_the_command(window: Window, capsys: pytest.CaptureFixture[str], finish: str) -> None:
    sides = {"front": "21 cm", "back": "22.5 cm", "width": "1 cm", "stretch": "35 %"}
    assert run(["binding", "--finish", finish, *(word for at in sides.items() for word in (f"--{at[0]}", at[1]))]) == 0
    printed = " ".join(re.sub(r"^ +[>!] ", "", capsys.readouterr().out, flags=re.MULTILINE).split())
    assert numbers(window.get("/strip", query_string={"finish": f"{finish}-binding", **sides}).text) == printed


def test_a_finish_that_is_none_is_told_at_its_field(window: Window) -> None:
    page = window.get("/strip", query_string=CREW | {"finish": "frnch-binding"}).text
    assert "did you mean french-binding?" in note_at("finish", page)


TIES = {
    "finish": "double-fold-binding",
    "kind": "neckline",
    "edge": "40 cm",
    "turning": "270",
    "width": "1 cm",
    "stretch": "50 %",
    "ends": "turned",
    "free-before": "30 cm",
    "free-after": "30 cm",
}


@long
def test_ties_at_the_neck_of_a_child_are_drawn_only_with_the_tick_that_the_refusal_offers(window: Window) -> None:
    assert 'data-of="accept" hidden' in window.get("/strip", query_string=TIES).text
    page = window.get("/strip", query_string=TIES | {"child": "yes"}).text
    assert 'data-of="accept" hidden' not in page
    assert "16 CFR 1120" in numbers(page)
    told = window.post("/strip/files", TIES | {"child": "yes"})
    assert told.status_code == 400
    assert "16 CFR 1120" in note_at("accept", told.text)
    assert "let it pass (“Let free ends pass”)" in note_at("accept", told.text)
    made = window.post("/strip/files", TIES | {"child": "yes", "accept": "yes"})
    assert made.status_code == 303
    assert "16 CFR 1120" in window.get(made.location).text


def test_groups_that_few_need_are_folded_unless_an_answer_or_a_fault_is_in_them(window: Window) -> None:
    def opened(**answers: str) -> dict[str, bool]:
        page = window.get("/strip", query_string=answers).text
        found = re.findall(r'<details class="group"( open)?>\s*<summary><h2>(.*?)</h2>', page)
        return {title: bool(is_open) for is_open, title in found}

    begun = opened()
    assert begun["Edge, as measured"]
    assert not begun["Ends, ties and buttons"]
    assert opened(ends="raw")["Ends, ties and buttons"]
    assert not opened(**CREW)["Title and paper"]
    assert opened(**CREW | {"margin": "wide"})["Title and paper"]


def test_numbers_without_a_unit_ask_for_it_first_of_all(window: Window) -> None:
    bare = {"front-half": "7", "back-half": "4", "width": "1"}
    page = window.get("/strip", query_string=bare).text
    assert '<p class="wanted">“Units”: no length says its unit' in note_at("units", page)
    assert page.index('id="units"') < page.index('id="front-half"')
    assert "22 in (55.9 cm)" in text_of(window.get("/strip", query_string=bare | {"units": "in"}).text)


KITCHEN = {
    "name": "kitchen",
    "nominal-across": "15 cm",
    "across": "14.9 cm",
    "nominal-down": "20 cm",
    "down": "19.8 cm",
}


def test_what_a_printer_does_to_the_strip_is_shown_where_it_is_chosen(
    window: Window, printer_files: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert 'data-of="printer" hidden' in window.get("/strip").text
    assert window.post("/printers", KITCHEN | {"reading-error": "0.5 mm"}).status_code == 303
    assert "kitchen" in note_free(window.get("/strip").text, "printer")
    page = text_of(window.get("/strip", query_string=CREW | {"printer": "kitchen"}).text)
    assert re.search(r"Neckband: the strip of 19 in \(48.2 cm\) would come out \d mm ± \d mm short, its width", page)
    # not chosen, nothing is said; unknown, that is said at the field
    assert "would come out" not in text_of(window.get("/strip", query_string=CREW).text)
    unknown = window.get("/strip", query_string=CREW | {"printer": "attic"}).text
    assert "no printer is called attic; there are kitchen" in note_at("printer", unknown)


@long
def test_a_pdf_is_made_for_a_printer_where_that_is_ticked(window: Window) -> None:
    window.post("/printers", KITCHEN | {"reading-error": "0.5 mm"})
    corrected = window.get(window.post("/strip/files", CREW | {"printer": "kitchen", "correct": "yes"}).location)
    assert "kitchen" in text_of(corrected.text)
    assert "True to scale" not in corrected.text


def note_free(page: str, field: str) -> str:
    """Give the field itself, with its choices."""
    found = re.search(rf'data-of="{field}">(.*?)<div class="notes"', page, re.DOTALL)
    assert found
    return text_of(found[1])
