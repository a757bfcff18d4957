"""This checks ``tiler edge``: the list that people pick from, its JSON, its picture, and the scale of the drawing."""

import json
import tomllib
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from PIL import Image

from tests.chosen import long
from tests.reading.files import labelled_square, pdf, saved
from tiler.commands import run
from tiler.usecases.drawings.edges import edge_curve

MM = 25.4 / 72
NECK = "q {0} 0 0 {0} 100 400 cm 0 0 m 0 -226.771654 170.078740 -283.464567 255.118110 -283.464567 c S Q "
"""The quarter of a neckline of 150.72505465 mm (by quadrature) that turns by 90 degrees, in PDF units, at a scale."""

pytestmark = pytest.mark.usefixtures("forked")

SVG = """<svg xmlns="http://www.w3.org/2000/svg" width="{size}" height="100{unit}" viewBox="0 0 200 100">
<path id="neck" d="M0,0 C0,80 60,100 90,100"/><rect width="30" height="20"/><path d="M0,0L5,0L5,12"/></svg>"""

KEYS = ["curve", "id", "page", "length_mm", "turning_deg", "corners", "closed", "bounds_mm"]


@pytest.fixture
def svg(tmp_path: Path) -> Path:
    return saved(tmp_path, "front.svg", SVG.format(size="200mm", unit="mm").encode())


@pytest.fixture
def base(tmp_path: Path) -> Path:
    pages = (labelled_square(144), "0 0 m 300 400 l S " + NECK.format(1), "10 10 30 40 re S")
    return saved(tmp_path, "base.pdf", pdf(*pages))


def listed(capsys, *arguments: object) -> list[dict]:
    assert run(["edge", *map(str, arguments), "--json"]) == 0
    result = json.loads(capsys.readouterr().out, parse_constant=pytest.fail)
    assert list(result) == ["file", "curves"]
    return result["curves"]


def told(capsys, code: int, *arguments: object) -> str:
    """Give the one sentence of a refusal, which is the same as JSON."""
    assert run(["edge", *map(str, arguments)]) == code
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert run(["edge", *map(str, arguments), "--json"]) == code
    assert json.loads(capsys.readouterr().out) == {
        "error": {"code": code, "message": err.removeprefix("tiler: ").strip()}
    }
    return err


# The list


def test_json_has_the_keys_of_the_contract_and_the_longest_first(svg, base, capsys):
    curves = listed(capsys, svg)
    assert all(list(curve) == KEYS for curve in curves)
    assert [(curve["curve"], curve["id"], curve["page"]) for curve in curves] == [
        (1, "neck", None),
        (2, None, None),
        (3, None, None),
    ]
    neck, box, corner = curves
    assert neck["length_mm"] == pytest.approx(150.72505465, abs=5e-9)
    assert neck["turning_deg"] == pytest.approx(90)
    assert neck["bounds_mm"] == pytest.approx([0, 0, 90, 100])
    assert (neck["corners"], neck["closed"]) == ([], False)
    assert box["corners"] == pytest.approx([90] * 4)
    assert box["closed"] is True
    assert corner["corners"] == pytest.approx([90])
    curves = listed(capsys, base)
    assert [(curve["page"], curve["curve"], curve["id"]) for curve in curves] == [
        (1, 1, None),
        (2, 1, None),
        (2, 2, None),
        (3, 1, None),
    ]
    assert curves[2]["length_mm"] == pytest.approx(150.72505465, rel=1e-7)


@long
def test_page_and_least_filter_without_changing_the_numbers(base, capsys):
    assert [curve["curve"] for curve in listed(capsys, base, "--page", 2)] == [1, 2]
    assert [(curve["page"], curve["curve"]) for curve in listed(capsys, base, "--least", "16 cm")] == [(1, 1), (2, 1)]
    assert [curve["curve"] for curve in listed(capsys, base, "--page", "2", "--least", "6 in")] == [1]


