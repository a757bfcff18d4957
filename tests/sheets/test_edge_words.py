"""The words of both long edges of curved pieces: which edge each means can be told where it stands."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import astuple
from random import Random

import pytest
from shapely import LineString, Point, box, union_all

from tests.chosen import long
from tests.sheets.test_contour import BANDS, SIZES, pieces_of
from tests.specs import curved, piece, shaped, spec
from tiler.box import Box, Subpath
from tiler.draft.outline import Piece
from tiler.languages.words import told
from tiler.sheets.pieces.lettering import letter
from tiler.sheets.pieces.nest import families, nest
from tiler.sheets.pieces.rows import NO_JOINTS, Joints, Text

BESIDE = 1.6
"""A line that begins no further off words than this is theirs, mm."""

OPEN = spec(
    piece(
        "Facing",
        "3 cm",
        shaped("scoop", "24 cm", "10 cm", "7 cm", before="2 cm", after="2 cm"),
        form="contour",
        closed=False,
    ),
    piece("Narrow hem", "2 cm", curved("52 cm", "60"), form="contour"),
    units="cm",
)


def random_bands() -> str:
    """Return bands of any width on curves that turn either way."""
    draw = Random(7)
    edges = [(draw.uniform(150, 600), draw.uniform(-140, 140), draw.choice((8, 12, 20, 30, 45))) for _ in range(12)]
    bands = (
        piece(f"Band {number}", f"{wide} mm", curved(f"{long:.0f} mm", f"{turning:.0f}"), form="contour")
        for number, (long, turning, wide) in enumerate(edges)
    )
    return spec(*bands, units="cm")


FEW = pieces_of(BANDS)
PIECES = [*FEW, *pieces_of(OPEN), *pieces_of(random_bands())]


def joint_of(piece: Piece) -> Joints:
    """Return a joint across the middle of a piece whose pages show some white round it."""
    middle = piece.length / 2
    within = Box(-15.0, -15.0, piece.length + 15.0, piece.width + 25.0)
    return Joints(((middle - 5.0, middle + 5.0),), within=within)


def mistakable(piece: Piece, texts: Sequence[Text], leaders: Sequence[Subpath]) -> Iterator[str]:
    """Name what is said of an edge that could be the other: so it is, if not even its name stands at the edge."""
    shape = piece.figures.shape
    assert shape
    seams = {"lower": LineString(shape.sewn), "upper": LineString(shape.second or shape.finished)}
    used = list[Subpath]()
    for edge, words in piece.edge_words:
        own, other = seams[edge], seams["lower" if edge == "upper" else "upper"]
        said = told(words)
        assert _lines(said, texts)
        if not any(_belongs(_lines(one, texts), own, other, leaders, used) for one in (said, said.partition(":")[0])):
            yield said


def _belongs(
    lines: Sequence[Text], own: LineString, other: LineString, leaders: Sequence[Subpath], used: list[Subpath]
) -> bool:
    """Tell whether words stand nearer to their own edge than to the other, or have a line of their own that ends there."""
    if not lines:
        return False
    place = union_all([box(*astuple(text.box)) for text in lines])
    begin = [line for line in leaders if Point(line[0]).distance(place) <= BESIDE]
    if not begin:
        # one that begins at the other edge is taken for it
        left, low, right, high = place.bounds
        ends = [box(left, low, left + 4.0, high), box(right - 4.0, low, right, high)]
        return all(own.distance(one) < other.distance(one) for one in (place, place.centroid, *ends))
    end = Point(begin[0][-1])
    ends_there = begin[0] not in used and own.distance(end) < other.distance(end)
    used += begin
    return ends_there


def _lines(said: str, texts: Sequence[Text]) -> Sequence[Text]:
    """Return the lines one after the other in which something is said; none where it is not."""
    for first in range(len(texts)):
        for last in range(first + 1, min(first + 7, len(texts) + 1)):
            if " ".join(text.printed for text in texts[first:last]) == said.replace("\u00a0", " "):
                return texts[first:last]
    return ()


@pytest.mark.parametrize("one", FEW, ids=lambda one: one.figures.name)
def test_words_of_an_edge_are_not_taken_for_those_of_the_other(one: Piece) -> None:
    lettered = letter(one)
    assert not [*mistakable(one, lettered.texts, lettered.leaders)]


@long
@pytest.mark.parametrize("one", PIECES, ids=lambda one: one.figures.name)
def test_words_of_an_edge_are_told_apart_on_any_curve_and_at_joints(one: Piece) -> None:
    for joints in (NO_JOINTS, joint_of(one)):
        lettered = letter(one, joints)
        assert not [*mistakable(one, lettered.texts, lettered.leaders)], joints


def test_words_of_a_nest_are_not_taken_for_those_of_the_other_edge() -> None:
    (family, *_) = families(pieces_of(SIZES))
    common = nest(family).shared[0]
    assert not [*mistakable(common.piece, common.texts, common.leaders)]


def test_the_grain_of_a_back_runs_along_its_own_centre() -> None:
    texts = {one.figures.name: [text.printed for text in letter(one).texts] for one in FEW}
    assert "grain, along CF" in texts["Neckband, front"]
    assert "grain, along CB" in texts["Neckband, back"]
    # cut in one, it has both
    assert "arrow: grain, as in the garment" in texts["Tiny, in one piece"]
    assert not [words for name, words in texts.items() if "back" in name and any("along CF" in one for one in words)]


@long
@pytest.mark.parametrize(("long_mm", "turning", "wide"), [(210, 1, 45), (135, 41, 8), (151, 10, 12)])
def test_no_line_runs_through_what_stands_above_a_piece(long_mm: int, turning: int, wide: int) -> None:
    band = piece("Hem", f"{wide} mm", curved(f"{long_mm} mm", str(turning)), form="contour")
    for one in pieces_of(spec(band, units="cm", language="fr")):
        lettered = letter(one)
        words = [box(*astuple(text.box)) for text in lettered.texts]
        assert not [line for line in lettered.leaders if any(LineString(line).intersects(word) for word in words)]
