"""What a publisher says of a job, from the spec to every page."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from tiler.languages.catalogue import ENGLISH
from tiler.languages.words import say
from tiler.printed import Logo


class Units(StrEnum):
    """The unit that is shown first, and that a bare number has."""

    IN = "in"
    CM = "cm"


@dataclass(frozen=True)
class Publisher:
    """Whose pattern it is, and where to ask about it."""

    name: str
    web: str | None = None
    contact: str | None = None

    @property
    def line(self) -> str:
        """All of it as one line."""
        return " · ".join(part for part in (self.name, self.web, self.contact) if part)


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
    publisher: Publisher | None = None
    logo: Logo | None = None
    changes: tuple[str, ...] = ()
    """What is new in this version, for those who have an earlier one."""

    @property
    def heading(self) -> str:
        """The title, and version and date where they are given, as one line."""
        return " · ".join(part for part in (self.title, self.version, self.date) if part)

    @property
    def imprint(self) -> str:
        """Version, date, owner of the copyright and publisher as one line; empty where none is given."""
        version = say("version {version}", version=self.version) if self.version else None
        owner = f"© {self.copyright}" if self.copyright and "©" not in self.copyright else self.copyright
        publisher = self.publisher.line if self.publisher else ""
        if self.publisher and self.publisher.name == self.copyright:
            owner = None
        return " · ".join(part for part in (version, self.date, owner, publisher) if part)

    @property
    def texts(self) -> Iterator[tuple[str, str]]:
        """All that its publisher says, each with its key."""
        publisher = self.publisher
        for key, text in (
            ("title", self.title),
            ("version", self.version),
            ("date", self.date),
            ("copyright", self.copyright),
            ("publisher", publisher.line if publisher else None),
            *((f"changes[{index}]", change) for index, change in enumerate(self.changes)),
        ):
            yield key, text or ""
