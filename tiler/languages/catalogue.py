"""The catalogues of all languages but English, and what each says for an English template.

Babel reads a catalogue (``po/de.po``), and gettext chooses the plural by the rule in its head.  English
needs none and loads nothing.
"""

from __future__ import annotations

from functools import cache
from gettext import GNUTranslations
from io import BytesIO
from pathlib import Path

ENGLISH = "en"
LANGUAGES = {ENGLISH: "English", "de": "German", "fr": "French", "es": "Spanish", "nl": "Dutch"}
"""What can be printed, by its code (ISO 639-1), and the name of each in English."""

_FOLDER = Path(__file__).parent / "po"


def noted(template: str) -> str:
    """Return a template as it is: what stands in a table is told later, and found here for the catalogues."""
    return template


def translated(language: str, template: str) -> str:
    """Return what a language says for a template."""
    return _catalogue(language).gettext(template)


def translated_count(language: str, one: str, many: str, count: int) -> str:
    """Return what a language says for so many."""
    return _catalogue(language).ngettext(one, many, count)


@cache
def decimal_sign(language: str) -> str:
    """Return what parts whole numbers from decimals (Unicode CLDR)."""
    from babel.numbers import get_decimal_symbol

    return get_decimal_symbol(language)


def catalogue_file(language: str) -> Path:
    """Return the file of a catalogue."""
    return _FOLDER / f"{language}.po"


@cache
def _catalogue(language: str) -> GNUTranslations:
    from babel.messages.mofile import write_mo
    from babel.messages.pofile import read_po

    compiled = BytesIO()
    with catalogue_file(language).open("rb") as file:
        write_mo(compiled, read_po(file, locale=language))
    compiled.seek(0)
    return GNUTranslations(compiled)
