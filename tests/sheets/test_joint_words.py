"""What is said at joints: on both sides what comes there, and no word cut; every pane names its piece."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.bench.look import job
from tests.chosen import long
from tests.look.test_pages import faults
from tests.sheets.jobs import EXAMPLES, MIXED, drawn, drawn_once
from tests.specs import piece, spec, straight
from tiler.box import Box
from tiler.declaration import Declaration, PageKind
from tiler.drawn import Piece
from tiler.printed import Line, Word
from tiler.proof.ink.where import word_box
from tiler.sheets.layout import sheet as layout
from tiler.sheets.page.joint_words import SIGN
from tiler.usecases.draft import Wishes

NEAR = 25.0
"""So near to a joint stands what it tells, mm; ours."""

HEM = spec(
    piece("Hem", "3 cm", straight("70 cm"), cut="full-loop"), piece("Cuff", "3 cm", straight("20 cm")), units="cm"
)


def words_in(declaration: Declaration, code: str) -> list[Word]:
    """Return the words of the page itself that stand in the frame of a pane or tile."""
    page = next(one for one in declaration.pages if one.code == code)
    assert page.frame is not None
    found = [one for one in declaration.printed[page.number - 1] if isinstance(one, Word)]
    return [one for one in found if page.frame.holds(word_box(one))]


@pytest.mark.parametrize(("text", "arrange"), [(HEM, "stacked"), (HEM, "grid"), (MIXED, "grid")])
def test_both_sides_of_a_joint_say_what_comes_there(text: str, arrange: str) -> None:
    declaration = drawn_once(text, Wishes(arrange=arrange)).declaration
    joints = {mark.tiles for mark in declaration.marks}
    assert joints
    for one, other in joints:
        assert f"{other} joins here" in [word.text for word in words_in(declaration, one)]
        assert f"{one} joins here" in [word.text for word in words_in(declaration, other)]


def test_scissors_stand_on_the_later_side_and_the_tab_on_the_one_before() -> None:
    declaration = drawn_once(HEM, Wishes(arrange="stacked")).declaration

    def strokes_beside(code: str, says: str) -> int:
        at = next(word.at for word in words_in(declaration, code) if word.text == says)
        page = next(one for one in declaration.pages if one.code == code)
        lines = [one for one in declaration.printed[page.number - 1] if isinstance(one, Line) and not one.tag]
        near = [
            one
            for one in lines
            if all(at[0] - SIGN[0] - 2 < x < at[0] and abs(y - at[1]) < 4 for points in one.lines for x, y in points)
        ]
        assert len(near) == 1
        return sum(points[0] == points[-1] for points in near[0].lines)

    # two rings of the scissors, one outline of the tab
    assert strokes_beside("1B", "1A joins here") == 2
    assert strokes_beside("1A", "1B joins here") == 1


# the seeds draw panes whose joints are crowded: words near them have to stand behind marks and labels
@long
@pytest.mark.parametrize("seed", [103, 108])
def test_what_comes_at_a_joint_stands_near_it_and_nearer_than_to_any_other(seed: int) -> None:
    declaration = drawn_once(*job(random.Random(seed))).declaration
    pages = {page.code: page for page in declaration.pages if page.code}
    sides = {side for one, other in {mark.tiles for mark in declaration.marks} for side in ((one, other), (other, one))}
    assert sides
    for own, other in sides:
        window, frame = pages[own].window, pages[own].frame
        assert window is not None
        assert frame is not None
        # of several lines the one with the code
        said = next(one for one in words_in(declaration, own) if one.text.startswith(other))
        box = word_box(said).moved(window.x0 - frame.x0, window.y0 - frame.y0)
        off = {
            code: max(box.x0 - met.x1, met.x0 - box.x1, box.y0 - met.y1, met.y0 - box.y1)
            for one, code in sides
            if one == own and (met := pages[code].window) is not None
        }
        assert off[other] <= NEAR, (own, other)
        assert off[other] == min(off.values()), (own, other)


def test_every_pane_names_its_piece() -> None:
    declaration = drawn_once(HEM, Wishes(arrange="stacked")).declaration
    forms = {form.id: form for form in declaration.forms}
    for page in declaration.pages:
        if page.kind is not PageKind.PANE:
            continue
        assert page.window is not None
        (own,) = [one for one in declaration.pieces if one.sheet_bounds().overlaps(page.window)]
        label = [mark for mark in forms[own.id].marks if isinstance(mark, Word) and mark.text == own.name]
        said = any(page.window.holds(one) for one in (_on_sheet(own, word) for word in label))
        assert said or own.name in [word.text for word in words_in(declaration, page.code or "")], page.code


def _on_sheet(piece: Piece, word: Word) -> Box:

    box = word_box(word)
    return Box.around(piece.on_sheet(at) for at in ((box.x0, box.y0), (box.x1, box.y1)))


@long
def test_without_moving_them_words_are_cut_at_joints(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The partner of the look of the examples: the same pages with their words where they stood at first."""
    monkeypatch.setattr(layout, "off_joints", lambda group, *_: group)
    found = faults(drawn(EXAMPLES / "saltmarsh-bindings.toml", tmp_path, Wishes(arrange="grid")))
    assert any("cut at a page frame" in fault for fault in found)
    monkeypatch.undo()
    assert faults(drawn(EXAMPLES / "saltmarsh-bindings.toml", tmp_path, Wishes(arrange="grid"))) == []
