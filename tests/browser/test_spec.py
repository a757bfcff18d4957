"""A spec to go on with: nothing of it is lost, its values are fields, its sizes a table, and its faults are in place."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from html import unescape
from io import BytesIO
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest
from werkzeug.datastructures import MultiDict
from werkzeug.test import TestResponse

from tests.browser.conftest import Window
from tests.browser.test_make_a_strip import CREW, TIES, note_at, numbers, text_of
from tests.chosen import long
from tiler.browser.spec.address import packed, unpacked
from tiler.browser.spec.taken_up import answers_of
from tiler.browser.spec.values import MOST_FIELDS
from tiler.browser.spec.whole import kept_fields, whole_spec
from tiler.browser.spec.whole import text_of as text_in
from tiler.browser.strip import strip_of
from tiler.commands import run
from tiler.errors import SpecError

EXAMPLES = Path(__file__).parents[2] / "examples"
SPECS = sorted(EXAMPLES.glob("saltmarsh-*.toml"))

SIZED = """\
# A band in two sizes.
title = "Sized"
units = "cm"
sizes = ["S", "M"]

[fabrics.rib]
stretch = "60 %"   # measured twice

[[pieces]]
name = "Neckband"
finish = "folded-band"
finished-width = "1.5 cm"
fabric = "rib"
edge = { kind = "neckline", front-half = { S = "18 cm", M = "19 cm" }, back-half = { S = "9 cm", M = "9.5 cm" } }
"""


def opened(window: Window, data: bytes, name: str = "crew.toml") -> str:
    """Send a file to go on with, and give where that leads."""
    answer = window.post("/spec/open", {"spec": (BytesIO(data), name)}, content_type="multipart/form-data")
    assert answer.status_code == 303, text_of(answer.text)
    return answer.location


def saved(window: Window, made: str) -> str:
    """Give the spec that is saved from the page of what was made."""
    link = re.search(r'href="([^"]+[.]toml)"', window.get(made).text)
    assert link
    return window.get(unescape(link[1])).data.decode()


def stated(window: Window, answers: Mapping[str, object]) -> str:
    """Give the spec that is saved with what is made of answers."""
    form = MultiDict({name: value if isinstance(value, list) else [value] for name, value in answers.items()})
    with window.client.application.app_context():
        return strip_of(form).spec_text(Path("band.toml"), Path("band.pdf"))


def kept(page: str) -> str:
    """Give the spec that a page holds, with what was changed in it."""
    found = re.search(r'name="spec" value="([^"]*)"', page)
    assert found
    return unpacked(found[1])


def at(*keys: object) -> str:
    return "at/" + "/".join(map(str, keys))


def test_a_spec_comes_through_an_address_unchanged() -> None:
    for path in SPECS:
        text = path.read_text(encoding="utf-8")
        assert unpacked(packed(text)) == text
    with pytest.raises(SpecError, match="too long"):
        packed("".join(f"# {number * 7919**3}\n" for number in range(10_000)))
    # a small address that would fill the memory, one that was cut off, and none at all
    for letters in (packed("#" * 2**21), packed(SIZED)[:-9], "!!", "x" * 70_000):
        with pytest.raises(SpecError, match="holds no whole spec"):
            unpacked(letters)


@pytest.mark.parametrize(
    "answers",
    [
        CREW,
        CREW | {"title": "Für Ä", "name": "Band", "garment-stretch": "30 %", "must-pass": "22 in", "ratio": "85 %"},
        CREW | {"fabric": "rib", "garment-fabric": "rib", "notch": ["pocket", "2 in"], "quantity": "3"},
        {"shape": "vee", "neck-width": "18 cm", "front-depth": "15 cm", "back-depth": "2 cm", "width": "1 cm"},
        {"finish": "raw-edge-binding", "front": "21 cm", "back": "22 cm", "width": "1 cm", "stretch": "35 %"},
        {"kind": "curved", "part": ["a", "20 cm", "b", "10 cm"], "turning": "200", "width": "1 cm", "loop": "25 cm"},
        {"kind": "curved", "part": ["a", "20 cm, 90 deg, 95 %", "b", "10 cm, 20 deg"], "width": "1 cm"},
        {"kind": "straight", "edge": "20 cm", "width": "5 cm", "body": "17 cm", "body-ease": "-2 %", "stands": "yes"},
        TIES | {"child": "yes", "accept": "yes"},
    ],
)
def test_the_spec_that_was_saved_goes_back_in_as_the_same_answers(window: Window, answers: dict[str, object]) -> None:
    text = stated(window, answers)
    to = urlsplit(opened(window, text.encode()))
    assert to.path == "/strip"
    again = parse_qs(to.query)
    assert again == {
        name: value if isinstance(value, list) else [value] for name, value in answers.items() if name != "accept"
    }
    assert numbers(window.get("/strip", query_string=again).text) == numbers(
        window.get("/strip", query_string=answers).text
    )


def test_a_saved_spec_is_written_again_to_the_letter(window: Window) -> None:
    text = stated(window, CREW)
    assert stated(window, parse_qs(urlsplit(opened(window, text.encode())).query)) == text


@pytest.mark.parametrize("path", SPECS, ids=lambda path: path.stem)
def test_a_spec_that_the_form_cannot_hold_is_shown_whole_and_left_as_it_is(window: Window, path: Path) -> None:
    text = path.read_text(encoding="utf-8")
    to = opened(window, text.encode(), path.name)
    assert urlsplit(to).path == "/spec"
    assert unpacked(parse_qs(urlsplit(to).query)["spec"][0]) == text
    page = window.get(to).text
    if "svg =" not in text:
        assert 'class="fault"' not in page
        assert 'id="numbers"' in page
    # sent as a form without scripts, all of its fields with it, it stays as it was
    fields = {unescape(name): unescape(value) for name, value in re.findall(r'name="(at/[^"]*)" value="([^"]*)"', page)}
    assert fields
    again = window.get("/spec", query_string={**fields, **parse_qs(urlsplit(to).query)}).text
    assert kept(again) == text


def test_its_sizes_are_a_table_that_is_changed_in_place(window: Window) -> None:
    spec = packed(SIZED)
    page = window.get("/spec", query_string={"spec": spec}).text
    table = re.search(r'<table class="sized">(.*?)</table>', page, re.DOTALL)
    assert table
    assert re.findall(r'scope="col">([^<]*)<', table[1]) == ["size", "edge: front-half", "edge: back-half"]
    assert re.findall(r'scope="row">([^<]*)<', table[1]) == ["S", "M"]
    name = at("pieces", 0, "edge", "front-half", "M")
    assert f'name="{name}" value="19 cm"' in page
    assert 'aria-label="edge: front-half, size M"' in page
    assert "M 57.0 cm (22 7/16 in)" in text_of(page)
    changed = window.get("/spec", query_string={"spec": spec, name: "20 cm"}).text
    assert "M 59.0 cm (23¼ in)" in text_of(changed)
    # the text is the same but for this value, remarks included
    assert kept(changed) == SIZED.replace("19 cm", "20 cm")
    # what scripts fetch says the same
    beside = window.get("/spec/figures", query_string={"spec": spec, name: "20 cm"}).text
    assert beside.strip() in changed


@pytest.mark.parametrize(
    ("name", "value", "told_at", "why"),
    [
        (at("pieces", 0, "edge", "front-half", "M"), "20 cmm", at("pieces", 0, "edge", "front-half"), "unit cmm"),
        (at("pieces", 0, "finished-width"), "1,5 cm", at("pieces", 0, "finished-width"), "write 1.5 cm"),
        (at("pieces", 0, "fabric"), "jersey", at("pieces", 0, "fabric"), "there is no [fabrics.jersey]"),
        (at("fabrics", "rib", "stretch"), "900 %", at("fabrics", "rib", "stretch"), "out of range"),
        (at("sizes", 1), "L", at("pieces", 0, "edge", "front-half", "M"), "front-half.M: is not one of the sizes"),
        (at("units"), "ell", at("units"), "is not known"),
    ],
)
def test_a_fault_stands_at_the_value_that_it_is_about(
    window: Window, name: str, value: str, told_at: str, why: str
) -> None:
    page = window.get("/spec", query_string={"spec": packed(SIZED), name: value}).text
    said = re.search(rf'id="note-{re.escape(told_at)}">(.*?)</(?:div|td)>', page, re.DOTALL)
    assert said
    assert why in unescape(said[1]).replace('"', "")
    # nothing that was typed is lost
    assert f'value="{value}"' in page


def test_what_is_missing_is_told_at_its_piece(window: Window) -> None:
    text = SIZED.replace('finished-width = "1.5 cm"\n', "")
    assert "finished-width: is missing" in note_at(at("pieces", 0), window.get(f"/spec?spec={packed(text)}").text)


def test_a_doubt_stands_at_the_value_that_causes_it(window: Window) -> None:
    text = SIZED.replace("1.5 cm", "9 cm")
    page = window.get(f"/spec?spec={packed(text)}").text
    assert 'class="warning"' in page
    assert re.search(r'data-note-for="at/pieces/0[^"]*" data-kind="warning"', page)


@pytest.mark.parametrize(
    ("data", "why"),
    [
        (b"title = ", "crew.toml: is not TOML"),
        (b"%PDF-1.7", "is a PDF, not a spec"),
        (b"title = '\xff'", "line 1 is not UTF-8 text"),
        (b"#" * (2**20 + 1), "crew.toml"),
        (b"a." * 40 + b"b = 1", "nested too deeply"),
    ],
)
def test_a_file_that_is_no_spec_is_told_where_it_was_chosen(window: Window, data: bytes, why: str) -> None:
    answer = window.post("/spec/open", {"spec": (BytesIO(data), "../crew.toml")}, content_type="multipart/form-data")
    assert answer.status_code == 400
    assert why in note_at("spec", answer.text)
    assert "/tmp" not in answer.text


def test_no_file_and_an_address_without_a_spec_are_told(window: Window) -> None:
    assert "choose a file first" in text_of(window.post("/spec/open", {}).text)
    lost = window.get("/spec?spec=abc")
    assert lost.status_code == 400
    assert "holds no whole spec" in text_of(lost.text)
    assert "holds no whole spec" in text_of(window.get("/spec/figures?spec=abc").text)
    assert window.post("/spec/files", {"spec": "abc"}).status_code == 400
    assert window.get("/spec").status_code == 200


@long
def test_a_pdf_of_all_sizes_is_made_of_the_changed_spec(window: Window, tmp_path: Path) -> None:
    name = at("pieces", 0, "finished-width")
    led = window.post("/spec/files", {"spec": packed(SIZED), name: "2 cm", "on-paper": "a4"})
    assert led.status_code == 303
    page = window.get(led.location).text
    assert "True to scale" in page
    link = re.search(r'href="([^"]+[.]pdf)" download', page)
    assert link
    # 210 mm in points
    assert re.search(rb"/MediaBox \[\s*0 0 595[.]27", window.get(unescape(link[1])).data)
    assert saved(window, led.location) == SIZED.replace("1.5 cm", "2 cm")
    (tmp_path / "sized.toml").write_text(saved(window, led.location), encoding="utf-8")
    assert run(["figures", str(tmp_path / "sized.toml")]) == 0
    # and back to it
    back = re.search(r'href="(/spec[?][^"]+)"', page)
    assert back
    assert 'value="2 cm"' in window.get(unescape(back[1])).text


def test_the_sizes_that_are_ticked_are_drawn(window: Window) -> None:
    page = window.get("/spec", query_string={"spec": packed(SIZED), "sizes": "M"}).text
    assert "Neckband, size M: folded band" in numbers(page)
    both = window.get("/spec", query_string={"spec": packed(SIZED), "shown": "M"}).text
    assert numbers(both) == numbers(page)
    assert "Neckband, size S: folded band" in numbers(window.get("/spec", query_string={"spec": packed(SIZED)}).text)


def test_paper_and_printer_are_those_that_are_chosen(window: Window) -> None:
    spec = packed(SIZED)
    window.post(
        "/printers",
        {
            "name": "den",
            "nominal-across": "15 cm",
            "across": "14.9 cm",
            "nominal-down": "20 cm",
            "down": "19.8 cm",
            "reading-error": "0.5 mm",
        },
    )
    page = window.get("/spec", query_string={"spec": spec, "printer": "den"}).text
    assert len(re.findall("Neckband, size [SM]: the strip of .*? would come out", text_of(page))) == 2
    wrong = window.get("/spec", query_string={"spec": spec, "on-paper": "a9"}).text
    assert "a9 is not known" in note_at("on-paper", wrong).replace('"', "")


def test_ties_at_a_childs_neck_are_drawn_only_with_their_tick(window: Window) -> None:
    text = "child = true\n" + (EXAMPLES / "saltmarsh-halter.toml").read_text(encoding="utf-8")
    page = window.get(f"/spec?spec={packed(text)}").text
    assert 'data-of="accept" hidden' not in page
    told = window.post("/spec/files", {"spec": packed(text)})
    assert told.status_code == 400
    assert "16 CFR 1120" in note_at("accept", told.text)
    form = MultiDict({"spec": packed(text), "accept": "yes"})
    with window.client.application.app_context():
        assert whole_spec(form, text_in(form)).wishes.accept == ("ties",)
    assert 'data-of="accept" hidden' in window.get(f"/spec?spec={packed(SIZED)}").text


def test_a_spec_with_a_file_beside_it_says_what_is_not_read(window: Window) -> None:
    text = f'logo = "mark.svg"\n{SIZED}'
    page = window.get(f"/spec?spec={packed(text)}").text
    assert "The logo mark.svg is not drawn" in text_of(page)


def test_a_spec_of_one_strip_with_remarks_is_offered_as_answers(window: Window) -> None:
    text = stated(window, CREW)
    to = opened(window, text.replace("units =", "# my own remark\nunits =").encode())
    assert urlsplit(to).path == "/spec"
    assert "without its remarks" in text_of(window.get(to).text)
    link = re.search(r'href="(/strip[?][^"]*)"', window.get(to).text)
    assert link
    assert 'value="7 1/4 in"' in window.get(unescape(link[1])).text
    assert "without its remarks" not in text_of(window.get(f"/spec?spec={packed(SIZED)}").text)


def test_no_answers_state_what_the_form_cannot_hold() -> None:
    assert answers_of(tomllib.loads(SIZED)) is None
    assert answers_of({"pieces": "x"}) is None
    assert answers_of({}) is None


@long
def test_a_spec_with_too_many_values_is_shown_without_fields(window: Window) -> None:
    notches = ", ".join('{ name = "n", at = "1 mm" }' for _ in range(60))
    head, _, piece = SIZED.partition("[[pieces]]")
    piece = piece.replace("fabric =", f"notches = [{notches}]\nfabric =", 1)
    count = MOST_FIELDS // 120 + 1
    text = head + "".join(f"[[pieces]]{piece}".replace("Neckband", f"Band {number}") for number in range(count))
    page = window.get(f"/spec?spec={packed(text)}").text
    assert "more values than can be shown" in text_of(page)
    assert 'name="at/' not in page
    assert 'id="numbers"' in page


def test_values_keep_their_kind(window: Window) -> None:
    text = SIZED.replace('finished-width = "1.5 cm"', "finished-width = 1.5\nquantity = 2")
    changed = {at("pieces", 0, "quantity"): "3", at("pieces", 0, "finished-width"): "1.25"}
    page = window.get("/spec", query_string={"spec": packed(text)} | changed).text
    assert kept(page) == text.replace("= 1.5\n", "= 1.25\n").replace("quantity = 2", "quantity = 3")


def test_sizes_that_lie_too_close_are_offered_to_be_drawn_apart(window: Window) -> None:
    close = SIZED.replace("19 cm", "18.1 cm").replace("9.5 cm", "9 cm")
    page = window.get(f"/spec?spec={packed(close)}").text
    assert "too close to be cut from one nest" in note_at("apart", page)
    assert "draw them apart (“Sizes apart”)" in note_at("apart", page)
    assert "too close" not in text_of(window.get("/spec", query_string={"spec": packed(close), "apart": "yes"}).text)


def test_lists_of_tables_are_tables_too(window: Window) -> None:
    text = (EXAMPLES / "saltmarsh-raglan.toml").read_text(encoding="utf-8")
    page = window.get(f"/spec?spec={packed(text)}").text
    heads = re.search(r"<h3>edge: parts</h3>.*?<thead>(.*?)</thead>", page, re.DOTALL)
    assert heads
    assert re.findall(r'scope="col">([^<]*)<', heads[1]) == ["name", "length", "turning"]
    name = at("pieces", 0, "edge", "parts", 2, "length")
    assert f'name="{name}" value="23 cm"' in page
    wrong = window.get("/spec", query_string={"spec": packed(text), name: "23 c"}).text
    assert "has the unit c," in note_at(name, wrong)
    other = window.get("/spec", query_string={"spec": packed(text), name: "24 cm"}).text
    assert kept(other) == text.replace("23 cm", "24 cm")


DRAWN = SIZED.replace('{ S = "18 cm", M = "19 cm" }', '{ svg = "drawn/necks.svg", id = "front-neck" }').replace(
    '{ S = "9 cm", M = "9.5 cm" }', '{ svg = "drawn/necks.svg", id = ["back-neck"] }'
)


def sent(window: Window, *files: tuple[bytes, str]) -> TestResponse:
    chosen = [(BytesIO(data), name) for data, name in files]
    return window.post("/spec/open", {"spec": chosen}, content_type="multipart/form-data")


@long
@pytest.mark.usefixtures("forked")
def test_a_spec_and_its_drawing_are_taken_up_together(
    window: Window, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    drawing = (EXAMPLES / "saltmarsh-necks.svg").read_bytes()
    (tmp_path / "drawn").mkdir()
    (tmp_path / "drawn" / "necks.svg").write_bytes(drawing)
    (tmp_path / "neck.toml").write_text(DRAWN, encoding="utf-8")
    assert run(["figures", str(tmp_path / "neck.toml"), "--sizes", "S"]) == 0
    printed = " ".join(capsys.readouterr().out.split())
    led = sent(window, (drawing, "necks.svg"), (DRAWN.encode(), "neck.toml"))
    assert led.status_code == 303
    page = window.get(led.location).text
    assert numbers(page) == printed
    # the curves stay beside the spec while it is changed and drawn
    words = re.findall(r'name="curve-of" value="([^"]*)"', page)
    assert len(words) == 2
    assert kept(page) == DRAWN
    form = MultiDict([("spec", packed(DRAWN)), *(("curve-of", word) for word in words)])
    with window.client.application.app_context():
        back = kept_fields(form, text_in(form))
    assert numbers(window.get("/spec", query_string=MultiDict(back)).text) == printed


@pytest.mark.usefixtures("forked")
def test_a_drawing_that_lacks_or_cannot_be_used_is_told(window: Window) -> None:
    page = window.get(sent(window, (DRAWN.encode(), "neck.toml")).location).text
    told = note_at(at("pieces", 0), page)
    assert "drawn/necks.svg is a drawing that was not chosen; choose it together with the spec" in told
    empty = sent(window, (DRAWN.encode(), "neck.toml"), (b"<svg/>", "necks.svg"))
    assert empty.status_code == 400
    assert "necks.svg" in note_at("spec", empty.text)
    assert "/tmp" not in empty.text
    many = sent(window, *[(b"", f"{number}.svg") for number in range(25)])
    assert "are 25 files" in note_at("spec", many.text)
    lost = window.get("/spec", query_string={"spec": packed(DRAWN), "curve-of": "abc"})
    assert lost.status_code == 200
    assert "cannot be read any more" in text_of(lost.text)
