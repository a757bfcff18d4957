"""Lines that sizes of a nest share are drawn once, so a fault of one of them is a fault of every size that has it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from re import sub

import pytest
from pikepdf import Array, Name, Pdf

from tests.chosen import each
from tests.sheets.jobs import drawn_once
from tests.sheets.test_nest import SPEC, changed, layer, nest
from tiler.declaration import Declaration
from tiler.printed import Word
from tiler.proof.compare.itself import compare_itself
from tiler.proof.compare.said import compare_said
from tiler.proof.report.check import Status
from tiler.usecases.draft import Wishes


def content(form: str, change: Callable[[bytes], bytes]) -> Callable[[Pdf], None]:
    def changed_form(pdf: Pdf) -> None:
        for page in pdf.pages:
            forms = page.Resources.get("/XObject", {})
            if f"/FormXob.{form}" in forms:
                stream = forms[f"/FormXob.{form}"]
                stream.write(change(stream.read_bytes()))
                return

    return changed_form


def moved(data: bytes) -> bytes:
    return b"1 0 0 1 1 0 cm " + data


def scaled(data: bytes) -> bytes:
    return b"1.004 0 0 1 0 0 cm " + data


def twice(data: bytes) -> bytes:
    return data + b" " + data


def shortened(data: bytes) -> bytes:
    """End the first line 1 mm early."""
    return sub(rb"([\d.]+) ([\d.]+) l", lambda m: b"%f %s l" % (float(m[1]) - 72 / 25.4, m[2]), data, count=1)


def nothing(data: bytes) -> bytes:
    return b"" if data else data


STRETCH, END = "p1s2", "p3"


OF_ALL = "p1s"
FORMS = (OF_ALL, STRETCH, END)


@pytest.mark.parametrize(
    ("form", "change"),
    dict.fromkeys(
        [
            *each(FORMS, [moved, scaled, twice, shortened, nothing]),
            *each(FORMS, [nothing, shortened, moved, scaled, twice]),
        ]
    ),
)
def test_a_line_of_a_nest_that_is_not_there_once_in_its_place_is_found(
    form: str, change: Callable[[bytes], bytes]
) -> None:
    report = changed(nest(cover=False), content(form, change))
    assert report.verdict in ("incomplete", "off-scale")
    assert {"piece", "stray"} & {check.name for check in report.failed}
    if change is nothing and form == "p1s":
        assert not [check for check in report.checks if check.name == "piece" and check.status == "pass"]


def membership(**entries: object) -> Callable[[Pdf], None]:
    def change(pdf: Pdf) -> None:
        for key, value in entries.items():
            pdf.pages[-1].Resources.XObject[f"/FormXob.{STRETCH}"].OC[f"/{key}"] = value

    return change


def other_sizes(pdf: Pdf) -> None:
    pdf.pages[-1].Resources.XObject[f"/FormXob.{STRETCH}"].OC.OCGs = Array(
        [layer(pdf, "Size L"), layer(pdf, "Size XL")]
    )


def to_all(pdf: Pdf) -> None:
    pdf.pages[-1].Resources.XObject[f"/FormXob.{STRETCH}"].OC = layer(pdf, "All sizes")


def all_to_one(pdf: Pdf) -> None:
    pdf.pages[-1].Resources.XObject["/FormXob.p1s"].OC = layer(pdf, "Size M")


@pytest.mark.parametrize(
    "change", [membership(P=Name.AllOn), membership(VE=Array([Name.Not, Name.Not])), other_sizes, to_all, all_to_one]
)
def test_what_sizes_share_shows_with_each_of_them_and_with_no_other(change: Callable[[Pdf], None]) -> None:
    """This test ensures it for memberships of layers (ISO 32000-1, 8.11.2.2)."""
    report = changed(nest(cover=False), change)
    assert report.verdict == "incomplete"
    assert "piece" in {check.name for check in report.failed}


Restate = Callable[[Declaration], Declaration]


def of_stretch(**changes: object) -> Restate:
    """Change what is declared of the stretch that the three longest sizes share."""

    def restate(declared: Declaration) -> Declaration:
        kept = [one for one in declared.shared if one.id != STRETCH]
        assert len(kept) == len(declared.shared) - 1
        other = next(one for one in declared.shared if one.id == STRETCH)
        return replace(declared, shared=(*kept, replace(other, **changes)))  # type: ignore[arg-type]

    return restate


def without_stretch(declared: Declaration) -> Declaration:
    return replace(declared, shared=tuple(one for one in declared.shared if one.id != STRETCH))


def stretch_twice(declared: Declaration) -> Declaration:
    return replace(declared, shared=(*declared.shared, *(one for one in declared.shared if one.id == STRETCH)))


def row_of_another(declared: Declaration) -> Declaration:
    """Let the table tell for one size how long the next one is."""
    one, two = (next(form for form in declared.forms if form.id == name) for name in ("p2", "p3"))
    length = next(mark for mark in two.marks if isinstance(mark, Word) and " in" in mark.text)
    marks = tuple(
        replace(mark, text=length.text) if isinstance(mark, Word) and " in" in mark.text else mark for mark in one.marks
    )
    return replace(
        declared, forms=tuple(replace(form, marks=marks) if form is one else form for form in declared.forms)
    )


def other_tag(declared: Declaration) -> Declaration:
    """Write S where the tags and the row of XS stand."""
    return replace(
        declared,
        forms=tuple(
            replace(
                form,
                marks=tuple(
                    replace(mark, text="S") if isinstance(mark, Word) and mark.text == "XS" else mark
                    for mark in form.marks
                ),
            )
            for form in declared.forms
        ),
    )


@pytest.mark.parametrize(
    "restate",
    [
        of_stretch(pieces=("p3", "p4")),
        of_stretch(pieces=("p2", "p3", "p4", "p5"), layer="Size S or Size M or Size L or Size XL"),
        of_stretch(layer="All sizes"),
        of_stretch(pieces=("p3", "p4", "p9"), layer="Size M or Size L"),
        without_stretch,
        stretch_twice,
        row_of_another,
        other_tag,
    ],
)
def test_what_is_declared_of_a_nest_makes_every_size_whole(restate: Restate) -> None:
    """This test ensures that the cut lines which each size has and shares go round it once, and that its words fit."""
    declared = drawn_once(SPEC, Wishes()).declaration
    assert {check.status for check in (*compare_itself(declared), *compare_said(declared))} == {Status.PASS}
    false = restate(declared)
    assert Status.FAIL in {check.status for check in (*compare_itself(false), *compare_said(false))}
