"""Notches of many sizes: each says whose it is, or the table tells how far it lies."""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from dataclasses import replace
from typing import Any

import pytest

from tests.look.jobs import TWELVE, sizes
from tiler.draft.compute import figure_job
from tiler.draft.outline import Piece, draw_pieces
from tiler.draft.spec.read import read_tables
from tiler.sheets.pieces import nest as nests
from tiler.sheets.pieces.lettering import outside as outside_label
from tiler.sheets.pieces.rows import NO_JOINTS, Strip, Text
from tiler.sheets.pieces.size_tags import Signs, size_tags
from tiler.sheets.pieces.tag_row import Tag


@pytest.fixture(scope="module")
def family() -> list[Piece]:
    job = read_tables(tomllib.loads(sizes(TWELVE, 0.5)), "spec.toml:")
    return draw_pieces(figure_job(job), job.edition)


def quarters(family: Sequence[Piece], told: bool) -> list[str]:
    """Return what stands, from the left, at quarter notches that lie among half ones."""
    kinds = [
        (name, [(piece.id, piece.figures.size or "", at + 11.0 * k) for k, piece in enumerate(family)])
        for name, at in (("¼", 40.0), ("½", 45.5))
    ]
    ends = [Tag(piece.length, piece.figures.size or "", bold=True) for piece in family]
    texts = [text for sign in size_tags(family, ends, kinds, [], told).values() for text in sign.texts]
    return [text.text for text in sorted(texts, key=lambda text: text.x) if text.text.endswith("¼")]


def test_without_a_table_every_third_notch_says_its_size(family: list[Piece]) -> None:
    said = quarters(family, told=False)
    assert len(said) == 12
    assert said[::3] == ["XXS·¼", "M·¼", "2XL·¼", "5XL·¼"]
    assert said[-1] == "7XL·¼"


def test_where_a_table_tells_it_the_first_and_the_last_do(family: list[Piece]) -> None:
    assert quarters(family, told=True) == ["XXS·¼", *["¼"] * 10, "7XL·¼"]


def alone(family: Sequence[Piece], apart: float, told: bool) -> list[str]:
    """Return what stands, from the left, at notches of one kind that lie apart from the ends."""
    kinds = [("shoulder", [(piece.id, piece.figures.size or "", 60.0 + apart * k) for k, piece in enumerate(family)])]
    ends = [Tag(piece.length, piece.figures.size or "", bold=True) for piece in family]
    signs = size_tags(family, ends, kinds, [], told).values()
    texts = sorted((text for sign in signs for text in sign.texts), key=lambda text: text.x)
    return [text.text for text in texts if text.x < family[0].length - 20.0]


def test_where_names_of_all_notches_have_no_room_every_second_or_third_has_its_size(family: list[Piece]) -> None:
    sizes = [piece.figures.size or "" for piece in family]
    assert alone(family, 6.0, told=False) == ["shoulder", *sizes]
    assert alone(family, 3.0, told=False) == ["shoulder", *sizes[::2], sizes[-1]]
    assert alone(family, 1.0, told=False) == ["shoulder", *sizes[::3], sizes[-1]]
    # the table tells how far the others lie
    assert alone(family, 3.0, told=True) == [f"{sizes[0]}·shoulder", f"{sizes[-1]}·shoulder"]


@pytest.mark.parametrize("columns", [("size", "from the fold"), ("size", "from the fold", "shoulder")])
def test_only_a_table_with_notches_tells_them(
    family: list[Piece], monkeypatch: pytest.MonkeyPatch, columns: Sequence[str]
) -> None:
    asked = []

    def tags(*given: Any) -> dict[str, Signs]:
        asked.append(given[-1])
        return size_tags(*given)

    monkeypatch.setattr(nests, "size_tags", tags)
    heads = [Text(30.0 * k, 10.0, column) for k, column in enumerate(columns)]
    monkeypatch.setattr(nests, "put_table", lambda _, pieces: (heads, {piece.id: [] for piece in pieces}))
    nests.nest(family)
    assert asked == ["shoulder" in columns]


def test_a_long_list_of_sizes_is_shortened_where_it_has_no_room(family: list[Piece]) -> None:
    """The list is whole in a strip with room; where the label stands outside, its first and last size tell as much."""
    inside = " ".join(text.text for text in nests.nest(family).shared[0].texts)
    assert "sizes XXS, XS, S, M, L, XL, 2XL, 3XL, 4XL, 5XL, 6XL, 7XL · CUT 1" in inside
    lines = family[0].label.lines_for([piece.figures.size or "" for piece in family], "")
    narrow = Strip(replace(family[0], width=9.0, lines=lines), NO_JOINTS)
    outside = [line.text for line in outside_label(narrow)]
    assert any(line.startswith("sizes XXS–7XL · CUT 1") for line in outside)
