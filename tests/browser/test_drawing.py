"""An edge from a drawing: the curves are those of ``tiler edge``, and the picked one is taken as a spec takes it."""

from __future__ import annotations

import re
from html import unescape
from io import BytesIO
from math import sin
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest

from tests.browser.conftest import Window
from tests.browser.test_make_a_strip import text_of
from tests.chosen import long
from tests.reading.files import labelled_square, pdf
from tiler.browser.drawn.answer import LARGEST, Drawn, drawn_of, word_of
from tiler.commands import run
from tiler.curves import Bezier, Curve, line
from tiler.errors import SpecError

pytestmark = pytest.mark.usefixtures("forked")

NECKS = Path(__file__).parents[2] / "examples" / "saltmarsh-necks.svg"
WIDTH = {"width": "15 mm", "stretch": "50 %"}


def chosen(window: Window, data: bytes, name: str, answers: str = "", **more: str) -> tuple[int, str, str]:
    """Send a drawing, and return what the page says and the address of its choice."""
    answer = window.sent(f"/strip/drawing{answers}", {"drawing": (BytesIO(data), name), **more})
    page = unescape(answer.text)
    found = re.search(r'action="(/strip/drawing/[^"]+)"', page)
    return answer.status_code, page, found[1] if found else ""


def curve(page: str, name: str) -> str:
    found = re.search(rf'for="pick-(\d+)">(?:(?!</label>).)*{name}', page, re.DOTALL)
    assert found, page
    return found[1]


