"""A language that nobody speaks: every letter of a template is another one, and fields stay as they are.

What still reads as English on a page was never a template.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from tiler.languages import catalogue
from tiler.languages.words import speaking

LATIN = "abcdefghijklmnopqrstuvwxyz"
OTHER = "абцдефгхийклмнопярстуввхыз"
_OTHER = str.maketrans(LATIN + LATIN.upper(), OTHER + OTHER.upper())


class Pseudo:
    """Stands for a catalogue."""

    def gettext(self, template: str) -> str:
        return "".join(part if part[:1] == "{" else part.translate(_OTHER) for part in re.split(r"({[^}]*})", template))

    def ngettext(self, one: str, many: str, count: int) -> str:
        return self.gettext(one if count == 1 else many)


@contextmanager
def pseudo(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Speak it, under the code of German."""
    monkeypatch.setattr(catalogue, "_catalogue", lambda language: Pseudo())
    with speaking("de"):
        yield
