"""Faults of pages that hold several panes, each found; and such files as drawn and re-saved, let pass.

The strips of one file run along the page, those of the other up the page.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Pdf

from tests.chosen import long, some
from tests.proof import faults as f
from tests.proof.conftest import proved
from tests.proof.faults import Fault, Instructions
from tests.proof.test_faults import HARMLESS
from tests.sheets.jobs import drawn, drawn_once
from tests.specs import piece, spec, straight
from tiler.errors import ExitCode
from tiler.proof import prove
from tiler.proof.report.page_pictures import Pictures
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes


def strips_of(width: str) -> str:
    """Return a hem and a cuff of one width."""
    hem = piece("Hem", width, straight("70 cm"), seam_allowance="1 cm", ratio="usual", cut="full-loop")
    return spec(
        hem, piece("Cuff", width, straight("20 cm"), seam_allowance="1 cm", ratio="usual"), title="Strips", units="cm"
    )


ALONG, UP, PAGES = strips_of("1.2 cm"), strips_of("1.6 cm"), strips_of("3.6 cm")
BINDING = spec(
    piece("Binding", "3 mm", straight("70 cm"), finish="double-fold-binding", ratio="usual", cut="full-loop"),
    title="Narrow",
    units="cm",
)
PAGE = 1
INCOMPLETE = "incomplete"


@pytest.fixture(scope="module")
def along() -> Document:
    return drawn_once(ALONG, Wishes(paper="a4", arrange="stacked", cover=False))


@pytest.fixture(scope="module")
def up() -> Document:
    return drawn_once(UP, Wishes(arrange="stacked", cover=False))


@pytest.fixture(params=["along", "up"])
def strips(request: pytest.FixtureRequest) -> Document:
    document: Document = request.getfixturevalue(request.param)
    return document


@long
def test_the_files_are_what_their_names_say(along: Document, up: Document) -> None:
    for document, turned in ((along, False), (up, True)):
        assert {piece.turned for piece in document.declaration.pieces} == {turned}
        first = [page for page in document.declaration.pages if page.number == PAGE]
        assert [page.code for page in first][:3] == ["1A", "1B", "1C"]


def ranges(instructions: Instructions, pane: int) -> list[tuple[int, int]]:
    """Give all that belongs to a pane of a page: its piece, its frame, its code, and the marks drawn before that."""
    codes = f.parts(instructions, "TileCode")
    since = codes[pane - 1][1] if pane else f.parts(instructions, "PageFrame")[-1][1]
    marks = [one for one in f.parts(instructions, "RegisterMark") if since <= one[0] < codes[pane][0]]
    return [f.placed(instructions)[pane], f.parts(instructions, "PageFrame")[pane], codes[pane], *marks]


def alter_pane(pane: int, how: Callable[[Instructions], Instructions], page: int = PAGE) -> f.Change:
    """Change all that belongs to a pane."""

    def change(pdf: Pdf) -> None:
        instructions = f.read(pdf.pages[page - 1])
        for start, end in sorted(ranges(instructions, pane), reverse=True):
            instructions[start:end] = how(instructions[start:end])
        f.write(pdf, page, instructions)

    return change


def alter_marks(pane: int, how: Callable[[Instructions], Instructions]) -> f.Change:
    def change(pdf: Pdf) -> None:
        instructions = f.read(pdf.pages[PAGE - 1])
        for start, end in sorted(ranges(instructions, pane)[3:], reverse=True):
            instructions[start:end] = how(instructions[start:end])
        f.write(pdf, PAGE, instructions)

    return change


def swapped(kind: Callable[[Instructions], Sequence[tuple[int, int]]], first: int, second: int) -> f.Change:
    """Exchange two stretches of the instructions of a page."""

    def change(pdf: Pdf) -> None:
        whole = f.read(pdf.pages[PAGE - 1])
        (a, b), (c, d) = kind(whole)[first], kind(whole)[second]
        f.write(pdf, PAGE, [*whole[:a], *whole[c:d], *whole[b:c], *whole[a:b], *whole[d:]])

    return change


def words_swapped(first: int, second: int) -> f.Change:
    """Exchange what two codes say and leave them where they are."""

    def change(pdf: Pdf) -> None:
        whole = f.read(pdf.pages[PAGE - 1])
        shows = []
        for number in (first, second):
            start, end = f.parts(whole, "TileCode")[number]
            shows.append(next(k for k in range(start, end) if str(whole[k][1]) in ("Tj", "TJ")))
        whole[shows[0]], whole[shows[1]] = whole[shows[1]], whole[shows[0]]
        f.write(pdf, PAGE, whole)

    return change


def frames(instructions: Instructions) -> list[tuple[int, int]]:
    return f.parts(instructions, "PageFrame")


def doubled(instructions: Instructions) -> Instructions:
    return [*instructions, *f.wrapped(instructions, f.moved(0.0, -1.0))]


def to_the_end(pdf: Pdf) -> None:
    """Paint the piece of the first pane after everything else instead of before its frame."""
    whole = f.read(pdf.pages[PAGE - 1])
    start, end = f.placed(whole)[0]
    f.write(pdf, PAGE, [*whole[:start], *whole[end:], *whole[start:end]])


PANES = [
    Fault("pane moved", alter_pane(0, f.by(f.moved(2.0))), INCOMPLETE, "frame"),
    Fault("pane moved down", alter_pane(1, f.by(f.moved(0.0, -2.0))), INCOMPLETE, "frame"),
    Fault("pane lost", alter_pane(1, f.removed), INCOMPLETE, "pages"),
    Fault("pane doubled", alter_pane(0, doubled), INCOMPLETE, "tile-code"),
    Fault("pane scaled", alter_pane(0, f.by(f.scaled(0.99))), INCOMPLETE, "piece"),
    Fault("pane mirrored", alter_pane(0, f.by(f.mirrored(108.0))), INCOMPLETE, "text"),
    Fault("pieces of two panes swapped", swapped(f.placed, 0, 1), INCOMPLETE, "piece"),
    Fault("frames of two panes swapped", swapped(frames, 0, 1), INCOMPLETE, "piece"),
    Fault("codes of two panes swapped", words_swapped(0, 1), INCOMPLETE, "frame"),
    Fault("piece after the frames", to_the_end, INCOMPLETE, "piece"),
    Fault("all marks of a pane removed", alter_marks(0, f.removed), INCOMPLETE, "register-marks"),
    Fault("all marks of both panes removed", f.both(alter_marks(1, f.removed), alter_marks(0, f.removed)), INCOMPLETE, "coverage"),
]  # fmt: skip
"""Faults that only panes can have."""

AS_ELSEWHERE = [
    Fault("piece moved", f.alter_piece(PAGE, 1, f.by(f.moved(0.5))), INCOMPLETE, "piece"),
    Fault("piece mirrored", f.alter_piece(PAGE, 1, f.by(f.mirrored(108.0))), INCOMPLETE, "piece"),
    Fault("piece scaled", f.alter_piece(PAGE, 1, f.by(f.scaled(0.996))), INCOMPLETE, "piece"),
    Fault("piece removed", f.alter_piece(PAGE, 1, f.removed), INCOMPLETE, "piece"),
    Fault("piece copied", f.alter_piece(PAGE, 1, f.copied(f.moved(0.0, -30.0))), INCOMPLETE, "stray"),
    Fault("piece copied in place", f.alter_piece(PAGE, 1, f.copied(f.moved(0.0))), INCOMPLETE, "stray"),
    Fault("frame moved", f.alter_part("PageFrame", PAGE, 1, f.by(f.moved(2.0))), INCOMPLETE, "frame"),
    Fault("frame removed", f.alter_part("PageFrame", PAGE, 1, f.removed), INCOMPLETE, "coverage"),
    Fault("frame copied", f.alter_part("PageFrame", PAGE, 1, f.copied(f.moved(1.0))), INCOMPLETE, "frame"),
    Fault("code removed", f.alter_part("TileCode", PAGE, 1, f.removed), INCOMPLETE, "coverage"),
    Fault("code turned", f.alter_part("TileCode", PAGE, 1, f.by(f.turned(180, (50, 200)))), INCOMPLETE, "text"),
    Fault("a mark moved", f.alter_part("RegisterMark", PAGE, 1, f.by(f.moved(0.5))), INCOMPLETE, "register-marks"),
    Fault("a mark removed", f.alter_part("RegisterMark", PAGE, 1, f.removed), INCOMPLETE, "register-marks"),
    Fault("a mark copied", f.alter_part("RegisterMark", PAGE, 1, f.copied(f.moved(7.0, 7.0))), INCOMPLETE, "register-marks"),
    Fault("page twice", f.doubled_page(PAGE), INCOMPLETE, "pages"),
    Fault("page moved", f.whole_pages(f.moved(2.0), [PAGE]), INCOMPLETE, "frame"),
    Fault("page scaled", f.whole_pages(f.scaled(0.996), [PAGE]), "off-scale", "rule"),
    Fault("page mirrored", f.whole_pages(f.mirrored(108.0), [PAGE]), INCOMPLETE, "text"),
    Fault("page covered", f.over(PAGE, (0, 0, 220, 300)), INCOMPLETE, "ink"),
    Fault("hidden layer", f.hidden_layer(PAGE), INCOMPLETE, "ink"),
    Fault("clipped", f.clipped(PAGE, (0, 0, 100, 300)), INCOMPLETE, "ink"),
    Fault("piece clipped by its form", f.small_form_bounds(PAGE), INCOMPLETE, "ink"),
]  # fmt: skip
"""Faults that are put into tiles as well."""


WAYS = {"along": [*PANES, *some(AS_ELSEWHERE, 2)], "up": [*some(PANES, 4), *some(AS_ELSEWHERE, 8, 1)]}


@pytest.mark.parametrize(
    ("strips", "fault"),
    [pytest.param(way, fault, id=f"{way}, {fault.name}") for way, faults in WAYS.items() for fault in faults],
)
def test_a_fault_of_panes_is_found(request: pytest.FixtureRequest, strips: str, fault: Fault) -> None:
    report = proved(request.getfixturevalue(strips), fault.change)
    assert fault.check in {check.name for check in report.failed}, report.failed
    assert report.verdict == fault.verdict, report.failed
    assert report.exit_code is ExitCode.OFF_SCALE


def test_a_lost_page_of_panes_is_found() -> None:
    """This test ensures that the first page tells which pages are missing."""
    document = drawn_once(PAGES, Wishes(paper="a4", arrange="stacked"))
    report = proved(document, f.lost_page(PAGE + 2))
    assert "pages" in {check.name for check in report.failed}, report.failed
    assert report.verdict == INCOMPLETE


@long
def test_a_patch_on_a_line_of_any_pane_is_found(strips: Document) -> None:
    """This test ensures that every pane is judged inside its own frame, whatever is painted for the others."""
    for page in strips.declaration.pages:
        if page.frame is None:
            continue
        box = page.frame
        x, y = (box.x0 + box.x1) / 2, (box.y0 + box.y1) / 2
        # right across the strip, and of no more than it needs along it
        wide, high = (4.0, box.height) if box.width > box.height else (box.width, 4.0)
        patch = (x - wide / 2 + 3.0, y - high / 2 + 3.0, wide, high)
        report = proved(strips, f.over(page.number, patch))
        assert {check.name for check in report.failed} == {"ink"}, page.code


def test_a_clip_that_is_too_narrow_is_found(strips: Document) -> None:
    """This test ensures that a pane whose own clip hides a part of it does not pass."""

    def change(pdf: Pdf) -> None:
        whole = f.read(pdf.pages[PAGE - 1])
        start, end = f.placed(whole)[1]
        for k in range(start, end):
            operands, operator = whole[k]
            if str(operator) == "re":
                x, y, width, height = (float(side) for side in operands)
                whole[k] = f.code("re", x, y, width * 0.7, height * 0.7)
                break
        else:
            points = [k for k in range(start, end) if str(whole[k][1]) in ("m", "l")]
            left = min(float(whole[k][0][0]) for k in points)
            for k in points:
                x, y = (float(side) for side in whole[k][0])
                whole[k] = f.code(str(whole[k][1]), left + (x - left) * 0.7, y)
        f.write(pdf, PAGE, whole)

    assert "ink" in {check.name for check in proved(strips, change).failed}


@long
def test_a_pane_on_another_page_is_found() -> None:
    """This test ensures that panes stay on the page that the map names, though their marks would meet."""
    document = drawn_once(strips_of("2.5 cm"), Wishes(arrange="stacked", cover=False))
    assert document.declaration.pages[-1].number > PAGE

    def change(pdf: Pdf) -> None:
        source, target = f.read(pdf.pages[PAGE - 1]), f.read(pdf.pages[PAGE])
        piece, frame, *others = [source[a:b] for a, b in ranges(source, 0)]
        for start, end in sorted(ranges(source, 0), reverse=True):
            del source[start:end]
        f.write(pdf, PAGE, source)
        f.write(
            pdf,
            PAGE + 1,
            [*f.wrapped([*piece, *frame], f.moved(0)), *target, *(one for part in others for one in part)],
        )

    report = proved(document, change)
    assert "pages" in {check.name for check in report.failed}, report.failed


@long
def test_words_that_no_pane_shows_are_missed() -> None:
    """This test ensures that no word of a piece falls between its panes, which are as wide as what they show."""
    document = drawn_once(BINDING, Wishes(arrange="stacked", cover=False))
    assert prove(document.data).failed == ()

    def change(pdf: Pdf) -> None:
        form = next(iter(pdf.pages[PAGE - 1].Resources.XObject.values()))
        whole = f.read(form)
        words = [k for k, (_, operator) in enumerate(whole) if str(operator) == "BT"]
        ends = {k: next(n for n in range(k, len(whole)) if str(whole[n][1]) == "ET") + 1 for k in words}

        def height(k: int) -> float:
            return max(float(one[0][5]) for one in whole[k : ends[k]] if str(one[1]) == "Tm")

        top = max(words, key=height)
        end = ends[top]
        form.write(
            pikepdf.unparse_content_stream([*whole[:top], *f.wrapped(whole[top:end], f.moved(-6.0)), *whole[end:]])
        )

    assert "coverage" in {check.name for check in proved(document, change).failed}


@pytest.mark.parametrize("save", some(list(HARMLESS.values()), 3))
def test_a_harmless_save_of_panes_passes(along: Document, save: Callable[[bytes], bytes]) -> None:
    report = prove(save(along.data))
    assert report.failed == ()
    assert report.verdict == "true-to-scale"


def test_the_files_as_drawn_have_nothing_to_complain_of(strips: Document) -> None:
    report = prove(strips.data)
    assert report.failed == ()
    assert report.warned == ()


def test_the_panes_are_put_together_for_a_preview(strips: Document) -> None:
    windows = [page.window for page in strips.declaration.pages if page.window]
    with Pictures(strips.data) as pictures:
        assert pictures.tile_count == len(windows)
        width = max(box.x1 for box in windows) - min(box.x0 for box in windows)
        height = max(box.y1 for box in windows) - min(box.y0 for box in windows)
        picture = pictures.assembled()
        assert picture.width / picture.height == pytest.approx(width / height, rel=0.01)


def test_the_same_job_gives_the_same_bytes(tmp_path: Path, along: Document) -> None:
    again = drawn(ALONG, tmp_path, Wishes(paper="a4", arrange="stacked", cover=False))
    assert again.data == along.data
