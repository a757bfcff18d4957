"""A strip from the answers of a form: its numbers to cut by, its doubts at their fields, and its pictures."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager
from dataclasses import dataclass, field, replace
from itertools import groupby, zip_longest
from pathlib import Path
from typing import Any, NamedTuple

from tiler.browser.answers.understood import faults, readings
from tiler.browser.answers.wishes import chosen_printer, effects, wishes_of
from tiler.browser.drawn.answer import finder, picked, put, with_kind
from tiler.browser.form import CHILD, Given, every_option, filled, finish_of, given_by, one_of
from tiler.browser.pictures.edge import EdgePicture, edge_picture
from tiler.browser.pictures.ranges import RangeBar, range_bar
from tiler.browser.pictures.strip import strip_picture
from tiler.browser.said import about, field_of, names, said
from tiler.commands.one_piece.draft import heading, said_in
from tiler.commands.one_piece.table import FabricNames, comments_of, fabric_names, piece_tables
from tiler.commands.one_piece.words import OPTIONS, OptionWords
from tiler.commands.output.cutting_chart import chart
from tiler.commands.output.wrapping import Line, whole_lines
from tiler.draft.advice.finding import Check
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job, read_tables
from tiler.draft.spec.write import spec_text
from tiler.draft.strip.finish import Finish
from tiler.errors import TilerError
from tiler.usecases.draft import Wishes

_ROW = re.compile(r"(.*?)  +(.*)")


_CAUSES: dict[str, tuple[str, ...]] = {
    Check.OPENING: ("must-pass",),
    Check.NO_GOOD_LENGTH: ("width",),
    Check.LENGTH: ("ratio", "ratio-loop", "loop", "body"),
}
"""The fields that a check judges, for one whose sentence names none; the first that is filled in has it."""

MISSING = ("is missing", "no length says its unit")
"""What a fault begins with that is no mistake, but an answer that is still to come."""


class Row(NamedTuple):
    """A row of the numbers to cut by: a heading, a label with its text, a warning, or a step."""

    kind: str
    label: str
    text: str


class Told(NamedTuple):
    """A sentence about a field: what is wrong there, or still wanted."""

    field: str
    text: str
    kind: str


@dataclass(frozen=True)
class Strip:
    """What is known of one strip: its spec, its figures, how it is drawn, and what is to be said of it."""

    finish: Finish
    tables: dict[str, Any]
    names: FabricNames
    words: OptionWords
    job: Job
    pieces: tuple[Figures, ...]
    filled: frozenset[str]
    wishes: Wishes

    def in_own_words(self) -> AbstractContextManager[None]:
        """Put what drafting raises into the words of the options."""
        return said_in(self.words)

    def spec_text(self, spec: Path, pdf: Path) -> str:
        """Return the spec that says the same, with the help of the options beside its keys."""
        comments = comments_of(self.words.options, self.names, self.finish)
        return spec_text(self.tables, comments, heading(spec, pdf, self.finish))

    @property
    def rows(self) -> list[Row]:
        """The numbers to cut by, as ``tiler band`` prints them."""
        with whole_lines():
            return rows_of(chart(self.job, self.pieces))

    @property
    def ties(self) -> bool:
        """Whether it has free ends at the neck of a child's garment."""
        return any(piece.free_ends for piece in self.pieces)

    def by_field(self) -> dict[str, list[str]]:
        """Return the warnings by the field that they name first, or that their check judges."""
        found: dict[str, list[str]] = {}
        for piece in self.pieces:
            # warnings begin with the failed checks
            for failed, warning in zip_longest(piece.failed, piece.warnings):
                judged = _CAUSES.get(failed.check, ()) if failed else ()
                field = about(warning, names()) or next((one for one in judged if one in self.filled), None)
                if field:
                    found.setdefault(field, []).append(said(warning))
        return found


@dataclass(frozen=True)
class Shown:
    """What stands beside the form: the strip and its pictures, or what is in the way; by field what is said there."""

    strip: Strip | None = None
    picture: str = ""
    told: tuple[Told, ...] = ()
    notes: Mapping[str, list[str]] = field(default_factory=dict)
    readings: Mapping[str, str] = field(default_factory=dict)
    edge: EdgePicture | None = None
    bar: RangeBar | None = None
    printer: Sequence[str] = ()

    @property
    def fields(self) -> set[str]:
        """The fields at which something is told."""
        return {*(one.field for one in self.told), *self.notes}

    def told_at(self, name: str) -> list[Told]:
        """Return what is wrong or wanted at a field."""
        return [one for one in self.told if one.field == name]


