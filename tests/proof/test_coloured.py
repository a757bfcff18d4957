"""Sizes in colours: black stays the default, and coloured lines are judged as strictly as black ones."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from re import search, sub

import pikepdf
import pytest

from tests.chosen import long
from tests.proof.conftest import proved
from tests.proof.test_nested import content
from tests.sheets.jobs import drawn_once
from tests.sheets.test_nest import SIZES, SPEC
from tiler.printed import Ink
from tiler.proof import prove
from tiler.proof.compare.itself import compare_itself
from tiler.proof.report.check import Status
from tiler.sheets.document import Document
from tiler.sheets.pieces.palette import PALETTE
from tiler.usecases.draft import Wishes


def coloured(cover: bool = True) -> Document:
    return drawn_once(SPEC, Wishes(colour=True, cover=cover))


def painted(document: Document) -> dict[str, str]:
    """Give the colour of lines that each form of a piece sets, by its name; empty where it sets none."""
    with pikepdf.open(BytesIO(document.data)) as pdf:
        forms = {name: form for page in pdf.pages for name, form in page.Resources.get("/XObject", {}).items()}
        found = {name: search(rb"([\d.]+ [\d.]+ [\d.]+) RG", form.read_bytes()) for name, form in forms.items()}
    return {name.removeprefix("/FormXob."): match[1].decode() if match else "" for name, match in found.items()}


@long
def test_sizes_are_black_unless_colours_are_asked_for() -> None:
    plain = drawn_once(SPEC, Wishes())
    assert set(painted(plain).values()) == {""}
    assert not any(plain.declaration.coloured(page.number) for page in plain.declaration.pages)
    asked = "colour = true\n" + SPEC
    assert drawn_once(asked, Wishes(colour=False)).data == plain.data
    assert drawn_once(asked, Wishes()).data == coloured().data != plain.data


def test_each_size_has_a_colour_and_what_sizes_share_is_black() -> None:
    colours = painted(coloured())
    own = [colours.pop(f"p{number}") for number in range(1, len(SIZES) + 1)]
    assert [[float(share) for share in one.split()] for one in own] == [
        [pytest.approx(share, abs=1e-4) for share in colour] for colour in PALETTE
    ]
    assert set(colours.values()) == {""}


def test_a_nest_in_colours_is_true_to_scale() -> None:
    assert prove(coloured().data, as_made=True).verdict == "true-to-scale"


def inked(colour: str) -> Callable[[bytes], bytes]:
    return lambda data: sub(rb"[\d.]+ [\d.]+ [\d.]+ (RG|rg)", rf"{colour} \1".encode(), data)


RED, BLUE = "p3", "p5"
SAME_GREY = "0 .3214 .2864"
"""As dark as the red in grey, 0.299 · 0.7333 of black (ITU-R BT.601)."""


@pytest.mark.parametrize(
    ("form", "colour"),
    [
        (RED, "1 1 1"),
        (RED, "1 .75 .75"),
        (BLUE, ".8 .8 1"),
        (RED, "0 0 0"),
        (RED, SAME_GREY),
        (RED, ".85 0 0"),
        ("p1s", "1 1 .6"),
        ("p1s", ".25 0 0"),
    ],
    ids=["white", "pale red", "pale blue", "black", "same grey", "a little lighter", "pale yellow", "not black"],
)
def test_a_line_in_another_colour_than_declared_is_a_fault(form: str, colour: str) -> None:
    def change(data: bytes) -> bytes:
        return inked(colour)(data) if b" RG" in data else f"{colour} RG {colour} rg ".encode() + data

    report = proved(coloured(cover=False), content(form, change))
    assert report.verdict == "incomplete"
    assert "ink" in {check.name for check in report.failed}


def test_a_line_of_a_colour_must_lie_where_it_is_declared() -> None:
    report = proved(coloured(cover=False), content(RED, lambda data: b"1 0 0 1 1 0 cm " + data))
    assert report.verdict in ("incomplete", "off-scale")


@pytest.mark.parametrize("colour", [(1.0, 1.0, 1.0), (0.9, 0.6, 0.0), (-9.0, 1.0, 0.0)])
def test_a_declared_colour_that_may_not_print_is_a_fault(colour: tuple[float, float, float]) -> None:
    declared = coloured().declaration
    assert Status.FAIL not in {check.status for check in compare_itself(declared)}
    forms = tuple(
        replace(form, marks=tuple(Ink(colour) if isinstance(mark, Ink) else mark for mark in form.marks))
        for form in declared.forms
    )
    failed = [check for check in compare_itself(replace(declared, forms=forms)) if check.status is Status.FAIL]
    assert "too pale" in failed[0].detail