def test_people_get_a_table_in_both_units_and_a_line_to_paste(base, capsys):
    assert run(["edge", str(base)]) == 0
    out, err = capsys.readouterr()
    assert err == ""
    assert "the 2 in square on page 1 measures 50.80 × 50.80 mm (100.00 % across, 100.00 % down); true to scale" in out
    # 150.725 mm = 5.934 in
    assert "    2    2  5 15/16 in (15.1 cm)    90°              open   35–125/41–141" in out
    assert "360° (4 corners) closed" in out
    for line in out.splitlines()[2:]:
        assert len(line) <= 80, line
    pasted = tomllib.loads(out.splitlines()[-1])
    assert pasted == {"front-half": {"pdf": base.name, "page": 2, "curve": 2}}


def test_the_pasted_line_names_an_id_where_it_is_clear(svg, tmp_path, capsys):
    run(["edge", str(svg)])
    assert tomllib.loads(capsys.readouterr().out.splitlines()[-1]) == {"front-half": {"svg": "front.svg", "id": "neck"}}
    twice = '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path id="a" d="M0 0Q9 0 9 9M0 5Q3 5 3 9"/></svg>'
    run(["edge", str(saved(tmp_path, 'odd "name".svg', twice.encode()))])
    pasted = tomllib.loads(capsys.readouterr().out.splitlines()[-1])
    assert pasted == {"front-half": {"svg": 'odd "name".svg', "curve": 1}}


def test_the_pasted_curve_is_one_that_a_spec_takes(tmp_path, capsys):
    """This test ensures that no closed outline is proposed, however long: a half runs from seam to seam."""
    box, straight = "10 10 300 400 re S ", "0 0 m 0 100 l S 0 0 m 0 200 l S "
    run(["edge", str(saved(tmp_path, "straight.pdf", pdf(box + straight)))])
    out = capsys.readouterr().out
    assert tomllib.loads(out.splitlines()[-1]) == {"front-half": {"pdf": "straight.pdf", "page": 1, "curve": 3}}
    run(["edge", str(saved(tmp_path, "box.pdf", pdf(box)))])
    out = " ".join(capsys.readouterr().out.split())
    assert out.endswith(
        "All of these curves are closed, and the curve of a neckline or an armhole runs from seam to seam: "
        "cut the outline open at the seams in your drawing program, and export it again."
    )
    assert "paste" not in out
    assert "front-half" not in out


@long
def test_a_long_list_is_cut_for_people_but_not_for_programs(tmp_path, capsys):
    many = "".join(f"{10 * k} 10 m {10 * k} {20 + k} l S " for k in range(60))
    path = saved(tmp_path, "many.pdf", pdf(many))
    run(["edge", str(path)])
    out = capsys.readouterr().out
    assert out.count(" open ") == 40
    assert "… and 20 shorter ones" in out
    run(["edge", str(path), "--least", "1 mm"])
    assert capsys.readouterr().out.count(" open ") == 60
    assert len(listed(capsys, path)) == 60


def test_px_are_told_in_the_list(tmp_path, capsys):
    path = saved(tmp_path, "px.svg", SVG.format(size="200px", unit="px").encode())
    run(["edge", str(path)])
    assert "the size is stated in px, taken as 96 to the inch" in capsys.readouterr().out


def test_signs_that_steer_a_terminal_are_not_printed(tmp_path, capsys):
    drawing = SVG.format(size="200mm", unit="mm").replace('"neck"', '"ne\u009b31mck\u202e"')
    path = saved(tmp_path, "odd.svg", drawing.encode())
    run(["edge", str(path)])
    out = capsys.readouterr().out.split("\n\n")[0]
    assert "\u009b" not in out
    assert "\u202e" not in out


# The scale


@pytest.mark.parametrize("shrunk", [0.97, 0.9974, 1.0026, 1.05])
def test_a_drawing_that_is_off_scale_is_refused(tmp_path, capsys, shrunk):
    path = saved(tmp_path, "base.pdf", pdf(NECK.format(shrunk), labelled_square(144 * shrunk)))
    text = told(capsys, 3, path)
    assert f"the 2 in square on page 2 measures {50.8 * shrunk:.2f} × {50.8 * shrunk:.2f} mm" in text
    assert "--scale-from-square" in text


@pytest.mark.parametrize("shrunk", [0.9976, 1.0024])
def test_a_quarter_of_a_percent_is_let_pass(tmp_path, capsys, shrunk):
    path = saved(tmp_path, "base.pdf", pdf(NECK.format(shrunk) + labelled_square(144 * shrunk)))
    curves = listed(capsys, path)
    assert max(abs(curve["length_mm"] / 150.72505465 - shrunk) for curve in curves if curve["turning_deg"] < 91) < 1e-6