def strip_tables(form: Given) -> dict[str, Any]:
    """Return the tables of the spec that the answers state; raises :class:`SpecError` in the words of options."""
    drawn = picked(form)
    tables = piece_tables(every_option(), with_kind(given_by(form), drawn), finish_of(form))
    put(tables, drawn)
    if one_of(form, CHILD):
        tables["pieces"][0][CHILD] = True
    return tables


def strip_of(form: Given) -> Strip:
    """Return the strip that the answers state; raises :class:`SpecError` in the words of the options."""
    given, finish = given_by(form), finish_of(form)
    fabrics = fabric_names(given)
    words = OptionWords(every_option(), fabrics)
    with said_in(words):
        tables = strip_tables(form)
        job = read_tables(tables, OPTIONS, finder(picked(form)))
        pieces = tuple(words.figures(piece) for piece in figure_job(job))
    stated = frozenset(name for name, _ in filled(form))
    return Strip(finish, tables, fabrics, words, job, pieces, stated, wishes_of(form))


def shown(form: Given) -> Shown:
    """Return what stands beside a form that is filled in like this; a fault is its sentence at its field."""
    wrong = tuple(Told(name, text, "fault") for name, text in faults(form).items())
    try:
        strip = strip_of(form)
    except TilerError as fault:
        return Shown(told=_with(wrong, fault), readings=readings(form, None))
    job, (piece, *_) = strip.job, strip.pieces
    units = job.edition.units
    beside = Shown(
        strip,
        told=wrong,
        notes=strip.by_field(),
        readings=readings(form, job),
        edge=edge_picture(job.pieces[0], piece, units),
        bar=range_bar(piece, units),
    )
    try:
        printer = chosen_printer(form)
        told = tuple(effects(job, strip.pieces, printer)) if printer else ()
        return replace(beside, picture=strip_picture(job, strip.pieces), printer=told)
    except TilerError as fault:
        return replace(beside, told=_with(wrong, fault))


def refused(form: Given, fault: TilerError) -> Shown:
    """Return what stands beside a form whose answers were refused when they were drawn."""
    beside = shown(form)
    return beside if beside.told else replace(beside, told=_with((), fault))


def _with(wrong: tuple[Told, ...], fault: TilerError) -> tuple[Told, ...]:
    """Return what is wrong in the fields one by one, and a fault of all of them, unless that is one of these."""
    name = field_of(fault, names()) or ""
    if any(one.field == name for one in wrong):
        return wrong
    return (*wrong, Told(name, said(str(fault)), "wanted" if fault.why.startswith(MISSING) else "fault"))


def rows_of(lines: Iterator[Line]) -> list[Row]:
    """Return the lines of a chart as rows, its labels apart from its texts."""
    return [row for line in lines if (row := _row(line.text, line.is_heading))]


def _row(line: str, heading: bool) -> Row | None:
    text = line.strip()
    if not text:
        return None
    if heading:
        return Row("heading", "", said(text))
    for sign, kind in (("! ", "warning"), ("> ", "step")):
        if text.startswith(sign):
            return Row(kind, "", said(text.removeprefix(sign)))
    found = _ROW.fullmatch(text) if line[2:3] != " " else None
    return Row("row", found[1], said(found[2])) if found else Row("row", "", said(text))


def in_pairs(rows: Sequence[Row]) -> list[tuple[str, list[Row]]]:
    """Return rows that follow each other and are of one kind together; one without a label goes on with the last."""
    return [(kind, _labelled(own)) for kind, own in groupby(rows, key=lambda row: row.kind)]


def _labelled(rows: Iterable[Row]) -> list[Row]:
    found: list[Row] = []
    for row in rows:
        if row.kind == "row" and not row.label and found:
            found[-1] = found[-1]._replace(text=f"{found[-1].text}\n{row.text}")
        else:
            found.append(row)
    return found
