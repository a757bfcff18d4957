"""Records as JSON: what is written is read back, and what is not a record is refused as such."""

from __future__ import annotations

import json
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from tests.chosen import long
from tiler.box import Box
from tiler.declaration import FORMAT, Declaration, Host, Page, Rule, Square
from tiler.drawn import Part, Piece
from tiler.printed import Line, Picture, Region, Shape
from tiler.records import LONGEST, RecordError, record_of, tree_of

# lengths are written to 0.0001 mm
st.register_type_strategy(float, st.integers(-(10**9), 10**9).map(lambda count: round(count / 10**4, 4)))
POINTS = st.lists(st.tuples(st.from_type(float), st.from_type(float)), min_size=1, max_size=4).map(tuple)
PATHS = st.lists(POINTS, max_size=3).map(tuple)
SIZES = {"nominal_mm": st.integers(1, 10**6 - 1).map(float), "label": st.sampled_from(["2 in", "5 cm", "é"])}
# no line is without a point, no square or ruler line without a length and a label
st.register_type_strategy(Part, st.builds(Part, subpaths=PATHS))
st.register_type_strategy(Line, st.builds(Line, lines=PATHS))
st.register_type_strategy(Shape, st.builds(Shape, outlines=PATHS))
st.register_type_strategy(Region, st.builds(Region, outline=POINTS))
SAMPLES = {"columns": st.integers(1, 9), "rows": st.integers(1, 9), "samples": st.just("eJwDAAAAAAE=")}
st.register_type_strategy(Picture, st.builds(Picture, **SAMPLES))
st.register_type_strategy(Square, st.builds(Square, **SIZES))
st.register_type_strategy(Rule, st.builds(Rule, **SIZES))
DECLARED = {
    "printer": st.just("den"),
    "factor_across": st.sampled_from([0.95, 1.0, 1.02]),
    "factor_down": st.sampled_from([0.98, 1.05]),
    "format": st.just(FORMAT),
    "host": st.none() | st.from_type(Host),
}
"""What not any value will do for."""

TREES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=5),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=5), inner, max_size=4),
    max_leaves=8,
)


@pytest.mark.parametrize("kind", [Page, Piece, Rule, Box])
@settings(max_examples=12)
@given(data=st.data())
def test_a_record_is_read_back_as_it_was(kind: type[Any], data: st.DataObject) -> None:
    record = data.draw(st.from_type(kind))
    assert record_of(kind, json.loads(json.dumps(tree_of(record)))) == record


@long
@settings(max_examples=3)
@given(st.builds(Declaration, **DECLARED))
def test_a_declaration_is_read_back_from_its_bytes(declared: Declaration) -> None:
    assert Declaration.from_bytes(declared.to_bytes()) == declared


@given(page=st.from_type(Page), data=st.data())
def test_a_record_with_any_other_value_is_a_record_or_refused(page: Page, data: st.DataObject) -> None:
    tree = tree_of(page)
    key = data.draw(st.sampled_from(sorted(tree)))
    tree[key] = data.draw(TREES)
    try:
        found = record_of(Page, tree)
    except RecordError:
        return
    assert tree_of(getattr(found, key)) == tree_of(tree[key])


@pytest.mark.parametrize(
    ("key", "value"),
    [("label", 2), ("page", 1.0), ("page", True), ("at", [1.0]), ("at", [1.0, LONGEST]), ("at", "ab"), ("more", 1)],
)
def test_other_keys_kinds_and_lengths_are_refused(key: str, value: object) -> None:
    tree = tree_of(Rule(1, "across", 50.8, "2 in", (10.0, 20.0)))
    with pytest.raises(RecordError):
        record_of(Rule, tree | {key: value})
