"""Sizes within each other: shared edges, an end and a letter for each, a layer for each, all of it proved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from io import BytesIO
from itertools import pairwise
from re import fullmatch

import pikepdf
import pymupdf
import pypdfium2
import pytest
from pikepdf import Array, Dictionary, Name, Pdf
from PIL import Image
from pypdf import PdfWriter
from pypdf.generic import ArrayObject, NameObject

from tests.chosen import long
from tests.sheets.jobs import drawn_once
from tests.specs import Length, armhole, neckline, piece, spec, straight, table
from tiler.box import Box, Subpath
from tiler.declaration import Declaration, PageKind, Tag
from tiler.drawn import Drawn, Piece
from tiler.errors import SpecError
from tiler.printed import Word
from tiler.proof import Report, prove
from tiler.proof.ink.where import word_box
from tiler.sheets.pieces.tag_row import spread
from tiler.sheets.typesetting import text_width
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

VEES = spec(
    piece(
        "Neckband",
        "3/4 in",
        neckline({"S": "9 in", "M": "9 1/2 in", "L": "10 in"}, "4 in", point_angle={"S": "90", "M": "88", "L": "86"}),
        corner="mitre",
        cut="on-fold",
        ratio="88 %",
    ),
    title="Vees",
    sizes=["S", "M", "L"],
)
"""Ends that slant, each size by another angle."""

ARMHOLES = spec(
    piece(
        "Armhole binding",
        "1.2 cm",
        armhole(
            {"S": "22 cm", "M": "22.8 cm", "L": "23.6 cm", "XL": "24.4 cm"},
            {"S": "23 cm", "M": "23.8 cm", "L": "24.6 cm", "XL": "25.4 cm"},
        ),
        "double-fold-binding",
        cut="full-loop",
    ),
    title="Armholes",
    sizes=["S", "M", "L", "XL"],
    units="cm",
)
"""Strips so low that their table stands in blocks."""

HEMS = spec(
    piece("Hem", "1 in", straight(table(S="12 in", M="18 in")), cut="full-loop", ratio="100 %"),
    title="Nested",
    sizes=["S", "M"],
)


def nest(spec: str = SPEC, paper: str = "letter", cover: bool = True) -> bytes:
    return drawn_once(spec, Wishes(paper=paper, cover=cover)).data


def test_sizes_share_fold_and_lower_edge_and_end_where_they_should() -> None:
    """This test ensures that each half strip ends at 0.85 (front + back) + 1/4 in, the join allowance, from the fold."""
    declaration = drawn_once(SPEC, Wishes()).declaration
    assert len({one.at for one in declaration.drawn}) == 1
    for one, front in zip(declaration.pieces, (7.375, 7.625, 7.875, 8.125, 8.375), strict=True):
        cuts = [part.subpaths[0] for part in declaration.parts_of(one) if part.tag == Tag.CUT_LINE]
        outline = [point for line in cuts for point in line]
        assert (min(x for x, _ in outline), min(y for _, y in outline)) == (0.0, 0.0)
        assert max(x for x, _ in outline) == pytest.approx((0.85 * (front + 4) + 0.25) * 25.4, abs=1e-6)


@pytest.mark.parametrize("text", [SPEC, VEES, HEMS], ids=["fold", "vee", "both ends"])
def test_every_line_is_drawn_once_and_each_size_has_all_of_its_own(text: str) -> None:
    """This test ensures that no two lines along a nest cover each other, and that those of a size add up to it."""
    declaration = drawn_once(text, Wishes()).declaration
    runs = [
        (part.tag, round(line[0][1], 2), line[0][0], line[-1][0])
        for one in declaration.drawn
        for part in one.parts
        for line in part.subpaths
        if part.tag in (Tag.CUT_LINE, Tag.PRESS_LINE, Tag.SEAM_LINE) and line[0][1] == line[-1][1] and len(line) == 2
    ]
    runs.sort()
    assert len({run[:2] for run in runs}) == 5
    for before, after in pairwise(runs):
        assert before[:2] != after[:2] or before[3] <= after[2] + 1e-6
    for one in declaration.pieces:
        cuts = [part.subpaths[0] for part in declaration.parts_of(one) if part.tag == Tag.CUT_LINE]
        along = sum(abs(line[-1][0] - line[0][0]) for line in cuts if line[0][1] == line[-1][1] == 0.0)
        assert max(x for line in cuts for x, _ in line) == pytest.approx(one.cut_length_mm, abs=1e-3)
        assert along == pytest.approx(max(x for line in cuts for x, y in line if y == 0.0), abs=1e-3)
        assert not any(part.tag == Tag.JOIN_LINE for part in declaration.parts_of(one))


def test_sizes_of_one_length_share_their_end() -> None:
    """This test ensures it for M and L that are measured alike: their end line shows with either of them."""
    declaration = drawn_once(nested(L="7 7/8"), Wishes()).declaration
    m, own = declaration.pieces[2], [one.layer for one in declaration.shared]
    (both,) = (one for one in declaration.shared if one.layer == "Size M or Size L")
    assert any(
        line[0][0] == line[-1][0] == pytest.approx(m.cut_length_mm) for part in both.parts for line in part.subpaths
    )
    assert own == [
        "All sizes",
        "Size S or Size M or Size L or Size XL",
        "Size M or Size L or Size XL",
        "Size M or Size L",
    ]


@long
@pytest.mark.parametrize("paper", ["letter", "a4", "one-sheet"])
def test_a_nest_is_true_to_scale(paper: str) -> None:
    report = prove(nest(paper=paper))
    assert report.verdict == "true-to-scale"
    assert not report.warned


def test_notches_of_two_sizes_may_stand_at_one_place() -> None:
    """This test ensures it for three quarters of 12 in and one half of 18 in, both 9 in."""
    data = nest(HEMS)
    assert prove(data).verdict == "true-to-scale"
    with pymupdf.open(stream=data, filetype="pdf") as pdf:
        words = " ".join(page.get_text() for page in pdf)
    assert all(label in words for label in ("S·¼", "M·¼", "S·½", "M·½"))


def test_sizes_are_told_apart_by_pattern_and_letter() -> None:
    patterns = set()
    with Pdf.open(BytesIO(nest())) as pdf:
        for name, form in pdf.pages[1].Resources.XObject.items():
            if fullmatch(r"/FormXob\.p\d+", str(name)):
                tag, dashes = "", {"[]"}
                for operands, operator in pikepdf.parse_content_stream(form):
                    tag = str(operands[0]) if str(operator) == "BMC" else tag
                    if str(operator) == "d" and tag == "/CutLine":
                        dashes.add(" ".join(map(str, operands[0])))
                patterns.add(max(dashes - {""}, key=len))
    assert len(patterns) == len(SIZES)
    forms = {form.id: form for form in drawn_once(SPEC, Wishes()).declaration.forms}
    for one in drawn_once(SPEC, Wishes()).declaration.pieces:
        tags = [mark for mark in forms[one.id].marks if isinstance(mark, Word) and mark.text == one.size]
        assert (len({mark.at[1] for mark in tags}), len(tags)) == (2, 3), "in one row at end and shoulder, in the table"


def test_the_tags_stand_in_one_row_and_the_table_tells_lengths_and_notches() -> None:
    """This test ensures 0.85 × (7 7/8 + 4) + 1/4 = 10 3/8 in (10.34) and 0.85 × 7 7/8 = 6 11/16 in (6.69) for M."""
    declaration = drawn_once(SPEC, Wishes(paper="one-sheet")).declaration
    forms = {form.id: form for form in declaration.forms}
    words = {one.size: [mark for mark in forms[one.id].marks if isinstance(mark, Word)] for one in declaration.pieces}
    assert {row[0].at[1] for row in words.values()} == {words["M"][0].at[1]}
    assert [word.text.replace("⁄", "/") for word in words["M"][2:]] == ["M", "10⅜ in (26.3 cm)", "6¹¹/₁₆ in (17.0 cm)"]


@pytest.mark.parametrize(("paper", "arrange"), [("letter", "grid"), ("letter", "stacked"), ("a4", "grid")])
def test_the_table_stands_whole_on_a_page_that_has_room_for_it(paper: str, arrange: str) -> None:
    """This test ensures that its blocks stand together where a strip is too low for one and runs over joints."""
    declaration = drawn_once(ARMHOLES, Wishes(paper=paper, arrange=arrange)).declaration
    assert declaration.marks
    (common,) = [one for one in declaration.shared if len(one.pieces) == 4 and one.id.endswith("s")]
    words = [
        (one, mark)
        for one in (*declaration.pieces, common)
        for form in declaration.forms
        if form.id == one.id
        for mark in form.marks
        if isinstance(mark, Word)
    ]
    heads = [mark for one, mark in words if one is common and mark.text == "size"]
    lines = {round(mark.at[1], 3) for one, mark in words if one is not common and " in)" in mark.text}
    cells = [(one, mark) for one, mark in words if mark in heads or (mark.at[1] > 0 and round(mark.at[1], 3) in lines)]
    assert len(heads) > 1
    assert {one.size for one, _ in cells if isinstance(one, Piece)} == {"S", "M", "L", "XL"}
    boxes = [
        Box.around(map(one.on_sheet, ((box.x0, box.y0), (box.x1, box.y1))))
        for one, mark in cells
        for box in (word_box(mark),)
    ]
    assert any(page.window.grown(0.01).holds(Box.enclosing(boxes)) for page in declaration.pages if page.window)


@pytest.mark.parametrize("text", [SPEC, VEES, HEMS], ids=["fold", "vee", "both ends"])
def test_all_tags_stand_in_one_row_within_the_longest_size(text: str) -> None:
    """This test ensures that a nest is no longer than its longest size alone, and takes one row below it."""
    declaration = drawn_once(text, Wishes(paper="one-sheet")).declaration
    below = [mark for form in declaration.forms for mark in form.marks if isinstance(mark, Word) and mark.at[1] < 0]
    assert len({round(mark.at[1], 3) for mark in below}) == 1
    assert {one.size for one in declaration.pieces} <= {mark.text for mark in below}
    bounds = [one.bounds for one in declaration.drawn]
    longest = max(one.cut_length_mm for one in declaration.pieces)
    assert (min(box.x0 for box in bounds), max(box.x1 for box in bounds)) == pytest.approx((-2.0, longest + 2.0))


def test_seam_lines_of_a_nest_are_shared_and_end_with_each_size() -> None:
    declaration = drawn_once(SPEC, Wishes()).declaration
    for one in declaration.pieces:
        seams = [line for part in declaration.parts_of(one) if part.tag == Tag.SEAM_LINE for line in part.subpaths]
        assert max(x for line in seams for x, _ in line) == pytest.approx(one.cut_length_mm - 6.35, abs=1e-3)
        assert {round(y, 3) for line in seams for _, y in line} == {6.35, round(one.cut_width_mm - 6.35, 3)}


@pytest.mark.parametrize("change", ["missing", "moved", "shorter"])
def test_a_seam_line_of_a_nest_that_is_not_as_declared_is_found(change: str) -> None:
    def fault(pdf: Pdf) -> None:
        form = pdf.pages[-1].Resources.XObject["/FormXob.p1s"]
        content = [(list(operands), operator) for operands, operator in pikepdf.parse_content_stream(form)]
        tags = [k for k, (operands, operator) in enumerate(content) if str(operator) == "BMC"]
        start = next(k for k in tags if str(content[k][0][0]) == "/SeamLine")
        end = next(k for k in range(start, len(content)) if str(content[k][1]) == "EMC")
        if change == "missing":
            del content[start : end + 1]
        for operands, operator in content[start:end] if change != "missing" else ():
            if str(operator) in ("m", "l"):
                operands[1] = float(operands[1]) + (0.3 if change == "moved" else 0.0)
            if str(operator) == "l" and change == "shorter":
                operands[0] = float(operands[0]) - 0.3
        form.write(pikepdf.unparse_content_stream(content))

    report = changed(nest(cover=False), fault)
    assert report.verdict == "incomplete"
    assert any(check.name == "piece" and "seam line" in check.detail for check in report.failed)


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
        pdf.save(out, compress_streams=False, **how)  # type: ignore[arg-type]
    return prove(out.getvalue())


def layer(pdf: Pdf, name: str) -> pikepdf.Object:
    return next(group for group in pdf.Root.OCProperties.OCGs if str(group.Name) == name)


def test_each_size_has_a_layer_and_the_words_of_all_have_one() -> None:
    with pymupdf.open(stream=nest(), filetype="pdf") as pdf:
        names = [group["name"] for group in pdf.get_ocgs().values()]
        assert names == [*(f"Size {size}" for size in SIZES), "All sizes"]
        assert all(group["on"] for group in pdf.get_ocgs().values())


@long
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
        return sum(map(samples.count, range(200)))

    assert dark() < dark("Size M") < dark("Size M", "Size L") < dark("Size M", "Size L", "All sizes")


@pytest.mark.parametrize("streams", [pikepdf.ObjectStreamMode.disable, pikepdf.ObjectStreamMode.generate])
def test_every_size_is_proved_with_its_layer_on(streams: pikepdf.ObjectStreamMode) -> None:
    def off(pdf: Pdf) -> None:
        pdf.Root.OCProperties.D.OFF = Array([layer(pdf, "Size M"), layer(pdf, "Size XL")])

    report = changed(nest(cover=False), off, object_stream_mode=streams)
    assert report.verdict == "true-to-scale"
    assert [check.detail for check in report.warned if check.name == "layers"] == [
        "switched off and not printed until switched on: Size M, Size XL"
    ]


def test_a_base_state_of_off_is_understood_and_refused() -> None:
    def off(pdf: Pdf) -> None:
        pdf.Root.OCProperties.D.BaseState = Name.OFF
        pdf.Root.OCProperties.D.ON = Array([layer(pdf, "Size S"), layer(pdf, "All sizes")])

    report = changed(nest(cover=False), off)
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
    layer(pdf, "Size M").Intent = Name.Design


def buttons(pdf: Pdf) -> None:
    pdf.Root.OCProperties.D.RBGroups = Array([Array([layer(pdf, "Size M"), layer(pdf, "Size S")])])


def another(pdf: Pdf) -> None:
    pdf.Root.OCProperties.Configs = Array([Dictionary(OFF=Array([layer(pdf, "Size M")]))])


@pytest.mark.parametrize("change", [usage, event, intent, buttons, another])
def test_a_layer_that_depends_on_anything_is_refused(change: Callable[[Pdf], None]) -> None:
    """This test ensures that no state, intent or second configuration (ISO 32000-1, 8.11.4) decides what is printed."""
    report = changed(nest(cover=False), change)
    assert report.verdict == "incomplete"
    assert {check.name for check in report.failed} == {"layers"}


def test_the_plain_intent_changes_nothing() -> None:
    def view(pdf: Pdf) -> None:
        for group in pdf.Root.OCProperties.OCGs:
            group.Intent = Name.View

    assert changed(nest(cover=False), view).failed == ()


def swap(pdf: Pdf) -> None:
    forms = pdf.pages[-1].Resources.XObject
    one, two = forms["/FormXob.p1"], forms["/FormXob.p2"]
    one.OC, two.OC = two.OC, one.OC


def no_layer(pdf: Pdf) -> None:
    del pdf.pages[-1].Resources.XObject["/FormXob.p1"]["/OC"]


def renamed(pdf: Pdf) -> None:
    layer(pdf, "Size M").Name = "Size L"


def not_printed(pdf: Pdf) -> None:
    group = layer(pdf, "Size M")
    group.Usage = Dictionary(Print=Dictionary(PrintState=Name.OFF))
    states = Dictionary(Event=Name.Print, Category=Array([Name.Print]), OCGs=pdf.Root.OCProperties.OCGs)
    pdf.Root.OCProperties.D.AS = Array([states])


def emptied(pdf: Pdf) -> None:
    pdf.pages[-1].Resources.XObject["/FormXob.p3"].write(b"")


@pytest.mark.parametrize("change", [swap, no_layer, renamed, not_printed, emptied])
def test_a_size_on_a_wrong_layer_or_none_is_found(change: Callable[[Pdf], None]) -> None:
    report = changed(nest(cover=False), change)
    assert report.verdict == "incomplete"


@long
def test_a_vee_whose_ends_slant_by_another_angle_in_each_size_is_nested_and_true_to_scale() -> None:
    declaration = drawn_once(VEES, Wishes()).declaration
    assert [one.layer for one in declaration.shared] == ["All sizes", "Size M or Size L"]
    report = prove(nest(VEES))
    assert (report.verdict, report.warned) == ("true-to-scale", ())


def shown_alone(data: bytes, size: str) -> Image.Image:
    """Render the first page with the layer of one size on, and that of all, by PDFium."""
    writer = PdfWriter(clone_from=BytesIO(data))
    properties = writer.root_object["/OCProperties"]
    off = [one for one in properties["/OCGs"] if one.get_object()["/Name"] not in (f"Size {size}", "All sizes")]
    properties["/D"][NameObject("/OFF")] = ArrayObject(off)
    out = BytesIO()
    writer.write(out)
    with pypdfium2.PdfDocument(out.getvalue()) as pdf:
        return pdf[0].render(scale=100 / 72).to_pil().convert("L")


@pytest.mark.parametrize(("text", "size"), [(SPEC, "XS"), (SPEC, "M"), (SPEC, "XL"), (VEES, "M")])
def test_with_one_layer_on_a_size_is_whole_and_nothing_of_another_remains(text: str, size: str) -> None:
    """This test ensures, through PDFium, that ink lies all along its outline, and that none lies where others end."""
    declaration = drawn_once(text, Wishes(paper="one-sheet")).declaration
    picture = shown_alone(nest(text, "one-sheet"), size)
    page = declaration.pages[0]
    assert page.window
    assert page.frame
    dx, dy = page.frame.x0 - page.window.x0, page.frame.y0 - page.window.y0
    dark = picture.point(lambda grey: 255 if grey < 160 else 0)

    def ink(one: Drawn, line: Subpath, white: float = 0.0) -> float:
        """Return the share of a line that is dark, but for so much of it at the long sides, where notches are."""
        points = []
        for (xa, ya), (xb, yb) in pairwise(line):
            count = max(2, round(max(abs(xb - xa), abs(yb - ya)) / 0.3))
            points += [(xa + (xb - xa) * k / count, ya + (yb - ya) * k / count) for k in range(1, count)]
        low, high = min(y for _, y in line) + white, max(y for _, y in line) - white
        points = [(x, y) for x, y in points if low <= y <= high]
        hits = 0
        for x, y in map(one.on_sheet, points):
            column, row = round((x + dx) * 100 / 25.4), picture.height - round((y + dy) * 100 / 25.4)
            hits += dark.crop((column - 1, row - 2, column + 2, row + 1)).getbbox() is not None
        return hits / len(points)

    for one in declaration.pieces:
        cuts = [part.subpaths[0] for part in declaration.parts_of(one) if part.tag == Tag.CUT_LINE]
        if one.size == size:
            assert min(ink(one, line) for line in cuts if line[0][1] == line[-1][1]) > 0.98
            assert min(ink(one, line) for line in cuts) > 0.6
        own = [part.subpaths[0] for part in one.parts if part.tag == Tag.CUT_LINE]
        end = next(line for line in own if line[0][1] != line[-1][1])
        # a press line of a longer size crosses the end of a shorter one
        assert (ink(one, end) > 0.6) == (one.size == size), one.size
        if one.size != size:
            assert ink(one, end, white=4.0) < 0.06, one.size
    longer = [one for one in declaration.pieces if one.cut_length_mm > own_length(declaration, size) + 1.0]
    for one in longer:
        y = one.cut_width_mm
        start = own_length(declaration, size) + 1.0
        assert ink(one, ((start, y), (one.cut_length_mm - 1.0, y))) < 0.02


def own_length(declaration: Declaration, size: str) -> float:
    return next(one.cut_length_mm for one in declaration.pieces if one.size == size)


TWENTY = tuple(str(2 * number) for number in range(1, 21))


@long
@pytest.mark.parametrize("step", [0.075, 0.25])
def test_a_nest_of_twenty_takes_no_more_pages_than_its_longest_size(step: float) -> None:
    """This test ensures at most 1.25 times as many, for a strip of 1 3/4 in; they are 2, so it has to be as many."""

    def pages(names: Sequence[str]) -> int:
        fronts = {name: f"{10 + step * int(name)} in" for name in names}
        band = piece("Neckband", None, neckline(fronts, "5 in"), ratio="85 %", cut_width="1 3/4 in", cut="on-fold")
        declaration = drawn_once(spec(band, title="Twenty", sizes=list(names)), Wishes()).declaration
        # what twenty sizes have to be told is another matter
        return len({page.number for page in declaration.pages if page.kind is not PageKind.NOTES})

    assert pages(TWENTY) <= 1.25 * pages(TWENTY[-1:])


def test_a_nest_whose_longest_size_fills_a_page_takes_no_other_for_its_tags() -> None:
    """This test ensures it for 255.3 mm and 4 mm of white on a window 259.4 mm high, and a strip too wide for parts."""
    whole = {size: f"{242.6 - 20 * less} mm" for less, size in enumerate(("3XL", "M", "S", "XS"))}

    def pages(names: Sequence[str]) -> int:
        edge = straight({name: whole[name] for name in names})
        hem = piece("Hem", "3 1/4 in", edge, cut="full-loop", ratio="100 %")
        return drawn_once(spec(hem, title="Full", sizes=list(names)), Wishes()).declaration.pages[-1].number

    assert pages(("XS", "S", "M", "3XL")) == pages(("3XL",)) == 2


def test_names_stay_within_the_strip_and_leave_a_wall_alone_where_all_have_no_room() -> None:
    """This test ensures it for names 4 mm wide, 1.2 mm apart: three stand in 14.4 mm, and none of two in 4 mm."""
    widths = [4.0] * 3
    assert spread((0.0, 1.0, 14.0), widths, (), 0.0, 14.4) == pytest.approx((2.0, 7.2, 12.4))
    assert spread((2.0, 7.2, 12.4), widths, (8.0,), 0.0, 14.4) == pytest.approx((2.0, 7.2, 12.4))


def test_notches_of_kinds_among_each_other_say_their_kind_and_a_fan_is_avoided() -> None:
    """Straight sizes of 12 and 18 in: the quarter marks of the one lie beyond the half mark of the other."""
    declaration = drawn_once(HEMS, Wishes(paper="one-sheet")).declaration
    marks = [mark for form in declaration.forms for mark in form.marks if isinstance(mark, Word) and mark.at[1] < 0]
    assert sorted(mark.text for mark in marks) == sorted(["S", "M", *(f"{s}·{n}" for s in "SM" for n in "¼½¼")])
    marks.sort(key=lambda mark: mark.at[0])
    for before, after in pairwise(marks):
        assert before.at[0] + text_width(before.text, before.size, before.bold) < after.at[0]


@pytest.mark.parametrize(
    ("places", "walls", "middles"),
    [
        ((10.0, 30.0), (), (10.0, 30.0)),
        ((10.0, 10.0), (), (10.0 - 2.6, 10.0 + 2.6)),
        ((10.0, 11.0, 40.0), (), (10.5 - 2.6, 10.5 + 2.6, 40.0)),
        ((10.0, 30.0), (11.0,), (11.0 - 2.5, 30.0)),
        ((10.0, 30.0), (9.0, 20.0), (11.5, 30.0)),
        ((10.0, 12.0), (7.0, 14.0), (10.0, 16.5)),
    ],
)
def test_names_move_apart_by_the_least_squares_and_off_walls(
    places: tuple[float, ...], walls: tuple[float, ...], middles: tuple[float, ...]
) -> None:
    """This test ensures it for names 4 mm wide, 1.2 mm apart and 0.5 mm off a wall; two find no room in 7 mm."""
    assert spread(places, [4.0] * len(places), walls) == pytest.approx(middles)
