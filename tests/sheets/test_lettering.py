"""Words on a piece: inside it and clear of each other and of its lines, or beside it with a leader."""

from __future__ import annotations

from itertools import combinations
from pathlib import Path

import pytest

from tests.sheets.jobs import EXAMPLES
from tests.specs import FINISHES, Table, neckline, piece, spec, straight, written
from tiler.box import Box
from tiler.declaration import Tag
from tiler.draft.compute import figure_job
from tiler.draft.outline import draw_piece
from tiler.draft.spec.read import read_spec
from tiler.sheets.pieces.lettering import Lettered, letter

WIDTHS = ("1/2 in", "3/4 in", "1 in", "1 1/2 in", "2 in", "4 in", "8 in", "12 in")
LONG = "Neckband of the long-sleeved everyday top with the deep scoop"


ALLOWANCE = {"folded-band": {"seam_allowance": "1/8 in"}, "raw-edge-binding": {"trim_allowance": "1/8 in"}}


def lettered(
    tmp_path: Path,
    edge: Table,
    finish: str = "folded-band",
    width: str = "2 in",
    name: str = "Neckband",
    cut: str = "on-fold",
) -> Lettered:
    band = piece(name, None, edge, finish, cut_width=width, cut=cut, fabric="rib", **ALLOWANCE.get(finish, {}))
    job = read_spec(written(spec(band, title="Everyday top", fabrics={"rib": "60 %"}), tmp_path))
    return letter(draw_piece(figure_job(job)[0], 1, job.edition))


def long_lines(one: Lettered) -> list[Box]:
    piece = one.piece
    ys = [0.0, piece.width, *piece.lanes]
    return [Box(0.0, y - 0.1, piece.length, y + 0.1) for y in ys]


NECKLINE = neckline("7 in", "4 in")
EDGES = [(width, edge) for width in WIDTHS for edge in (NECKLINE, straight("60 in"), straight("8 in"))]


@pytest.mark.parametrize(
    ("width", "edge"), [one for one in EDGES if one not in (("8 in", NECKLINE), ("12 in", NECKLINE))]
)
@pytest.mark.parametrize("cut", ["on-fold", "full-loop"])
@pytest.mark.parametrize("name", ["Neckband", LONG])
@pytest.mark.parametrize("finish", FINISHES)
def test_no_two_texts_touch_and_no_text_touches_a_line(
    tmp_path: Path, width: str, finish: str, name: str, cut: str, edge: Table
) -> None:
    one = lettered(tmp_path, edge, width=width, finish=finish, name=name, cut=cut)
    for a, b in combinations(one.texts, 2):
        assert not a.box.overlaps(b.box), (a.text, b.text)
    for text in one.texts:
        for line in long_lines(one):
            assert not text.box.overlaps(line), (text.text, line)
        inside = text.box.y0 > 0 and text.box.y1 < one.piece.width
        if inside:
            assert text.box.x0 >= 0
            assert text.box.x1 <= one.piece.length
        for part in one.parts:
            if part.tag in (Tag.NOTCH, Tag.STRETCH_ARROW, Tag.JOIN_LINE) or (
                part.tag == Tag.FOLD_LINE and len(part.subpaths) > 1
            ):
                for subpath in part.subpaths:
                    xs, ys = [x for x, _ in subpath], [y for _, y in subpath]
                    if part.tag == Tag.FOLD_LINE and len(subpath) == 4:
                        xs = [max(xs)] * 2
                    assert not text.box.overlaps(Box(min(xs), min(ys), max(xs), max(ys)).grown(0.05)), text.text
    b = one.bounds
    assert all(b.x0 < t.box.x0 and t.box.x1 < b.x1 and b.y0 < t.box.y0 and t.box.y1 < b.y1 for t in one.texts)


def test_a_usual_neckband_carries_its_whole_label_inside(tmp_path: Path) -> None:
    one = lettered(tmp_path, NECKLINE)
    assert not one.leaders
    words = " ".join(text.printed for text in one.texts)
    for wanted in (
        *("Neckband", "CUT 1 ON FOLD", "Everyday top", "place on fold", "press in half", "end seam (CB)", "shoulder"),
        *("greatest stretch", "from this edge", "folded band", "rib, 60 % stretch", "of the neckline seam line"),
    ):
        assert wanted in words


def test_a_strip_too_narrow_for_words_has_them_beside_with_a_leader(tmp_path: Path) -> None:
    one = lettered(tmp_path, straight("20 in"), width="1/2 in", finish="double-fold-binding")
    assert one.leaders
    outside = [text for text in one.texts if text.box.y0 >= one.piece.width]
    assert any("CUT 1 ON FOLD" in text.text for text in outside)


def test_every_press_line_and_sewn_edge_is_named(tmp_path: Path) -> None:
    for finish in FINISHES:
        one = lettered(tmp_path, straight("20 in"), finish=finish, width="3 in")
        words = [text.text for text in one.texts]
        for word in (*one.piece.press_words, *one.piece.end_words):
            assert any(word.text in text for text in words), (finish, word)
        assert sum("from this edge" in text for text in words) == len(one.piece.edge_words)


def test_lines_of_the_label_are_joined_whole() -> None:
    """This test ensures that no dot parts the words of a line that was broken before it was joined to the next."""
    job = read_spec(EXAMPLES / "saltmarsh-crew.toml")
    one = letter(draw_piece(figure_job(job)[0], 1, job.edition))
    said = " ".join(text.text for text in sorted(one.texts, key=lambda text: (-text.y, text.x)))
    assert "lies flat" in said
    assert "· lies flat" not in said
