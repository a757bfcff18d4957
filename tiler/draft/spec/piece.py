"""A piece as the spec states it: its table read into one record.

Lengths are millimetres, shares plain numbers.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from tiler.draft.advice.body import body_measure
from tiler.draft.contour.form import Form, check_edge, read_form
from tiler.draft.edge import read as stated_edge
from tiler.draft.edge.from_drawing import FindCurve
from tiler.draft.edge.read import read_edge
from tiler.draft.edge.seam_line import FRONT_AND_BACK, EdgeSpec
from tiler.draft.fabric import Fabric
from tiler.draft.fastening.buttons import ButtonSpec, read_buttons
from tiler.draft.fastening.open_ends import KEYS as END_KEYS
from tiler.draft.fastening.open_ends import Ends, read_ends
from tiler.draft.fastening.running_on import NOWHERE, RunsOn, read_running_on
from tiler.draft.spec.by_edge import read_corner, read_cut, read_ease, read_join, read_length, read_section
from tiler.draft.spec.table import Table, nearest
from tiler.draft.strip import loop
from tiler.draft.strip.bias import CutOn, check_woven, read_cut_on
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.elastic import ElasticSpec, read_elastic
from tiler.draft.strip.finish import USUAL_COVER, Cut, Finish
from tiler.draft.strip.fittings import Trial, read_trials
from tiler.draft.strip.loop import CasingRatio, LoopSpec
from tiler.draft.strip.notches import JoinAt, SectionAt
from tiler.draft.strip.refinish import OldFinish, read_old_finish
from tiler.draft.strip.standing import KEYS as STANDING_KEYS
from tiler.draft.strip.standing import Standing, read_standing
from tiler.lengths import parse_length
from tiler.sentence import Key, Place, Sentence

MOST_QUANTITY = 999

MOST_NOTCHES = 60
"""So many notches of its own a piece may have: their names stand below each other, and no strip needs a third of it."""


KEYS = (
    "name",
    "finish",
    "finished-width",
    "cut-width",
    "seam-allowance",
    "join-allowance",
    "trim-allowance",
    "cover",
    "cut",
    "quantity",
    "form",
    *STANDING_KEYS,
    "elastic",
    *END_KEYS,
    "buttons",
    "cut-on",
    "view",
    "fabric",
    "garment-fabric",
    *loop.KEYS,
    "edge",
    "ease",
    "corner",
    "join-at",
    "section",
    "replaces",
    "trials",
    "opening",
    "notches",
    "child",
)
_OF_FEW_FINISHES = tuple(dict.fromkeys(key for finish in Finish for key in finish.making.keys))
_OF_CLOTH = ("cut", "cut-on", "corner", "section", "notches")
"""Keys about a piece that is drawn to be cut of cloth."""

MOST_VIEWS = 12
_EDGE_HINT = 'edge = { kind = "neckline", front-half = "18 cm", back-half = "11 cm" }'


@dataclass(frozen=True)
class NamedNotch:
    """A notch that the spec adds: its distance from the fold or the left cut end, mm."""

    name: str
    at_mm: float


@dataclass(frozen=True)
class PieceSpec:
    """A piece as the spec states it; ``None`` where the design has a default that depends on other keys."""

    where: Place
    name: str
    finish: Finish
    finished_width_mm: float | None
    cut_width_mm: float | None
    seam_allowance_mm: float | None
    join_allowance_mm: float | None
    trim_allowance_mm: float | None
    cover_mm: float
    cut: Cut
    quantity: int
    fabric: Fabric | None
    garment_fabric: Fabric | None
    loop: LoopSpec
    edge: EdgeSpec
    must_pass_mm: float | None
    must_pass_source: str | None
    notches: tuple[NamedNotch, ...]
    ease: Ease
    corner: Corner
    join_at: JoinAt | None
    replaces: OldFinish | None
    trials: tuple[Trial, ...]
    standing: Standing = Standing.FLAT
    elastic: ElasticSpec | None = None
    ends: Ends = Ends.CLOSED
    end_allowance_mm: float | None = None
    buttons: ButtonSpec | None = None
    runs_on: RunsOn = NOWHERE
    cut_on: CutOn = CutOn.STRETCH
    section: SectionAt | None = None
    form: Form = Form.STRIP
    for_child: bool = False
    size: str | None = None
    views: tuple[str, ...] = ()
    """Those of the garment to which the piece belongs; all where none is named."""


def read_piece(table: Table, fabrics: Mapping[str, Fabric], find: FindCurve) -> PieceSpec:
    """Read one piece; raises :class:`SpecError` with the key and what to write."""
    name = table.text("name", Key("name", '"Neckband"'))
    finish = table.word("finish", Finish)
    if table.only_one("finished-width", "cut-width") is None and not table.has("elastic"):
        table.raw("finished-width", Sentence(Key("finished-width", '"1/2 in"'), ", or ", Key("cut-width")))
    for key in _OF_FEW_FINISHES:
        if table.has(key) and key not in finish.making.keys:
            table.refuse(key, f"has no meaning for a {finish}; leave it out")
    form = read_form(table, finish)
    for key in _OF_CLOTH if finish.is_bought else ():
        if table.has(key):
            table.refuse(key, f"has no meaning for {finish}, of which only the length is cut; leave it out")
    standing, elastic = read_standing(table, finish), read_elastic(table, finish)
    edge = table.table("edge", stated_edge.KEYS, _EDGE_HINT)
    line = read_edge(edge, find)
    ends = read_ends(table, line.kind)
    buttons, runs_on = read_buttons(table, finish, ends), read_running_on(table, edge, ends)
    if form.shaped:
        check_edge(table, edge, line, None if ends is Ends.CLOSED else runs_on)
    cut_on, fabric = read_cut_on(table, finish), _named(table, "fabric", fabrics)
    if cut_on is CutOn.BIAS:
        check_woven(table, fabric)
    must_pass, must_pass_source, of_child = _read_opening(table)
    corner = read_corner(table, finish, line)
    section = read_section(table, line, corner, fabric, ends)
    join_at = read_join(table, line, corner, section)
    ease = read_ease(table, line, ends)
    in_full = cut_on is CutOn.BIAS or finish.is_bought
    if form.shaped:
        cut = table.word("cut", Cut, Cut.ON_FOLD)
    else:
        cut = Cut.FULL_LOOP if in_full else read_cut(table, line, join_at, buttons, runs_on)
    return PieceSpec(
        where=table.where,
        name=name,
        finish=finish,
        finished_width_mm=_read_width(table, elastic),
        cut_width_mm=table.optional_length("cut-width"),
        seam_allowance_mm=table.optional_length("seam-allowance"),
        join_allowance_mm=table.optional_length("join-allowance"),
        trim_allowance_mm=table.optional_length("trim-allowance", zero_ok=True),
        cover_mm=_read_cover(table, finish),
        cut=cut,
        quantity=table.count("quantity", 2 if line.kind in FRONT_AND_BACK else 1, MOST_QUANTITY),
        fabric=fabric,
        garment_fabric=_named(table, "garment-fabric", fabrics),
        loop=CasingRatio() if form.shaped else read_length(table, line),
        edge=line,
        must_pass_mm=must_pass,
        must_pass_source=must_pass_source,
        notches=_read_notches(table),
        ease=Ease.EVEN if standing.stands or elastic else ease,
        corner=corner,
        join_at=join_at,
        replaces=read_old_finish(table),
        trials=read_trials(table),
        standing=standing,
        elastic=elastic,
        ends=ends,
        end_allowance_mm=table.optional_length("end-allowance", zero_ok=True),
        buttons=buttons,
        runs_on=runs_on,
        cut_on=cut_on,
        section=section,
        form=form,
        for_child=of_child or table.flag("child"),
        views=_read_views(table),
    )


def _read_width(table: Table, elastic: ElasticSpec | None) -> float | None:
    """Read the finished width; a casing without one is as wide as its elastic needs it."""
    if elastic and not table.has("finished-width") and not table.has("cut-width"):
        return elastic.casing_mm
    return table.optional_length("finished-width")


def _read_cover(table: Table, finish: Finish) -> float:
    if table.has("cover"):
        return table.length("cover", "", zero_ok=True)
    usual = USUAL_COVER[table.units] if "cover" in finish.making.keys else 0
    return float(parse_length(usual, table.units, table.where.at("cover"), zero_ok=True))


def _read_views(table: Table) -> tuple[str, ...]:
    if not table.has("view") or isinstance(table.raw("view", ""), list):
        return table.texts("view", MOST_VIEWS)
    return (table.text("view", Key("view", '"A"')),)


def _named(table: Table, key: str, fabrics: Mapping[str, Fabric]) -> Fabric | None:
    if not table.has(key):
        return None
    name = table.text(key, '"rib"')
    if name not in fabrics:
        table.refuse(key, f"there is no [fabrics.{name}]; {nearest(name, fabrics)}")
    return fabrics[name]


def _read_opening(table: Table) -> tuple[float | None, str | None, bool]:
    """Return what must pass, mm, and for a body measure that is referred to whose it is, and whether a child's."""
    if not table.has("opening"):
        return None, None, False
    opening = table.table("opening", ("must-pass",), "")
    hint = Sentence(Key("must-pass", '"22 in"'), ', or "head, 24 months"')
    value, where = opening.by_size("must-pass", hint)
    if not isinstance(value, str) or not value.strip()[:1].isalpha():
        return opening.length("must-pass", hint), None, False
    found = body_measure(value, where)
    return found.around_mm, found.source, found.of_child


def _read_notches(table: Table) -> tuple[NamedNotch, ...]:
    if not table.has("notches"):
        return ()
    entries = list(table.tables("notches", ("name", "at"), '[{ name = "pocket", at = "4 in" }]'))
    if len(entries) > MOST_NOTCHES:
        table.refuse("notches", f"has {len(entries)} notches; at most {MOST_NOTCHES} are taken on one piece")
    return tuple(
        NamedNotch(entry.text("name", '"pocket"'), entry.length("at", '"4 in"', zero_ok=True)) for entry in entries
    )
