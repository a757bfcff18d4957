"""What a publisher says of a job, from the spec to every page."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from tiler.languages.catalogue import ENGLISH
from tiler.languages.words import say


class Units(StrEnum):
    """The unit that is shown first, and that a bare number has."""

    IN = "in"
    CM = "cm"


@dataclass(frozen=True)
class Edition:
    """The title of a job, the unit that leads on every label, and what else its publisher says of it."""

    title: str
    units: Units
    version: str | None = None
    date: str | None = None
    copyright: str | None = None
    languages: tuple[str, ...] = (ENGLISH,)
    """Those of what is printed, the leading one first."""

    @property
    def heading(self) -> str:
        """The title, and version and date where they are given, as one line."""
        return " · ".join(part for part in (self.title, self.version, self.date) if part)

    @property
    def imprint(self) -> str:
        """Version, date and owner of the copyright as one line; empty where none is given."""
        version = say("version {version}", version=self.version) if self.version else None
        owner = f"© {self.copyright}" if self.copyright and "©" not in self.copyright else self.copyright
        return " · ".join(part for part in (version, self.date, owner) if part)
