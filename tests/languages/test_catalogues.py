"""Every catalogue says every template, with its fields, and nothing else."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from babel.messages.catalog import Catalog

from tests.chosen import long
from tests.languages.messages import Key, catalogue, faults, templates
from tiler.languages.catalogue import ENGLISH, LANGUAGES, catalogue_file, decimal_sign
from tiler.languages.proved import SQUARES_NAMED, TEST_SQUARE
from tiler.languages.words import say, speaking

OTHERS = [language for language in LANGUAGES if language != ENGLISH]


@pytest.fixture(scope="module")
def found() -> Mapping[Key, list[str]]:
    return templates()


@long
@pytest.mark.parametrize("language", OTHERS)
def test_a_catalogue_says_all_there_is(language: str, found: Mapping[Key, list[str]]) -> None:
    assert list(faults(language, catalogue(language), found)) == []


@long
def test_what_is_said_on_the_terminal_alone_is_in_none(found: Mapping[Key, list[str]]) -> None:
    assert not [file for files in found.values() for file in files if file.startswith("tiler/commands/")]


def test_there_is_a_catalogue_for_each_language_and_none_besides() -> None:
    assert {file.stem for file in catalogue_file("de").parent.glob("*.po")} == {*OTHERS}


def made(*entries: tuple[Key, object]) -> Catalog:
    one = Catalog(locale="de")
    for key, text in entries:
        one.add(key, text)
    return one


@pytest.mark.parametrize(
    ("entries", "fault"),
    [
        ([("a {b}", "")], "has no translation"),
        ([], "has no translation"),
        ([("a {b}", "c {d}")], "has other fields"),
        ([("a {b}", "c {b:.2f}")], "has other fields"),
        ([("a {b}", "c {b} {b} {e}")], "has other fields"),
        ([("a {b}", "c {b")], "has other fields"),
        ([("a {b}", "c {b}"), ("other", "anders")], "is no template"),
    ],
)
def test_a_fault_of_a_catalogue_is_found(entries: list[tuple[Key, object]], fault: str) -> None:
    (one,) = faults("de", made(*entries), {"a {b}": []})
    assert fault in one


def test_a_plural_that_lacks_a_form_is_found() -> None:
    key = ("{count} piece", "{count} pieces")
    assert list(faults("de", made((key, ("{count} Teil", "{count} Teile"))), {key: []})) == []
    assert list(faults("de", made((key, ("{count} Teil", ""))), {key: []})) != []


@pytest.mark.parametrize("language", OTHERS)
def test_a_rewritten_file_is_known_by_its_squares_in_every_language(language: str) -> None:
    with speaking(language):
        assert say(TEST_SQUARE) in SQUARES_NAMED
    assert len(SQUARES_NAMED) == len(LANGUAGES)


@pytest.mark.parametrize("language", OTHERS)
def test_the_decimal_sign_is_that_of_the_language(language: str) -> None:
    """Unicode CLDR, and ISO 80000-1, 7.3.2: the sign is a comma or a point on the line."""
    assert decimal_sign(language) == ","
