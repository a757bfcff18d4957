"""The cutting chart: a row for each piece and size.

Lengths are rounded as on the labels: to 1/16 in and 1 mm, a full length to twice the
rounded half, cut widths of bindings up.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from tiler.draft.fastening.buttons import Buttons
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.fastening.running_on import RunsOn
from tiler.draft.figures import Figures
from tiler.draft.sections.piecing import joined_at
from tiler.draft.sections.strips import strips_of
from tiler.draft.strip.bias import Bias
from tiler.draft.strip.elastic import Elastic
from tiler.draft.strip.finish import Cut
from tiler.draft.strip.notch import Notch
from tiler.lengths import percent, tape


@dataclass(frozen=True)
class Rounded:
    """A length as people read it, in both units."""

    inches: str
    centimetres: str

    def in_order(self, units: str) -> tuple[str, str]:
        """Return both, that of the spec first."""
        return (self.inches, self.centimetres) if units == "in" else (self.centimetres, self.inches)


@dataclass(frozen=True)
class PartRow:
    """A part of the edge, and what of the strip it gets."""

    name: str
    edge: Rounded
    strip: Rounded


@dataclass(frozen=True)
class Sections:
    """How a strip is pieced: a row for each of its sections, where they are joined, and what is said of it."""

    rows: tuple[ChartRow, ...]
    joined_at: tuple[str, ...]
    words: str

    @property
    def count(self) -> int:
        """How many sections are cut of all strips."""
        return sum(row.quantity for row in self.rows)


@dataclass(frozen=True)
class ChartRow:
    """What is cut of one piece in one size: ``length`` counts from the fold where it is cut on fold.

    Of a strip that is pieced it is that of the strip in one, and its ``sections`` say what is cut.

    ``stretch_to`` is the whole edge, to which the closed strip is stretched.  The sewn length is good
    from ``shortest``, where sewing takes 60 % of the stretch, to ``longest``, which still lies flat and is
    ``None`` for a straight edge; a band that is cut to the shape of its edge has one length alone, and
    neither.  ``parts`` are empty where the strip is shared out evenly.
    """

    piece: str
    size: str | None
    length: Rounded
    width: Rounded
    quantity: int
    cut: Cut
    fabric: str | None
    finish: str
    stretch_to: Rounded
    ratio: str
    sewn: Rounded
    shortest: Rounded | None
    longest: Rounded | None
    has_good: bool
    """Whether there is a length between both."""
    finished: Rounded
    sewn_at: Rounded
    end_seam: Rounded
    end_mm: float
    end_place: str
    parts: tuple[PartRow, ...]
    sections: Sections | None
    garment: str
    not_passed: tuple[str, ...]
    """The checks that the strip does not pass, each in a sentence."""
    doubts: tuple[str, ...]
    is_band: bool
    stands: bool
    elastic: Elastic | None
    ends: Ends
    buttons: Buttons | None
    runs_on: RunsOn
    bias: Bias | None
    views: tuple[str, ...]
    marks: tuple[Notch, ...]
    """Where it is marked, of what has no piece that shows it: from the left cut end."""
    paired: bool
    """Whether half of what is cut is the mirror image of the other half."""
    first_part: str
    """The part of the edge that lies there; empty where it lies the same way round."""
    even: bool
    """Whether the strip is as long as its edge, and sewn on unstretched."""
    widest_mm: float | None
    """Up to which finished width there is a good length; ``None`` without limit, 0 where none is."""
    finished_edge: Rounded | None = None
    """The finished edge of a band that is cut to the shape of its edge; its sections are its pieces."""

    @property
    def widest(self) -> Rounded | None:
        """That width as people read it, where there is one."""
        return _rounded(self.widest_mm, down=True) if self.widest_mm else None


def chart_rows(figures: Sequence[Figures]) -> tuple[ChartRow, ...]:
    """Return the rows of the chart in the order of the figures."""
    return tuple(_row(one) for one in figures)


def by_size(rows: Sequence[ChartRow], words: Callable[[ChartRow], str]) -> list[tuple[tuple[str, ...], str]]:
    """Return what is said of the rows, each text once with the sizes that it holds for: none where it holds for all."""
    table: dict[str, list[str]] = {}
    for row in rows:
        table.setdefault(words(row), []).append(row.size or "")
    if len(table) == 1:
        return [((), text) for text in table if text]
    return [(tuple(sizes), text) for text, sizes in table.items() if text]


def _row(one: Figures) -> ChartRow:
    times, shaped = 1 if one.cut is Cut.ON_FOLD else 2, one.contour_mm is not None
    return ChartRow(
        piece=one.name,
        size=one.size,
        length=_rounded(one.half_length_mm, times=times),
        width=_rounded(one.cut_width_mm, up=one.finish.rounds_up),
        quantity=one.quantity,
        cut=one.cut,
        fabric=one.fabric,
        finish=one.finish_words,
        stretch_to=_rounded(one.edge.edge_mm),
        ratio=percent(one.ratio.used),
        sewn=_rounded(one.loop_mm),
        shortest=None if shaped else _rounded(one.ratio.tightest * one.edge.edge_mm),
        longest=None if shaped or one.ratio.flat is None else _rounded(one.ratio.flat * one.edge.edge_mm),
        has_good=one.ratio.flat is None or one.ratio.flat >= one.ratio.tightest,
        finished=_rounded(one.finished_width_mm),
        sewn_at=_rounded(one.seam_allowance_mm),
        end_seam=_rounded(one.join_allowance_mm),
        end_mm=one.join_allowance_mm,
        end_place=one.join_place,
        parts=_parts(one),
        sections=_sections(one),
        garment=one.cut_words,
        not_passed=one.warnings[: len(one.failed)],
        doubts=one.warnings[len(one.failed) :],
        is_band=one.finish.is_band,
        stands=one.standing.stands,
        elastic=one.elastic,
        ends=one.ends,
        buttons=one.buttons,
        runs_on=one.runs_on,
        bias=one.bias,
        views=one.views,
        marks=one.notches if one.finish.is_bought else (),
        first_part=one.first_part,
        even=one.even,
        paired=one.paired,
        widest_mm=one.widest_mm,
        finished_edge=None if one.contour_mm is None else _rounded(one.contour_mm),
    )


def _parts(one: Figures) -> tuple[PartRow, ...]:
    """Return the parts of an edge that the strip is not shared out over evenly."""
    if one.edge.evenly:
        return ()
    return tuple(PartRow(part.words, _rounded(part.edge_mm), _rounded(part.strip_mm)) for part in one.edge.parts)


def _sections(one: Figures) -> Sections | None:
    if not one.sections:
        return None
    return Sections(tuple(map(_row, strips_of([one]))), joined_at(one.sections), one.piecing)


def _rounded(mm: float, *, times: int = 1, up: bool = False, down: bool = False) -> Rounded:
    return Rounded(*(tape(mm, unit, times=times, up=up, down=down) for unit in ("in", "cm")))