@long
def test_the_square_corrects_lengths_when_it_is_told_to(tmp_path, capsys):
    # a letter page fitted on A4: 2100/2159
    shrunk = 2100 / 2159
    path = saved(tmp_path, "base.pdf", pdf(NECK.format(shrunk), labelled_square(144 * shrunk)))
    curves = listed(capsys, path, "--scale-from-square")
    assert [curve["length_mm"] for curve in curves] == pytest.approx([4 * 50.8, 150.72505465], rel=1e-6)
    run(["edge", str(path), "--scale-from-square"])
    assert "all lengths are corrected by it" in capsys.readouterr().out
    assert edge_curve(path, page=1, curve=1, scale_from_square=True).length == pytest.approx(150.72505465, rel=1e-6)


@long
def test_across_and_down_are_corrected_apart(tmp_path, capsys):
    neck = NECK.format(1).replace("1 0 0 1 100", "0.95 0 0 0.99 100")
    path = saved(tmp_path, "base.pdf", pdf(neck, labelled_square(144 * 0.95, down=144 * 0.99)))
    assert "(95.00 % across, 99.00 % down)" in told(capsys, 3, path)
    curves = listed(capsys, path, "--scale-from-square")
    assert curves[1]["length_mm"] == pytest.approx(150.72505465, rel=1e-6)
    assert curves[1]["turning_deg"] == pytest.approx(90)


@long
def test_squares_that_contradict_each_other_correct_nothing(tmp_path, capsys):
    squares = labelled_square(144) + " " + labelled_square(130, at=(100, 100))
    path = saved(tmp_path, "base.pdf", pdf(NECK.format(1), squares))
    for options in ([], ["--scale-from-square"]):
        assert "contradict each other" in told(capsys, 3, path, *options)


@long
def test_a_square_that_is_not_there_corrects_nothing(tmp_path, svg, capsys):
    path = saved(tmp_path, "base.pdf", pdf(NECK.format(1)))
    assert "no test square" in told(capsys, 4, path, "--scale-from-square")
    assert "no test square" in told(capsys, 4, svg, "--scale-from-square")


def test_an_edge_of_a_drawing_that_is_off_scale_is_refused(tmp_path):
    from tiler.errors import OffScaleError

    path = saved(tmp_path, "base.pdf", pdf(NECK.format(0.97), labelled_square(144 * 0.97)))
    with pytest.raises(OffScaleError):
        edge_curve(path, page=1, curve=1)


# The picture


def colours(picture: Image.Image) -> set:
    return {colour for _, colour in picture.convert("RGB").getcolors(1 << 24)}


@long
def test_the_picture_shows_the_page_of_the_longest_curve(tmp_path, base, capsys):
    target = tmp_path / "curves.png"
    assert run(["edge", str(base), "--picture", str(target), "--least", "16 cm"]) == 0
    _, err = capsys.readouterr()
    assert f"{target} shows page 1" in err
    assert run(["edge", str(base), "--picture", str(target), "--page", "2", "--force"]) == 0
    assert capsys.readouterr().err == ""
    picture = Image.open(target)
    # letter is 8.5 by 11; the list stands beside it
    assert picture.height == pytest.approx((picture.width - 250) * 11 / 8.5, abs=2)
    assert {(193, 18, 31), (3, 83, 164)} <= colours(picture)


