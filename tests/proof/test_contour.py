"""The curved cut line of a contour band is proved as a straight one: what moves, scales, mirrors or cuts it off fails.

The page is held against what is declared, point by point; and what is declared against the rule that the lines of a
piece run side by side at the stated distances, so that a band that was made wrong fails as well.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Sequence
from dataclasses import replace
from math import atan2, degrees

import pytest

from tests.chosen import long
from tests.proof import faults as f
from tests.proof.conftest import proved
from tests.sheets.jobs import drawn_once
from tests.specs import curved, piece, shaped, spec, table
from tiler.box import Subpath
from tiler.curves import Bezier, Curve
from tiler.declaration import Declaration
from tiler.draft.compute import figure_job
from tiler.draft.contour.shape import Shape
from tiler.draft.spec.read import read_tables
from tiler.drawn import ContourPiece, Part
from tiler.printed import Form, Word
from tiler.proof import prove
from tiler.proof.compare.itself import compare_itself
from tiler.proof.compare.said import compare_said
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes, draw_job

ONE = Wishes(cover=False)
HEM = spec(piece("Hem", "3 cm", curved("16 cm", "60"), form="contour", cut="full-loop"), units="cm")
WAIST = spec(piece("Waist", "4 cm", curved("24 cm", "50"), form="contour"), units="cm")
VEE = spec(piece("Vee", "2 cm", shaped("vee", "18 cm", "15 cm", "6 cm"), form="contour"), units="cm")
SQUARE = spec(piece("Square", "3 cm", shaped("square", "20 cm", "15 cm", "9 cm"), form="contour"), units="cm")
LONG = spec(piece("Hem", "6 cm", curved("70 cm", "-80"), form="contour", cut="full-loop"), units="cm")
"""It bends away from the band, and lies over several tiles."""

HALVES = [table(name=name, length="9 cm", turning="40") for name in ("front", "back")]
OPEN = spec(
    piece("Hem", "3 cm", table(kind="curved", parts=HALVES, after="2 cm"), form="contour", cut="full-loop")
    | table(closed=False, end_allowance="1.5 cm"),
    units="cm",
)
"""Each of its pieces has a join at one end, and at the other an end with more allowance."""
RAW = spec(piece("Hem", "3 cm", curved("16 cm", "60"), form="contour", closed=False, ends="raw"), units="cm")
NECK = spec(piece("Neck", "3 cm", shaped("scoop", "20 cm", "13 cm", "5 cm"), form="contour", closed=False), units="cm")


@long
@pytest.mark.parametrize(
    "text",
    [HEM, WAIST, VEE, SQUARE, LONG, OPEN, RAW, NECK],
    ids=["in full", "on fold", "vee", "square", "tiles", "open", "raw", "neck"],
)
def test_a_contour_band_is_true_to_scale(text: str) -> None:
    report = prove(drawn_once(text, ONE).data)
    assert report.verdict == "true-to-scale", report.first_failure()


def lines(part: f.Instructions) -> list[int]:
    """Give where the points of a path stand."""
    return [index for index, (_, operator) in enumerate(part) if str(operator) in ("m", "l")]


def bent(part: f.Instructions, by: float) -> f.Instructions:
    """Move a stretch of a path by so much, mm; the rest stays."""
    at = lines(part)
    moved = {*at[len(at) // 5 : len(at) // 4]}
    return [
        ([float(operands[0]), float(operands[1]) + by * f.PT], operator) if index in moved else (operands, operator)
        for index, (operands, operator) in enumerate(part)
    ]


def cut_off(part: f.Instructions) -> f.Instructions:
    """Leave out one of the points of a path in 250, from its middle on: 0.4 %."""
    at = lines(part)
    gone = {*at[len(at) // 2 : len(at) // 2 + max(1, len(at) // 250)]}
    return [one for index, one in enumerate(part) if index not in gone]


FAULTS: dict[str, Callable[[f.Instructions], f.Instructions]] = {
    "moved by 0.1 mm": f.by(f.moved(0.1)),
    "moved up by 0.1 mm": f.by(f.moved(0.0, 0.1)),
    "0.4 % smaller": f.by(f.scaled(0.996)),
    "0.4 % narrower": f.by((0.996, 0, 0, 1, 0, 0)),
    "0.4 % lower": f.by((1, 0, 0, 0.996, 0, 0)),
    "mirrored": f.by((-1, 0, 0, 1, 180 * f.PT, 0)),
    "a stretch moved by 0.1 mm": lambda part: bent(part, 0.1),
    "0.4 % cut off": cut_off,
    "left out": f.removed,
    "there twice": f.copied(f.moved(0.0, 0.1)),
}


@pytest.mark.parametrize("how", FAULTS.values(), ids=FAULTS)
def test_a_fault_of_the_curved_cut_line_is_found(how: Callable[[f.Instructions], f.Instructions]) -> None:
    report = proved(drawn_once(WAIST, ONE), f.alter_in_piece("CutLine", 0, how, 1))
    assert report.verdict in ("incomplete", "off-scale")
    assert {"piece", "stray"} & {one.name for one in report.checks if one.status == "fail"}


@pytest.mark.parametrize("tag", ["SeamLine", "JoinLine", "Notch", "GrainLine", "FoldLine"])
@pytest.mark.parametrize("how", ["moved by 0.1 mm", "left out"])
def test_a_fault_of_any_other_line_is_found(tag: str, how: str) -> None:
    report = proved(drawn_once(WAIST, ONE), f.alter_in_piece(tag, 0, FAULTS[how], 1))
    assert report.verdict == "incomplete"
    assert {"piece", "notch"} & {one.name for one in report.checks if one.status == "fail"}


def test_a_page_that_is_a_little_smaller_fails() -> None:
    assert proved(drawn_once(WAIST, ONE), f.whole_pages(f.scaled(0.996))).verdict == "off-scale"


def made_with(change: Callable[[Shape], Shape], text: str = HEM) -> Document:
    """Draw a piece whose shape is made otherwise, so that page and declaration agree."""
    job = read_tables(tomllib.loads(text), "spec.toml:")
    (figures,) = figure_job(job)
    section, *others = figures.sections
    assert section.shape
    changed = replace(section, shape=change(section.shape))
    return draw_job(job, (replace(figures, sections=(changed, *others)),), ONE)


def swollen(line: Subpath, by: float) -> Subpath:
    """Move the middle third of a line up, mm."""
    third = len(line) // 3
    return tuple((x, y + by) if third < k < 2 * third else (x, y) for k, (x, y) in enumerate(line))


def thinned(line: Subpath) -> Subpath:
    """Leave out four of five points, so that chords cut the bends off."""
    return (*line[:-1:5], line[-1])


MADE = {
    "the cut edge at the garment runs 0.1 mm off": lambda one: replace(one, lower=swollen(one.lower, 0.1)),
    "the cut edge at the finished edge runs 0.1 mm off": lambda one: replace(one, upper=swollen(one.upper, -0.1)),
    "the finished edge runs 0.1 mm off": lambda one: replace(one, finished=swollen(one.finished, 0.1)),
    "the seam line runs 0.1 mm off": lambda one: replace(one, sewn=swollen(one.sewn, 0.1)),
    "the cut edge has few chords": lambda one: replace(one, lower=thinned(one.lower)),
    "the cut edge is straight": lambda one: replace(one, upper=(one.upper[0], one.upper[-1])),
    "an end seam is missing": lambda one: replace(one, ends=one.ends[:1]),
    "an end seam is turned": lambda one: replace(
        one, ends=(one.ends[0], (one.ends[1][0], (one.ends[1][1][0] + 1.0, one.ends[1][1][1])))
    ),
    "the cut end runs 0.1 mm off": lambda one: replace(
        one, lower=(*one.lower[:-1], (one.lower[-1][0] + 0.1, one.lower[-1][1]))
    ),
    "the finished edge is the cut edge": lambda one: replace(one, finished=one.upper, upper=one.finished),
}


@pytest.mark.parametrize("change", MADE.values(), ids=MADE)
def test_a_band_that_was_made_wrong_fails(change: Callable[[Shape], Shape]) -> None:
    report = prove(made_with(change).data)
    assert report.verdict == "incomplete"
    failed = {one.detail for one in report.checks if one.status == "fail"}
    assert "the file declares lines of Hem, in one piece that do not run beside each other as they must" in failed


STRAIGHTENED = Curve.through([Bezier((0j, 26.190509 - 6.060556j, 52.381018 - 14.372786j, 87.301696 + 10.797051j))])
"""It bends less and less towards its right end, where it is all but straight."""


def test_a_bend_that_changes_near_its_end_is_no_fault() -> None:
    edge = table(kind="curved", whole=table(svg="hem.svg", id="hem"), garment="above")
    band = piece("Hem", "15 mm", edge, seam_allowance="6 mm", form="contour", cut="full-loop")
    job = read_tables(tomllib.loads(spec(band, units="cm")), "spec.toml:", lambda _: STRAIGHTENED)
    assert not failed(draw_job(job, figure_job(job), ONE).declaration)


def shifted(point: tuple[float, float], by: float) -> tuple[float, float]:
    return (point[0] + by, point[1])


MADE_OPEN = {
    "the cut end runs 0.1 mm off": (OPEN, lambda one: replace(one, lower=(shifted(one.lower[0], 0.1), *one.lower[1:]))),
    "the end seam runs 0.1 mm off": (
        OPEN,
        lambda one: replace(one, ends=(tuple(shifted(at, 0.1) for at in one.ends[0]), one.ends[1])),
    ),
    "the end has no seam": (OPEN, lambda one: replace(one, ends=one.ends[1:])),
    "the join has no seam": (OPEN, lambda one: replace(one, ends=one.ends[:1])),
    "both seams are at one end": (OPEN, lambda one: replace(one, ends=(one.ends[0], one.ends[0]))),
    "a raw end is cut 0.1 mm short": (
        RAW,
        lambda one: replace(
            one,
            lower=(*one.lower[:-1], shifted(one.lower[-1], -0.1)),
            upper=(*one.upper[:-1], shifted(one.upper[-1], -0.1)),
        ),
    ),
    "a raw end is slanted": (RAW, lambda one: replace(one, upper=(*one.upper[:-1], shifted(one.upper[-1], -0.1)))),
    "a raw end has a seam": (RAW, lambda one: replace(one, ends=((one.sewn[-1], one.finished[-1]),))),
}


@pytest.mark.parametrize(("text", "change"), MADE_OPEN.values(), ids=MADE_OPEN)
def test_an_open_band_that_was_made_wrong_fails(text: str, change: Callable[[Shape], Shape]) -> None:
    declaration = made_with(change, text).declaration
    assert any("do not run beside each other as they must" in one for one in failed(declaration))
    assert not failed(drawn_once(text, ONE).declaration)


@pytest.mark.parametrize("each", [(), (15.0, 6.25), (14.9, 6.35), (6.35, 15.0), (15.0,)])
def test_ends_of_which_something_else_is_declared_fail(each: tuple[float, ...]) -> None:
    declaration = drawn_once(OPEN, ONE).declaration
    first, *others = declaration.pieces
    assert isinstance(first, ContourPiece)
    assert first.contour.each_end_mm == (15.0, 6.35)
    other = replace(first, contour=replace(first.contour, each_end_mm=each))
    assert failed(replace(declaration, pieces=(other, *others)))


@long
@pytest.mark.parametrize("text", [OPEN, RAW], ids=["open", "raw"])
@pytest.mark.parametrize(
    "how", ["moved by 0.1 mm", "0.4 % smaller", "mirrored", "a stretch moved by 0.1 mm", "0.4 % cut off"]
)
def test_a_fault_of_the_cut_line_of_an_open_band_is_found(text: str, how: str) -> None:
    report = proved(drawn_once(text, ONE), f.alter_in_piece("CutLine", 0, FAULTS[how], 1))
    assert report.verdict in ("incomplete", "off-scale")
    assert {"piece", "stray"} & {one.name for one in report.checks if one.status == "fail"}


@long
@pytest.mark.parametrize("tag", ["SeamLine", "JoinLine", "Notch"])
@pytest.mark.parametrize("how", ["moved by 0.1 mm", "left out"])
def test_a_fault_at_an_open_end_is_found(tag: str, how: str) -> None:
    report = proved(drawn_once(OPEN, ONE), f.alter_in_piece(tag, 0, FAULTS[how], 1))
    assert report.verdict == "incomplete"
    assert {"piece", "notch"} & {one.name for one in report.checks if one.status == "fail"}


# Mirrored pieces

UNEVEN = Curve.through([Bezier((0j, 60 + 0j, 100 - 4j, 160 - 50j))])
"""It is level at its left end, and bends down at the right one."""


def drawn_with(change: Callable[[Shape], Shape], garment: str = "below", curve: Curve = UNEVEN) -> Declaration:
    edge = table(kind="curved", whole=table(svg="waist.svg", id="waist"), garment=garment)
    band = piece("Waist", "3 cm", edge, form="contour", closed=False)
    job = read_tables(tomllib.loads(spec(band, units="cm")), "spec.toml:", lambda _: curve)
    (figures,) = figure_job(job)
    (section,) = figures.sections
    assert section.shape
    changed = replace(section, shape=change(section.shape))
    return draw_job(job, (replace(figures, sections=(changed,)),), ONE).declaration


def across(line: Subpath, one: Shape) -> Subpath:
    """Mirror a line about an upright one, and run it from the left to the right again."""
    return tuple((round(one.length - x, 4), y) for x, y in reversed(line))


def mirrored(one: Shape) -> Shape:
    """Mirror all lines of a piece, and no word."""
    lower, sewn, finished, upper = (across(line, one) for line in (one.lower, one.sewn, one.finished, one.upper))
    ends = tuple(across(end, one)[::-1] for end in one.ends[::-1])
    return replace(one, lower=lower, sewn=sewn, finished=finished, upper=upper, ends=ends)


def swapped(one: Shape) -> Shape:
    """Put a piece on the other side of its edge: what is sewn to the garment is its finished edge."""

    def over(line: Subpath) -> Subpath:
        return tuple((x, round(one.width - y, 4)) for x, y in line)

    # as long as the edge, and bent the other way
    lower, sewn, finished, upper = (over(line) for line in (one.upper, one.finished, one.sewn, one.lower))
    return replace(one, lower=lower, sewn=sewn, finished=finished, upper=upper, ends=tuple(map(over, one.ends)))


MIRRORED = "the file declares lines of Waist, in one piece that bend as a mirror image of its edge would"


@pytest.mark.parametrize("garment", ["below", "above"])
@pytest.mark.parametrize("change", [mirrored, swapped])
def test_a_piece_whose_lines_alone_are_mirrored_fails(change: Callable[[Shape], Shape], garment: str) -> None:
    assert not failed(drawn_with(lambda one: one, garment))
    assert failed(drawn_with(change, garment)) == [MIRRORED]


def test_a_piece_that_is_mirrored_with_all_that_is_said_of_it_is_the_other_one_of_its_pair() -> None:
    declaration = drawn_with(lambda one: replace(mirrored(one), turns=one.turns[::-1]))
    assert not failed(declaration)
    # harmless: the outside and the inside are mirror images of each other
    (one,) = declaration.pieces
    assert one.quantity == 2


def test_an_even_piece_is_its_own_mirror_image() -> None:
    even = Curve.through([Bezier((0j, 60 - 40j, 100 - 40j, 160 + 0j))])
    (one,) = drawn_with(lambda one: one, curve=even).pieces
    assert isinstance(one, ContourPiece)
    assert one.cut == "on-fold"
    # C: half of what its tangents at both ends differ by, but for what turns right at the fold
    assert sum(one.contour.turns_deg) == pytest.approx(degrees(atan2(40, 60)), abs=1.0)


def test_notches_at_the_finished_edge_fail() -> None:
    declaration = drawn_once(HEM, ONE).declaration
    (one,) = declaration.pieces

    def moved(part: Part) -> Part:
        ticks = [tuple((x, y + 30.0 + 3.0) for x, y in tick) for tick in part.subpaths]
        return replace(part, subpaths=tuple(ticks)) if part.tag == "Notch" else part

    other = replace(one, parts=tuple(map(moved, one.parts)))
    assert "the file declares lines of Hem, in one piece that do not run beside each other as they must" in failed(
        replace(declaration, pieces=(other,))
    )


@long
def test_a_corner_that_is_cut_off_fails() -> None:
    def bevelled(shape: Shape) -> Shape:
        corner = max(shape.lower, key=lambda at: at[0] - at[1])
        assert corner in shape.lower[1:-1]
        return replace(shape, lower=tuple(at for at in shape.lower if at != corner))

    report = prove(made_with(bevelled, SQUARE).data)
    failed = {one.detail for one in report.checks if one.status == "fail"}
    assert "the file declares lines of Square, front that do not run beside each other as they must" in failed


def restated(**changes: float) -> Declaration:
    declaration = drawn_once(HEM, ONE).declaration
    (one,) = declaration.pieces
    assert isinstance(one, ContourPiece)
    return replace(declaration, pieces=(replace(one, contour=replace(one.contour, **changes)),))


def failed(declaration: Declaration) -> Sequence[str]:
    return [one.detail for one in compare_itself(declaration) if one.status == "fail"]


@pytest.mark.parametrize(
    "changes",
    [{"width_mm": 29.9}, {"allowance_mm": 6.45}, {"ends_mm": 6.25}, {"sewn_mm": 159.9}, {"finished_mm": 128.7}],
)
def test_a_shape_of_which_something_else_is_declared_fails(changes: dict[str, float]) -> None:
    assert not failed(restated())
    assert failed(restated(**changes)) == [
        "the file declares lines of Hem, in one piece that do not run beside each other as they must"
    ]


def test_a_fold_that_lies_elsewhere_fails() -> None:
    moved = made_with(
        lambda one: replace(one, lower=((1.0, one.lower[0][1]), *one.lower[1:])),
        WAIST,
    )
    assert prove(moved.data).verdict == "incomplete"


def test_a_notch_that_is_declared_elsewhere_along_the_seam_fails() -> None:
    declaration = drawn_once(WAIST, ONE).declaration
    (one,) = declaration.pieces
    other = replace(one, notches=(replace(one.notches[0], at_mm=0.1), *one.notches[1:]))
    assert one.notches[0].at_mm == 0.0
    from tiler.proof.compare.pieces import _notches

    assert not [check for check in _notches(one, one.parts, 1) if check.status == "fail"]
    assert [check.name for check in _notches(other, other.parts, 1) if check.status == "fail"] == ["notch"]


@pytest.mark.parametrize(
    ("said", "instead"),
    [
        ("finished width 4.0 cm", "finished width 4.1 cm"),
        ("garment edge: stitch 0.6 cm", "garment edge: stitch 0.7 cm"),
        ("finished edge: sew the layers together 0.6 cm", "finished edge: sew the layers together 0.5 cm"),
    ],
)
def test_words_of_another_width_or_seam_are_found(said: str, instead: str) -> None:
    declaration = drawn_once(WAIST, ONE).declaration

    def reworded(form: Form) -> Form:
        marks = [
            replace(one, text=one.text.replace(said, instead)) if isinstance(one, Word) else one for one in form.marks
        ]
        assert form.id != "p1" or tuple(marks) != form.marks
        return replace(form, marks=tuple(marks))

    assert not [one for one in compare_said(declaration) if one.status == "fail"]
    other = replace(declaration, forms=tuple(map(reworded, declaration.forms)))
    assert [one.name for one in compare_said(other) if one.status == "fail"] == ["said-size"]
