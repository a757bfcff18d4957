"""Keys of a piece that follow from its edge: how long it is, how it is cut, joined and shared out."""

from __future__ import annotations

from tiler.draft.edge.listed import unmirrored
from tiler.draft.edge.point import asked
from tiler.draft.edge.seam_line import FRONT_AND_BACK, EdgeSpec, Kind
from tiler.draft.fabric import Fabric
from tiler.draft.fastening.buttons import ButtonSpec
from tiler.draft.fastening.open_ends import Ends
from tiler.draft.fastening.running_on import RunsOn
from tiler.draft.spec.table import Table
from tiler.draft.strip import loop
from tiler.draft.strip.corner import FLATTEST_LAP, Corner
from tiler.draft.strip.ease import Ease, usual_ease
from tiler.draft.strip.finish import Cut, Finish
from tiler.draft.strip.loop import CasingRatio, LoopSpec, read_loop
from tiler.draft.strip.notches import JOIN_PLACES, JoinAt, SectionAt
from tiler.sentence import Key, Phrase


def read_ease(table: Table, line: EdgeSpec, ends: Ends) -> Ease:
    """Read how the strip is shared out: that of an open edge in parts by the curve, unless said otherwise."""
    by_part = ends is not Ends.CLOSED and line.listed
    ease = table.word("ease", Ease, Ease.BY_CURVE if by_part else usual_ease(line))
    if table.has("ease") and ease is Ease.BY_CURVE and len(line.parts) == 1:
        table.refuse("ease", '"by-curve" shares the strip out between parts; measure the edge in parts')
    return ease


def read_section(table: Table, line: EdgeSpec, corner: Corner, fabric: Fabric | None, ends: Ends) -> SectionAt | None:
    """Read where sections are joined; raises :class:`SpecError` for a seam that the edge has not."""
    if not table.has("section"):
        return None
    # join-at writes it large
    section = table.word("section", SectionAt, also={"CB": "cb"})
    known = _section_places(line, corner, ends)
    if section not in known:
        places = " or ".join(f'"{place}"' for place in known)
        if line.listed:
            table.refuse(
                "section",
                f'"{section}" is not known of an edge in ',
                Key("parts"),
                f"; write {places}, or leave it out, and the strip is joined between them",
            )
        if len(line.parts) == 1 and line.kind in (Kind.NECKLINE, Kind.ARMHOLE) and section is not SectionAt.SIDES:
            why = f'"{section}" needs the lengths of front and back; measure the {line.kind} in them, or write {places}'
            table.refuse("section", why)
        where = f'an edge of kind "{line.kind}"' if ends is Ends.CLOSED else "an open strip on such an edge"
        table.refuse("section", f'"{section}" is no seam of {where}; write {places}')
    if fabric is None or fabric.width_mm is None:
        table.refuse(
            "section",
            "says where a strip is joined that is longer than its cloth is wide, and that width is not known; ",
            Phrase.CLOTH_WIDTH,
            ", or leave it out",
        )
    return section


def _section_places(line: EdgeSpec, corner: Corner, ends: Ends) -> tuple[SectionAt, ...]:
    """Return where sections of a strip on this edge can be joined."""
    if line.listed or len(line.parts) == 1:
        # at both sides only what goes round has joins
        plain = corner is Corner.NONE and ends is Ends.CLOSED and not line.listed
        halves = plain and line.kind in (Kind.STRAIGHT, Kind.CURVED)
        return (SectionAt.SIDES, SectionAt.EVEN) if halves else (SectionAt.EVEN,)
    if line.kind is Kind.NECKLINE:
        return SectionAt.SHOULDERS, SectionAt.CB, SectionAt.EVEN
    return (SectionAt.SIDES if line.kind is Kind.LEG else SectionAt.SHOULDERS), SectionAt.EVEN


