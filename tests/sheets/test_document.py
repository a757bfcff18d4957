"""The file as other libraries see it: sizes through PyMuPDF, structure through pikepdf.

Neither library is used by the project.  Names and places in the file are those
of ISO 32000-1: boxes 14.11.2, viewer preferences 12.2, marked content 14.6,
page labels 12.4.2, embedded fonts 9.9.
"""

from __future__ import annotations

import tomllib
from io import BytesIO
from pathlib import Path

import pikepdf
import pymupdf
import pytest

from tests.chosen import long, some
from tests.sheets.jobs import EXAMPLES, MIXED, ONE_BAND, drawn, drawn_once
from tiler.declaration import FILE_NAME, Declaration, Tag
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.errors import SpecError
from tiler.paper import PAPER_NAMES
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes, draw_job

POINT = 25.4 / 72


@pytest.fixture(scope="module", params=some(PAPER_NAMES, 2))
def document(request: pytest.FixtureRequest) -> Document:
    return drawn_once(MIXED, Wishes(paper=request.param, arrange="grid"))


def operators(page: pikepdf.Page) -> list[tuple[list[object], str]]:
    return [(list(one.operands), str(one.operator)) for one in pikepdf.parse_content_stream(page)]


def test_drawn_lines_have_their_size_for_an_independent_reader(document: Document) -> None:
    """This test ensures that MuPDF finds every cut line at its declared size to 0.02 mm, on every tile that shows it."""
    declaration = document.declaration
    found = {piece.id: 0 for piece in declaration.pieces}
    with pymupdf.open(stream=document.data) as pdf:
        for page in declaration.pages:
            if page.window is None:
                continue
            sizes = [
                (box.width * POINT, box.height * POINT)
                for box in (drawing["rect"] for drawing in pdf[page.number - 1].get_drawings())
            ]
            for piece in declaration.pieces:
                if not piece.sheet_bounds().overlaps(page.window):
                    continue
                length, width = piece.cut_length_mm, piece.cut_width_mm
                want = (width, length) if piece.turned else (length, width)
                matches = [s for s in sizes if abs(s[0] - want[0]) <= 0.02 and abs(s[1] - want[1]) <= 0.02]
                assert len(matches) == 1, (page.code, piece.name)
                found[piece.id] += 1
    assert all(found.values())


def test_squares_and_rules_have_their_size_for_an_independent_reader(document: Document) -> None:
    declaration = document.declaration
    assert {square.nominal_mm for square in declaration.squares} == {50.8, 50.0}
    with pymupdf.open(stream=document.data) as pdf:
        for square in declaration.squares:
            boxes = [drawing["rect"] for drawing in pdf[square.page - 1].get_drawings()]
            fits = [
                box
                for box in boxes
                if abs(box.width * POINT - square.nominal_mm) <= 0.02
                and abs(box.height * POINT - square.nominal_mm) <= 0.02
            ]
            assert len(fits) == 1
        for rule in declaration.rules:
            long = [
                max(box.width, box.height) * POINT
                for box in (drawing["rect"] for drawing in pdf[rule.page - 1].get_drawings())
                if (box.width > box.height) == (rule.axis == "across")
            ]
            assert any(abs(length - rule.nominal_mm) <= 0.02 for length in long), rule


def test_long_rules_stand_on_the_first_page(document: Document) -> None:
    first = [(rule.axis, round(rule.nominal_mm, 4)) for rule in document.declaration.rules if rule.page == 1]
    assert {("across", 152.4), ("across", 150.0), ("down", 203.2), ("down", 200.0)} <= set(first)


def test_every_tile_has_a_line_of_2_in_and_one_of_5_cm_at_its_foot(document: Document) -> None:
    rules = document.declaration.rules
    for page in document.declaration.pages:
        own = [rule for rule in rules if rule.page == page.number and rule.label in ("2 in", "5 cm")]
        if page.frame is None:
            assert not own
            continue
        assert [(rule.axis, rule.nominal_mm) for rule in own] == [("across", 50.8), ("across", 50.0)]
        assert all(4.3 <= rule.at[1] < page.frame.y0 for rule in own)


