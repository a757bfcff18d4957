"""What the words of a file say, held against what it declares of its lines: whoever alters the one is found by the other."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from tests.chosen import each, long
from tests.sheets.jobs import EXAMPLES, MIXED, PAIR, drawn_once
from tests.specs import piece, spec, straight
from tiler.declaration import Declaration, Host
from tiler.printed import Area, Line, Printed, Word
from tiler.proof.compare.said import compare_said
from tiler.proof.foreign.size_words import sizes_named
from tiler.usecases.draft import Wishes

SIZES = (EXAMPLES / "saltmarsh-sizes.toml").read_text(encoding="utf-8")
NAMED = spec(piece("A2", "3 cm", straight("80 cm"), cut="full-loop"), title="B7", units="cm")


@pytest.fixture(scope="module")
def declared() -> Declaration:
    return drawn_once(PAIR, Wishes(paper="letter", arrange="grid")).declaration


def failed(declaration: Declaration) -> set[str]:
    return {check.name for check in compare_said(declaration) if check.status == "fail"}


JOBS = {"sample": PAIR, "mixed": MIXED, "sizes": SIZES, "named as codes": NAMED}


WISHES = (Wishes(), Wishes(paper="one-sheet"), Wishes(nest=False), Wishes(paper="a4", cover=False))


@pytest.mark.parametrize(("name", "wishes"), [*each(JOBS, WISHES), ("sizes", Wishes())])
def test_what_is_drafted_says_what_it_is(name: str, wishes: Wishes) -> None:
    assert failed(drawn_once(JOBS[name], wishes).declaration) == set()


@pytest.mark.parametrize("cut", ["on-fold", "full-loop"])
def test_a_page_code_before_the_title_is_no_piece_in_the_list(cut: str) -> None:
    """This test ensures that a piece may be called as its page is, and the pattern as a way to cut."""
    declaration = drawn_once(
        spec(piece("A1", "3 cm", straight("60 cm"), cut=cut), title="Cut 2 on fold", units="cm"),
        Wishes(paper="one-sheet"),
    ).declaration
    assert failed(declaration) == set()
    told = "cut 1 on fold" if cut == "on-fold" else "cut 1 full length"
    for altered in ("cut 2 on fold", "cut 3 full length"):
        assert failed(reworded(told, altered)(declaration)) == {"words"}


def reworded(old: str, new: str, page: int | None = None) -> Callable[[Declaration], Declaration]:
    """Let every word that holds ``old``, or those of one page, say something else."""

    def marks(found: tuple[Printed, ...]) -> tuple[Printed, ...]:
        return tuple(
            replace(mark, text=mark.text.replace(old, new)) if isinstance(mark, Word) else mark for mark in found
        )

    def change(declaration: Declaration) -> Declaration:
        pages = tuple(
            marks(found) if page in (None, number) else found for number, found in enumerate(declaration.printed, 1)
        )
        forms = tuple(replace(form, marks=marks(form.marks)) if page is None else form for form in declaration.forms)
        changed = replace(declaration, printed=pages, forms=forms)
        assert changed != declaration
        return changed

    return change


def first(key: str, **changes: Any) -> Callable[[Declaration], Declaration]:
    """Change the first of some records."""

    def change(declaration: Declaration) -> Declaration:
        one, *others = getattr(declaration, key)
        return replace(declaration, **{key: (replace(one, **changes), *others)})

    return change


@pytest.mark.parametrize(
    ("change", "name"),
    [
        pytest.param(first("squares", nominal_mm=48.26), "said-size", id="a square is smaller than it says"),
        pytest.param(reworded("5 cm × 5 cm", "6 cm × 6 cm"), "said-size", id="a square says more"),
        pytest.param(reworded("2 in × 2 in", "square"), "words", id="a square says nothing"),
        pytest.param(first("rules", nominal_mm=193.04), "words", id="a ruler line is shorter than its numerals"),
        pytest.param(reworded("7", "6", 1), "said-size", id="a numeral is another"),
        pytest.param(reworded("in", "cm", 2), "words", id="a ruler line has another unit"),
        pytest.param(first("pieces", cut_length_mm=325.2), "said-size", id="a piece is 6 % shorter than its label"),
        pytest.param(first("pieces", cut_width_mm=215.0), "said-size", id="a piece is narrower than its label"),
        pytest.param(first("pieces", quantity=2), "words", id="a piece is cut twice"),
        pytest.param(first("pieces", cut="full-loop"), "words", id="a piece is not cut on the fold"),
        pytest.param(first("pieces", name="Cuff"), "words", id="a piece has another name"),
        pytest.param(first("pieces", size="M"), "words", id="a piece has a size"),
        pytest.param(reworded("CUT 1", "CUT 2"), "words", id="a label says to cut more"),
        pytest.param(reworded("cut 1 on fold", "cut 2 on fold", 1), "words", id="the list says to cut more"),
        pytest.param(reworded("34.6 cm (13⅝ in)", "32.6 cm (12⅞ in)", 1), "words", id="the list gives another length"),
        pytest.param(reworded("on A1,\u00a0A2", "on A1,\u00a0A3", 1), "words", id="the list names another page"),
        pytest.param(reworded("page 2 of 4", "page 3 of 4"), "words", id="a page has another number"),
        pytest.param(lambda declared: replace(declared, title="Another"), "words", id="the file has another title"),
        pytest.param(reworded("A2", "A3", 1), "words", id="the map has another page"),
    ],
)
def test_a_word_that_is_not_true_is_found(
    declared: Declaration, change: Callable[[Declaration], Declaration], name: str
) -> None:
    assert name in failed(change(declared))


def test_pages_of_the_map_lie_as_their_codes_say(declared: Declaration) -> None:
    other = {"A1": "B1", "B1": "A1"}
    first_page = tuple(
        replace(mark, text=other.get(mark.text, mark.text)) if isinstance(mark, Word) else mark
        for mark in declared.printed[0]
    )
    assert "words" in failed(replace(declared, printed=(first_page, *declared.printed[1:])))


def map_of(declaration: Declaration, number: int, move: Callable[[Area], Area | None]) -> Declaration:
    """Change the black page of the map at the foot of a page."""
    marks = [mark for mark in declaration.printed[number - 1] if not (isinstance(mark, Area) and mark.grey == 0.0)]
    (black,) = [mark for mark in declaration.printed[number - 1] if isinstance(mark, Area) and mark.grey == 0.0]
    changed = [*marks, *[one for one in [move(black)] if one]]
    printed = tuple(tuple(changed) if at == number else found for at, found in enumerate(declaration.printed, 1))
    return replace(declaration, printed=printed)


@pytest.mark.parametrize("arrange", ["grid", "stacked"])
def test_the_map_at_the_foot_shows_its_own_page_black(arrange: str) -> None:
    declaration = drawn_once(PAIR, Wishes(paper="letter", arrange=arrange)).declaration
    across = 1 if arrange == "stacked" else -1

    def beside(black: Area) -> Area:
        # the page before or behind: 2 of 4 tiles, the second of three pages
        return replace(black, area=black.area.moved(across * black.area.width, 0.0))

    assert failed(declaration) == set()
    assert failed(map_of(declaration, 3 if arrange == "grid" else 2, beside)) == {"words"}
    assert failed(map_of(declaration, 2, lambda black: None)) == {"words"}
    # what has lost a page, or has one more, is another map
    for lines in (lambda mark: mark.lines[1:], lambda mark: (*mark.lines, ((0.0, 0.0), (0.0, 1.0)))):
        printed = tuple(
            tuple(
                replace(mark, lines=lines(mark)) if isinstance(mark, Line) and not mark.tag else mark for mark in marks
            )
            for marks in declaration.printed
        )
        assert failed(replace(declaration, printed=printed)) == {"words"}


def test_a_page_that_does_not_say_which_it_is_is_found(declared: Declaration) -> None:
    assert failed(reworded("page 2 of 4", "another page")(declared)) == {"words"}


def test_raised_and_lowered_figures_are_a_fraction() -> None:
    # 8 11/16 in and 1/64 in by NIST SP 811, App. B: 1 in = 25.4 mm
    assert [size for size, _ in sizes_named("22.0 cm (8¹¹⁄₁₆ in)")] == pytest.approx([220.0, 8.6875 * 25.4])
    assert sizes_named("¹⁄₆₄ in")[0][0] == pytest.approx(25.4 / 64)


IN_HOST = Host(40, 3)


@long
@pytest.mark.parametrize(
    "wishes",
    [
        Wishes(),
        Wishes(cover=False),
        Wishes(paper="a4", nest=False, arrange="stacked"),
        Wishes(paper="one-sheet"),
    ],
)
def test_pages_that_join_a_pattern_count_those_of_the_whole_file(wishes: Wishes) -> None:
    document = drawn_once(SIZES, replace(wishes, host=IN_HOST))
    assert failed(document.declaration) == set()
    count = len(document.declaration.printed)
    words = [[mark.text for mark in marks if isinstance(mark, Word)] for marks in document.declaration.printed]
    for number, said in enumerate(words, 41):
        assert f"page {number} of {43 + count}" in said
    if not wishes.cover:
        return
    numbers = "page 41" if count == 1 else f"pages 41–{40 + count}"
    assert any(text.startswith(f"{numbers} of {43 + count} in this file, on ") for text in words[0])
    if not wishes.nest:
        assert "Pages of each size, besides page 41" in words[0]


@long
@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("pages 41–", "pages 1–"),
        ("besides page 41", "besides page 1"),
        ("page 42 of", "page 2 of"),
        ("pages 42", "pages 2"),
    ],
)
def test_a_number_of_our_pages_alone_is_not_that_of_the_whole_file(old: str, new: str) -> None:
    document = drawn_once(SIZES, Wishes(paper="a4", nest=False, host=IN_HOST))
    assert failed(reworded(old, new)(document.declaration)) == {"words"}


@long
def test_the_pages_of_a_size_are_held_against_their_codes() -> None:
    document = drawn_once(SIZES, Wishes(paper="a4", nest=False, arrange="grid"))
    said = [mark.text for mark in document.declaration.printed[0] if isinstance(mark, Word) and " (A" in mark.text]
    assert said
    number = re.split(r"\D+", said[-1].split(" (")[0])[-1]
    assert failed(reworded(f"{number} (", f"{int(number) + 1} (")(document.declaration)) == {"words"}
