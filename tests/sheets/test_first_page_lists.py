"""The lists of the first page: lengths by size where sizes share a row, and notes that go on on a page of their own."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from pikepdf import Pdf

from tests.chosen import long, some
from tests.look.faults import page_faults, style_faults
from tests.look.printed import Area, printed
from tests.proof.conftest import changed
from tests.sheets.jobs import EXAMPLES, drawn_once
from tests.specs import piece, shaped, spec, straight, table
from tiler.declaration import Declaration, PageKind
from tiler.printed import Word
from tiler.proof import prove
from tiler.proof.compare.said import compare_said
from tiler.proof.report.verdict import Verdict
from tiler.sheets.cover.lengths import Lengths, set_lengths
from tiler.sheets.cover.notes import height_of_notes
from tiler.usecases.draft import Wishes

SIZES = (EXAMPLES / "saltmarsh-sizes.toml").read_text(encoding="utf-8")
NECKBAND = ("9¹⁄₁₆ in (23.0 cm)", "9¼ in (23.5 cm)", "9½ in (24.1 cm)", "9¹¹⁄₁₆ in (24.6 cm)")
"""Of the four smallest sizes, from the fold: those of the cutting chart."""

BOTH = spec(
    piece(
        "Cuff",
        "5/8 in",
        straight("9 in"),
        fabric="rib",
        cut="on-fold",
        trials=[table(shorten="3/16 in", on="fold", date="2026-11-09")],
    ),
    title="Cuffs",
    units="in",
    fabrics={"rib": "60 %"},
    language=["en", "de"],
)

MANY = spec(
    *(
        piece(
            f"Cuff number {k}",
            "5/8 in",
            straight(f"{9 + k / 8} in"),
            fabric="rib",
            cut="on-fold",
            trials=[table(lengthen=f"{1 + k}/32 in", on="loop", date=f"2026-11-{k + 1:02d}")],
        )
        for k in range(24)
    ),
    title="Cuffs",
    units="in",
    fabrics={"rib": "60 %"},
)
"""A note of its own for each piece, and some more."""


def words(declaration: Declaration, page: int = 1) -> list[Word]:
    return [mark for mark in declaration.printed[page - 1] if isinstance(mark, Word)]


def failed(declaration: Declaration, change: Callable[[Word], Word | None]) -> set[str]:
    """Return the checks that fail when words of the first page are others, or not there."""
    marks = [change(mark) if isinstance(mark, Word) else mark for mark in declaration.printed[0]]
    page = tuple(mark for mark in marks if mark is not None)
    assert page != declaration.printed[0]
    altered = replace(declaration, printed=(page, *declaration.printed[1:]))
    return {check.name for check in compare_said(altered) if check.status == "fail"}


@long
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_sizes_that_share_a_row_have_their_lengths_below_it(paper: str) -> None:
    document = drawn_once(SIZES, Wishes(paper=paper))
    said = " ".join(word.text for word in words(document.declaration))
    assert "XXS–3XL" in said
    assert "Cut lengths by size Size Neckband from the fold Armhole binding Cuff XXS" in said
    for size, length in zip(("XXS", "XS", "S", "M"), NECKBAND, strict=True):
        assert f" {size} {length} " in said
    page = next(printed(document.data))
    assert [*page_faults(page), *style_faults(page)] == []


@pytest.mark.parametrize(
    "change",
    [
        pytest.param(lambda word: replace(word, text=word.text.replace("9½ in", "9¾ in")), id="another length"),
        pytest.param(lambda word: None if word.text == "9½ in (24.1 cm)" else word, id="no length"),
        pytest.param(lambda word: replace(word, text="M" if word.text == "L" else word.text), id="another size"),
        pytest.param(lambda word: None if word.text == "from the fold" else word, id="no longer from the fold"),
        pytest.param(lambda word: replace(word, text=word.text.replace("Cuff", "Cuf")), id="another piece"),
    ],
)
def test_the_lengths_by_size_are_proved(change: Callable[[Word], Word | None]) -> None:
    declaration = drawn_once(SIZES, Wishes(paper="letter")).declaration
    table_starts = next(index for index, word in enumerate(words(declaration)) if word.text == "Cut lengths by size")
    below = {id(word) for word in words(declaration)[table_starts + 1 :]}
    assert failed(declaration, lambda word: change(word) if id(word) in below else word) == {"words"}


def test_lengths_without_room_in_one_block_stand_in_several() -> None:
    rows = tuple((str(size), "10 in (25.4 cm)") for size in range(30, 50))
    tables = set_lengths(Lengths((("Neckband", "from the fold"),), rows), 167.0)
    assert [len(one.blocks) for one in tables][:3] == [1, 2, 3]
    assert tables[2].height < tables[1].height < tables[0].height
    assert all(tuple(row for block in one.blocks for row in block) == rows for one in tables)
    # too narrow for a column there is none
    assert set_lengths(Lengths((("Neckband", ""),), rows), 20.0) == []


def test_good_lengths_that_the_label_says_are_not_said_again() -> None:
    declaration = drawn_once((EXAMPLES / "saltmarsh-crew.toml").read_text("utf-8"), Wishes(paper="letter")).declaration
    on_piece = " ".join(mark.text for form in declaration.forms for mark in form.marks if isinstance(mark, Word))
    assert "good from 17¹⁄₁₆ in" in on_piece
    assert not any("ood from" in word.text for word in words(declaration))


def test_notes_stand_in_two_columns_before_they_go_on_elsewhere() -> None:
    notes = [(f"Fitting {number}",) for number in range(8)]
    assert height_of_notes(notes, 167.0, 2) == pytest.approx(height_of_notes(notes, 167.0, 1) / 2)


@pytest.mark.parametrize(
    ("shape", "width", "told"),
    [
        pytest.param(shaped("scoop", 16, 16, 2), 1.5, "Bends too much at CF", id="a remark"),
        pytest.param(shaped("scoop", 16, 22, 2), 1.5, "Bends too much at CF", id="a check that is not passed"),
    ],
)
def test_what_is_found_is_told_on_paper_without_the_keys_that_mend_it(shape: dict, width: float, told: str) -> None:
    text = spec(piece("Band", width, shape, fabric="rib", ease="even"), units="cm", fabrics={"rib": "70 %"})
    document = drawn_once(text)
    said = " ".join(word.text for word in words(document.declaration))
    assert told in said
    assert "write" not in said
    assert "compute again" not in said
    assert "ease =" not in said


def test_what_the_spec_does_not_say_is_no_matter_of_who_cuts() -> None:
    cuff = piece("Cuff", "5/8 in", straight("9 in"), fabric="rib", opening=table(**{"must-pass": "8 in"}))
    text = spec(cuff, units="in", fabrics={"rib": "60 %"})
    assert "not checked" not in " ".join(word.text for word in words(drawn_once(text).declaration))


@long
@pytest.mark.parametrize("paper", some(["letter", "a4"], 2))
def test_no_note_is_lost(paper: str) -> None:
    document = drawn_once(MANY, Wishes(paper=paper))
    declaration = document.declaration
    assert [page.kind for page in declaration.pages[:3]] == [PageKind.COVER, PageKind.NOTES, PageKind.TILE]
    first, second = (" ".join(word.text for word in words(declaration, page)) for page in (1, 2))
    assert "Other notes: page 2." in first
    for k in range(24):
        date = f"2026-11-{k + 1:02d}"
        assert (date in first) != (date in second)
        # of what stands on the second page the piece is named
        assert date in first or re.search(rf"\d+ Cuff number {k}: Fitting 1, {date}", second)
    assert "…" not in first + second
    for page, _ in zip(printed(document.data), range(2), strict=False):
        assert [*page_faults(page), *style_faults(page)] == []


@long
def test_pages_of_notes_are_proved_like_others() -> None:
    document = drawn_once(MANY, Wishes(paper="letter"))
    report = prove(document.data, as_made=True)
    assert (report.verdict, report.warned) == (Verdict.TRUE, ())

    def without_notes(pdf: Pdf) -> None:
        del pdf.pages[1]

    left = prove(changed(document, without_notes))
    assert [check.detail for check in left.warned if check.name == "pages"] == [
        "left out: page Notes, with no piece; the pieces on the other pages are whole"
    ]


def test_cells_and_notes_stand_in_both_languages_where_there_is_room() -> None:
    said = " ".join(word.text for word in words(drawn_once(BOTH).declaration))
    for part in (
        "Piece Teil To cut Zuschnitt Long × wide Länge × Breite",
        "Cuff cut 1 on fold 1× im Bruch zuschneiden",
        "4 in (10.1 cm) from the fold × 1¾ in (4.4 cm) 4 in (10,1 cm) ab Bruch × 1¾ in (4,4 cm)",
        "Fitting 1, 2026-11-09, ³⁄₁₆ in (0.5 cm) shorter at the fold",
        "Anprobe 1, 2026-11-09, ³⁄₁₆ in (0,5 cm) kürzer am Bruch",
    ):
        assert part in said


@pytest.mark.parametrize(
    ("old", "new"),
    [("1× im Bruch", "2× im Bruch"), ("(10,1 cm) ab Bruch", "(9,1 cm) ab Bruch"), ("(4,4 cm)", "(5,4 cm)")],
)
def test_cells_in_the_second_language_are_proved(old: str, new: str) -> None:
    declaration = drawn_once(BOTH).declaration
    assert failed(declaration, lambda word: replace(word, text=word.text.replace(old, new))) == {"words"}


@long
def test_what_is_taped_in_rows_says_so() -> None:
    in_rows = "First tape the pages of each row, from left to right"
    for paper, width, told in (("a4", "30 cm", True), ("a4", "10 cm", False)):
        text = spec(piece("Band", width, straight("60 cm"), cut="full-loop"), title="Bands", units="cm")
        declaration = drawn_once(text, Wishes(paper=paper, arrange="grid")).declaration
        rows = [word.text for word in words(declaration) if in_rows in word.text]
        assert bool(rows) is told


@long
@pytest.mark.parametrize("language", ["en", "de"])
def test_words_of_the_first_page_stand_clear_of_lines(language: str) -> None:
    """This test ensures 1 mm: what touches a line is read as part of it (ours)."""
    page = next(printed(drawn_once(f'language = "{language}"\n{SIZES}', Wishes(paper="letter")).data))
    close = [
        words.text
        for words in page.words
        for stroke in page.strokes
        for line in stroke.pieces
        if Area(min(line[0::2]), min(line[1::2]), max(line[0::2]), max(line[1::2]))
        .grown(1.0 + stroke.weight / 2)
        .meets(words.shown, 0.02)
    ]
    assert close == []


def test_a_garment_that_is_cut_otherwise_is_told_of_before_anything_is_cut() -> None:
    """This test ensures that page 1 says it even where the label has room for it."""
    text = (EXAMPLES / "saltmarsh-scoop.toml").read_text(encoding="utf-8")
    declaration = drawn_once(text).declaration
    first = " ".join(mark.text for mark in declaration.printed[0] if isinstance(mark, Word))
    labels = " ".join(mark.text for form in declaration.forms for mark in form.marks if isinstance(mark, Word))
    for words in (first, labels):
        assert "Add ½ in (1.3 cm) to the garment's edge before cutting" in " ".join(words.split())
