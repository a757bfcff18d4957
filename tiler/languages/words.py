"""Words that are told in the language of the document, and in English everywhere else.

The language is a matter of what is drawn: whoever draws or proves a document opens :func:`speaking`, and all
that is said inside is said in its language.  Terminal and JSON open nothing and stay English.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from contextvars import ContextVar
from functools import lru_cache
from string import Formatter

from tiler.languages.catalogue import ENGLISH, decimal_sign, translated, translated_count
from tiler.sentence import Phrase, Sentence, joined

_spoken: ContextVar[tuple[str, ...]] = ContextVar("spoken", default=(ENGLISH,))


class Number(str):
    """A number as it is written in English: another language may part its decimals by another sign."""


class Words(Sentence):
    """An English text that keeps its template and its fields, to be told in another language.

    ``many`` is the template for any ``count`` but one.  A field is a name or other word of the user, which stays as
    it is, a number, or :class:`Words` in their turn.
    """

    template: str
    many: str
    fields: Mapping[str, object]

    def __new__(cls, template: str, many: str = "", /, **fields: object) -> Words:
        """Take the template, the one for many, and what stands in its places."""
        chosen = many if many and fields["count"] != 1 else template
        words = super().__new__(cls, *_filled(chosen, fields, ENGLISH))
        words.template, words.many, words.fields = template, many, fields
        return words


@contextmanager
def speaking(*languages: str) -> Iterator[None]:
    """Tell all that is said inside in these languages, of which the first is that of the document."""
    token = _spoken.set(languages)
    try:
        yield
    finally:
        _spoken.reset(token)


def languages() -> tuple[str, ...]:
    """Return the languages of the document, the leading one first."""
    return _spoken.get()


def in_each() -> Iterator[str]:
    """Speak each language of the document alone, one after the other."""
    for language in languages():
        with speaking(language):
            yield language


def in_others() -> Iterator[str]:
    """Speak each language of the document but the leading one alone, one after the other."""
    for language in languages()[1:]:
        with speaking(language):
            yield language


def told(text: str) -> str:
    """Return a text in the language of the document; what is no words of ours stays as it is."""
    language = _spoken.get()[0]
    return text if language == ENGLISH else _told(text, language)


def say(template: str, many: str = "", /, **fields: object) -> str:
    """Say a template in the language of the document."""
    return told(Words(template, many, **fields))


def pattern(template: str, **fields: str) -> str:
    """Return what matches a template in the language of the document: each field a regular expression."""
    language = _spoken.get()[0]
    said = template if language == ENGLISH else translated(language, template)
    return "".join(re.escape(text) + (fields[name] if name else "") for text, name, _ in _places(said))


def choice(ways: Sequence[str]) -> str:
    """Return ways to choose from: ``a, b, or c``."""
    return ways[0] if len(ways) == 1 else Words("{ways}, or {last}", ways=joined(", ", ways[:-1]), last=ways[-1])


def listed(parts: Iterable[str]) -> Sentence:
    """Return what has commas of its own, one after the other: ``a, b; c``."""
    return joined(Words("; "), parts)


def _told(text: str, language: str) -> str:
    if isinstance(text, Words):
        count = text.fields.get("count")
        if not text.many or not isinstance(count, int):
            return "".join(_filled(translated(language, text.template), text.fields, language))
        return "".join(_filled(translated_count(language, text.template, text.many, count), text.fields, language))
    if isinstance(text, Number):
        return text.replace(".", decimal_sign(language))
    if isinstance(text, Sentence):
        return "".join(_told(part, language) for part in text.given)
    return translated(language, text.value) if isinstance(text, Phrase) else text


def _filled(template: str, fields: Mapping[str, object], language: str) -> Iterator[str]:
    """Yield a template with its fields in their places."""
    if not fields:
        yield template
        return
    for text, name, form in _places(template):
        if text:
            yield text
        if name:
            yield _written(fields[name], form, language)


def _written(value: object, form: str, language: str) -> str:
    if isinstance(value, str) and not form:
        return value if language == ENGLISH else _told(value, language)
    number = Number(format(value, form))
    return number if language == ENGLISH or isinstance(value, str) else _told(number, language)


@lru_cache(2**11)
def _places(template: str) -> tuple[tuple[str, str, str], ...]:
    """Part a template into texts, each with the field behind it and its format."""
    return tuple((text, name or "", form or "") for text, name, form, _ in Formatter().parse(template))
