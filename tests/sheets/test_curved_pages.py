"""Curved pieces over small windows: no word is cut or crossed, no page is printed for nothing, and the map shows them."""

from __future__ import annotations

from dataclasses import astuple, replace
from itertools import pairwise

import pikepdf
import pytest
from shapely import LineString, Polygon, box, union_all

from tests.chosen import long
from tests.look.curved import bodies, scraps
from tests.look.test_pages import faults
from tests.proof import faults as f
from tests.proof.conftest import proved
from tests.sheets.jobs import drawn_once
from tests.sheets.test_contour import BIG
from tests.specs import curved, piece, shaped, spec, table
from tiler.box import Box
from tiler.printed import Region
from tiler.proof import prove
from tiler.proof.compare.itself import compare_itself
from tiler.proof.contour.stretches import stretches
from tiler.sheets.layout.grid import Tile
from tiler.sheets.layout.marks import Around, register_marks
from tiler.sheets.pieces.curved.bits import LONGEST, bits, clipped, corners, fewest, simplified
from tiler.sheets.pieces.curved.outside import crosses
from tiler.usecases.draft import Wishes

PARTS = [table(name=name, length="171 mm", turning="25") for name in ("front", "side", "back")]


def band(width: str, edge: object, language: str = "en", **keys: object) -> str:
    return spec(piece("Hem", width, edge, form="contour", **keys), units="cm", language=language)  # type: ignore[arg-type]


SMALL = {
    "a hollow in which the piece itself lies": (
        band("15 mm", curved("632 mm", "-60"), "de", cut="full-loop"),
        Wishes(paper="tabloid", overlap=8.0, arrange="grid"),
    ),
    "words beside the piece, over a joint": (
        band("6 mm", curved("533 mm", "40")),
        Wishes(paper="letter-a4", margin=35.0, overlap=8.0, arrange="grid"),
    ),
    "panes lower than the piece with its words": (
        band("20 mm", table(kind="curved", parts=PARTS), "fr"),
        Wishes(paper="tabloid", margin=35.0, overlap=20.0, arrange="stacked"),
    ),
    "no room for the arrow among the words": (
        band("6 mm", curved("510 mm", "-140")),
        Wishes(paper="letter-a4", margin=35.0, overlap=8.0, arrange="grid"),
    ),
    "a square neck, whose level sides cross a joint": (
        spec(
            piece("Neckband", "20 mm", shaped("square", "156 mm", "159 mm", "84 mm"), form="contour"),
            units="cm",
        ),
        Wishes(paper="letter", margin=65.0, overlap=8.0, arrange="grid"),
    ),
    "panes of 8 cm": (
        band("10 mm", curved("480 mm", "-60"), "fr"),
        Wishes(paper="a4", margin=60.0, overlap=15.0, arrange="stacked"),
    ),
}


@long
@pytest.mark.parametrize("name", SMALL)
def test_no_word_of_a_curved_piece_is_cut_or_crossed(name: str) -> None:
    text, wishes = SMALL[name]
    document = drawn_once(text, wishes)
    assert faults(document) == []


@long
@pytest.mark.parametrize("name", SMALL)
def test_what_is_lettered_anew_for_its_joints_is_proved(name: str) -> None:
    report = prove(drawn_once(*SMALL[name]).data)
    assert report.verdict == "true-to-scale", report.first_failure()


@long
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_each_page_has_enough_of_a_curved_piece_for_itself(paper: str) -> None:
    assert list(scraps(drawn_once(BIG, Wishes(paper=paper, arrange="grid")).declaration)) == []


@long
def test_pages_are_joined_only_where_a_piece_runs_across() -> None:
    declaration = drawn_once(BIG, Wishes(paper="a4", arrange="grid")).declaration
    windows = {page.code: page.window for page in declaration.pages if page.window}
    for mark in declaration.marks:
        one, other = (windows[code] for code in mark.tiles)
        shared = one.within(other)
        place = box(shared.x0, shared.y0, shared.x1, shared.y1)
        assert any(body.intersects(place) for _, body in bodies(declaration)), mark.tiles


def test_pages_between_which_only_the_bounds_of_a_curve_run_are_not_joined() -> None:
    tiles = [Tile(0, 0, Box(0.0, 90.0, 100.0, 190.0)), Tile(1, 0, Box(0.0, 0.0, 100.0, 100.0))]
    bounds, apart = Box(10.0, 10.0, 80.0, 180.0), [Box(10.0, 120.0, 80.0, 180.0), Box(10.0, 10.0, 80.0, 70.0)]
    # a straight stretch of it takes no room to either side
    across = Box(20.0, 70.0, 20.0, 120.0)
    # with a notch from the right, at the joint
    outline = ((10.0, 10.0), (80.0, 10.0), (80.0, 70.0), (12.0, 95.0), (80.0, 120.0), (80.0, 180.0), (10.0, 180.0))
    beside = tuple((x + 60.0, y) for x, y in outline)
    assert register_marks(tiles, 10.0, [Around(bounds, (), apart, (*beside, beside[0]))]) == ()
    assert register_marks(tiles, 10.0, [Around(bounds, (), [*apart, across], (*beside, beside[0]))]) != ()
    # inside a wide piece, between its lines
    assert register_marks(tiles, 10.0, [Around(bounds, (), apart, corners(bounds))]) != ()
    assert register_marks(tiles, 10.0, [Around(bounds, (), apart)]) != ()


