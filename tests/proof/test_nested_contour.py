"""Nested sizes of curved pieces: each cut line is proved as alone, on its own layer, and no word lies on a line of any."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from dataclasses import replace

import pikepdf
import pytest
from shapely import LineString, Point, Polygon, box

from tests.chosen import each, long
from tests.look.curved import bodies
from tests.look.test_pages import faults
from tests.proof import faults as f
from tests.proof.conftest import proved
from tests.proof.test_contour import FAULTS, MADE
from tests.sheets.jobs import drawn_once
from tests.specs import Table, curved, piece, shaped, spec, straight, table
from tiler.declaration import Tag
from tiler.draft.compute import figure_job
from tiler.draft.contour.shape import Shape
from tiler.draft.outline import Piece, draw_pieces
from tiler.draft.spec.read import read_tables
from tiler.drawn import ContourPiece
from tiler.proof import prove
from tiler.proof.compare.itself import compare_itself
from tiler.proof.svg.proving import prove_svg
from tiler.sheets.pieces.curved.nest import CLOSEST, piled
from tiler.sheets.pieces.nest import families, nest
from tiler.usecases.draft import Wishes, draw_job, draw_plane

ONE = Wishes(cover=False)


def sizes(first: float, step: float) -> Table:
    return {size: f"{first + index * step:g} cm" for index, size in enumerate(("S", "M", "L"))}


def nested(width: str, edge: Table, **keys: object) -> str:
    return spec(piece("Waist", width, edge, form="contour", **keys), units="cm", sizes=["S", "M", "L"])


WAIST = nested("4 cm", curved(sizes(24, 3), "50"))
HEM = nested("4 cm", curved(sizes(60, 3), "-60"))
"""Its fold lies higher than its ends, and higher with each size."""
NECK = nested("3 cm", shaped("scoop", sizes(20, 1), sizes(8.6, 0.4), sizes(6, 0.3)))
SQUARE = nested("3 cm", shaped("square", sizes(17, 1), sizes(14, 1), sizes(6, 0.3)))
PARTS = nested(
    "5 cm",
    table(
        kind="curved",
        parts=[
            table(name="back", length=sizes(18, 1), turning="12"),
            table(name="front", length=sizes(38, 2), turning="25"),
            table(name="back", length=sizes(18, 1), turning="12"),
        ],
    ),
)


def pieces_of(text: str) -> list[Piece]:
    job = read_tables(tomllib.loads(text), "spec.toml:")
    return draw_pieces(figure_job(job), job.edition)


ALL = {
    "waist": (WAIST, ONE),
    "hem": (HEM, Wishes(paper="a4", arrange="grid")),
    "neck": (NECK, Wishes()),
    "square": (SQUARE, Wishes()),
    "parts on small pages": (PARTS, Wishes(margin=45.0, arrange="grid")),
    "panes": (nested("3 cm", curved(sizes(70, 3), "30")), Wishes(margin=35.0, arrange="stacked")),
    "two languages": (nested("3 cm", curved(sizes(70, 3), "30")), Wishes(paper="a4", languages=("fr", "de"))),
    "a round whose hollow has no page": (
        nested("3 cm", curved(sizes(90, 3), "150")),
        Wishes(paper="letter-a4", margin=45.0, overlap=20.0),
    ),
    "one sheet": (HEM, Wishes(paper="one-sheet")),
}


def true_to_scale(name: str) -> None:
    document = drawn_once(*ALL[name])
    report = prove(document.data)
    assert report.verdict == "true-to-scale", report.first_failure()
    assert faults(document) == []
    declaration = document.declaration
    # each of these has lines in common with its other sizes
    assert declaration.shared
    assert {one for shared in declaration.shared for one in shared.pieces} >= {
        one.id for one in declaration.pieces if one.cut == "on-fold"
    }


def test_a_nest_is_true_to_scale() -> None:
    true_to_scale("waist")


@long
@pytest.mark.parametrize("name", [name for name in ALL if name != "waist"])
def test_any_nest_is_true_to_scale(name: str) -> None:
    true_to_scale(name)


def in_form(number: int, how: Callable[[f.Instructions], f.Instructions]) -> Callable[[pikepdf.Pdf], None]:
    """Change the cut line of one of the sizes, from the first on."""

    def change(pdf: pikepdf.Pdf) -> None:
        page = pdf.pages[0]
        names = [str(operands[0]) for operands, operator in f.read(page) if str(operator) == "Do"]
        form = page.Resources.XObject[names[number]]
        instructions = f.read(form)
        start, end = f.parts(instructions, "CutLine")[0]
        changed = [*instructions[:start], *how(instructions[start:end]), *instructions[end:]]
        form.write(pikepdf.unparse_content_stream(changed))

    return change


@pytest.mark.parametrize(("how", "size"), each(list(FAULTS), [0, 1, 2]))
def test_a_fault_of_the_cut_line_of_one_size_is_found(how: str, size: int) -> None:
    report = proved(drawn_once(WAIST, ONE), in_form(size, FAULTS[how]))
    assert report.verdict in ("incomplete", "off-scale")
    assert {"piece", "stray"} & {one.name for one in report.checks if one.status == "fail"}


@long
@pytest.mark.parametrize("size", [0, 1, 2])
@pytest.mark.parametrize("how", list(FAULTS))
def test_every_fault_of_every_size_is_found(how: str, size: int) -> None:
    test_a_fault_of_the_cut_line_of_one_size_is_found(how, size)


@long
def test_two_sizes_whose_lines_are_exchanged_fail() -> None:
    def change(pdf: pikepdf.Pdf) -> None:
        page = pdf.pages[0]
        names = [str(operands[0]) for operands, operator in f.read(page) if str(operator) == "Do"][:2]
        forms = [page.Resources.XObject[name] for name in names]
        read = [f.read(form) for form in forms]
        spans = [f.parts(one, "CutLine")[0] for one in read]
        lines = [one[start:end] for one, (start, end) in zip(read, spans, strict=True)]
        for form, own, (start, end), other in zip(forms, read, spans, reversed(lines), strict=True):
            form.write(pikepdf.unparse_content_stream([*own[:start], *other, *own[end:]]))

    assert proved(drawn_once(WAIST, ONE), change).verdict != "true-to-scale"


@long
@pytest.mark.parametrize("how", list(MADE))
def test_a_size_that_was_made_wrong_fails(how: str) -> None:
    job = read_tables(tomllib.loads(WAIST), "spec.toml:")
    small, middle, large = figure_job(job)
    (section,) = middle.sections

    def changed(shape: Shape) -> Shape:
        # on fold there is one end seam
        return replace(shape, ends=()) if how == "an end seam is missing" else MADE[how](_doubly(shape))

    def _doubly(shape: Shape) -> Shape:
        return shape if len(shape.ends) > 1 or how != "an end seam is turned" else replace(shape, ends=shape.ends * 2)

    assert section.shape
    shape = changed(section.shape)
    if how == "an end seam is turned":
        shape = replace(shape, ends=shape.ends[1:])
    wrong = replace(middle, sections=(replace(section, shape=shape),))
    report = prove(draw_job(job, (small, wrong, large), ONE).data)
    assert report.verdict == "incomplete"
    details = {one.detail for one in report.checks if one.status == "fail"}
    assert any("do not run beside each other" in one or "fold" in one for one in details), details


def test_each_size_lies_on_its_layer_with_all_that_is_its_own() -> None:
    declaration = drawn_once(WAIST, ONE).declaration
    (shared,) = declaration.shared
    assert {part.tag for part in shared.parts} == {Tag.FOLD_LINE, Tag.NOTCH, Tag.GRAIN_LINE}
    assert sorted(shared.pieces) == sorted(one.id for one in declaration.pieces)
    for one in declaration.pieces:
        assert isinstance(one, ContourPiece)
        assert [part.tag for part in one.parts].count(Tag.CUT_LINE) == 1
        assert [part.tag for part in one.parts].count(Tag.SEAM_LINE) == 2
    lengths = {one.size: one.contour.sewn_mm for one in declaration.pieces if isinstance(one, ContourPiece)}
    assert lengths == pytest.approx({"S": 120.0, "M": 135.0, "L": 150.0}, abs=0.02)
    assert not [check for check in compare_itself(declaration) if check.status == "fail"]


@pytest.mark.parametrize("text", [WAIST, HEM, NECK])
def test_sizes_are_piled_up_at_the_fold(text: str) -> None:
    for family in families(pieces_of(text)):
        assert len(family) == 3
        corners = [
            (one.figures.shape.lower[0], one.figures.shape.upper[0]) for one in piled(family) if one.figures.shape
        ]
        for low, high in corners:
            assert low == pytest.approx(corners[0][0], abs=0.001)
            assert high == pytest.approx(corners[0][1], abs=0.001)
        assert min(y for one in piled(family) for part in one.parts for line in part.subpaths for _, y in line) >= 0


@pytest.mark.parametrize("text", [WAIST, pytest.param(NECK, marks=long)])
def test_no_word_lies_on_a_line_of_any_size_nor_on_another(text: str) -> None:
    for family in families(pieces_of(text)):
        group = nest(family)
        lines = [LineString(line) for one in group.all for part in one.parts for line in part.subpaths]
        texts = [text for one in group.all for text in one.texts]
        places = [box(one.box.x0, one.box.y0, one.box.x1, one.box.y1) for one in texts]
        for index, (word, place) in enumerate(zip(texts, places, strict=True)):
            assert not any(line.intersects(place) for line in lines), word.text
            assert not any(place.intersection(other).area > 0.01 for other in places[:index]), word.text
        assert {"S", "M", "L"} <= {text.text for one in group.members for text in one.texts if text.bold}
        for one in group.members:
            (row,) = [text.printed for text in one.texts if not text.bold]
            assert row.startswith(f"{one.piece.figures.size}: cut ")


@long
def test_the_name_of_a_size_stands_in_no_smaller_one() -> None:
    for family in families(pieces_of(NECK)):
        group = nest(family)
        members = sorted(group.members, key=lambda one: one.piece.length)
        for index, one in enumerate(members):
            (name,) = [text for text in one.texts if text.bold]
            x, y = name.box.middle
            for smaller in members[:index]:
                shape = smaller.piece.figures.shape
                assert shape
                around = [*shape.outline, shape.outline[0]]
                assert not Polygon(around).contains(Point(x, y))


@pytest.mark.parametrize(
    "text",
    [
        nested("4 cm", curved(sizes(24, 3), "50"), cut="full-loop"),
        nested("4 cm", curved(sizes(24, 2 * CLOSEST / 10 - 0.1), "50")),
        nested({"S": "4 cm", "M": "4.2 cm", "L": "4.4 cm"}, curved(sizes(24, 3), "50")),  # type: ignore[arg-type]
    ],
    ids=["in full", "ends that nobody could tell apart", "other widths"],
)
def test_what_has_no_common_corner_or_cannot_be_told_apart_is_drawn_apart(text: str) -> None:
    assert {len(family) for family in families(pieces_of(text))} == {1}


@long
def test_apart_stays() -> None:
    declaration = drawn_once(WAIST, replace(ONE, nest=False)).declaration
    assert not declaration.shared
    assert len({one.at for one in declaration.pieces}) == 3


def test_straight_strips_nest_as_before() -> None:
    cuff = spec(piece("Cuff", "5 cm", straight(sizes(22, 2))), units="cm", sizes=["S", "M", "L"])
    assert [len(family) for family in families(pieces_of(cuff))] == [3]


@long
def test_a_nest_takes_the_room_of_its_largest_size() -> None:
    apart, together = (drawn_once(HEM, Wishes(paper="one-sheet", nest=nest)).declaration for nest in (False, True))
    assert together.page_height_mm <= apart.page_height_mm
    assert max(body.bounds[2] - body.bounds[0] for _, body in bodies(together)) == pytest.approx(
        max(body.bounds[2] - body.bounds[0] for _, body in bodies(apart)), abs=0.01
    )


@long
def test_a_drawing_of_a_nest_is_proved() -> None:
    job = read_tables(tomllib.loads(HEM), "spec.toml:")
    drawn = draw_plane(job, figure_job(job), Wishes())
    assert drawn.declaration.shared
    assert prove_svg(drawn.data, drawn.declaration).verdict == "true-to-scale"
