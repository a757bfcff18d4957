"""Sections on paper: page 1, labels, nests and instruction pages tell what is cut and how it is joined."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator

import pymupdf
import pytest

from tests.chosen import long
from tests.sheets.jobs import EXAMPLES, drawn_once
from tests.specs import armhole, neckline, piece, shaped, spec, straight, table
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.errors import SpecError
from tiler.printed import Word
from tiler.sheets.document import Document
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf

RIB = {"rib": table(stretch="60 %", width="14 in")}
REMNANT = (EXAMPLES / "saltmarsh-remnant.toml").read_text("utf-8")


def sized(cut: str, step: float = 1.0) -> str:
    """Return a neckband in two sizes, each in a front and a back section."""
    band = piece("Neckband", "1 in", neckline({"S": 6, "M": 6 + step}, {"S": 4, "M": 4 + step}), fabric="rib", cut=cut)
    return spec(band, title="Sized", sizes=["S", "M"], fabrics=RIB)


def forms(document: Document) -> Iterator[tuple[str, str]]:
    """Yield the words of each form by its id."""
    for form in document.declaration.forms:
        yield form.id, " ".join(mark.text for mark in form.marks if isinstance(mark, Word)).replace("\u00a0", " ")


def page_words(document: Document, number: int) -> str:
    return " ".join(mark.text for mark in document.declaration.printed[number - 1] if isinstance(mark, Word))


def test_page_1_lists_the_sections_and_says_how_they_are_joined() -> None:
    words = page_words(drawn_once(REMNANT), 1)
    for row in (
        "Neckband, front section cut 1 on fold",
        "Neckband, back section cut 1 on fold",
        "Armhole binding, front section cut 2 full length",
        "Armhole binding, back section cut 2 full length",
        "Hem band, sections 1 and 2 cut 2 on fold",
    ):
        assert row in words
    assert "Joins: shoulders. Sew the joins first, mark to mark, ¼ in (0.6 cm) from the ends" in words
    assert "Joins: underarm, shoulder." in words
    assert "Joins: sides." in words


def test_no_section_is_told_to_be_cut_once_that_must_be_cut_twice() -> None:
    for one in drawn_once(REMNANT).declaration.pieces:
        assert one.section is not None
        assert one.quantity == one.section.count * (2 if "Armhole" in one.name else 1)


def test_names_with_a_comma_are_parted_otherwise_at_the_foot() -> None:
    document = drawn_once(REMNANT)
    feet = " ".join(page_words(document, number) for number in range(2, len(document.declaration.printed) + 1))
    assert "front section; " in feet
    assert "section, Neckband" not in feet


def test_the_label_of_a_section_says_what_it_covers() -> None:
    words = dict(forms(drawn_once(REMNANT)))
    assert "Neckband, front section CUT 1 ON FOLD" in words["p1"]
    assert "81.6 % of the front of the neckline seam line, 16 in (40.6 cm)" in words["p1"]
    assert "sewn length 13 1/16 in (33.2 cm)" in words["p1"].replace("13¹⁄₁₆", "13 1/16")
    assert "of the straight seam line, one of 2 equal parts, 17 in (43.2 cm)" in words["p5"]


@long
def test_a_nest_names_both_joins_of_a_section() -> None:
    words = dict(forms(drawn_once(sized("full-loop"))))
    label = next(text for name, text in words.items() if name.endswith("s") and "front section" in text)
    assert "left join (right shoulder), right join (left shoulder): stitch ¼ in (0.6 cm) from the cut end" in label
    folded = dict(forms(drawn_once(sized("on-fold"))))
    assert any("join (shoulder): stitch" in text for text in folded.values())


def test_sections_whose_sizes_end_too_close_to_each_other_stand_apart() -> None:
    # nobody could cut halves apart that differ by a part of the 3 mm
    close = drawn_once(sized("on-fold", 0.06))
    assert not close.declaration.shared
    assert [one.size for one in close.declaration.pieces] == ["S", "M", "S", "M"]
    whole = sized("on-fold", 0.06).replace('width = "14 in"', 'width = "60 in"')
    with pytest.raises(SpecError, match="too close to be cut from one nest"):
        drawn_once(whole)


@pytest.mark.parametrize(("finish", "told"), [("folded-band", False), ("double-fold-binding", True)])
def test_mirror_images_are_cut_as_a_pair_where_the_long_edges_differ(finish: str, told: bool) -> None:
    text = spec(piece("Vee", "3/8", shaped("vee", 7, 8, 1), finish, fabric="rib", corner="mitre"), fabrics=RIB)
    (front, words), *_ = forms(drawn_once(text))
    assert front == "p1"
    assert "CUT 2 FULL LENGTH" in words
    assert ("Cut 2 as a pair: one is the mirror image of the other." in words) is told


@long
def test_instruction_pages_list_the_sections_and_join_them_first() -> None:
    job = read_tables(tomllib.loads(REMNANT), "spec.toml:")
    data = instruction_pdf(finishes_of(figure_job(job), job.edition), "letter").data
    with pymupdf.open(stream=data) as pdf:
        text = " ".join(" ".join(page.get_text() for page in pdf).split())
    assert "Neckband cut in sections" in text
    assert "sections 1 and 2" in text
    assert "A strip in sections: join these first, mark to mark and in the same way; the last join closes it." in text
    crew = read_tables(tomllib.loads((EXAMPLES / "saltmarsh-crew.toml").read_text("utf-8")), "spec.toml:")
    with pymupdf.open(stream=instruction_pdf(finishes_of(figure_job(crew), crew.edition), "letter").data) as pdf:
        assert "in sections" not in " ".join(page.get_text() for page in pdf)


def test_an_open_strip_is_joined_before_it_is_pinned() -> None:
    text = spec(piece("Front", 1, straight("30 in"), fabric="rib", closed=False), fabrics=RIB)
    job = read_tables(tomllib.loads(text), "spec.toml:")
    with pymupdf.open(stream=instruction_pdf(finishes_of(figure_job(job), job.edition), "letter").data) as pdf:
        words = " ".join(" ".join(page.get_text() for page in pdf).split())
    first = words.index("A strip in sections: join these first, mark to mark, and press the joins open.")
    assert first < words.index("Pin the strip mark to mark, from its middle to both ends.")
    assert "sections 1 and 3 of 3" in words


def test_an_armhole_on_fold_is_told_of_its_layers_only_where_it_is_whole() -> None:
    text = spec(piece("Armhole", "1/2", armhole(9, 11), fabric="rib", cut="on-fold"), fabrics=RIB)
    layer = "belongs on one layer only"
    (pieced,) = figure_job(read_tables(tomllib.loads(text), "spec.toml:"))
    (whole,) = figure_job(read_tables(tomllib.loads(text.replace("14 in", "60 in")), "spec.toml:"))
    assert any(layer in warning for warning in whole.warnings)
    assert not any(layer in warning for warning in pieced.warnings)
