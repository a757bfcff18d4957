"""A strip from the answers of a form: its numbers to cut by, its doubts at their fields, and its picture."""

from __future__ import annotations

import re
import threading
from base64 import b64encode
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import zip_longest
from typing import Any, NamedTuple

from tiler.browser.form import Given, every_option, filled, given_by
from tiler.browser.said import about, field_of, names, said
from tiler.commands.one_piece.draft import said_in
from tiler.commands.one_piece.table import FabricNames, fabric_names, piece_tables
from tiler.commands.one_piece.words import OPTIONS, OptionWords
from tiler.commands.output.cutting_chart import chart
from tiler.commands.output.wrapping import whole_lines
from tiler.draft.advice.finding import Check
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job, read_tables
from tiler.draft.strip.finish import Finish
from tiler.errors import SpecError, TilerError
from tiler.usecases.draft import Wishes, draw_plane

FINISH = Finish.FOLDED_BAND

DRAWING = threading.Lock()
"""Held while something is drawn: the fonts of the drawing library belong to all at once."""

_ROW = re.compile(r"(.*?)  +(.*)")


_CAUSES: dict[str, tuple[str, ...]] = {
    Check.OPENING: ("must-pass",),
    Check.NO_GOOD_LENGTH: ("width",),
    Check.LENGTH: ("ratio", "ratio-loop", "loop", "body"),
}
"""The fields that a check judges, for one whose sentence names none; the first that is filled in has it."""


class Row(NamedTuple):
    """A row of the numbers to cut by: a heading, a label with its text, a warning, or a step."""

    kind: str
    label: str
    text: str


@dataclass(frozen=True)
class Strip:
    """What is known of one strip: its spec, its figures and what is to be said of them."""

    tables: dict[str, Any]
    names: FabricNames
    words: OptionWords
    job: Job
    pieces: tuple[Figures, ...]
    filled: frozenset[str]

    @property
    def rows(self) -> list[Row]:
        """The numbers to cut by, as ``tiler band`` prints them."""
        with whole_lines():
            return [row for line in chart(self.job, self.pieces) if (row := _row(line.text, line.is_heading))]

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

    def picture(self) -> str:
        """Return the drawing of the strip as the address of a picture that holds it whole."""
        with DRAWING:
            svg = draw_plane(self.job, self.pieces, Wishes()).data
        return f"data:image/svg+xml;base64,{b64encode(svg).decode('ascii')}"


@dataclass(frozen=True)
class Shown:
    """What stands beside the form: the strip and its picture, or what is in the way; by field what is said there."""

    strip: Strip | None = None
    picture: str = ""
    fault: str = ""
    notes: Mapping[str, list[str]] | None = None
    fault_field: str = ""


def strip_of(form: Given) -> Strip:
    """Return the strip that the answers state; raises :class:`SpecError` in the words of the options."""
    given = given_by(form)
    fabrics = fabric_names(given)
    words = OptionWords(every_option(), fabrics)
    with said_in(words):
        tables = piece_tables(every_option(), given, FINISH)
        job = read_tables(tables, OPTIONS)
        pieces = tuple(words.figures(piece) for piece in figure_job(job))
    return Strip(tables, fabrics, words, job, pieces, frozenset(name for name, _ in filled(form)))


def shown(form: Given) -> Shown:
    """Return what stands beside a form that is filled in like this; a fault is its sentence at its field."""
    try:
        strip = strip_of(form)
    except SpecError as fault:
        return refused(fault)
    try:
        return Shown(strip, strip.picture(), notes=strip.by_field())
    except SpecError as fault:
        return Shown(strip, "", said(str(fault)), strip.by_field(), field_of(fault, names()) or "")


def refused(fault: TilerError) -> Shown:
    """Return what stands beside a form whose answers make no strip."""
    return Shown(fault=said(str(fault)), fault_field=field_of(fault, names()) or "")


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


def rows_in_pairs(rows: list[Row]) -> Iterator[tuple[str, list[Row]]]:
    """Yield rows that follow each other and are of one kind together."""
    here: list[Row] = []
    for row in rows:
        if here and here[-1].kind != row.kind:
            yield here[0].kind, here
            here = []
        here.append(row)
    if here:
        yield here[0].kind, here
