"""Words that keep their templates: English as they are, told in another language with its numbers and plurals."""

from __future__ import annotations

import pickle
import re
from collections.abc import Iterator

import pytest

from tests.languages.pseudo import pseudo
from tiler.languages import words
from tiler.languages.handed import from_plain, to_plain
from tiler.languages.words import Number, Words, choice, languages, listed, pattern, say, speaking, told
from tiler.lengths import both, percent
from tiler.sentence import Key, Phrase, Sentence


@pytest.fixture
def german(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Tell three templates in German, whatever the catalogue says, and all others as they are."""
    known = {
        "{length} from the fold": "{length} vom Bruch",
        "shoulder": "Schulter",
        "{ways}, or {last}": "{ways} oder {last}",
    }
    monkeypatch.setattr(words, "translated", lambda language, template: known.get(template, template))
    counted = {1: "{count} Teil"}
    monkeypatch.setattr(
        words, "translated_count", lambda language, one, many, count: counted.get(count, "{count} Teile")
    )
    with speaking("de"):
        yield


def test_words_are_english_wherever_nothing_else_is_spoken() -> None:
    length = Words("{length} from the fold", length=both(248.0, "cm"))
    assert length == "24.8 cm (9¾ in) from the fold"
    assert told(length) == length
    assert languages() == ("en",)


def test_fields_are_told_in_their_turn(german: None) -> None:
    assert say("{length} from the fold", length=both(248.0, "cm")) == "24,8 cm (9¾ in) vom Bruch"
    notch = Words("{length} from the fold", length=Words("shoulder"))
    assert told(notch) == "Schulter vom Bruch"
    assert notch == "shoulder from the fold"


def test_what_a_user_gave_stays_as_it_is(german: None) -> None:
    assert told("shoulder") == "shoulder"
    assert say("{length} from the fold", length="shoulder 1.5") == "shoulder 1.5 vom Bruch"


def test_numbers_have_the_decimal_sign_of_the_language(german: None) -> None:
    assert told(percent(0.125)) == "12,5 %"
    assert say("{width:.2f} mm", width=1.25) == "1,25 mm"
    assert told(Number("+0.50 %")) == "+0,50 %"


@pytest.mark.parametrize(("count", "english", "other"), [(1, "1 piece", "1 Teil"), (3, "3 pieces", "3 Teile")])
def test_what_is_counted_has_its_plural(german: None, count: int, english: str, other: str) -> None:
    found = Words("{count} piece", "{count} pieces", count=count)
    assert (found, told(found)) == (english, other)


def test_sentences_are_told_part_by_part_and_keys_stay(german: None) -> None:
    way = Words("write {key}", key=Key("ease", '"even"'))
    found = choice([Words("shoulder"), way])
    assert found == 'shoulder, or write ease = "even"'
    assert told(found) == 'Schulter oder write ease = "even"'
    assert any(isinstance(part, Key) for part in Sentence(found).parts)
    assert told(Sentence(Words("shoulder"), ": ", Phrase.MEASURE_FABRIC)) == "Schulter: measure the fabric and name it"


@pytest.mark.parametrize(("language", "said"), [("en", "a, b; c"), ("fr", "a, b\u00a0; c")])
def test_what_is_listed_is_joined_as_the_language_does(language: str, said: str) -> None:
    """French has a fixed space before a semicolon (Lexique des règles typographiques, Imprimerie nationale)."""
    with speaking(language):
        assert told(listed(["a, b", "c"])) == said


def test_a_template_makes_a_pattern(german: None) -> None:
    found = re.fullmatch(pattern("{length} from the fold", length=r"(?P<length>.+)"), "3 cm vom Bruch")
    assert found
    assert found["length"] == "3 cm"


def test_the_language_is_spoken_inside_alone_even_when_something_fails() -> None:
    with pytest.raises(ValueError, match="never"), speaking("de", "fr"):
        raise ValueError("never")
    assert languages() == ("en",)


@pytest.mark.parametrize(
    "carried", [lambda one: pickle.loads(pickle.dumps(one)), lambda one: from_plain(to_plain(one))]
)
def test_words_are_carried_to_another_process(german: None, carried: object) -> None:
    assert callable(carried)
    for one in (Words("{length} from the fold", length=Number("1.5")), Sentence("a", Words("shoulder")), Number("2.5")):
        assert told(carried(one)) == told(one) != one


def test_a_template_without_fields_may_hold_braces() -> None:
    assert Words("{ not a field") == "{ not a field"


def test_every_letter_of_a_pseudo_language_is_told_apart(monkeypatch: pytest.MonkeyPatch) -> None:
    with pseudo(monkeypatch):
        assert not re.search("[A-Za-z]", say("Cut {length} of it", length="3").replace("3", ""))
