"""The options that state one piece: each stands for a key of the spec.

An option's help is also the comment beside its key when the spec is saved.  Values are
texts, as in a spec: the reader of the spec judges them.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import Any

import click

from tiler.draft.edge.seam_line import Kind, MeasuredOn
from tiler.draft.edge.shape import Shape
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.finish import Cut, Finish
from tiler.draft.strip.fittings import ChangedOn
from tiler.paper import PAPER_NAMES

Place = tuple[str | int, ...]
"""The keys that lead to a value; ``strip`` and ``garment`` stand for the two fabrics."""

STRIP, GARMENT = "strip", "garment"
PIECE: Place = ("pieces", 0)
EDGE: Place = (*PIECE, "edge")
LENGTH, SHARE, ANGLE = "LENGTH", "PERCENT", "ANGLE"
BINDINGS = tuple(finish.removesuffix("-binding") for finish in Finish if not finish.is_band)


class Words(click.Choice[str]):
    """A few fixed words, shown in the help and completed by the shell, but judged by the reader of the spec."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:  # noqa: ARG002
        """Leave the word as it was typed."""
        return str(value)


@dataclass(frozen=True)
class PieceOption:
    """One option, its key in the spec, and what it says there.

    ``count`` is how many texts a value takes; ``repeated`` options may stand several times.
    """

    names: tuple[str, ...]
    place: Place
    help: str
    metavar: str = LENGTH
    words: tuple[str, ...] = ()
    count: int = 1
    repeated: bool = False

    @property
    def parameter(self) -> str:
        """The name under which the command gets the value."""
        return self.names[0].removeprefix("--").replace("-", "_")

    @property
    def key(self) -> str:
        """The last key of the place, which is the option's word in the spec."""
        return str(self.place[-1])


def _one(name: str, place: Place, help: str, metavar: str = LENGTH, **more: Any) -> PieceOption:
    return PieceOption(tuple(f"--{one}" for one in name.split()), place, help, metavar, **more)


def _words(name: str, place: Place, help: str, words: Iterable[str]) -> PieceOption:
    # click would show the names of an enumeration instead of its words
    return PieceOption((f"--{name}",), place, help, "", tuple(f"{word}" for word in words))


GROUPS: dict[str, tuple[PieceOption, ...]] = {
    "Edge, as measured": (
        _words("kind", (*EDGE, "kind"), "which edge; follows from the parts where they are given", Kind),
        _one("edge whole", (*EDGE, "whole"), "the whole edge in one"),
        _one("front-half", (*EDGE, "front-half"), "neckline, front: from CF to the shoulder"),
        _one("back-half", (*EDGE, "back-half"), "neckline, back: from CB to the shoulder"),
        _one("front", (*EDGE, "front"), "armhole, front: from the underarm to the shoulder"),
        _one("back", (*EDGE, "back"), "armhole, back: from the underarm to the shoulder"),
        _words("measured-on", (*EDGE, "measured-on"), "the line that was measured; else the seam line", MeasuredOn),
        _one("garment-allowance", (*EDGE, "garment-allowance"), "from the cut edge to the seam line of the garment"),
        _one("end-allowance", (*EDGE, "end-allowance"), "seam allowance that each part still has at its ends"),
        _one("shoulder-slope", (*EDGE, "shoulder-slope"), "slope of the shoulder seam; else 20 deg", ANGLE),
        _one("turning", (*EDGE, "turning"), "curve angle: how far the whole edge turns", ANGLE),
        _one("corners", (*EDGE, "corners"), "a sharp corner, as at CF of a vee", ANGLE, repeated=True),
    ),
    "Neckline, as a shape": (
        _words("shape", (*EDGE, "shape"), "shape of the front, instead of a measured edge", Shape),
        _one("neck-width", (*EDGE, "neck-width"), "between the neck points of the shoulders"),
        _one("front-depth", (*EDGE, "front-depth"), "from the neck points down to CF"),
        _one("back-depth", (*EDGE, "back-depth"), "from the neck points down to CB"),
        _one("lower-front", (*EDGE, "lower-front"), "change: lower the front by this"),
        _one("lower-back", (*EDGE, "lower-back"), "change: lower the back by this"),
        _one("widen", (*EDGE, "widen"), "change: widen each side by this"),
    ),
    "Fabric": (
        _one("stretch", (STRIP, "stretch"), "stretch of the strip's fabric: (pulled - rest) / rest", SHARE),
        _one("rest", (STRIP, "rest"), "instead of stretch: a length marked on the fabric at rest"),
        _one("pulled", (STRIP, "pulled"), "the same length, pulled as far as it goes"),
        _one("recovery", (STRIP, "recovery"), "how much of the stretch goes back", SHARE),
        _one("thickness", (STRIP, "thickness"), "thickness of the strip's fabric"),
        _one("cloth-width", (STRIP, "width"), "width of the strip's fabric, to know how much to buy"),
        _one("fabric", (*PIECE, "fabric"), "name of the strip's fabric on the label; else knit", "NAME"),
        _one("garment-stretch", (GARMENT, "stretch"), "stretch of the garment's fabric", SHARE),
        _one("garment-rest", (GARMENT, "rest"), "instead: a length marked on the garment's fabric"),
        _one("garment-pulled", (GARMENT, "pulled"), "the same length, pulled as far as it goes"),
        _one("garment-fabric", (*PIECE, "garment-fabric"), "its name; that of the strip where both are one", "NAME"),
    ),
    "Strip": (
        _one("width finished-width", (*PIECE, "finished-width"), "the width that shows on the right side"),
        _one("cut-width", (*PIECE, "cut-width"), "instead: the width to cut"),
        _one("seam-allowance", (*PIECE, "seam-allowance"), "of the band's seam; else the garment's, or 1/4 in"),
        _one("join-allowance", (*PIECE, "join-allowance"), "allowance of the end seam"),
        _one("cover", (*PIECE, "cover"), "how far the back fold passes the stitching"),
        _one("trim-allowance", (*PIECE, "trim-allowance"), "what is trimmed off the back edge; else 3/8 in"),
        _words("cut", (*PIECE, "cut"), "half of it, for folded fabric, or all of it; else on fold", Cut),
        _one("quantity", (*PIECE, "quantity"), "how many are cut; else 1, for an armhole 2", "NUMBER"),
        _words("corner", (*PIECE, "corner"), "how the ends meet at a sharp corner", Corner),
        _words("ease", (*PIECE, "ease"), "how the strip is shared out along the edge", Ease),
        _one("notch", (*PIECE, "notches"), "one more notch: its name, and how far from the fold or left end",
             "NAME LENGTH", count=2, repeated=True),
        _one("name", (*PIECE, "name"), "name on the piece; else Neckband, Armhole binding and the like", "WORDS"),
        _one("title", ("title",), "what stands above on every page", "WORDS"),
    ),
    "Length of the strip": (
        _one("ratio", (*PIECE, "ratio"), "usual (without: this), flat, or a share of the edge", "RATIO"),
        _one("ratio-loop", (*PIECE, "ratio", "loop"), "instead: the pattern's own strip, without end seams"),
        _one("ratio-edge", (*PIECE, "ratio", "edge"), "and the edge that this strip was made for"),
        _one("loop", (*PIECE, "loop"), "instead of a ratio: the sewn length itself"),
        _one("body", (*PIECE, "fits", "body"), "instead of a ratio: the body that the strip goes round"),
        _one("body-ease", (*PIECE, "fits", "ease"), "by how much it is larger than the body", SHARE),
        _one("shorten", (*PIECE, "trials", 0, "shorten"), "after a fitting: shorten the strip by this"),
        _one("lengthen", (*PIECE, "trials", 0, "lengthen"), "after a fitting: lengthen the strip by this"),
        _words("on", (*PIECE, "trials", 0, "on"), "where the change was measured: fold counts twice", ChangedOn),
    ),
    "Opening": (
        _one("must-pass", (*PIECE, "opening", "must-pass"),
             "what the edge must go over: a length, or 'head, 24 months', 'head, woman', 'hand, man'", "MEASURE"),
    ),
    "Paper": (
        _words("units", ("units",), "the unit that is shown first; else that of the edge", ("in", "cm")),
        _words("paper", ("paper", "size"), "paper to print on; else letter", PAPER_NAMES),
        _one("margin", ("paper", "margin"), "white on all four sides of a page; else 10 mm"),
        _one("overlap", ("paper", "overlap"), "what two neighbouring pages both show; else 10 mm"),
    ),
}  # fmt: skip
"""Every key that an option can state, in the order of the help."""

