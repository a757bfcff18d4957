"""The first page: its steps, its table of pieces, fittings, cautions and long titles; how its table is proved."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import pytest

from tests.chosen import long, some
from tests.look.faults import page_faults, style_faults
from tests.look.printed import printed
from tests.sheets.jobs import EXAMPLES, drawn_once
from tests.specs import piece, spec, straight, table
from tiler.declaration import Declaration
from tiler.printed import Word
from tiler.proof.compare.said import compare_said
from tiler.sheets.cover.piece_table import CoverPiece, set_table
from tiler.usecases.draft import Wishes

NAMES = tuple(str(number) for number in range(30, 50))
PIECES = ("Neckband", "Armhole binding", "Cuff", "Hem band", "Pocket binding", "Leg band of the longer sort")
TITLE = "Smock with the gathered yoke, longer sleeves and cuffs, for the whole family"


def band(name: str = "Cuff", **changes: object) -> str:
    return piece(name, "5/8 in", straight("9 in"), fabric="rib", cut="on-fold", **changes)


def job(*pieces: str, title: str = "Cuffs", **head: object) -> str:
    return spec(*pieces, title=title, units="in", fabrics={"rib": "60 %"}, **head)


def family(names: Sequence[str]) -> str:
    """Return a job of pieces in twenty sizes."""
    bands = (
        piece(
            name,
            "5/8 in",
            straight({size: f"{14 + k + step / 2} in" for step, size in enumerate(NAMES)}),
            fabric="rib",
            cut="on-fold",
        )
        for k, name in enumerate(names)
    )
    return job(*bands, title=TITLE, sizes=list(NAMES))


FAMILY = family(PIECES)


def first_page(text: str, wishes: Wishes | None = None) -> list[Word]:
    return [mark for mark in drawn_once(text, wishes).declaration.printed[0] if isinstance(mark, Word)]


def said(text: str, wishes: Wishes | None = None) -> str:
    return " ".join(word.text for word in first_page(text, wishes))


def test_the_steps_stand_in_their_order_and_name_no_program() -> None:
    words = said((EXAMPLES / "saltmarsh-child.toml").read_text("utf-8"))
    assert re.findall(r"\b[1-4] (?:Print|Measure|Tape|Cut)\b", words) == ["1 Print", "2 Measure", "3 Tape", "4 Cut"]
    assert "100 % or “actual size”" in words
    assert not re.search(r"Adobe|Acrobat|Chrome|Firefox|Edge:|Preview", words)
    assert "half a millimetre" in words
    assert "1 mm" in words


def test_where_nothing_is_taped_that_step_is_left_out() -> None:
    assert re.findall(r"\b[1-4] (?:Print|Measure|Tape|Cut)\b", said(job(band()))) == ["1 Print", "2 Measure", "3 Cut"]


@long
def test_a_long_title_goes_on_over_lines_and_is_never_cut_off() -> None:
    for repeated in (1, 2):
        title = " ".join([TITLE] * repeated)
        words = first_page(job(band(), title=title))
        lines = [word for word in words if word.bold and word.text in title and len(word.text) >= 12]
        assert " ".join(line.text for line in lines) == title
        # two lines of 14 pt at most, else all in 8 pt
        assert [line.size for line in lines] == [14.0 if repeated == 1 else 8.0] * 2
        assert not any(word.text.endswith("…") for word in words)


@pytest.mark.parametrize(
    ("keys", "head", "told"),
    [
        ({}, {}, False),
        ({"child": True}, {}, True),
        ({}, {"child": True}, True),
        ({"opening": {"must-pass": "head, 24 months"}}, {}, True),
        ({"opening": {"must-pass": "head, woman"}}, {}, False),
    ],
    ids=["nobody said", "the piece", "the spec", "by reference", "a woman's head"],
)
def test_cautions_for_children_stand_where_a_child_wears_it(keys: dict, head: dict, told: bool) -> None:
    keys = {key: table(**value) if isinstance(value, dict) else value for key, value in keys.items()}
    words = said(job(band(**keys), **head))
    assert ("16 CFR 1120" in words) is told
    assert "Rotary cutter" in words
    assert "Iron" in words


def test_fittings_are_told_with_their_date() -> None:
    trials = [table(lengthen="1/8 in", on="loop"), table(shorten="3/16 in", on="fold", date="2026-11-09")]
    words = said(job(band(trials=trials)))
    assert "Fitting 1, ⅛ in (0.3 cm) longer round the loop; fitting 2, 2026-11-09, ³⁄₁₆ in (0.5 cm) shorter" in words
    assert "at the fold" in words


@pytest.mark.parametrize(
    ("name", "told"),
    [
        ("saltmarsh-vee.toml", ("Stay-stitch", "stop and pivot", "women's right over left", "ood from 46.6")),
        # 34 cm / (1 + 60 % of 90 %)
        ("saltmarsh-child.toml", ("ood from 22.1",)),
    ],
)
def test_what_a_label_has_no_room_for_stands_on_the_first_page(name: str, told: tuple[str, ...]) -> None:
    declaration = drawn_once((EXAMPLES / name).read_text("utf-8"), Wishes(paper="letter")).declaration
    painted = (*declaration.printed, *(form.marks for form in declaration.forms))
    words = " ".join(mark.text for marks in painted for mark in marks if isinstance(mark, Word))
    assert [one for one in told if one not in words] == []


# apart, what takes room is the list of the pages of each size, however many pieces there are
@long
@pytest.mark.parametrize(
    ("names", "wishes"), [(PIECES, Wishes()), (PIECES[:4], Wishes(nest=False))], ids=["nested", "apart"]
)
def test_twenty_sizes_of_six_pieces_have_room(names: Sequence[str], wishes: Wishes) -> None:
    text = family(names)
    document = drawn_once(text, wishes)
    words = said(text, wishes)
    for name in names:
        assert f"{name} 30–49 cut 1 on fold" in words
    if not wishes.nest:
        assert all(re.search(rf"\b{size} pages \d+", words) for size in NAMES)
    assert "more size" not in words
    assert "other piece" not in words
    page = next(printed(document.data))
    assert [*page_faults(page), *style_faults(page)] == []


@long
def test_more_pieces_than_have_room_are_counted() -> None:
    text = job(*(band(f"Cuff number {number}") for number in range(30)))
    assert re.search(r"\d+ other pieces: each says itself how it is cut", said(text))
    page = next(printed(drawn_once(text).data))
    assert page_faults(page) == []


def altered(declaration: Declaration, old: str, new: str) -> set[str]:
    """Return the checks that fail when words of the first page say something else."""
    marks = tuple(
        replace(mark, text=mark.text.replace(old, new)) if isinstance(mark, Word) else mark
        for mark in declaration.printed[0]
    )
    assert marks != declaration.printed[0]
    changed = replace(declaration, printed=(marks, *declaration.printed[1:]))
    return {check.name for check in compare_said(changed) if check.status == "fail"}


@long
def test_the_rows_of_sizes_are_proved() -> None:
    declaration = drawn_once(FAMILY).declaration
    assert altered(declaration, "cut 1 on fold", "cut 2 on fold") == {"words"}
    words = first_page(FAMILY)
    shown = next(after.text for word, after in pairwise(words) if word.text == "cut 1 on fold")
    assert " to " in shown
    assert altered(declaration, shown, shown.replace("6", "7")) == {"words"}
    assert altered(declaration, "from the fold × 1¾ in (4.4 cm)", "from the fold × 2¾ in (7.0 cm)") == {"words"}


def test_a_cell_without_room_wraps_and_loses_nothing() -> None:
    row = CoverPiece(
        "Neckband" * 12, "M", "cut 1 on fold", "9 in (22.9 cm) × 1¾ in (4.4 cm)", "rib " * 20, "on A1", "1"
    )
    set_rows = set_table([row], 167.0)
    assert sum(set_rows.widths) + 3.0 * (len(set_rows.widths) - 1) <= 167.0
    (cells,) = set_rows.rows
    assert "".join(cells[0]) == row.name
    assert " ".join(cells[4]).split() == row.fabric.split()


@long
@pytest.mark.parametrize("paper", some(["letter", "a4"], 2))
def test_too_much_for_the_page_meets_nothing(paper: str) -> None:
    """This test ensures that the pages of each size go before rows of the table, and both before the cautions."""
    long = "Neckline band for the gathered yoke, wrong side facing, left"
    sizes = NAMES[:4]
    text = job(
        *(
            piece(
                f"{long} {k}",
                "1 in",
                straight({size: f"{20 + k + step / 2} in" for step, size in enumerate(sizes)}),
                fabric="rib",
                garment_fabric="rib",
                child=True,
                opening=table(**{"must-pass": "60 in"}),
            )
            for k in range(9)
        ),
        title=f"{TITLE} {TITLE}",
        sizes=list(sizes),
    )
    wishes = Wishes(paper=paper, nest=False, arrange="grid")
    words = said(text, wishes)
    assert all(re.search(rf"\b{size} pages \d+", words) for size in sizes)
    assert "other piece" in words
    assert page_faults(next(printed(drawn_once(text, wishes).data))) == []
