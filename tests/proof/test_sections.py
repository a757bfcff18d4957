"""The sections of a strip, held against each other: one that is drawn short fails, in every way to draw it short."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from io import BytesIO
from typing import Any

import pikepdf
import pytest

from tests.chosen import long
from tests.proof import faults
from tests.sheets.jobs import drawn_once
from tests.specs import armhole, neckline, piece, shaped, spec, straight, table
from tiler.declaration import Declaration, Tag
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.sections.section import Section
from tiler.draft.spec.read import Job, read_tables
from tiler.proof import prove
from tiler.proof.compare.itself import compare_itself
from tiler.proof.report.check import Check
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes, draw_job

RIB = {"rib": table(stretch="60 %", width="14 in")}
BIAS = {"fabric": "lawn", "cut_on": "bias"}
LAWN = {"lawn": table(stretch="12 %", width="10 in")}
PIECED = spec(piece("Neckband", "3/4", neckline(6, 4), fabric="rib"), title="In sections", fabrics=RIB)
SIZES = spec(
    piece("Neckband", "3/4", neckline({"S": 5, "M": 6, "L": 7}, 4), fabric="rib"),
    piece("Hem", 1, straight({"S": 32, "M": 34, "L": 36}), fabric="rib", cut="full-loop"),
    title="Sizes in sections",
    sizes=["S", "M", "L"],
    fabrics=RIB,
)
OTHERS = (
    SIZES,
    spec(
        piece("Vee", "3/4", shaped("vee", 7, 8, 1), fabric="rib", corner="mitre"),
        piece("Bound vee", "3/8", shaped("vee", 7, 8, 1), "double-fold-binding", fabric="rib", corner="mitre"),
        title="Mitred sections",
        fabrics=RIB,
    ),
    spec(piece("Lapped", "3/4", shaped("vee", 7, 8, 1), fabric="rib", corner="lapped"), fabrics=RIB),
    spec(
        piece("Neckband", "3/4", neckline({"S": 5, "L": 7}, 4), fabric="rib", section="even"),
        piece("Vee", "3/4", shaped("vee", 7, 8, 1), fabric="rib", corner="mitre", section="cb"),
        piece("Armhole", "3/8", armhole(9, 11), "raw-edge-binding", fabric="rib", section="even"),
        piece("Hem", 1, straight({"S": 24, "L": 30}), fabric="rib", section="sides"),
        title="Sections where the spec joins them",
        sizes=["S", "L"],
        fabrics=RIB,
    ),
    spec(
        piece("Front band", 1, straight({"S": 24, "L": 30}), fabric="rib", closed=False),
        piece("Neck", 1, neckline({"S": 8, "L": 9}, 6, before=5, after=5), fabric="rib", closed=False, ends="raw"),
        title="Open sections",
        sizes=["S", "L"],
        fabrics=RIB,
    ),
    spec(
        piece("Neck", "1/4", neckline({"S": 10, "L": 12}, 6), "french-binding", **BIAS),
        piece("Hem", "1/4", straight({"S": 32, "L": 40}), "double-fold-binding", **BIAS),
        title="Sections on the bias",
        sizes=["S", "L"],
        fabrics=LAWN,
    ),
)


@cache
def figured() -> tuple[Job, Figures]:
    job = read_tables(tomllib.loads(PIECED), "spec.toml:")
    (figures,) = figure_job(job)
    return job, figures


def drawn_with(change: Callable[[Section], Section | None]) -> Document:
    """Draw the neckband with its first section changed, or left out."""
    job, figures = figured()
    first, *others = figures.sections
    changed = change(first)
    sections = (*([changed] if changed else []), *others)
    return draw_job(job, (replace(figures, sections=sections),), Wishes())


def failed(checks: Sequence[Check]) -> set[str]:
    return {one.detail for one in checks if one.status == "fail"}


@long
def test_the_sections_pass_as_they_are() -> None:
    report = prove(drawn_once(PIECED).data)
    assert report.verdict == "true-to-scale", report.first_failure()
    assert {one.label for one in report.checks if one.name == "piece"} == {
        "Neckband, front section",
        "Neckband, back section",
    }


@long
@pytest.mark.parametrize(
    ("text", "nest"), [(text, nest) for text in OTHERS for nest in (True, False) if nest or "sizes" in text]
)
def test_nested_slanted_and_equal_sections_pass(text: str, nest: bool) -> None:
    """This test ensures it for sizes within each other and apart; without sizes both are the same file."""
    report = prove(drawn_once(text, Wishes(nest=nest, cover=False)).data)
    assert report.verdict == "true-to-scale", report.first_failure()


@long
def test_a_section_that_is_short_in_all_it_says_fails() -> None:
    # label, outline and declared lengths agree: only the strip is longer than its sections
    short = drawn_with(lambda one: replace(one, sewn_mm=one.sewn_mm - 4, cut_length_mm=one.cut_length_mm - 2))
    report = prove(short.data)
    assert report.verdict == "incomplete"
    assert failed(report.checks) == {"the file declares sections of Neckband that do not make up its sewn length"}


@long
def test_a_section_that_is_drawn_shorter_than_it_is_sewn_fails() -> None:
    report = prove(drawn_with(lambda one: replace(one, cut_length_mm=one.cut_length_mm - 2)).data)
    assert report.verdict == "incomplete"
    says = "the file declares Neckband, front section longer or shorter than what is sewn of it and its ends"
    assert failed(report.checks) == {says}


@long
@pytest.mark.parametrize(
    "change", [lambda one: None, lambda one: replace(one, count=2)], ids=["left out", "counted twice"]
)
def test_a_section_that_is_left_out_or_counted_twice_fails(change: Callable[[Section], Section | None]) -> None:
    report = prove(drawn_with(change).data)
    assert "the file declares sections of Neckband that do not make up its sewn length" in failed(report.checks)


SLANTED = spec(piece("Hem", "1/4", straight(40), "double-fold-binding", **BIAS), title="On the bias", fabrics=LAWN)


@long
def test_slanted_joins_lie_as_far_apart_as_is_sewn() -> None:
    declaration = drawn_once(SLANTED).declaration
    assert not failed([*compare_itself(declaration)])
    (one,) = declaration.pieces
    assert one.section is not None
    nearer = replace(one.section, sewn_mm=one.section.sewn_mm - 1, beyond_mm=one.section.beyond_mm + 1)
    short = replace(declaration, pieces=(replace(one, section=replace(nearer, strip_sewn_mm=3 * nearer.sewn_mm)),))
    says = "the file declares Hem, sections 1 to 3 longer or shorter than what is sewn of it and its ends"
    assert says in failed([*compare_itself(short)])


@long
@pytest.mark.parametrize("change", [faults.removed, faults.by(faults.moved(0.5))], ids=["left out", "moved"])
def test_a_mark_of_a_diagonal_join_is_proved(change: Callable[..., Any]) -> None:
    document = drawn_once(SLANTED)
    (first, *_) = [part for part in document.declaration.pieces[0].parts if part.tag == Tag.NOTCH]
    # the first mark is that of the left end: its cut is as far along the strip as across it
    ((x0, y0), (x1, y1)) = first.subpaths[0]
    assert x1 - x0 == pytest.approx(y0 - y1)
    with pikepdf.open(BytesIO(document.data)) as pdf:
        out = BytesIO()
        faults.alter_in_piece("Notch", 0, change)(pdf)
        pdf.save(out)
    report = prove(out.getvalue())
    assert report.verdict == "incomplete"
    assert "notch" in {one.name for one in report.checks if one.status == "fail"}


def restated(**changes: float) -> Declaration:
    """Return the declaration with other numbers of the first section."""
    declaration = drawn_once(PIECED).declaration
    first, *others = declaration.pieces
    assert first.section is not None
    return replace(declaration, pieces=(replace(first, section=replace(first.section, **changes)), *others))


@pytest.mark.parametrize("changes", [{"sewn_mm": 200.0}, {"strip_sewn_mm": 300.0}, {"beyond_mm": 3.0}, {"count": 2}])
def test_a_section_that_is_declared_otherwise_fails(changes: dict[str, float]) -> None:
    assert not failed([*compare_itself(drawn_once(PIECED).declaration)])
    assert failed([*compare_itself(restated(**changes))])


def test_a_strip_of_which_another_count_of_a_section_is_cut_fails() -> None:
    declaration = drawn_once(PIECED).declaration
    first, *others = declaration.pieces
    changed = replace(declaration, pieces=(replace(first, quantity=2), *others))
    assert failed([*compare_itself(changed)]) == {
        "the file declares sections of Neckband that do not make up its sewn length"
    }