def read_join(table: Table, line: EdgeSpec, corner: Corner, section: SectionAt | None) -> JoinAt | None:
    """Read where the end seam lies; that of an edge without halves at a side where its sections are joined there."""
    at_sides = section is SectionAt.SIDES and line.kind not in FRONT_AND_BACK
    if not table.has("join-at"):
        return JoinAt.SIDE if at_sides else None
    join_at = table.word("join-at", JoinAt)
    if at_sides and join_at is not JoinAt.SIDE:
        table.refuse(
            "join-at", f'"{join_at}" contradicts ', Key("section", '"sides"'), '; write "side" or leave it out'
        )
    if corner is not Corner.NONE:
        table.refuse("join-at", "contradicts ", Key("corner"), ", where the ends meet; leave one of them out")
    known = JOIN_PLACES[line.kind]
    if join_at not in known:
        places = " or ".join(f'"{place}"' for place in known)
        table.refuse("join-at", f'"{join_at}" is no place on an edge of kind "{line.kind}"; write {places}')
    if line.kind is Kind.NECKLINE and join_at is JoinAt.SHOULDER and len(line.parts) == 1:
        table.refuse(
            "join-at",
            '"shoulder" needs the lengths of front and back; measure the neckline in halves, or write "CB"',
        )
    return join_at


def read_length(table: Table, line: EdgeSpec) -> LoopSpec:
    """Read how long the strip is."""
    if all(part.ratio for part in line.parts) and (given := table.only_one(*loop.KEYS)):
        table.refuse(given, "contradicts the ratios of all parts of the edge; leave it out")
    if table.has("elastic") and table.only_one(*loop.KEYS) is None:
        return CasingRatio()
    return read_loop(table, Kind.STRAIGHT if line.straight_leg else line.kind)


def read_cut(table: Table, line: EdgeSpec, join_at: JoinAt | None, buttons: ButtonSpec | None, runs_on: RunsOn) -> Cut:
    """Read the cut: in full where the two halves of the strip are not alike, unless said otherwise."""
    if not runs_on.alike:
        cut = table.word("cut", Cut, Cut.FULL_LOOP)
        if cut is Cut.ON_FOLD:
            why = f'"{cut}" wants both ends alike, and the strip {runs_on.words(table.units)}; write "full-loop"'
            table.refuse("cut", why)
        return cut
    if line.listed:
        unlike_parts = unmirrored(line.parts, table.units)
        cut = table.word("cut", Cut, Cut.FULL_LOOP if unlike_parts else Cut.ON_FOLD)
        if unlike_parts and cut is Cut.ON_FOLD:
            why = f'"{cut}" wants parts that are mirrored about the fold, and '
            table.refuse("cut", why, unlike_parts, '; write "full-loop", or check the parts')
        return cut
    if buttons:
        cut = table.word("cut", Cut, Cut.FULL_LOOP)
        if cut is Cut.ON_FOLD:
            table.refuse(
                "cut", f'"{cut}" has them on both halves; write "full-loop", or give the edge in ', Key("parts")
            )
        return cut
    at_shoulder = line.kind is Kind.NECKLINE and join_at is JoinAt.SHOULDER
    unlike = at_shoulder or line.kind in FRONT_AND_BACK
    cut = table.word("cut", Cut, Cut.FULL_LOOP if unlike else Cut.ON_FOLD)
    if cut is Cut.ON_FOLD and at_shoulder:
        table.refuse(
            "cut", f'"{cut}" wants two halves alike, and a neckband joined at a shoulder has none; write "full-loop"'
        )
    return cut


def read_corner(table: Table, finish: Finish, line: EdgeSpec) -> Corner:
    """Read how the strip meets a sharp corner."""
    # both spellings are at home in the trade
    corner = table.word("corner", Corner, Corner.NONE, {"miter": "mitre"})
    if corner is Corner.NONE:
        return corner
    if line.listed:
        table.refuse(
            "corner", f'"{corner}" is for a vee in halves, not for an edge in ', Key("parts"), "; leave it out"
        )
    if line.point_deg is None:
        table.refuse(
            "corner",
            f'"{corner}" is for one sharp corner, as at CF of a vee: measure ',
            asked("edge"),
            ", or leave ",
            Key("corner"),
            " out and the strip runs round",
        )
    if corner is Corner.LAPPED and not finish.is_band:
        table.refuse("corner", f'"lapped" is for a folded-band; a {finish} wraps both sides, so write "mitre"')
    if corner is Corner.LAPPED and line.point_deg < FLATTEST_LAP:
        table.refuse(
            "corner", f"a corner of {line.point_deg:.3g} degrees is too flat to lap (under {FLATTEST_LAP:g}); mitre it"
        )
    return corner
