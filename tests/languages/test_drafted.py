"""Drafted pages in every language: they say what they are, look as they should, and what is wrong on them is found."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from tests.chosen import each, long
from tests.languages.test_nothing_english import SPECS, job_of
from tests.look.test_leaflets import faults as leaflet_faults
from tests.look.test_pages import faults
from tests.proof.test_said import failed, reworded
from tests.sheets.jobs import EXAMPLES
from tiler.declaration import Declaration
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.languages.words import speaking
from tiler.printed import Word
from tiler.proof.proving import prove
from tiler.proof.report.verdict import Verdict
from tiler.sheets.document import Document
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.draft import Wishes, draw_job

CREW, SIZES, VEE, REMNANT = (EXAMPLES / f"saltmarsh-{name}.toml" for name in ("crew", "sizes", "vee", "remnant"))
OTHERS = ("de", "fr", "es", "nl")
BOTH = ("en", "de")


@cache
def figures_of(file: Path) -> tuple[Figures, ...]:
    return figure_job(job_of(file))


@cache
def document(file: Path, languages: tuple[str, ...], paper: str = "a4") -> Document:
    """Draw an example once for all tests."""
    job = job_of(file)
    job = replace(job, edition=replace(job.edition, languages=languages))
    return draw_job(job, figures_of(file), Wishes(paper=paper))


def words(declaration: Declaration) -> list[str]:
    """Return all words of pages and pieces."""
    painted = (*declaration.printed, *(form.marks for form in declaration.forms))
    return [mark.text for marks in painted for mark in marks if isinstance(mark, Word)]


@long
@pytest.mark.parametrize(
    ("file", "language"), [*each(SPECS, OTHERS), (SIZES, "de")], ids=lambda one: getattr(one, "stem", one)
)
def test_every_example_says_what_it_is(file: Path, language: str) -> None:
    declaration = document(file, (language,)).declaration
    assert failed(declaration) == set()
    assert declaration.languages == (language,)


@long
@pytest.mark.parametrize(
    ("file", "languages"),
    [(CREW, ("de",)), (SIZES, ("fr",)), (VEE, ("es",)), (REMNANT, ("nl",)), (CREW, BOTH)],
    ids=lambda one: getattr(one, "stem", one),
)
def test_its_file_is_proved_true(file: Path, languages: tuple[str, ...], tmp_path: Path) -> None:
    target = tmp_path / "out.pdf"
    target.write_bytes(document(file, languages).data)
    assert prove(target, as_made=True).verdict is Verdict.TRUE


@pytest.mark.parametrize(
    ("file", "languages"),
    [*each([CREW, SIZES, VEE], [BOTH, ("de",), ("fr",)])],
    ids=lambda one: getattr(one, "stem", one),
)
def test_its_words_stand_clear_of_each_other(file: Path, languages: tuple[str, ...]) -> None:
    assert faults(document(file, languages)) == []


@long
@pytest.mark.parametrize(("name", "language"), each(["bindings", "remnant"], ["de", "fr"]))
def test_words_of_charts_and_instructions_do_too(name: str, language: str) -> None:
    """This test ensures that the key of the drawings goes on in a second row where it has to."""
    file = EXAMPLES / f"saltmarsh-{name}.toml"
    figures, edition = figures_of(file), job_of(file).edition
    with speaking(language):
        chart, leaflet = chart_pdf(figures, edition, "letter"), instruction_pdf(finishes_of(figures, edition), "letter")
    assert leaflet_faults(chart) == []
    assert leaflet_faults(leaflet.data) == []


@long
def test_how_a_piece_is_cut_stands_on_one_line_of_the_table() -> None:
    (first, *_) = document(SIZES, ("de",), "letter").declaration.printed
    assert [mark.text for mark in first if isinstance(mark, Word)].count("2× in voller Länge zuschneiden") == 2


@cache
def crew_in_cm() -> Declaration:
    job = job_of(CREW)
    edition = replace(job.edition, languages=("de",), units="cm")
    return draw_job(replace(job, edition=edition), figures_of(CREW), Wishes()).declaration


@pytest.mark.parametrize(
    ("change", "name"),
    [
        pytest.param(reworded("1× IM BRUCH", "2× IM BRUCH"), "words", id="a label says to cut more"),
        pytest.param(reworded("1× im Bruch", "2× im Bruch"), "words", id="the table says to cut more"),
        pytest.param(reworded("Zuschnitt 24,6 cm", "Zuschnitt 23,6 cm"), "said-size", id="a label says less"),
        pytest.param(reworded("24,6 cm", "24.6 cm"), "said-size", id="a decimal point"),
        pytest.param(lambda declared: replace(declared, languages=("fr",)), "words", id="it is in another language"),
    ],
)
def test_what_is_wrong_in_german_is_found(change: Callable[[Declaration], Declaration], name: str) -> None:
    assert name in failed(change(crew_in_cm()))


def test_two_languages_stand_on_page_1_and_on_the_label() -> None:
    said = " ".join(words(document(CREW, BOTH, "letter").declaration))
    for text in ("1 Print / Drucken", "CUT 1 ON FOLD", "IM BRUCH", "folded band · rib", "doppelt gelegtes Bündchen"):
        assert text in said


@pytest.mark.parametrize(
    ("change", "name"),
    [
        pytest.param(reworded("/ 1× IM", "/ 2× IM"), "words", id="the second language says to cut more"),
        pytest.param(reworded("CUT 1", "CUT 2"), "words", id="the first does"),
        pytest.param(reworded("1¾ in (4,4 cm)", "1½ in (3,8 cm)"), "said-size", id="the second says less"),
    ],
)
def test_what_is_wrong_in_one_of_two_languages_is_found(
    change: Callable[[Declaration], Declaration], name: str
) -> None:
    assert name in failed(change(document(CREW, BOTH).declaration))


@long
def test_without_room_the_leading_language_stands_alone() -> None:
    """This test ensures that neither a page is added nor a row left out for the second language."""
    both, alone = (document(REMNANT, languages, "letter").declaration for languages in (BOTH, BOTH[:1]))
    assert len(both.printed) == len(alone.printed)
    rows = [[mark.text for mark in one.printed[0] if isinstance(mark, Word)] for one in (both, alone)]
    assert rows[0] == rows[1]
    assert "cut 1 on fold" in rows[0]
