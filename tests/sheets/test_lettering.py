"""Words on a piece: inside it and clear of each other and of its lines, or beside it with a leader."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, pairwise, product
from pathlib import Path

import pytest

from tests.chosen import some
from tests.sheets.jobs import EXAMPLES
from tests.specs import CUTS, FINISHES, Table, neckline, piece, spec, straight, written
from tiler.box import Box
from tiler.declaration import Tag
from tiler.draft.compute import figure_job
from tiler.draft.outline import draw_piece
from tiler.draft.spec.read import read_spec
from tiler.sheets.layout.off_joints import off_joints
from tiler.sheets.pieces.lettering import Lettered, letter
from tiler.sheets.pieces.nest import nest
from tiler.sheets.pieces.rows import Joints

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


def strips() -> Iterator[tuple[str, Table, str, str, str]]:
    """Give few combinations, in which any two choices meet, and each way to cut either name on every strip."""
    edges = [one for one in EDGES if one not in (("8 in", NECKLINE), ("12 in", NECKLINE))]
    for edge, finish in product(range(len(edges)), range(len(FINISHES))):
        cut, name = (edge + finish) % 2, (edge + finish // 2) % 2
        yield *edges[edge], FINISHES[finish], CUTS[cut], ("Neckband", LONG)[name]


@pytest.mark.parametrize(("width", "edge", "finish", "cut", "name"), some(list(strips()), 3))
def test_no_two_texts_touch_and_no_text_touches_a_line(
    tmp_path: Path, width: str, edge: Table, finish: str, cut: str, name: str
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


def crew() -> Lettered:
    job = read_spec(EXAMPLES / "saltmarsh-crew.toml")
    return letter(draw_piece(figure_job(job)[0], 1, job.edition))


def test_the_label_is_set_by_the_house_scale_and_stands_as_a_block() -> None:
    one = crew()
    size = {text.printed: (text.size, text.bold) for text in one.texts}
    assert size["Neckband"] == (14.0, True)
    assert size["CUT 1 ON FOLD"] == (10.0, True)
    assert next(size[words] for words in size if words.startswith("cut 9")) == (9.0, False)
    assert size["Saltmarsh crew top"] == size["press in half"] == (8.0, False)
    head = [text for text in one.texts if text.size > 8.0]
    assert len({text.x for text in head}) == 1
    lanes = {next(low for low, high in pairwise(one.piece.lanes) if low < text.y < high) for text in head}
    assert len(lanes) == 1


def test_what_has_no_room_is_set_smaller_and_then_said_in_fewer_words(tmp_path: Path) -> None:
    wide, narrow, short = (
        lettered(tmp_path, edge, width=width)
        for edge, width in ((NECKLINE, "4 in"), (straight("9 in"), "1 1/2 in"), (straight("7 in"), "1 1/2 in"))
    )
    sizes = [next(text.size for text in one.texts if text.text == "Neckband") for one in (wide, narrow, short)]
    assert sizes[0] == 14.0
    assert sizes[0] > sizes[1] >= sizes[2]
    assert any("good up to" in text.printed for text in wide.texts)
    assert not any("good" in text.printed for text in short.texts)
    for one in (wide, narrow, short):
        assert all(text.y < one.piece.width for text in one.texts)
        assert not one.leaders


def test_a_strip_under_an_inch_has_its_label_in_one_line(tmp_path: Path) -> None:
    one = lettered(tmp_path, NECKLINE, width="7/8 in", finish="raw-edge-binding")
    head = [text for text in one.texts if text.printed in ("Neckband", "CUT 1 ON FOLD") or text.text.startswith("cut ")]
    assert len(head) == 3
    assert len({text.y for text in head}) == 1
    assert [text.x for text in head] == sorted(text.x for text in head)


@pytest.mark.parametrize("width", ["1/2 in", "3/4 in", "1 in", "2 in"])
def test_the_smallest_type_stands_on_strips_under_an_inch_alone(tmp_path: Path, width: str) -> None:
    one = lettered(tmp_path, straight("30 in"), finish="double-fold-binding", width=width)
    assert min(text.size for text in one.texts) >= (7.0 if one.piece.width < 25.4 else 8.0)


def test_no_line_ends_between_a_value_and_its_word() -> None:
    job = read_spec(EXAMPLES / "saltmarsh-vee.toml")
    for number, figures in enumerate(figure_job(job), 1):
        lines = [text.printed for text in letter(draw_piece(figures, number, job.edition)).texts]
        assert any("sewn length 56.9 cm (22⅜ in)" in line for line in lines)
        assert not any(line.endswith(("sewn length", "good up to", "finished width", "·")) for line in lines)


@pytest.mark.parametrize("cut", ["on-fold", "full-loop"])
def test_seam_lines_run_from_end_seam_to_end_seam_where_the_strip_is_stitched(tmp_path: Path, cut: str) -> None:
    """This test ensures 1/8 in from both edges of a folded band, and half the sewn length or all of it."""
    one = lettered(tmp_path, NECKLINE, cut=cut)
    seams = [part.subpaths[0] for part in one.parts if part.tag == Tag.SEAM_LINE]
    assert sorted(line[0][1] for line in seams) == pytest.approx([25.4 / 8, 2 * 25.4 - 25.4 / 8])
    loop = one.piece.figures.loop_mm
    for (x0, y0), (x1, y1) in seams:
        assert y0 == y1
        assert x1 - x0 == pytest.approx(loop / 2 if cut == "on-fold" else loop)
        assert x1 == pytest.approx(one.piece.length - one.piece.figures.join_allowance_mm)


def test_a_seam_line_on_a_press_line_is_not_drawn_twice(tmp_path: Path) -> None:
    """A turned binding is stitched in its first fold, whose press line says so."""
    one = lettered(tmp_path, NECKLINE, finish="double-fold-binding")
    assert not any(part.tag == Tag.SEAM_LINE for part in one.parts)
    assert "sew, press over" in [text.text for text in one.texts]


def test_the_words_at_an_edge_stand_alone_between_it_and_the_seam() -> None:
    one = crew()
    low, high = one.piece.lanes[1], one.piece.lanes[-2]
    for inside in (lambda box: box.y1 < low and box.y0 > 0, lambda box: box.y0 > high):
        assert [text.printed for text in one.texts if inside(text.box)] == ["stitch ¼ in (0.6 cm) from this edge"]


def test_the_end_seam_is_named_at_its_line() -> None:
    one = crew()
    seam = next(part.subpaths[0][0][0] for part in one.parts if part.tag == Tag.JOIN_LINE)
    name = next(text for text in one.texts if text.text == "end seam (CB)")
    assert seam - name.box.x1 == pytest.approx(1.5, abs=0.01)


def test_notches_are_named_outside_at_their_ticks() -> None:
    one = crew()
    names = {text.text: text.box for text in one.texts if text.box.y1 < 0}
    assert list(names) == ["CF", "shoulder", "CB"]
    for notch in one.piece.figures.notches:
        assert names[notch.name].x0 - 0.01 <= notch.at_mm <= names[notch.name].x1 + 0.01
    assert min(box.x0 for box in names.values()) >= 0
    assert max(box.x1 for box in names.values()) <= one.piece.length


def test_halves_and_quarters_are_called_by_their_signs(tmp_path: Path) -> None:
    one = lettered(tmp_path, straight("20 in"), cut="full-loop")
    assert [text.text for text in one.texts if text.box.y1 < 0] == ["¼", "½", "¼"]


def test_a_name_that_a_joint_would_cut_stands_beside_it_with_a_leader() -> None:
    job = read_spec(EXAMPLES / "saltmarsh-crew.toml")
    piece = draw_piece(figure_job(job)[0], 1, job.edition)
    at = next(word.at for word in piece.notch_words if word.text == "shoulder")
    one = letter(piece, Joints(((at - 5.0, at + 5.0),)))
    name = next(text for text in one.texts if text.text == "shoulder")
    assert name.box.x1 < at - 5.0 or name.box.x0 > at + 5.0
    assert any(leader[0][0] == at for leader in one.leaders)
    assert one.bounds == crew().bounds


@pytest.mark.parametrize("past", [-0.15, 0.0, 0.15, 0.3])
def test_a_short_name_at_the_end_of_a_joint_makes_the_piece_no_deeper(past: float, tmp_path: Path) -> None:
    """This test ensures that a name which a joint pushes just off its tick has its leader beside it."""
    piece = lettered(tmp_path, straight("20 in"), cut="full-loop").piece
    at = next(word.at for word in piece.notch_words if word.text == "½")
    one = letter(piece, Joints(((at - 10.0, at - past),)))
    name = next(text for text in one.texts if text.text == "½")
    assert not name.box.x0 < at - past < name.box.x1
    assert one.bounds == letter(piece).bounds


def test_words_that_reach_a_hair_into_the_next_page_are_put_elsewhere(tmp_path: Path) -> None:
    family = [lettered(tmp_path, straight("20 in"), cut="full-loop").piece]
    group = nest(family)
    box = group.bounds
    end = next(text.box.x1 for text in group.members[0].texts if text.text == "½")
    left = Box(box.x0 - 10.0, box.y0, end + 10.0, box.y1)
    right = Box(end - 0.1, box.y0, box.x1 + 10.0, box.y1)
    one = off_joints(group, family, box, [left, right], turned=False)
    assert one.bounds == box
    for text in one.members[0].texts:
        assert left.holds(text.box) or not left.overlaps(text.box), text
        assert right.holds(text.box) or not right.overlaps(text.box), text