@long
def test_front_and_back_are_picked_and_make_the_strip_of_the_spec(
    window: Window, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spec = (
        'title = "Band for a neckline"\nunits = "cm"\n[fabrics.knit]\nstretch = "50 %"\n'
        '[[pieces]]\nname = "Neckband"\nfinish = "folded-band"\nfabric = "knit"\nfinished-width = "15 mm"\n[pieces.edge]\n'
        'kind = "neckline"\nfront-half = { svg = "necks.svg", id = "front-neck" }\n'
        'back-half = { svg = "necks.svg", id = "back-neck" }\n'
    )
    (tmp_path / "necks.svg").write_bytes(NECKS.read_bytes())
    (tmp_path / "neck.toml").write_text(spec, encoding="utf-8")
    assert run(["figures", str(tmp_path / "neck.toml")]) == 0
    wanted = " ".join(capsys.readouterr().out.split())

    status, page, choice = chosen(window, NECKS.read_bytes(), "necks.svg")
    assert status == 200
    assert page.count('type="radio"') == 6
    assert 'src="data:image/png;base64,' in page
    led = window.get(choice, query_string={"pick": curve(page, "front-neck"), "drawn-part": "front-half", **WIDTH})
    assert led.status_code == 303
    status, page, choice = chosen(window, NECKS.read_bytes(), "necks.svg", f"?{urlsplit(led.location).query}")
    answers = re.findall(r'<input type="hidden" name="([^"]+)" value="([^"]*)">', page)
    picked = {"pick": curve(page, "back-neck"), "drawn-part": "back-half", **dict(answers)}
    led = window.get(choice, query_string=picked)
    query = {name: values[0] for name, values in parse_qs(urlsplit(led.location).query).items()}
    assert query.keys() == {"width", "stretch", "drawn-front-half", "drawn-back-half"}
    # the numbers are those of the spec, and without scripts the page shows what scripts fetch
    beside = window.get("/strip/figures", query_string=query).text
    assert wanted.split("Neckband", 1)[1] in text_of(beside)
    form = window.get(led.location).text
    assert form.count('type="checkbox" id="drawn-') == 2
    assert "necks.svg, front-neck" in form
    # so is the spec that is saved with the files
    page = window.get(window.post("/strip/files", query).location).text
    link = re.search(r'href="([^"]+[.]toml)"', page)
    assert link
    saved = window.get(unescape(link[1])).text
    assert 'id = "front-neck"' in saved
    (tmp_path / "saved.toml").write_text(saved, encoding="utf-8")
    assert run(["figures", str(tmp_path / "saved.toml")]) == 0
    assert " ".join(capsys.readouterr().out.split()) == wanted


@long
def test_a_pdf_that_is_off_is_refused_and_corrected_by_its_square(window: Window) -> None:
    """This test ensures that a two-inch square of 1.9 in makes lengths of ten inches out of nine and a half."""
    square = labelled_square(144.0 * 0.95, "2 in")
    data = pdf(f"{square} 100 100 m 100 {100 + 72 * 9.5} l S")
    status, page, _ = chosen(window, data, "base.pdf")
    assert status == 400
    assert "off scale" in page
    assert "“Correct by its square”" in page
    status, page, choice = chosen(window, data, "base.pdf", **{"scale-from-square": "yes"})
    assert status == 200
    number = curve(page, r"25\.4 cm \(10 in\)")
    led = window.get(choice, query_string={"pick": number, "drawn-part": "edge", "width": "1/2 in"})
    (word,) = parse_qs(urlsplit(led.location).query)["drawn-edge"]
    assert drawn_of(word).source["scale-from-square"] is True
    assert drawn_of(word).curve.length == pytest.approx(254, abs=0.3)


@pytest.mark.parametrize(
    ("data", "name", "why"),
    [
        (b"no drawing", "plan.svg", "plan.svg is neither a PDF nor an SVG"),
        (b"<svg xmlns='http://www.w3.org/2000/svg' width='9mm' height='9mm'/>", "e.svg", "e.svg holds no curve"),
        (b"%PDF-1.7 and no more", "p.pdf", "p.pdf"),
    ],
)
def test_what_is_no_drawing_is_a_sentence_with_its_name(
    window: Window, work: Path, data: bytes, name: str, why: str
) -> None:
    status, page, _ = chosen(window, data, name, "?width=15+mm")
    assert status == 400
    assert why in page
    assert str(work) not in page
    assert "/strip?width=15+mm" in page


@long
def test_a_choice_that_is_none_is_a_sentence(window: Window) -> None:
    _, _, choice = chosen(window, NECKS.read_bytes(), "necks.svg")
    for told in (
        {"drawn-part": "edge"},
        {"pick": "6"},
        {"pick": "²"},
        {"pick": "0"},
        {"pick": "0", "drawn-part": "sleeve"},
    ):
        answer = window.get(choice, query_string=told)
        assert answer.status_code == 400
        assert "is missing" in answer.text
    assert window.get("/strip/drawing/nothing").status_code == 404
    assert chosen(window, NECKS.read_bytes(), "necks.svg", **{"page-of-drawing": "two"})[0] == 400
    assert "which has no pages" in chosen(window, NECKS.read_bytes(), "necks.svg", **{"page-of-drawing": "2"})[1]


ARC = Curve((Bezier((0j, 50 + 0j, 80 + 30j, 80 + 80j)),))


@long
def test_a_word_holds_the_whole_curve_and_nothing_else_is_read() -> None:
    drawn = drawn_of(word_of(Drawn({"svg": "a.svg", "curve": 1}, ARC)))
    assert drawn.curve.length == pytest.approx(ARC.length, abs=1e-5)
    assert drawn.source == {"svg": "a.svg", "curve": 1}
    points = [complex(at, sin(at**2)) for at in range(8000)]
    many = Curve(tuple(map(line, points, points[1:])))
    with pytest.raises(SpecError, match="too many points"):
        word_of(Drawn({"svg": "a.svg", "curve": 1}, many))


@pytest.mark.parametrize(
    "word",
    [
        "x",
        "%%%",
        "eJwDAAAAAAE=",
        word_of(Drawn({"svg": "a.svg", "curve": 1}, ARC))[:-9],
        word_of(Drawn({"svg": "a.svg", "curve": 1}, Curve((line(0j, 0j),)))),
        word_of(Drawn({"svg": ["x"], "curve": 1}, ARC)),
        word_of(Drawn({"svg": "a.svg", "id": "x" * 2 * LARGEST}, ARC)),
    ],
)
def test_a_word_that_nobody_wrote_is_a_sentence_at_its_part(window: Window, word: str) -> None:
    page = window.get("/strip", query_string={**WIDTH, "drawn-front-half": word})
    assert page.status_code == 200
    place = re.search(r'id="note-front-half">(.*?)</div>', page.text, re.DOTALL)
    assert place
    assert "pick it from its drawing again" in place[1]
    assert "cannot be read any more" in page.text


def test_a_part_is_measured_or_drawn_and_a_name_means_one_curve(window: Window) -> None:
    word, other = (word_of(Drawn({"svg": "a.svg", "curve": 1}, curve)) for curve in (ARC, Curve((line(0j, 90 + 0j),))))
    told = window.get("/strip", query_string={**WIDTH, "front-half": "18 cm", "drawn-front-half": word})
    assert "is taken from a drawing too" in told.text
    told = window.get("/strip", query_string={**WIDTH, "drawn-front-half": word, "drawn-back-half": other})
    assert "give the files different names" in told.text
