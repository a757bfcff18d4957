"""Elastic in a casing: a band that is folded round it; how wide that is, and how long the elastic is cut.

Millimetres.  A casing is cut 2 (w + s) wide as any band, and w has 2 mm more than the elastic, so that
it can be drawn in (ours).  The elastic has a share of the edge or a length of its own, and its ends are
lapped: 2 cm, or 3/4 in where the units are in.  Since it draws the casing in, the band itself is as long
as the edge unless the spec says otherwise, and nothing is asked of lying flat.
"""

from __future__ import annotations

from dataclasses import dataclass

from tiler.draft.spec.table import Table
from tiler.draft.strip.finish import Finish
from tiler.languages.words import Number, Words
from tiler.lengths import both, parse_length
from tiler.sentence import Key, Place

KEYS = ("width", "ratio", "length", "overlap")
ROOM = 2.0
"""What a casing is wider than its elastic, mm."""

OVERLAP = {"in": "3/4 in", "cm": "2 cm"}
LEAST_SHARE, MOST_SHARE = 0.4, 1.2
NOISE = 0.005


@dataclass(frozen=True)
class ElasticSpec:
    """Elastic as the spec states it, mm: a ``ratio`` of the edge, or its ``length_mm`` when it is closed."""

    where: Place
    width_mm: float
    ratio: float | None
    length_mm: float | None
    overlap_mm: float

    @property
    def casing_mm(self) -> float:
        """The least finished width of its casing."""
        return self.width_mm + ROOM


@dataclass(frozen=True)
class Elastic:
    """Elastic as it is cut, mm: ``closed_mm`` is its length once the ends are lapped."""

    width_mm: float
    closed_mm: float
    overlap_mm: float

    @property
    def cut_mm(self) -> float:
        """The length to cut."""
        return self.closed_mm + self.overlap_mm

    def to_json(self) -> dict[str, float]:
        """Return the entry of the figures, mm."""
        return {"width_mm": self.width_mm, "cut_mm": self.cut_mm, "overlap_mm": self.overlap_mm}

    def words(self, units: str, kept: bool = False) -> Words:
        """Say how it is cut; ``kept`` lengths are not parted at the end of a line."""
        width, length, overlap = (
            _kept(both(one, units)) if kept else both(one, units)
            for one in (self.width_mm, self.cut_mm, self.overlap_mm)
        )
        return Words(
            "elastic {width} wide: cut {length}, lap its ends by {overlap}", width=width, length=length, overlap=overlap
        )


def _kept(text: str) -> Number:
    return Number(text.replace(" ", "\u00a0"))


def read_elastic(table: Table, finish: Finish) -> ElasticSpec | None:
    """Read ``elastic`` of a piece; raises :class:`SpecError` beside a binding, or what a casing does not do."""
    if not table.has("elastic"):
        return None
    if not finish.is_band:
        table.refuse(
            "elastic", f"goes into the casing of a folded-band; a {finish} has no room for it, so take the band"
        )
    if table.has("corner"):
        table.refuse("corner", "is where a flat band meets a point; a casing with ", Key("elastic"), " runs round")
    if table.has("ease") and table.raw("ease", "") == "by-curve":
        table.refuse(
            "ease",
            '"by-curve" shares out a band that lies flat in its bends; write "even", or leave out ',
            Key("elastic"),
        )
    if table.has("ratio") and table.raw("ratio", "") == "flat":
        table.refuse(
            "ratio", '"flat" means nothing for a casing, which its ', Key("elastic"), " draws in; leave it out"
        )
    if table.flag("turned-over"):
        table.refuse(
            "elastic",
            "draws in a band that stays as it is sewn; leave it out, or ",
            Key("turned-over"),
            ", which folds down",
        )
    own = table.table("elastic", KEYS, 'elastic = { width = "1 cm", ratio = "85 %" }')
    width = own.length("width", Key("width", '"1 cm"'))
    given = own.only_one("ratio", "length")
    if given is None:
        own.refuse("ratio", "is missing; write ", Key("ratio", '"85 %"'), " of the edge, or ", Key("length"))
    overlap = own.optional_length("overlap", zero_ok=True)
    if overlap is None:
        overlap = float(parse_length(OVERLAP[table.units], table.units, own.where.at("overlap")))
    return ElasticSpec(
        own.where,
        width,
        own.percent("ratio", least=LEAST_SHARE, most=MOST_SHARE) if given == "ratio" else None,
        own.optional_length("length"),
        overlap,
    )


def cut_elastic(spec: ElasticSpec | None, edge: float) -> Elastic | None:
    """Return the elastic as it is cut for an edge of this length, mm."""
    if spec is None:
        return None
    closed = spec.length_mm if spec.ratio is None else spec.ratio * edge
    return Elastic(spec.width_mm, closed or 0.0, spec.overlap_mm)
