"""The pages of contour bands: words clear of curved lines, notches at the curve, tiles, sizes, drawings, chart, steps."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from io import BytesIO
from itertools import combinations
from math import hypot

import pytest
from pypdf import PdfReader, PdfWriter
from shapely import LineString, Polygon, box

from tests.chosen import long
from tests.look.test_pages import faults
from tests.sheets.jobs import drawn_once
from tests.specs import curved, piece, shaped, spec, straight, table
from tiler.declaration import Tag
from tiler.draft.chart import chart_rows
from tiler.draft.compute import figure_job
from tiler.draft.outline import Piece, draw_pieces
from tiler.draft.spec.read import Job, read_tables
from tiler.languages.words import speaking
from tiler.printed import Word
from tiler.proof import prove
from tiler.proof.ink.where import word_box
from tiler.proof.svg.proving import prove_svg
from tiler.sheets.pieces.inside import Inside
from tiler.sheets.pieces.lettering import Lettered, letter
from tiler.sheets.pieces.nest import families
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.sheets.sewing.words import steps
from tiler.usecases.draft import Wishes, draw_plane

RIB = {"rib": "60 %"}
NECK = shaped("scoop", "21 cm", "9 cm", "7 cm")
PARTS = [table(name="front", length="38 cm", turning="20"), table(name="back", length="40 cm", turning="-30")]
BANDS = spec(
    piece("Neckband", "3 cm", NECK, form="contour", fabric="rib"),
    piece("Narrow", "8 mm", NECK, form="contour", fabric="rib"),
    piece("Waistband", "6 cm", table(kind="curved", parts=PARTS), form="contour", fabric="rib", cut="full-loop"),
    piece("Vee", "2 cm", shaped("vee", "18 cm", "15 cm", "6 cm"), form="contour"),
    piece("Tiny", "5 mm", curved("4 cm", "120"), form="contour"),
    title="Contour bands",
    units="cm",
    fabrics=RIB,
)
TWO = spec(
    piece("Neckband", "3 cm", NECK, form="contour", fabric="rib"),
    piece("Waistband", "6 cm", curved("70 cm", "40"), form="contour", fabric="rib", cut="full-loop"),
    title="Two bands",
    units="cm",
    fabrics=RIB,
)
"""One on a page, and one over several."""
SIZES = spec(
    piece("Waistband", "5 cm", curved({"S": "36 cm", "M": "38 cm", "L": "40 cm"}, "25"), form="contour"),
    piece("Cuff", "5 cm", straight({"S": "22 cm", "M": "23 cm", "L": "24 cm"})),
    title="Sizes of contour bands",
    units="cm",
    sizes=["S", "M", "L"],
)


WAIST = spec(piece("Waist", "4 cm", curved("24 cm", "50"), form="contour"), units="cm")


def job_of(text: str) -> Job:
    return read_tables(tomllib.loads(text), "spec.toml:")


def pieces_of(text: str) -> list[Piece]:
    job = job_of(text)
    return draw_pieces(figure_job(job), job.edition)


LETTERED = [letter(one) for one in pieces_of(BANDS)]
NAMES = [one.piece.figures.name for one in LETTERED]


@pytest.mark.parametrize("one", LETTERED, ids=NAMES)
def test_no_word_lies_on_a_line_or_on_another(one: Lettered) -> None:
    lines = [LineString(line) for part in one.parts for line in part.subpaths]
    words = [(text.text, box(text.box.x0, text.box.y0, text.box.x1, text.box.y1)) for text in one.texts]
    for word, place in words:
        assert all(not line.intersects(place) for line in lines), word
    for (word, place), (other, there) in combinations(words, 2):
        assert place.intersection(there).area < 0.01, (word, other)


@pytest.mark.parametrize("one", LETTERED, ids=NAMES)
def test_what_has_room_in_a_piece_stands_between_its_seam_lines(one: Lettered) -> None:
    shape = one.piece.figures.shape
    assert shape
    outline = Polygon([*shape.outline, shape.outline[0]])
    sewn = Polygon([*shape.sewn, *reversed(shape.finished)])
    for text in one.texts:
        place = box(text.box.x0, text.box.y0, text.box.x1, text.box.y1)
        # wholly inside, or wholly outside: cut out, nothing is cut in two
        assert sewn.contains(place) or not outline.intersects(place), text.text
    bounds = box(one.bounds.x0, one.bounds.y0, one.bounds.x1, one.bounds.y1)
    assert bounds.contains(outline)
    assert all(bounds.contains(box(*(text.box.x0, text.box.y0, text.box.x1, text.box.y1))) for text in one.texts)


def test_a_band_with_room_has_its_whole_label_and_its_grain() -> None:
    waist = next(one for one in LETTERED if one.piece.figures.name == "Waistband, front")
    assert not waist.leaders
    said = " ".join(text.printed for text in waist.texts)
    for words in (
        "Waistband, front",
        "CUT 2 FULL LENGTH",
        "grain, along CF",
        "garment edge: stitch",
        "finished edge: sew",
    ):
        assert words in said
    (grain,) = [part for part in waist.parts if part.tag == Tag.GRAIN_LINE]
    (xa, _), (xb, _) = grain.subpaths[0]
    assert xa == pytest.approx(xb)


def test_a_band_without_room_tells_the_rest_beside_it_with_a_leader() -> None:
    narrow = next(one for one in LETTERED if one.piece.figures.name == "Narrow, front")
    # what is said of either edge has a line of its own
    assert len(narrow.leaders) == 3
    shape = narrow.piece.figures.shape
    assert shape
    # the leader ends on the piece
    assert Polygon([*shape.outline, shape.outline[0]]).contains(LineString(narrow.leaders[-1][-1:] * 2).centroid)
    assert "CUT 2 ON FOLD" in " ".join(text.printed for text in narrow.texts)


@pytest.mark.parametrize("one", LETTERED, ids=NAMES)
def test_notches_are_square_to_the_curve(one: Lettered) -> None:
    shape = one.piece.figures.shape
    assert shape
    seam, cut = LineString(shape.sewn), LineString(shape.outline)
    for part in one.parts:
        if part.tag == Tag.NOTCH:
            for (xa, ya), (xb, yb) in part.subpaths:
                assert cut.distance(LineString([(xa, ya), (xa, ya + 1e-9)])) < 0.01
                depth = hypot(xb - xa, yb - ya)
                # the nearest way to the seam line is the notch itself, but on a fold along which it is cut
                nearer = seam.distance(LineString([(xb, yb), (xb, yb + 1e-9)]))
                assert xa == xb == 0.0 or nearer == pytest.approx(one.piece.figures.seam_allowance_mm - depth, abs=0.01)


def test_room_inside_a_ring_sector_is_found_and_taken() -> None:
    square = ((0.0, 0.0), (50.0, 0.0), (50.0, 20.0), (30.0, 20.0), (30.0, 10.0), (0.0, 10.0), (0.0, 0.0))
    inside = Inside((square, ()))
    assert inside.place(40.0, 7.0, (0.0, 5.0)) is not None
    assert inside.place(40.0, 12.0, (0.0, 5.0)) is None
    place = inside.place(18.0, 16.0, (0.0, 0.0))
    assert place is not None
    assert place.x0 >= 30.0
    inside.taken.append(place)
    assert inside.place(18.0, 16.0, (0.0, 0.0)) is None


@long
@pytest.mark.parametrize("paper", ["letter", "a4", "one-sheet"])
def test_bands_on_any_paper_are_true_to_scale(paper: str) -> None:
    document = drawn_once(TWO, Wishes(paper=paper))
    report = prove(document.data)
    assert report.verdict == "true-to-scale", report.first_failure()


@long
def test_sizes_nest_beside_those_of_straight_strips() -> None:
    kin = families(pieces_of(SIZES))
    assert [len(family) for family in kin] == [3, 3]
    report = prove(drawn_once(SIZES, Wishes(nest=True)).data)
    assert report.verdict == "true-to-scale", report.first_failure()


@pytest.mark.parametrize(
    "change",
    [
        lambda path: path.replace(b"L15.8365 ", b"L15.9365 "),
        lambda path: re.sub(rb" L15.8365 [\d.]+", b"", path),
        lambda path: re.sub(rb"L([\d.]+) ", lambda x: b"L%.4f " % (float(x[1]) * 0.996), path),
        lambda path: re.sub(rb"([ML])([\d.]+) ", lambda x: b"%s%.4f " % (x[1], 200 - float(x[2])), path),
    ],
    ids=["a point moved by 0.1 mm", "a point left out", "0.4 % narrower", "mirrored"],
)
def test_a_drawing_for_other_programs_is_proved_point_by_point(change: Callable[[bytes], bytes]) -> None:
    job = job_of(WAIST)
    drawn = draw_plane(job, figure_job(job), Wishes())
    assert prove_svg(drawn.data, drawn.declaration).verdict == "true-to-scale"
    start = drawn.data.index(b'<path d="', drawn.data.index(b'class="CutLine"'))
    end = drawn.data.index(b"/>", start)
    faulty = drawn.data[:start] + change(drawn.data[start:end]) + drawn.data[end:]
    assert faulty != drawn.data
    assert prove_svg(faulty, drawn.declaration).verdict == "incomplete"


def text_of(data: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(data)).pages)


@long
def test_chart_and_instructions_tell_the_pieces() -> None:
    job = job_of(SIZES)
    figures = figure_job(job)
    rows = chart_rows(figures)
    assert rows[0].finished_edge is not None
    assert rows[0].sections is not None
    assert rows[-1].finished_edge is None
    chart = text_of(chart_pdf(figures, job.edition, "letter"))
    for words in ("Seam line", "Finished edge", "cut to shape", "cut 2 on fold", "Cut to the shape of the edge"):
        assert words in chart
    pages = finishes_of(figures, job.edition)
    assert [page.shaped for page in pages] == [False, True]
    assert len(steps(pages[1])) == len(sections(pages[1].finish, False, shaped=True)) == 7
    told = text_of(instruction_pdf(pages, "letter").data)
    for words in ("Contour band, shaped like the edge", "Sew the layers together", "stretch neither"):
        assert words in told


@long
@pytest.mark.parametrize("languages", [("de",), ("fr",), ("en", "nl")])
def test_words_of_every_language_keep_off_the_lines(languages: tuple[str, ...]) -> None:
    with speaking(*languages):
        for one in map(letter, pieces_of(BANDS)):
            test_no_word_lies_on_a_line_or_on_another(one)


BIG = spec(
    piece("Hem", "6 cm", curved("90 cm", "-120"), form="contour", cut="full-loop"),
    piece("Waist", "5 cm", curved("140 cm", "200"), form="contour"),
    title="Wide rounds",
    units="cm",
)


@long
@pytest.mark.parametrize("wishes", [Wishes(arrange="grid"), Wishes(paper="a4", arrange="grid")], ids=["letter", "a4"])
def test_no_page_in_the_hollow_of_a_round_is_printed_and_each_names_its_piece(wishes: Wishes) -> None:
    document = drawn_once(BIG, wishes)
    declaration = document.declaration
    bodies = {
        one.name: Polygon(
            [one.on_sheet(at) for part in one.parts if part.tag == Tag.CUT_LINE for at in part.subpaths[0]]
        )
        for one in declaration.pieces
    }
    tiles = [page for page in declaration.pages if page.window]
    # 14 windows lie over the bounds of both pieces, and some of these over nothing else
    assert len(tiles) < 14
    for page in tiles:
        assert page.window
        assert page.frame
        window = page.window
        shown = box(window.x0, window.y0, window.x1, window.y1)
        assert any(body.boundary.intersects(shown) for body in bodies.values()), page.code
        off = (window.x0 - page.frame.x0, window.y0 - page.frame.y0)
        named = [
            word for word in declaration.printed[page.number - 1] if isinstance(word, Word) and word.text in bodies
        ]
        for word in named:
            place = word_box(word).moved(*off)
            # nothing that names a piece is cut away from it; below the frame the foot lists all
            assert not window.holds(place) or bodies[word.text].contains(box(place.x0, place.y0, place.x1, place.y1)), (
                page.code,
                word.text,
            )
    assert sum(isinstance(word, Word) and word.text in bodies for marks in declaration.printed for word in marks) > 6


@long
def test_rounds_over_several_pages_are_proved_and_a_page_that_is_lost_is_found() -> None:
    document = drawn_once(BIG, Wishes(arrange="grid"))
    report = prove(document.data)
    assert report.verdict == "true-to-scale", report.first_failure()
    reader, writer = PdfReader(BytesIO(document.data)), PdfWriter()
    writer.clone_document_from_reader(reader)
    writer.remove_page(writer.pages[5])
    lost = BytesIO()
    writer.write(lost)
    assert prove(lost.getvalue()).verdict != "true-to-scale"


@long
@pytest.mark.parametrize(
    ("text", "wishes"),
    [(BANDS, Wishes()), (BIG, Wishes(arrange="grid")), (SIZES, Wishes(nest=True))],
    ids=["bands", "rounds", "sizes"],
)
def test_another_engine_reads_no_word_that_is_cut_crossed_or_set_on_another(text: str, wishes: Wishes) -> None:
    assert faults(drawn_once(text, wishes)) == []


@long
def test_words_that_a_small_page_would_cut_are_set_elsewhere_or_in_more_lines() -> None:
    text = spec(piece("Waist", "5 cm", curved("38 cm", "25"), form="contour", cut="full-loop"), units="cm")
    document = drawn_once(text, Wishes(margin=45.0, arrange="grid"))
    assert len(document.declaration.pages) > 2
    assert faults(document) == []
