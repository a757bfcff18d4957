"""Sizes within each other: shared edges, an end and a letter for each, a layer for each, all of it proved."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pymupdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf

from tests.sheets.jobs import drawn_once
from tests.specs import Length, neckline, piece, spec, straight, table
from tiler.declaration import Tag
from tiler.errors import SpecError
from tiler.proof import Report, prove
from tiler.usecases.draft import Wishes

SIZES = ("XS", "S", "M", "L", "XL")
FRONTS = ("7 3/8", "7 5/8", "7 7/8", "8 1/8", "8 3/8")


def nested(widths: Length = "5/8 in", **fronts: str) -> str:
    """Return a neckband in five sizes."""
    front = dict(zip(SIZES, FRONTS, strict=True)) | fronts
    edge = neckline({size: f"{front[size]} in" for size in SIZES}, "4 in")
    band = piece("Neckband", widths, edge, fabric="rib", ratio="85 %")
    return spec(band, title="Nested", sizes=list(SIZES), fabrics={"rib": "70 %"})


SPEC = nested()


def nest(spec: str = SPEC, paper: str = "letter") -> bytes:
    return drawn_once(spec, Wishes(paper=paper)).data


def test_sizes_share_fold_and_lower_edge_and_end_where_they_should() -> None:
    """This test ensures that each half strip ends at 0.85 (front + back) + 1/4 in, the join allowance, from the fold."""
    pieces = drawn_once(SPEC, Wishes()).declaration.pieces
    assert len({piece.at for piece in pieces}) == 1
    for one, front in zip(pieces, (7.375, 7.625, 7.875, 8.125, 8.375), strict=True):
        (outline,) = (part.subpaths[0] for part in one.parts if part.tag == Tag.CUT_LINE)
        assert (min(x for x, _ in outline), min(y for _, y in outline)) == (0.0, 0.0)
        assert max(x for x, _ in outline) == pytest.approx((0.85 * (front + 4) + 0.25) * 25.4, abs=1e-6)


@pytest.mark.parametrize("paper", ["letter", "a4", "one-sheet"])
def test_a_nest_is_true_to_scale(paper: str) -> None:
    report = prove(nest(paper=paper))
    assert report.verdict == "true-to-scale"
    assert not report.warned


def test_notches_of_two_sizes_may_stand_at_one_place() -> None:
    """This test ensures it for three quarters of 12 in and one half of 18 in, both 9 in."""
    data = nest(
        spec(
            piece("Hem", "1 in", straight(table(S="12 in", M="18 in")), cut="full-loop", ratio="100 %"),
            title="Nested",
            sizes=["S", "M"],
        ),
    )
    assert prove(data).verdict == "true-to-scale"
    with pymupdf.open(stream=data, filetype="pdf") as pdf:
        words = " ".join(page.get_text() for page in pdf)
    assert all(label in words for label in ("S quarter", "M half"))


def test_sizes_are_told_apart_by_pattern_and_letter() -> None:
    patterns = set()
    with Pdf.open(BytesIO(nest())) as pdf:
        for name, form in pdf.pages[1].Resources.XObject.items():
            if not str(name).endswith("s"):
                code = [(operator, operands) for operands, operator in pikepdf.parse_content_stream(form)]
                dashes = [str(operands[0]) for operator, operands in code if str(operator) == "d"]
                patterns.add(dashes[0])
    assert len(patterns) == len(SIZES)
    with pymupdf.open(stream=nest(paper="one-sheet"), filetype="pdf") as read:
        words = " ".join(page.get_text() for page in read)
    for size in SIZES:
        assert f"{size}: " in words
        assert f"{size} shoulder" in words


def test_ends_that_are_too_close_are_refused_with_the_way_out() -> None:
    """0.85 × 1/8 in = 2.7 mm is less than 3 mm."""
    close = nested(S="7 1/2")
    with pytest.raises(SpecError, match=r"sizes XS and S end 2\.7 mm apart.*--apart.*--sizes"):
        nest(close)
    assert drawn_once(close, Wishes(nest=False)).declaration.pieces


def test_sizes_of_another_width_lie_in_a_nest_of_their_own() -> None:
    widths = dict.fromkeys(SIZES[:3], "5/8 in") | dict.fromkeys(SIZES[3:], "3/4 in")
    pieces = drawn_once(nested(widths), Wishes()).declaration.pieces
    assert len({piece.at for piece in pieces[:3]}) == len({piece.at for piece in pieces[3:]}) == 1
    assert pieces[0].at != pieces[3].at


def changed(data: bytes, change: Callable[[Pdf], None], **how: object) -> Report:
    out = BytesIO()
    with Pdf.open(BytesIO(data)) as pdf:
        change(pdf)
        pdf.save(out, **how)  # type: ignore[arg-type]
    return prove(out.getvalue())


def layer(pdf: Pdf, name: str) -> pikepdf.Object:
    return next(group for group in pdf.Root.OCProperties.OCGs if str(group.Name) == name)


def test_each_size_has_a_layer_and_the_words_of_all_have_one() -> None:
    with pymupdf.open(stream=nest(), filetype="pdf") as pdf:
        names = [group["name"] for group in pdf.get_ocgs().values()]
        assert names == [*(f"Size {size}" for size in SIZES), "All sizes"]
        assert all(group["on"] for group in pdf.get_ocgs().values())


def test_a_viewer_that_switches_the_other_sizes_off_shows_one_end() -> None:
    """This test ensures, through MuPDF, that with one layer on only its own end line is left."""
    data = nest(paper="one-sheet")

    def dark(*on: str) -> int:
        out = BytesIO()
        with Pdf.open(BytesIO(data)) as pdf:
            pdf.Root.OCProperties.D.OFF = Array([one for one in pdf.Root.OCProperties.OCGs if str(one.Name) not in on])
            pdf.save(out)
        with pymupdf.open(stream=out.getvalue(), filetype="pdf") as pdf:
            samples = pdf[0].get_pixmap(dpi=72, colorspace=pymupdf.csGRAY).samples
        return sum(1 for grey in samples if grey < 200)

    assert dark() < dark("Size M") < dark("Size M", "Size L") < dark("Size M", "Size L", "All sizes")


@pytest.mark.parametrize("streams", [pikepdf.ObjectStreamMode.disable, pikepdf.ObjectStreamMode.generate])
def test_every_size_is_proved_with_its_layer_on(streams: pikepdf.ObjectStreamMode) -> None:
    def off(pdf: Pdf) -> None:
        pdf.Root.OCProperties.D.OFF = Array([layer(pdf, "Size M"), layer(pdf, "Size XL")])

    report = changed(nest(), off, object_stream_mode=streams)
    assert report.verdict == "true-to-scale"
    assert [check.detail for check in report.warned if check.name == "layers"] == [
        "switched off and not printed until switched on: Size M, Size XL"
    ]


def test_a_base_state_of_off_is_understood_and_refused() -> None:
    def off(pdf: Pdf) -> None:
        pdf.Root.OCProperties.D.BaseState = Name.OFF
        pdf.Root.OCProperties.D.ON = Array([layer(pdf, "Size S"), layer(pdf, "All sizes")])

    report = changed(nest(), off)
    assert [check.detail for check in report.failed] == [
        "what is printed depends on layers that are off unless they are named"
    ]
    assert "Size XS, Size M, Size L, Size XL" in report.warned[0].detail


def usage(pdf: Pdf) -> None:
    layer(pdf, "Size M").Usage = Dictionary(Print=Dictionary(PrintState=Name.ON))


def event(pdf: Pdf) -> None:
    states = Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=Array([layer(pdf, "Size M")]))
    pdf.Root.OCProperties.D.AS = Array([states])


def intent(pdf: Pdf) -> None:
    layer(pdf, "Size M").Intent = Array([Name.View, Name.Design])


def buttons(pdf: Pdf) -> None:
    pdf.Root.OCProperties.D.RBGroups = Array([Array([layer(pdf, "Size M"), layer(pdf, "Size S")])])


def another(pdf: Pdf) -> None:
    pdf.Root.OCProperties.Configs = Array([Dictionary(OFF=Array([layer(pdf, "Size M")]))])


@pytest.mark.parametrize("change", [usage, event, intent, buttons, another])
def test_a_layer_that_depends_on_anything_is_refused(change: Callable[[Pdf], None]) -> None:
    """This test ensures that no state, intent or second configuration (ISO 32000-1, 8.11.4) decides what is printed."""
    report = changed(nest(), change)
    assert report.verdict == "incomplete"
    assert {check.name for check in report.failed} == {"layers"}


def test_the_plain_intent_changes_nothing() -> None:
    def view(pdf: Pdf) -> None:
        for group in pdf.Root.OCProperties.OCGs:
            group.Intent = Name.View

    assert changed(nest(), view).failed == ()


def swap(pdf: Pdf) -> None:
    forms = pdf.pages[1].Resources.XObject
    one, two = forms["/FormXob.p1"], forms["/FormXob.p2"]
    one.OC, two.OC = two.OC, one.OC


def no_layer(pdf: Pdf) -> None:
    del pdf.pages[1].Resources.XObject["/FormXob.p1"]["/OC"]


def renamed(pdf: Pdf) -> None:
    layer(pdf, "Size M").Name = "Size L"


def not_printed(pdf: Pdf) -> None:
    group = layer(pdf, "Size M")
    group.Usage = Dictionary(Print=Dictionary(PrintState=Name.OFF))
    states = Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=pdf.Root.OCProperties.OCGs)
    pdf.Root.OCProperties.D.AS = Array([states])


def emptied(pdf: Pdf) -> None:
    pdf.pages[1].Resources.XObject["/FormXob.p3"].write(b"")


@pytest.mark.parametrize("change", [swap, no_layer, renamed, not_printed, emptied])
def test_a_size_on_a_wrong_layer_or_none_is_found(change: Callable[[Pdf], None]) -> None:
    report = changed(nest(), change)
    assert report.verdict == "incomplete"
