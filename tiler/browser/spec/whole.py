"""A whole spec as a form of the page holds it: its text with what was changed, its figures, and how it is drawn."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from tiler.browser.answers.wishes import wishes_of
from tiler.browser.form import Given, one_of
from tiler.browser.spec.address import packed, unpacked
from tiler.browser.spec.drawings import CURVE, finder_of
from tiler.browser.spec.values import Sheet, changes, sheets
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job, read_tables
from tiler.draft.spec.toml import parsed_toml
from tiler.draft.spec.write import changed_text
from tiler.errors import SpecError
from tiler.paper import PAPER_NAMES
from tiler.sentence import Place
from tiler.usecases.draft import Wishes

SPEC, SIZES, APART, COLOUR, PAPER, SHOWN = "spec", "sizes", "apart", "colour", "on-paper", "shown"
"""Fields of the page: the spec itself, and what ``tiler draft`` is asked by its options."""


@dataclass(frozen=True)
class Text:
    """The text of a spec with all changes, its tables, and the sheets of its values."""

    text: str
    tables: dict[str, Any]
    sizes: tuple[str, ...]
    sheets: tuple[Sheet, ...]

    @property
    def letters(self) -> str:
        """The text as letters of an address."""
        return packed(self.text)


@dataclass(frozen=True)
class WholeSpec:
    """A spec that can be drawn: what it says, the figures of the sizes that are asked for, and how they are drawn."""

    text: str
    job: Job
    pieces: tuple[Figures, ...]
    wishes: Wishes

    @contextmanager
    def in_own_words(self) -> Iterator[None]:
        """Leave what drafting raises in the words of a spec."""
        yield

    def spec_text(self, spec: Path, pdf: Path) -> str:  # noqa: ARG002
        """Return the spec as it was written, but for what was changed."""
        return self.text

    @property
    def in_sizes(self) -> bool:
        """Whether there are several sizes of its pieces."""
        return len({piece.size for piece in self.pieces}) > 1

    def of_size(self, size: str | None) -> tuple[Figures, ...]:
        """Return the pieces of one size."""
        return tuple(piece for piece in self.pieces if piece.size == size)


def text_of(form: Given) -> Text:
    """Return the spec that a form holds, with what was changed in it.

    Raises :class:`SpecError` for an address that holds none.
    """
    text = unpacked(one_of(form, SPEC))
    tables = parsed_toml(text, Place(""), "spec")
    found = _sheets(tables)
    changed = changes(form, found)
    if changed:
        text = changed_text(text, changed)
        tables = parsed_toml(text, Place(""), "spec")
        found = _sheets(tables)
    return Text(text, tables, _sizes(tables), tuple(found))


def whole_spec(form: Given, text: Text) -> WholeSpec:
    """Read the spec and work out its pieces; raises :class:`SpecError` with the place in the spec."""
    job = read_tables(text.tables, "", finder_of(form))
    chosen = [size for size in form.getlist(SIZES) if size in job.sizes]
    pieces = figure_job(job, ",".join(chosen) if chosen else None)
    paper = one_of(form, PAPER)
    if paper and paper not in PAPER_NAMES:
        raise SpecError(f'"{paper[:40]}" is not known; known are {", ".join(PAPER_NAMES)}', Place(f"--{PAPER}"))
    wishes = replace(
        wishes_of(form),
        paper=paper or None,
        nest=not one_of(form, APART),
        colour=True if one_of(form, COLOUR) else None,
        sizes=",".join(chosen) if chosen else None,
    )
    return WholeSpec(text.text, job, pieces, wishes)


def kept_fields(form: Given, text: Text) -> list[tuple[str, str]]:
    """Return what an address holds that leads back to this form."""
    own = ("accept", "printer", "correct", APART, COLOUR, PAPER, SHOWN)
    return [
        (SPEC, text.letters),
        *((name, value) for name in (CURVE, SIZES) for value in form.getlist(name)),
        *((name, value) for name in own if (value := one_of(form, name))),
    ]


def _sheets(tables: dict[str, Any]) -> list[Sheet]:
    return sheets(tables, _sizes(tables))


def _sizes(tables: dict[str, Any]) -> tuple[str, ...]:
    stated = tables.get("sizes")
    return tuple(map(str, stated)) if isinstance(stated, list) else ()
