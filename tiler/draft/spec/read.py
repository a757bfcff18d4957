"""The spec: the TOML file that states a job, read into records.

The file is UTF-8 TOML 1.0.  Every value is checked here, once; what leaves as a
:class:`Job` is trusted.  Lengths are millimetres, shares plain numbers.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, NoReturn

from tiler.draft import fabric
from tiler.draft.edge.from_drawing import FindCurve, Source
from tiler.draft.edition import Edition, Publisher, Units
from tiler.draft.fabric import Fabric, read_fabric
from tiler.draft.spec import piece as piece_spec
from tiler.draft.spec.piece import PieceSpec, read_piece
from tiler.draft.spec.sizes import read_sizes
from tiler.draft.spec.table import AtSize, Table, nearest
from tiler.draft.spec.toml import LARGEST_SPEC, read_toml
from tiler.errors import SpecError, TilerError
from tiler.languages.catalogue import ENGLISH
from tiler.languages.chosen import chosen
from tiler.paper import PAPER_NAMES, Arrangement, Margins, PaperChoice
from tiler.sentence import Key, Place

_JOB_KEYS = (
    "title",
    "units",
    "language",
    "sizes",
    "version",
    "date",
    "copyright",
    "publisher",
    "logo",
    "changes",
    "paper",
    "colour",
    "fabrics",
    "child",
    "pieces",
)
MOST_PIECES = 1_000
"""So many pieces, each size counted, a spec may have."""

MOST_CHANGES = 20
"""So many things may be new in a version."""

_SIDES = ("left", "right", "top", "bottom")


@dataclass(frozen=True)
class Job:
    """A whole spec; where it has ``sizes``, a piece stands there once for each, one after the other."""

    edition: Edition
    paper: PaperChoice
    fabrics: Mapping[str, Fabric]
    pieces: tuple[PieceSpec, ...]
    sizes: tuple[str, ...] = ()
    colour: bool = False
    """The sizes of a nest have colours as well."""
    logo: str | None = None
    """The file of the publisher's logo, beside the spec."""


def no_drawings(source: Source) -> NoReturn:
    """Refuse an edge from a drawing, where nobody reads files."""
    raise SpecError(f"{source.file} is a drawing, and drawings cannot be read here")


def read_spec(path: Path, find: FindCurve = no_drawings) -> Job:
    """Read the spec at ``path``; ``find`` gives the curve of a drawing that an edge names.

    Raises :class:`SpecError` with one sentence that names the file, the key or
    the line, and what to do.
    """
    return read_tables(read_toml(path, LARGEST_SPEC, "spec"), path.name, find)


def read_tables(data: dict[str, Any], source: str, find: FindCurve = no_drawings) -> Job:
    """Read a spec out of its parsed tables; ``source``, such as ``crew.toml``, is named in messages.

    Raises :class:`SpecError` as :func:`read_spec` does.
    """
    place = Place(source)
    first = Table(data, place, "", _JOB_KEYS)
    units = first.word("units", Units)
    table = Table(data, place, units, _JOB_KEYS)
    title = table.text("title", Key("title", '"My crew top"'))
    fabrics = {
        name: read_fabric(name, Table(value, place.at("fabrics", name), units, fabric.KEYS))
        for name, value in table.named("fabrics").items()
    }
    sizes = read_sizes(table)
    return Job(
        edition=Edition(
            title=title,
            units=units,
            version=table.optional_text("version", Key("version", '"1.0"')),
            date=table.optional_text("date", Key("date", '"2031-05-01"')),
            copyright=table.optional_text("copyright", "whose pattern it is"),
            publisher=_read_publisher(table),
            changes=table.texts("changes", MOST_CHANGES),
            languages=chosen(table.raw("language", ""), place.at("language")) if table.has("language") else (ENGLISH,),
        ),
        paper=_read_paper(table),
        fabrics=fabrics,
        pieces=_read_pieces(table, fabrics, find, sizes),
        sizes=sizes,
        colour=table.flag("colour"),
        logo=table.optional_text("logo", Key("logo", '"mark.svg"')),
    )


def _read_publisher(table: Table) -> Publisher | None:
    if not table.has("publisher"):
        return None
    publisher = table.table("publisher", ("name", "web", "contact"), "")
    return Publisher(
        publisher.text("name", Key("name", '"Saltmarsh Patterns"')),
        publisher.optional_text("web", Key("web", '"saltmarsh.example"')),
        publisher.optional_text("contact", Key("contact", '"help@saltmarsh.example"')),
    )


def _read_paper(table: Table) -> PaperChoice:
    usual = PaperChoice()
    if not table.has("paper"):
        return usual
    paper = table.table("paper", ("size", "margin", "overlap", "arrange"), "")
    name = paper.text("size", '"letter"') if paper.has("size") else usual.name
    if name not in PAPER_NAMES:
        paper.refuse("size", f'"{name}" is not known; {nearest(name, PAPER_NAMES)}')
    overlap = paper.optional_length("overlap", zero_ok=True)
    arrange = paper.word("arrange", Arrangement, usual.arrange)
    margins = _read_margins(paper, usual.margins)
    return PaperChoice(name, margins, usual.overlap if overlap is None else overlap, arrange)


def _read_margins(paper: Table, usual: Margins) -> Margins:
    if not paper.has("margin"):
        return usual
    if not isinstance(paper.raw("margin", ""), dict):
        return Margins(*(4 * (paper.length("margin", "", zero_ok=True),)))
    sides = paper.table("margin", _SIDES, "")
    given = {side: sides.length(side, "", zero_ok=True) for side in _SIDES if sides.has(side)}
    return Margins(**given)


def _read_pieces(
    table: Table, fabrics: Mapping[str, Fabric], find: FindCurve, sizes: tuple[str, ...]
) -> tuple[PieceSpec, ...]:
    pieces: dict[str, tuple[PieceSpec, ...]] = {}
    for_child = table.flag("child")
    entries = list(table.tables("pieces", piece_spec.KEYS, "[[pieces]] with its keys below"))
    if len(entries) * max(1, len(sizes)) > MOST_PIECES:
        sized = f" in {len(sizes)} sizes" if sizes else ""
        why = f"are {len(entries)}{sized}; at most {MOST_PIECES} are taken in all, so make two specs of it"
        table.refuse("pieces", why)
    for entry in entries:
        in_sizes = tuple(_read_in_sizes(entry, fabrics, find, sizes))
        name = in_sizes[0].name
        if name in pieces:
            entry.refuse("name", f'"{name}" is also the name of {pieces[name][0].where}; give each its own')
        pieces[name] = tuple(replace(piece, for_child=piece.for_child or for_child) for piece in in_sizes)
    if not pieces:
        table.refuse("pieces", "is empty; add [[pieces]] with its keys below")
    return tuple(piece for in_sizes in pieces.values() for piece in in_sizes)


def _read_in_sizes(
    entry: Table, fabrics: Mapping[str, Fabric], find: FindCurve, sizes: tuple[str, ...]
) -> Iterator[PieceSpec]:
    if not sizes:
        yield read_piece(entry, fabrics, find)
    for size in sizes:
        table = entry.for_size(AtSize(size, sizes), piece_spec.KEYS)
        try:
            yield replace(read_piece(table, fabrics, find), size=size)
        except TilerError as fault:
            # what the first size shares with all others does not depend on the size
            if size == sizes[0]:
                raise
            raise fault.at_size(size) from fault
