"""What stands beside a spec: its strips as pictures, its sizes as tables, its numbers, and what is in the way."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import groupby

from tiler.browser.answers.wishes import chosen_printer, effects
from tiler.browser.form import PAGE_FIELDS, Given, one_of
from tiler.browser.pictures.edge import EdgePicture, edge_picture
from tiler.browser.pictures.ranges import RangeBar, range_bar
from tiler.browser.pictures.strip import strip_picture
from tiler.browser.said import about, said
from tiler.browser.spec.values import Sheet, sheet_of
from tiler.browser.spec.whole import APART, PAPER, SHOWN, Text, WholeSpec, whole_spec
from tiler.browser.strip import Row, Told, in_pairs, rows_of
from tiler.commands.output.cutting_chart import chart
from tiler.commands.output.size_table import length_rows, strip_rows
from tiler.commands.output.wrapping import whole_lines
from tiler.draft.figures import Figures
from tiler.draft.judged import warned
from tiler.errors import TilerError
from tiler.sentence import Key, Sentence
from tiler.usecases.draft import Wishes

MOST_PICTURES = 12
"""So many strips of a spec have pictures of their edges."""


@dataclass(frozen=True)
class SizeTable:
    """A piece in its sizes: what to cut, between which lengths each is good, and what is warned of."""

    title: str
    tables: tuple[list[tuple[str, ...]], ...]
    warnings: tuple[str, ...]


@dataclass(frozen=True)
class OneStrip:
    """The pictures of one strip."""

    title: str
    edge: EdgePicture
    bar: RangeBar | None


@dataclass(frozen=True)
class BesideSpec:
    """All that stands there; by field what is said at it."""

    told: tuple[Told, ...] = ()
    notes: Mapping[str, list[str]] = field(default_factory=dict)
    picture: str = ""
    sizes: tuple[SizeTable, ...] = ()
    strips: tuple[OneStrip, ...] = ()
    rows: tuple[tuple[str, list[Row]], ...] = ()
    printer: Sequence[str] = ()
    remarks: tuple[str, ...] = ()
    ties: bool = False

    @property
    def fields(self) -> set[str]:
        """The fields at which something is told."""
        return {*(one.field for one in self.told), *self.notes}

    def told_at(self, name: str) -> list[Told]:
        """Return what is wrong or wanted at a field."""
        return [one for one in self.told if one.field == name]


def beside_spec(form: Given, text: Text) -> BesideSpec:
    """Return what stands beside a spec; what is in the way of it is its sentence at its field."""
    try:
        whole = whole_spec(form, text)
    except TilerError as fault:
        return BesideSpec((told_of(fault, text.sheets),))
    return _beside(form, text, whole)


def refused_spec(form: Given, text: Text, fault: TilerError) -> BesideSpec:
    """Return what stands beside a spec that was refused when it was drawn."""
    beside = beside_spec(form, text)
    return beside if beside.told else replace(beside, told=(told_of(fault, text.sheets),))


def told_of(fault: TilerError, sheets: Sequence[Sheet]) -> Told:
    """Return a fault at the field that it is about."""
    place = fault.place
    if place and place.source.startswith("--"):
        name = place.source.removeprefix("--")
        return Told({"paper": PAPER}.get(name, name), said(str(fault)), "fault")
    if place and place.path:
        return Told(sheet_of(place.path, sheets), said(str(fault)), "fault")
    return Told(about(fault.why, (*PAGE_FIELDS, APART)) or "", said(str(fault)), "fault")


def _beside(form: Given, text: Text, whole: WholeSpec) -> BesideSpec:
    job, units = whole.job, whole.job.edition.units
    shown = one_of(form, SHOWN)
    sizes = list(dict.fromkeys(piece.size for piece in whole.pieces))
    size = shown if shown in sizes else sizes[0]
    pieces = whole.of_size(size)
    specs = [piece for piece in job.pieces if piece.size == size]
    with whole_lines():
        rows = tuple(in_pairs(rows_of(chart(job, pieces))))
    told: tuple[Told, ...] = ()
    picture, printed = "", ()
    try:
        picture = strip_picture(job, whole.pieces, Wishes(nest=whole.wishes.nest, colour=whole.wishes.colour))
        printer = chosen_printer(form)
        printed = tuple(effects(job, whole.pieces, printer)) if printer else ()  # type: ignore[assignment]  # texts
    except TilerError as fault:
        told = (told_of(fault, text.sheets),)
    logo = (f"The logo {job.logo} is not drawn: the page reads no files beside a spec.",) if job.logo else ()
    return BesideSpec(
        told,
        _notes(whole, text.sheets),
        picture,
        tuple(_in_sizes(whole)) if whole.in_sizes else (),
        tuple(
            OneStrip(one.name, edge_picture(piece, one, units), range_bar(one, units))
            for piece, one in zip(specs[:MOST_PICTURES], pieces[:MOST_PICTURES], strict=True)
        ),
        rows,
        printed,
        logo,
        any(piece.free_ends for piece in whole.pieces),
    )


def _in_sizes(whole: WholeSpec) -> Iterator[SizeTable]:
    units = whole.job.edition.units
    for name, own in groupby(whole.pieces, key=lambda piece: piece.name):
        group = list(own)
        tables = strip_rows(group, units), length_rows(group, units)
        yield SizeTable(
            name, tables, tuple(said(_of_sizes(text, found, group)) for text, found in warned(group).items())
        )


def _notes(whole: WholeSpec, sheets: Sequence[Sheet]) -> dict[str, list[str]]:
    """Return the warnings of each piece at the first of its values that they name."""
    notes: dict[str, list[str]] = {}
    of_pieces = [sheet for sheet in sheets if sheet.is_piece]
    groups = [list(own) for _, own in groupby(whole.pieces, key=lambda piece: piece.name)]
    for sheet, group in zip(of_pieces, groups, strict=False):
        for text, found in warned(group).items():
            keys = [part.name for part in Sentence(text).parts if isinstance(part, Key)]
            at = next((cell.name for key in keys for cell in sheet.fields if key in cell.path), sheet.name)
            notes.setdefault(at, []).append(said(_of_sizes(text, found, group)))
    return notes


def _of_sizes(text: str, found: Sequence[Figures], group: Sequence[Figures]) -> str:
    who = "" if len(found) == len(group) else f"{', '.join(one.size or '' for one in found)}: "
    return f"{who}{text}"
