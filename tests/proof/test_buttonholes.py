"""Buttonholes are proved like every other mark: one that is moved, turned away, lost or doubled fails."""

from __future__ import annotations

from dataclasses import replace

import pytest

from tests.proof import faults as f
from tests.proof.conftest import proved
from tests.sheets.jobs import drawn_once
from tests.specs import piece, spec, straight
from tests.usecases.every_edge import text_of
from tiler.printed import Word
from tiler.proof import prove
from tiler.proof.compare.said import compare_said
from tiler.usecases.draft import Wishes

BUTTONS = {"count": 2, "first": "1 in", "last": "1 in", "diameter": "1/2 in"}
TAB = spec(piece("Tab", "1 in", straight("5 in"), closed=False, buttons=BUTTONS, ratio="100 %"))
ONE = Wishes(cover=False)


def test_a_band_with_buttonholes_is_true_to_scale() -> None:
    assert prove(drawn_once(TAB, ONE).data).verdict == "true-to-scale"


@pytest.mark.parametrize(
    ("how", "check"),
    [
        (f.by(f.moved(0.3)), "piece"),
        (f.by(f.moved(0.0, -0.3)), "piece"),
        (f.by(f.scaled(0.98)), "piece"),
        (f.removed, "piece"),
        (f.copied(f.moved(0.0, 6.0)), "stray"),
    ],
)
def test_a_fault_of_a_buttonhole_is_found(how: object, check: str) -> None:
    report = proved(drawn_once(TAB, ONE), f.alter_in_piece("Buttonhole", 1, how, 1))  # type: ignore[arg-type]
    assert report.verdict == "incomplete"
    assert check in {one.name for one in report.checks if one.status == "fail"}


def faults_said(text: str, said: str, instead: str) -> list[str]:
    """Return the checks that fail of a declaration whose words say something else."""
    declaration = drawn_once(text, ONE).declaration
    assert not [one for one in compare_said(declaration) if one.status == "fail"]
    forms = [
        replace(
            form, marks=tuple(_reworded(one, said, instead) if isinstance(one, Word) else one for one in form.marks)
        )
        for form in declaration.forms
    ]
    assert sum(one != other for one, other in zip(forms, declaration.forms, strict=True)) == 1
    other = replace(declaration, forms=tuple(forms))
    return [one.name for one in compare_said(other) if one.status == "fail"]


def _reworded(word: Word, said: str, instead: str) -> Word:
    plain = word.text.replace("\u00a0", " ")
    return replace(word, text=plain.replace(said, instead)) if said in plain else word


@pytest.mark.parametrize(
    ("said", "instead"),
    # 12 mm and 3 mm are 1.5 cm; in the middle of 20 cm less 2 cm at either end they lie 8 cm apart
    [
        ("3 buttonholes", "4 buttonholes"),
        ("3 buttonholes", "13 buttonholes"),
        ("3 buttonholes, 1.5 cm", "3 buttonholes, 1.7 cm"),
        ("8.0 cm", "8.5 cm"),
    ],
)
def test_words_of_other_buttonholes_than_are_drawn_are_found(said: str, instead: str) -> None:
    assert faults_said(text_of("buttons"), said, instead) == ["said-size"]


@pytest.mark.parametrize(
    ("languages", "said"),
    [
        (["de", "en"], "2 Knopflöcher"),
        (["en", "fr"], "2 boutonnières"),
        (["es"], "2 ojales"),
        (["nl"], "2 knoopsgaten"),
    ],
)
def test_they_are_found_in_every_language_and_over_two_lines(languages: list[str], said: str) -> None:
    tab = spec(piece("Tab", "1 in", straight("8 in"), closed=False, buttons=BUTTONS, ratio="100 %"), language=languages)
    assert faults_said(tab, said, said.replace("2", "12")) == ["said-size"]
