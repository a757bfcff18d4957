"""The other edges in a nest of sizes: what differs from size to size is not said of all of them."""

from __future__ import annotations

import tomllib
from typing import Any

from tests.specs import piece, spec, straight, table
from tiler.draft.compute import figure_job
from tiler.draft.outline import draw_pieces
from tiler.draft.spec.read import read_tables
from tiler.sheets.pieces.nest import families, nest

WHOLE = {"S": "20 in", "M": "22 in"}
FABRICS = {"rib": "60 %", "lawn": "12 %"}


def nested(**keys: Any) -> tuple[int, str]:
    """Return how many nests there are, and what stands on the first of them."""
    text = spec(piece("Strip", edge=straight(WHOLE), **keys), sizes=["S", "M"], fabrics=FABRICS)
    job = read_tables(tomllib.loads(text), "spec:")
    found = families(draw_pieces(figure_job(job), job.edition))
    words = [one.text.replace("\u00a0", " ") for member in nest(found[0]).shared for one in member.texts]
    return len(found), " ".join(words)


def test_sizes_with_buttonholes_are_drawn_apart() -> None:
    buttons = {"count": 3, "first": "1 in", "last": "1 in", "diameter": "3/8 in"}
    assert nested(closed=False, buttons=buttons)[0] == 2
    assert nested(closed=False)[0] == 1


def test_elastic_is_told_for_each_size() -> None:
    count, words = nested(elastic=table(width="1/4 in", ratio="80 %"))
    assert count == 1
    assert "cut S 16¾ in (42.5 cm), M 18⅜ in (46.6 cm)" in words


def test_the_square_of_one_size_is_not_that_of_all() -> None:
    count, words = nested(finish="raw-edge-binding", width="1/4 in", fabric="lawn", cut_on="bias")
    assert count == 1
    assert "square of" not in words
    assert "bias, 45° to the straight grain" in words