@long
def test_a_picture_of_an_svg_holds_what_lies_outside_its_page(tmp_path, capsys):
    drawing = SVG.format(size="200mm", unit="mm").replace("M0,0L5,0L5,12", "M-400,0L0,0")
    target = tmp_path / "curves.png"
    assert run(["edge", str(saved(tmp_path, "out.svg", drawing.encode())), "--picture", str(target)]) == 0
    picture = Image.open(target).convert("RGB")
    assert picture.width - 250 > 2 * picture.height or picture.height == 110 + 34 * 12
    assert picture.getpixel(((picture.width - 250) // 4, 3)) is not None
    assert capsys.readouterr().err == ""


def test_a_picture_is_put_in_place_as_every_output_is(tmp_path, svg, capsys):
    target = saved(tmp_path, "curves.png", b"old")
    assert "is there already" in told(capsys, 7, svg, "--picture", target)
    assert target.read_bytes() == b"old"
    assert "is the input itself" in told(capsys, 7, svg, "--picture", svg, "--force")
    assert "does not exist" in told(capsys, 7, svg, "--picture", tmp_path / "none" / "a.png")
    told(capsys, 4, saved(tmp_path, "empty.pdf", pdf("")), "--picture", target, "--force")
    assert target.read_bytes() == b"old"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["curves.png", "empty.pdf", "front.svg"]


# Bad input


@long
def test_wrong_usage(tmp_path, svg, base, capsys):
    assert "no such file" in told(capsys, 5, tmp_path / "none.pdf")
    assert "an SVG, which has no pages" in told(capsys, 2, svg, "--page", 1)
    assert "has no page 9; it has pages 1 to 3" in told(capsys, 2, base, "--page", 9)
    assert "--page" in told(capsys, 2, base, "--page", 0)
    assert "has no unit" in told(capsys, 2, base, "--least", 5)


@long
def test_nothing_to_list(tmp_path, base, capsys):
    assert "holds no curve" in told(capsys, 4, saved(tmp_path, "empty.pdf", pdf("")))
    assert "holds no curve of 2000 mm or more" in told(capsys, 4, base, "--least", "2 m")
    dots = '<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path d="M1 1L1 1"/></svg>'
    assert "holds no curve" in told(capsys, 4, saved(tmp_path, "dots.svg", dots.encode()))


@long
def test_files_that_cannot_be_read(tmp_path, capsys):
    assert "damaged" in told(capsys, 5, saved(tmp_path, "a.pdf", b"%PDF-1.7 and then nothing"))
    assert "neither a PDF nor an SVG" in told(capsys, 5, saved(tmp_path, "a.txt", b"words"))
    unitless = SVG.format(size="200", unit="").encode()
    assert "how large it really is" in told(capsys, 5, saved(tmp_path, "a.svg", unitless))
    bomb = b'<!DOCTYPE svg [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;">]><svg width="9mm" height="9mm">&b;</svg>'
    assert "entities of its own" in told(capsys, 5, saved(tmp_path, "b.svg", bomb))
    with pikepdf.open(BytesIO(pdf("0 0 m 5 5 l S"))) as file:
        file.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(owner="o", user="u"))
    assert "needs a password" in told(capsys, 6, tmp_path / "locked.pdf")


# A drawing of ours


def test_the_curves_of_a_drawing_of_ours_are_as_long_as_its_strip(tmp_path: Path, capsys) -> None:
    """A band for 20 in at 0.85 is 17 in; full length adds two joins of 1/4 in, and is 2 (1/2 + 1/4) in wide."""
    drawing = tmp_path / "band.svg"
    words = ["--kind", "straight", "--edge", "20 in", "--finished-width", "1/2 in", "--cut", "full-loop"]
    assert run(["band", *words, "--ratio", "0.85", "--seam-allowance", "1/4 in", "-o", str(drawing)]) == 0
    capsys.readouterr()
    curves = listed(capsys, drawing)
    outline = max((one for one in curves if one["closed"]), key=lambda one: one["length_mm"])
    assert outline["length_mm"] == pytest.approx(2 * (17.5 + 1.5) * 25.4, abs=0.001)
    assert outline["corners"] == pytest.approx([90.0] * 4)
    squares = [one["length_mm"] for one in curves if one["closed"] and one is not outline]
    assert squares == pytest.approx([8 * 25.4, 200.0], abs=0.001)
    lines = sorted(one["length_mm"] for one in curves if not one["corners"] and one["length_mm"] > 400)
    assert lines == pytest.approx([17 * 25.4, 17 * 25.4, 17.5 * 25.4], abs=0.001)


def test_a_line_of_a_drawing_of_ours_is_named_by_the_id_of_its_group(tmp_path: Path) -> None:
    drawing = tmp_path / "band.svg"
    words = ["--kind", "straight", "--edge", "20 in", "--finished-width", "1/2 in", "--cut", "full-loop"]
    assert run(["band", *words, "-o", str(drawing)]) == 0
    assert edge_curve(drawing, id="piece-Band.CutLine").closed