def test_pages_are_upright_of_one_size_with_plain_boxes(document: Document) -> None:
    declaration = document.declaration
    with pikepdf.open(BytesIO(document.data)) as pdf:
        assert len(pdf.pages) == len(declaration.pages)
        for page in pdf.pages:
            box = [float(value) for value in page.obj["/MediaBox"]]
            assert box[:2] == [0, 0]
            assert box[2] * POINT == pytest.approx(declaration.page_width_mm, abs=1e-3)
            assert box[3] * POINT == pytest.approx(declaration.page_height_mm, abs=1e-3)
            assert box[2] <= box[3]
            assert not page.obj["/MediaBox"].is_indirect
            assert int(page.obj.get("/Rotate", 0)) == 0
            assert "/UserUnit" not in page.obj
            assert "/CropBox" not in page.obj


def test_the_catalog_asks_for_no_scaling(document: Document) -> None:
    with pikepdf.open(BytesIO(document.data)) as pdf:
        preferences = pdf.Root.ViewerPreferences
        assert pdf.pdf_version == "1.7"
        assert preferences.PrintScaling == pikepdf.Name("/None")
        assert [str(name) for name in preferences.Enforce] == ["/PrintScaling"]
        assert preferences.Duplex == pikepdf.Name("/Simplex")
        tray = document.declaration.paper not in ("letter-a4", "one-sheet")
        assert bool(preferences.get("/PickTrayByPDFSize", False)) is tray
        assert int(pdf.Root.Extensions.ADBE.ExtensionLevel) == 3
        assert pdf.Root.Extensions.ADBE.BaseVersion == pikepdf.Name("/1.7")
        assert str(pdf.Root.Lang) == "en"
        assert str(pdf.docinfo["/Title"]) == "Mixed pieces"
        labels = [str(item["/P"]) for item in pdf.Root.PageLabels.Nums if isinstance(item, pikepdf.Dictionary)]
        assert labels == [page.code or "print first" for page in document.declaration.pages]
        with pdf.open_outline() as outline:
            titles = " ".join(item.title for item in outline.root)
        assert all(piece.name in titles for piece in document.declaration.pieces)


def test_the_declaration_is_attached(document: Document) -> None:
    with pikepdf.open(BytesIO(document.data)) as pdf:
        data = pdf.attachments[FILE_NAME].get_file().read_bytes()
    assert Declaration.from_bytes(data).to_bytes() == document.declaration.to_bytes()


def test_every_font_is_embedded(document: Document) -> None:
    with pikepdf.open(BytesIO(document.data)) as pdf:
        fonts = [obj for obj in pdf.objects if isinstance(obj, pikepdf.Dictionary) and obj.get("/Type") == "/Font"]
        assert fonts
        for font in fonts:
            assert "/FontFile2" in font["/FontDescriptor"], font.get("/BaseFont")


def test_marked_content_is_flat_and_each_tile_paints_a_piece_once_under_a_clip(document: Document) -> None:
    declaration = document.declaration
    with pikepdf.open(BytesIO(document.data)) as pdf:
        for page in declaration.pages:
            found = operators(pdf.pages[page.number - 1])
            depth = 0
            for _, operator in found:
                depth += {"BMC": 1, "BDC": 1, "EMC": -1}.get(operator, 0)
                assert depth in (0, 1)
            shown = [str(operands[0]) for operands, operator in found if operator == "Do"]
            assert len(shown) == len(set(shown))
            assert sum(operator in ("W", "W*") for _, operator in found) == len(shown)
            if page.window:
                here = [p for p in declaration.pieces if p.sheet_bounds().overlaps(page.window)]
                assert len(shown) == len(here)