@long
def test_the_map_shows_the_curves() -> None:
    declaration = drawn_once(BIG, Wishes(arrange="grid")).declaration
    shown = [Polygon(mark.outline) for mark in declaration.printed[0] if isinstance(mark, Region)]
    whole = [body for _, body in bodies(declaration)]
    assert len(shown) == len(whole) == 2
    for small, body in zip(shown, whole, strict=True):
        scale = (small.bounds[2] - small.bounds[0]) / (body.bounds[2] - body.bounds[0])
        assert small.area == pytest.approx(body.area * scale**2, rel=0.03)
        assert small.area < 0.6 * small.envelope.area


@long
def test_the_map_of_panes_shows_what_each_has_of_a_curve() -> None:
    text, wishes = SMALL["panes of 8 cm"]
    declaration = drawn_once(text, wishes).declaration
    panes = [page for page in declaration.pages if page.window]
    shown = [Polygon(mark.outline) for mark in declaration.printed[0] if isinstance(mark, Region)]
    ((_, body),) = bodies(declaration)
    own = [body.intersection(box(*astuple(page.window))).area for page in panes if page.window]
    assert len(shown) == len(panes) > 2
    scale = shown[0].area / own[0]
    assert [one.area / scale for one in shown] == pytest.approx(own, rel=0.03)


@long
def test_a_map_that_shows_another_curve_fails() -> None:
    document = drawn_once(BIG, Wishes(arrange="grid"))
    first = next(mark for mark in document.declaration.printed[0] if isinstance(mark, Region))

    def bent(pdf: pikepdf.Pdf) -> None:
        instructions = f.read(pdf.pages[0])
        starts = [k for k, (_, operator) in enumerate(instructions) if str(operator) == "m"]
        begin = next(k for k in starts if abs(float(instructions[k][0][0]) - first.outline[0][0] * f.PT) < 0.01)
        x, y = (float(at) for at in instructions[begin][0])
        instructions[begin] = ([x - 9.0, y - 9.0], instructions[begin][1])
        f.write(pdf, 1, instructions)

    assert proved(document, bent).verdict != "true-to-scale"


@long
def test_a_grey_curve_over_a_square_is_found() -> None:
    declaration = drawn_once(SMALL["no room for the arrow among the words"][0], Wishes()).declaration
    square = declaration.squares[0].box
    pages = list(declaration.printed)
    pages[0] = (*pages[0], Region(corners(square.grown(-5.0)), 0.8))
    assert declaration.squares[0].page == 1
    assert not [one for one in compare_itself(declaration) if one.status == "fail"]
    covered = replace(declaration, printed=tuple(pages))
    assert [one.name for one in compare_itself(covered) if one.status == "fail"]


ARC = tuple((100.0 * k / 200, (100.0 * k / 200) ** 2 / 80) for k in range(201))


def test_bits_hold_their_line_and_are_small() -> None:
    for line in (ARC, ((0.0, 0.0), (60.0, 0.0), (60.0, 30.0))):
        found = list(bits(line))
        assert max(max(one.width, one.height) for one in found) <= LONGEST
        boxes = [box(one.x0, one.y0, one.x1, one.y1).buffer(1e-9) for one in found]
        whole = boxes[0]
        for one in boxes[1:]:
            whole = whole.union(one)
        assert whole.contains(LineString(line))


def test_stretches_of_a_slanted_line_hold_it_and_little_else() -> None:
    found = [box(one.x0, one.y0, one.x1, one.y1) for one in stretches(((0.0, 0.0), (70.0, 16.0), (70.0, 90.0)))]
    assert union_all([one.buffer(1e-9) for one in found]).contains(LineString([(0, 0), (70, 16), (70, 90)]))
    assert sum(one.area for one in found) < 0.3 * 70 * 16
    # each end of one is the beginning of the next
    assert all(one.distance(other) < 1e-9 for one, other in pairwise(found))


def test_a_simplified_line_runs_nowhere_far_off() -> None:
    few = simplified(ARC)
    assert len(few) < 15
    assert LineString(few).hausdorff_distance(LineString(ARC)) < 1.5


def test_what_is_clipped_is_what_shapely_makes_of_it() -> None:
    outline = ((0.0, 0.0), (40.0, 5.0), (50.0, 30.0), (20.0, 50.0), (0.0, 0.0))
    window = Box(10.0, 2.0, 45.0, 35.0)
    own = Polygon(clipped(outline, window))
    assert own.symmetric_difference(Polygon(outline).intersection(box(10.0, 2.0, 45.0, 35.0))).area < 1e-6
    assert clipped(outline, Box(60.0, 60.0, 70.0, 70.0)) == ()


def test_what_has_no_other_page_is_taken_first() -> None:
    assert fewest([["A1"], ["A1", "A2"], ["A2", "A3"], ["A3"]]) == {"A1", "A3"}
    assert fewest([["A1", "A2"], ["A2", "B2"]]) in ({"A1", "A2"}, {"A2"}, {"A1", "B2"})


@pytest.mark.parametrize(
    ("one", "other", "through"),
    [((0, 5), (20, 5), True), ((0, 11), (20, 11), False), ((0, 0), (4, 20), False), ((5, 0), (5, 30), True)],
)
def test_a_line_that_passes_through_a_box(one: tuple[float, float], other: tuple[float, float], through: bool) -> None:
    assert crosses(one, other, Box(2.0, 2.0, 10.0, 10.0)) is through
