"""Layers of a pattern that are called as our sizes: one switch for both, or two that nobody takes for one.

Optional content is that of ISO 32000-1, 8.11; read back with pikepdf and shown by PyMuPDF, which did not write it.
"""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pymupdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, String

from tests.catalog import bases
from tests.chosen import long
from tests.sheets.jobs import drawn_once
from tests.specs import piece, spec, straight
from tiler.catalog.base.join import Base, joinable
from tiler.proof import Report, prove
from tiler.usecases.draft import Wishes

SIZES = ("S", "M", "L")
CUFFS = spec(
    piece("Cuff", "3 cm", straight({"S": "18 cm", "M": "20 cm", "L": "22 cm"}), cut="full-loop"),
    title="Plover cuffs",
    units="cm",
    sizes=list(SIZES),
)


def sized(*names: str, off: tuple[int, ...] = (), **entries: object) -> Callable[[Pdf], None]:
    """Give a base a layer of each name, each with a line of its own on the first page; ``entries`` stand in each."""

    def change(pdf: Pdf) -> None:
        groups = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name), **entries)) for name in names]
        page = pdf.pages[0]
        page.Resources.Properties = Dictionary({f"/L{number}": group for number, group in enumerate(groups)})
        for number in range(len(groups)):
            at = 300 + 20 * number
            page.contents_add(pdf.make_stream(b"/OC /L%d BDC 4 w 300 %d m 500 %d l S EMC" % (number, at, at)))
        hidden = Array([groups[number] for number in off])
        pdf.Root.OCProperties = Dictionary(OCGs=Array(groups), D=Dictionary(Order=Array(groups), OFF=hidden))

    return change


def one_of_them(pdf: Pdf) -> None:
    """Let no more than one layer be on (8.11.4.3, RBGroups)."""
    pdf.Root.OCProperties.D.RBGroups = Array([Array(list(pdf.Root.OCProperties.OCGs))])


def joined(base: bytes, own: bool = False, size: str | None = None) -> tuple[Base, bytes]:
    found = joinable(base, 1, (), SIZES, own)
    ours = drawn_once(CUFFS, Wishes(arrange="grid", sizes=size, host=found.host, layers=found.layers))
    hidden = [other for other in SIZES if size not in (None, other)]
    return found, bases.joined_bytes(found, ours.data, ours.declaration, hidden)


def base_of(*changes: Callable[[Pdf], None]) -> bytes:
    return bases.edited(bases.plain(), *changes)


def shown(data: bytes) -> list[tuple[str, int, bool | None]]:
    with pymupdf.open(stream=data) as pdf:
        return [
            (one["text"], one["depth"], None if one["type"] == "label" else bool(one["on"]))
            for one in pdf.layer_ui_configs()
        ]


def dark(data: bytes, *off: str) -> list[int]:
    """Count the dark pixels of each page with some layers switched off."""
    with pymupdf.open(stream=data) as pdf:
        switches = {one["text"]: one["number"] for one in pdf.layer_ui_configs()}
        for name in off:
            pdf.set_layer_ui_config(switches[name], action=2)
        pictures = [page.get_pixmap(dpi=60, colorspace="gray").samples for page in pdf]
    return [picture.translate(DARK).count(1) for picture in pictures]


DARK = bytes(grey < 128 for grey in range(256))
"""For each grey whether it is dark."""


def failures(report: Report) -> list[str]:
    return [check.detail for check in report.failed]


@long
@pytest.mark.parametrize(
    "names",
    [
        ("S", "M", "L"),
        ("Size S", "Size M", "Size L"),
        ("L", "Size M", "S", "Size S"),
        ("size S", "m", "Größe L"),
        ("TALLA  S", "size M", "Taille l"),
    ],
)
def test_a_layer_named_as_a_size_is_the_one_switch_for_both(names: tuple[str, ...]) -> None:
    base = base_of(sized(*names))
    found, data = joined(base)
    assert "switch our pieces of these sizes as well" in found.forecast.changed[-1]
    assert shown(data) == [
        *((name, 0, True) for name in names),
        ("Plover cuffs: pieces", 0, None),
        ("All sizes", 1, True),
    ]
    report = prove(data)
    assert (report.verdict, report.warned) == ("true-to-scale", ())
    before = dark(data)
    for size in SIZES:
        after = dark(data, found.layers.of(size))
        assert after[0] < before[0]
        assert sum(after[1:]) < sum(before[1:])
        assert after[-3:] == before[-3:]