FINISH = _words("finish", (*PIECE, "finish"), "turned under on the back, doubled, or the back edge left raw", BINDINGS)
"""Which binding; a band has only one finish."""

ONLY_BINDINGS = ("cover", "trim-allowance")
ONLY_BANDS = ("seam-allowance",)


def options_of(band: bool) -> dict[str, tuple[PieceOption, ...]]:
    """Give the options of a band, or of a binding, by group."""
    left_out = ONLY_BINDINGS if band else ONLY_BANDS
    groups = {
        group: tuple(option for option in options if option.key not in left_out) for group, options in GROUPS.items()
    }
    return groups if band else {"Binding": (FINISH,), **groups}


class GroupedOption(click.Option):
    """An option that knows under which heading of the help it stands."""

    def __init__(self, *names: str, group: str, **more: Any) -> None:
        """Take what click takes, and the heading."""
        super().__init__(list(names), **more)
        self.group = group


class GroupedCommand(click.Command):
    """A command whose help lists its options by group, and that remembers how they were typed."""

    def parse_args(self, ctx: click.Context, args: list[str]) -> list[str]:
        """Keep the words as typed, so that a message can name an option as its reader knows it."""
        ctx.meta["typed"] = [word.partition("=")[0] for word in args]
        return super().parse_args(ctx, args)

    def format_options(self, ctx: click.Context, formatter: click.HelpFormatter) -> None:
        """Write one list for each group."""
        rows: dict[str, list[tuple[str, str]]] = {}
        for parameter in self.get_params(ctx):
            row = parameter.get_help_record(ctx)
            if row is not None:
                rows.setdefault(getattr(parameter, "group", "File"), []).append(row)
        for group, entries in rows.items():
            with formatter.section(group):
                formatter.write_dl(entries)


def with_piece_options(band: bool) -> Callable[[click.Command], click.Command]:
    """Put the options of a band, or of a binding, before those that a command has already."""

    def put(command: click.Command) -> click.Command:
        own = [_click_option(option, group) for group, options in options_of(band).items() for option in options]
        command.params[:0] = own
        return command

    return put


def _click_option(option: PieceOption, group: str) -> GroupedOption:
    more: dict[str, Any] = {"type": Words(option.words)} if option.words else {"metavar": option.metavar, "type": str}
    if option.count > 1:
        more = {"metavar": option.metavar, "nargs": option.count, "type": (str,) * option.count}
    help = f"{option.help[0].upper()}{option.help[1:]}."
    return GroupedOption(option.parameter, *option.names, group=group, help=help, multiple=option.repeated, **more)