def test_a_piece_is_one_form_with_bounds_and_one_cut_line(document: Document) -> None:
    with pikepdf.open(BytesIO(document.data)) as pdf:
        forms = {}
        for page in pdf.pages:
            forms.update(page.obj.Resources.get("/XObject", {}))
        assert len(forms) == len(document.declaration.pieces)
        for piece in document.declaration.pieces:
            form = next(form for name, form in forms.items() if name.endswith(f".{piece.id}"))
            box = [float(value) * POINT for value in form.BBox]
            bounds = piece.bounds
            assert box == pytest.approx([bounds.x0, bounds.y0, bounds.x1, bounds.y1], abs=1e-3)
            content = [(list(c.operands), str(c.operator)) for c in pikepdf.parse_content_stream(form)]
            start = next(k for k, (args, op) in enumerate(content) if op == "BMC" and str(args[0]) == "/CutLine")
            end = next(k for k in range(start, len(content)) if content[k][1] == "EMC")
            painting = [op for _, op in content[start:end]]
            assert painting.count("m") == 1
            assert painting.count("S") == 1
            assert painting.count("h") == (0 if piece.cut == "on-fold" else 1)
            tags = [str(args[0]) for args, op in content if op == "BMC"]
            assert tags.count("/CutLine") == 1
            assert tags.count("/FoldLine") == (1 if piece.cut == "on-fold" else 0)
            assert tags.count("/StretchArrow") == 1
            assert set(tags) <= {f"/{tag.value}" for tag in Tag}


@long
@pytest.mark.parametrize("example", ["bindings", "remnant", "sizes", "vee"])
def test_the_same_spec_gives_the_same_bytes(example: str, tmp_path: Path) -> None:
    """This test ensures it for many pieces, for sections, for a nest and for slanted ends."""
    file = EXAMPLES / f"saltmarsh-{example}.toml"
    assert drawn(file, tmp_path).data == drawn_once(file.read_text("utf-8")).data


def test_without_a_first_page_the_squares_stand_on_the_first_tile() -> None:
    declaration = drawn_once(MIXED, Wishes(cover=False)).declaration
    assert declaration.pages[0].code == "A1"
    assert [(square.page, square.nominal_mm) for square in declaration.squares] == [(1, 50.8), (1, 50.0)]


def test_one_sheet_is_one_upright_page_with_squares_beside_the_pieces() -> None:
    declaration = drawn_once(MIXED, Wishes(paper="one-sheet")).declaration
    assert [page.code for page in declaration.pages] == ["A1"]
    assert declaration.page_height_mm >= declaration.page_width_mm
    boxes = [piece.sheet_bounds() for piece in declaration.pieces]
    frame, window = declaration.pages[0].frame, declaration.pages[0].window
    assert frame is not None
    assert window is not None
    for square in declaration.squares:
        x, y = square.at[0] - frame.x0, square.at[1] - frame.y0
        assert 0 <= x <= window.x1 - square.nominal_mm
        assert not any(
            box.x0 < x + square.nominal_mm and box.x1 > x and box.y0 < y + 50 and box.y1 > y for box in boxes
        )


def test_no_page_is_longer_than_200_inches(tmp_path: Path) -> None:
    spec = MIXED.replace("40 in", "260 in")
    declaration = drawn(spec, tmp_path, Wishes(paper="one-sheet")).declaration
    assert declaration.page_height_mm == 200 * 25.4
    assert len(declaration.pages) > 1


def test_a_character_that_the_font_lacks_is_refused_by_name(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match=r"title: the font has no sign for '針' \(U\+91DD\)"):
        drawn(MIXED.replace("Mixed pieces", "針 pieces"), tmp_path)
    with pytest.raises(SpecError, match=r"pieces\[0\].*U\+91DD"):
        drawn(MIXED.replace('"Neckband"', '"Neck針"'), tmp_path)


def test_greek_and_cyrillic_titles_are_drawn(tmp_path: Path) -> None:
    document = drawn(MIXED.replace("Mixed pieces", "Λαιμός и манжета ⅜ → ↔ × ″"), tmp_path)
    with pymupdf.open(stream=document.data) as pdf:
        assert "Λαιμός и манжета ⅜ → ↔ × ″" in pdf[0].get_text()


@pytest.mark.parametrize("date", ["1700000000", "soon"])
def test_a_date_that_is_set_for_what_is_built_changes_no_byte(monkeypatch: pytest.MonkeyPatch, date: str) -> None:
    job = read_tables(tomllib.loads(ONE_BAND), "spec.toml:")
    plain = drawn_once(ONE_BAND, Wishes()).data
    monkeypatch.setenv("SOURCE_DATE_EPOCH", date)
    assert draw_job(job, figure_job(job), Wishes()).data == plain