@long
def test_states_of_the_pattern_stay_and_are_told() -> None:
    _, data = joined(base_of(sized(*SIZES, off=(0, 2))))
    assert shown(data)[:3] == [("S", 0, False), ("M", 0, True), ("L", 0, False)]
    report = prove(data)
    assert report.verdict == "true-to-scale"
    assert [check.detail for check in report.warned] == ["switched off and not printed until switched on: S, L"]


@long
def test_a_file_of_one_size_has_the_other_sizes_of_the_pattern_off() -> None:
    for base in (base_of(sized(*SIZES, off=(1,))), base_of(sized(*SIZES), all_off)):
        _, data = joined(base, size="S")
        state = {name: on for name, _, on in shown(data)}
        assert (state["M"], state["L"]) == (False, False)
        assert prove(data).verdict == "true-to-scale"


@long
def test_so_has_one_whose_layers_are_apart_or_of_a_pattern_that_has_one_twice() -> None:
    for base, own in ((base_of(sized(*SIZES)), True), (base_of(sized("S", "L", "L", "M")), False)):
        _, data = joined(base, own, size="S")
        states = [(name, on) for name, _, on in shown(data) if name in ("M", "L")]
        assert states
        assert not any(on for _, on in states)
        assert prove(data).verdict == "true-to-scale"


def all_off(pdf: Pdf) -> None:
    """Show no layer but those that are named (Table 101)."""
    pdf.Root.OCProperties.D.BaseState = Name.OFF
    pdf.Root.OCProperties.D.ON = Array(list(pdf.Root.OCProperties.OCGs))


APART = {
    "twice": sized("S", "S", "M", "L"),
    "a state for the printer": sized(*SIZES, Usage=Dictionary(Print=Dictionary(PrintState=Name.OFF))),
    "an intent that nobody shows": sized(*SIZES, Intent=Name.Design),
}


@long
@pytest.mark.parametrize("change", APART.values(), ids=APART)
def test_a_layer_that_something_else_switches_keeps_to_itself(change: Callable[[Pdf], None]) -> None:
    found, data = joined(base_of(change))
    assert found.layers.of("S") == "Size S"
    assert any(loss.startswith("size S of our pieces has a layer of its own") for loss in found.forecast.changed)
    assert prove(data).failed == ()


@long
def test_of_layers_of_which_one_may_be_on_none_is_ours() -> None:
    found, data = joined(base_of(sized("Size S", "Size M", "Size L"), one_of_them))
    assert [found.layers.of(size) for size in SIZES] == ["Size S, strips", "Size M, strips", "Size L, strips"]
    assert prove(data).failed == ()


def test_what_a_drawing_program_notes_of_a_layer_ties_nothing() -> None:
    """This test ensures that notes of who made a layer (Table 102, CreatorInfo) do not keep ours out of it."""
    told = Dictionary(CreatorInfo=Dictionary(Creator=String("a drawing program"), Subtype=Name.Artwork))
    found, data = joined(base_of(sized(*SIZES, Usage=told, Intent=Array([Name.View, Name.Design]))))
    assert [found.layers.of(size) for size in SIZES] == list(SIZES)
    assert failures(prove(data)) == []


@long
@pytest.mark.parametrize("names", [("Size S", "Size M", "Size L", "All sizes"), ("S", "Size S, strips", "Size S")])
def test_layers_of_our_own_have_names_of_their_own(names: tuple[str, ...]) -> None:
    found, data = joined(base_of(sized(*names)), own=True)
    ours = [*map(found.layers.of, SIZES), found.layers.all_sizes]
    assert not {*ours} & {*names}
    with pikepdf.open(BytesIO(data)) as pdf:
        held = [str(group.Name) for group in pdf.Root.OCProperties.OCGs]
    assert sorted(held) == sorted([*names, *ours])
    assert prove(data).verdict == "true-to-scale"
    before = dark(data)
    after = dark(data, names[0])
    assert after[0] < before[0]
    assert after[1:] == before[1:]


@long
def test_two_sizes_on_one_switch_are_found() -> None:
    from dataclasses import replace

    found = joinable(base_of(sized("S", "L")), 1, (), SIZES, False)
    names = replace(found.layers, of_sizes=(("S", "S"), ("M", "S"), ("L", "L")))
    ours = drawn_once(CUFFS, Wishes(arrange="grid", host=found.host, layers=names))
    assert "layers" in {check.name for check in prove(bases.joined_bytes(found, ours.data, ours.declaration)).failed}
