"""Every fault that the proof must find, one at a time, and every harmless re-save that it must let pass.

Each fault names its verdict and the check that must fail.  The files are changed by
pikepdf, the re-saves are those of pikepdf, PyMuPDF and pypdf.
"""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pymupdf
import pytest
from pypdf import PdfReader, PdfWriter

from tests.chosen import each, long, some
from tests.proof import faults as f
from tests.proof.conftest import proved
from tests.proof.faults import Fault
from tiler.errors import ExitCode
from tiler.proof import prove
from tiler.sheets.document import Document

OFF, INCOMPLETE = "off-scale", "incomplete"
COVER, A1, A2 = 1, 2, 3
T1, T2 = 1, 2
"""The same tiles in the file that has no first page of its own."""
OTHER = {"letter": (210.0, 297.0), "a4": (215.9, 279.4)}
MIDDLE = (108.0, 140.0)


def page_faults() -> list[Fault]:
    return [
        Fault("rescaled by 0.4 %", f.whole_pages(f.scaled(0.996)), OFF, "square"),
        Fault("enlarged by 0.4 %", f.whole_pages(f.scaled(1.004)), OFF, "rule"),
        Fault("narrower", f.whole_pages(f.scaled(0.996, 1.0)), OFF, "square"),
        Fault("shorter", f.whole_pages(f.scaled(1.0, 0.996)), OFF, "square"),
        Fault("sheared", f.whole_pages(f.sheared(0.002)), OFF, "square"),
        Fault("mirrored", f.whole_pages(f.mirrored(108.0)), INCOMPLETE, "text"),
        Fault("upside down and aside", f.whole_pages(f.turned(180, (100.0, 130.0))), INCOMPLETE, "frame"),
        Fault("cropped", f.with_box("/CropBox", lambda box: [5, 5, box[2] - 5, box[3] - 5]), INCOMPLETE, "boxes"),
        Fault("cut", f.with_box("/MediaBox", lambda box: [*box[:3], box[3] - 20]), INCOMPLETE, "page-size"),
        Fault("one page cut", f.with_box("/MediaBox", lambda box: [0, 20, *box[2:]], [A2]), INCOMPLETE, "page-size"),
        Fault("turned by half a quarter", f.with_entry("/Rotate", 45), INCOMPLETE, "rotation"),
        Fault("in another unit", f.with_entry("/UserUnit", 2), OFF, "user-unit"),
        Fault("one page in another unit", f.with_entry("/UserUnit", 1.004, [A2]), OFF, "user-unit"),
        Fault("lost the first page and a tile", f.both(f.lost_page(A2), f.lost_page(COVER)), INCOMPLETE, "pages"),
        Fault("lost a tile", f.lost_page(A2), INCOMPLETE, "pages"),
        Fault("first page twice", f.doubled_page(COVER), INCOMPLETE, "pages"),
        Fault("tile twice", f.doubled_page(A1), INCOMPLETE, "pages"),
        Fault("tile shows another", f.replaced_page(A1, A2), INCOMPLETE, "pages"),
        Fault("first page moved", f.whole_pages(f.moved(2.0), [COVER]), INCOMPLETE, "square-place"),
        Fault("tile moved", f.whole_pages(f.moved(2.0), [A2]), INCOMPLETE, "frame"),
        Fault("square half a millimetre off", f.alter_part("TestSquare", 1, 0, f.by(f.moved(0.5))), INCOMPLETE, "ink"),
        Fault("rule half a millimetre off", f.alter_part("Rule", 1, 0, f.by(f.moved(0.5))), INCOMPLETE, "ink"),
        Fault("tile scaled", f.whole_pages(f.scaled(0.996), [A2]), OFF, "rule"),
        Fault("tile scaled down only", f.whole_pages(f.scaled(1.0, 0.996), [A2]), OFF, "frame-size"),
        Fault("tile mirrored", f.whole_pages(f.mirrored(108.0), [A2]), INCOMPLETE, "text"),
        Fault("tile askew", f.whole_pages(f.turned(0.1, MIDDLE), [A2]), OFF, "rule"),
        Fault("tile empty", lambda pdf: f.write(pdf, A2, []), INCOMPLETE, "pages"),
    ]


def cover_faults() -> list[Fault]:
    return [
        Fault("first page covered", f.over(COVER, (0, 0, 220, 300)), INCOMPLETE, "ink"),
        Fault("black below the first page", f.black_below(COVER), INCOMPLETE, "ink"),
        Fault("clipped first page", f.clipped(COVER, (0, 0, 100, 300)), INCOMPLETE, "ink"),
        Fault("annotation over a square", f.annotation_over(COVER, (30, 190, 30, 30)), INCOMPLETE, "ink"),
    ]


def sight_faults(t1: int = T1) -> list[Fault]:
    return [
        Fault("tile covered", f.over(T2, (0, 0, 220, 300)), INCOMPLETE, "ink"),
        Fault("tile blackened", f.over(T2, (0, 0, 220, 300), 0.0), INCOMPLETE, "ink"),
        Fault("black below a tile", f.black_below(t1), INCOMPLETE, "ink"),
        Fault("transparent", f.transparent(t1, 0.0), INCOMPLETE, "ink"),
        Fault("almost transparent", f.transparent(t1, 0.3), INCOMPLETE, "ink"),
        Fault("hidden layer", f.hidden_layer(t1), INCOMPLETE, "ink"),
        Fault("layer for the screen only", f.unprinted_layer(t1), INCOMPLETE, "ink"),
        Fault("white ink", f.white_ink(t1), INCOMPLETE, "ink"),
        Fault("clipped", f.clipped(t1, (10, 10, 120, 259)), INCOMPLETE, "ink"),
        Fault("piece clipped by its form", f.small_form_bounds(t1), INCOMPLETE, "ink"),
    ]


def move_faults(t1: int = T1) -> list[Fault]:
    """One thing moved, copied, scaled, mirrored or removed, on one page."""
    found = []
    piece = [
        ("moved", f.by(f.moved(0.5)), INCOMPLETE, "piece"),
        ("moved down", f.by(f.moved(0.0, -0.5)), INCOMPLETE, "piece"),
        ("copied", f.copied(f.moved(0.0, -30.0)), INCOMPLETE, "stray"),
        ("copied in place", f.copied(f.moved(0.0)), INCOMPLETE, "stray"),
        ("scaled", f.by(f.scaled(0.996)), INCOMPLETE, "piece"),
        ("mirrored", f.by(f.mirrored(108.0)), INCOMPLETE, "piece"),
        ("removed", f.removed, INCOMPLETE, "piece"),
    ]
    found += [Fault(f"piece {what}", f.alter_piece(t1, 0, how), verdict, check) for what, how, verdict, check in piece]
    found += [Fault("untagged copy of a cut line", f.untagged("CutLine", t1), INCOMPLETE, "stray")]
    found += [
        Fault("frame moved", f.alter_part("PageFrame", t1, 0, f.by(f.moved(2.0))), INCOMPLETE, "frame"),
        Fault("frame copied", f.alter_part("PageFrame", t1, 0, f.copied(f.moved(2.0))), INCOMPLETE, "frame"),
        Fault("frame scaled", f.alter_part("PageFrame", t1, 0, f.by(f.scaled(0.98))), OFF, "frame-size"),
        Fault("frame removed", f.alter_part("PageFrame", t1, 0, f.removed), INCOMPLETE, "frame"),
        Fault("code mirrored", f.alter_part("TileCode", t1, 0, f.by(f.mirrored(50.0))), INCOMPLETE, "tile-code"),
        Fault("code turned", f.alter_part("TileCode", t1, 0, f.by(f.turned(180, (50, 50)))), INCOMPLETE, "tile-code"),
        Fault("code removed", f.alter_part("TileCode", t1, 0, f.removed), INCOMPLETE, "tile-code"),
    ]
    return found


def part_faults(cover: int = T1, t1: int = T1, t2: int = T2) -> list[list[Fault]]:
    """Each kind of line moved, copied, scaled, mirrored and removed, five faults a line."""
    found = []
    inside = [
        ("CutLine", t1),
        ("FoldLine", t1),
        ("PressLine", t1),
        ("SeamLine", t1),
        ("JoinLine", t2),
        ("StretchArrow", t2),
    ]
    for tag, page in inside:
        found.append(_part_faults(tag, "piece", lambda how, tag=tag, page=page: f.alter_in_piece(tag, 0, how, page)))
    found.append(_part_faults("Notch", "notch", lambda how: f.alter_in_piece("Notch", 0, how, t1)))
    found.append(_part_faults("RegisterMark", "register-marks", lambda how: f.alter_part("RegisterMark", t1, 1, how)))
    for tag, page, name, size in (
        ("TestSquare", cover, "square-place", "square"),
        ("Rule", cover, "rule-place", "rule"),
        ("Rule", t2, "rule-place", "rule"),
    ):
        where = f"{tag} on page {page}"
        line = [
            Fault(f"{where} moved", f.alter_part(tag, page, 0, f.by(f.moved(2.0))), INCOMPLETE, name),
            Fault(f"{where} copied", f.alter_part(tag, page, 0, f.copied(f.moved(3.0, 3.0))), INCOMPLETE, name),
            Fault(f"{where} scaled", f.alter_part(tag, page, 0, f.by(f.scaled(0.996))), OFF, size),
            Fault(f"{where} mirrored", f.alter_part(tag, page, 0, f.by(f.mirrored(108.0))), INCOMPLETE, name),
            Fault(f"{where} removed", f.alter_part(tag, page, 0, f.removed), INCOMPLETE, name),
        ]
        found.append(line)
    return found


def _part_faults(tag: str, check: str, alter: Callable[..., f.Change]) -> list[Fault]:
    return [
        Fault(f"{tag} moved", alter(f.by(f.moved(0.5))), INCOMPLETE, check),
        Fault(f"{tag} copied", alter(f.copied(f.moved(4.0, 4.0))), INCOMPLETE, check if check[0] == "r" else "stray"),
        Fault(f"{tag} scaled", alter(f.by(f.scaled(0.9))), INCOMPLETE, check),
        Fault(f"{tag} mirrored", alter(f.by(f.mirrored(60.0))), INCOMPLETE, check),
        Fault(f"{tag} removed", alter(f.removed), INCOMPLETE, check),
    ]


ALL = [
    *page_faults(),
    *cover_faults(),
    *sight_faults(A1),
    *move_faults(A1),
    *(fault for line in part_faults(COVER, A1, A2) for fault in line),
]
"""All of them, for a file with a first page."""

LINES = part_faults()
MET = [
    LINES[line][how]
    for line, how in dict.fromkeys([*each(range(len(LINES)), range(5)), *each(range(len(LINES)), (3, 4, 0, 1, 2))])
]
"""Of each kind of line two faults, and of each fault several lines; all are in ``ALL`` for ``tests/bench/mutations.py``."""


@pytest.mark.parametrize("fault", [*page_faults(), *cover_faults()], ids=lambda fault: fault.name)
def test_a_fault_of_whole_pages_is_found(letter: Document, fault: Fault) -> None:
    """This test ensures that each fault gets its verdict, and by the check that is there for it."""
    judged(letter, fault)


@pytest.mark.parametrize("fault", [*sight_faults(), *move_faults(), *MET], ids=lambda fault: fault.name)
def test_a_fault_of_a_tile_is_found(tiles: Document, fault: Fault) -> None:
    judged(tiles, fault)


@pytest.mark.parametrize("fault", some(page_faults(), 9), ids=lambda fault: fault.name)
def test_a_fault_of_whole_pages_is_found_on_a4_too(a4: Document, fault: Fault) -> None:
    judged(a4, fault)


def judged(document: Document, fault: Fault) -> None:
    report = proved(document, fault.change)
    assert fault.check in {check.name for check in report.failed}, report.failed
    assert report.verdict == fault.verdict, report.failed
    assert report.exit_code is ExitCode.OFF_SCALE


def _first(document: Document, tag: str) -> tuple[int, tuple[float, float]]:
    """Give a page and a point on it, in the middle of a line of a part that its window shows."""
    declaration = document.declaration
    for page in declaration.pages:
        for piece in declaration.pieces:
            for part in piece.parts:
                (xa, ya), (xb, yb) = (piece.on_sheet(point) for point in part.subpaths[0][:2])
                x, y = (xa + xb) / 2, (ya + yb) / 2
                window, frame = page.window, page.frame
                if part.tag != tag or window is None or frame is None:
                    continue
                if window.x0 + 1.5 < x < window.x1 - 1.5 and window.y0 + 1.5 < y < window.y1 - 1.5:
                    return page.number, (x - window.x0 + frame.x0, y - window.y0 + frame.y0)
    raise LookupError(tag)


@pytest.mark.parametrize(
    ("tag", "grey"),
    each(["CutLine", "PressLine", "SeamLine", "FoldLine", "JoinLine", "Notch", "StretchArrow"], [1.0, 0.0]),
)
def test_a_small_patch_on_a_part_is_found(tiles: Document, tag: str, grey: float) -> None:
    """This test ensures that no part can be covered, in white or black, on as little as 7 mm."""
    page, (x, y) = _first(tiles, tag)
    report = proved(tiles, f.over(page, (x - 3.5, y - 3.5, 7, 7), grey))
    assert {check.name for check in report.failed} == {"ink"}
    assert {check.page for check in report.failed} == {page}


def test_a_patch_on_one_solid_line_is_found_from_two_pixels_on(tiles: Document) -> None:
    page, (x, y) = _first(tiles, "Notch")
    report = proved(tiles, f.over(page, (x - 0.5, y - 0.5, 1.0, 1.0)))
    assert {check.name for check in report.failed} == {"ink"}


@long
def test_patches_on_squares_rules_marks_frames_and_words_are_found(letter: Document) -> None:
    declaration = letter.declaration
    square, rule = declaration.squares[0], declaration.rules[0]
    tile = next(page for page in declaration.pages if page.frame)
    mark = next(mark for mark in declaration.marks if mark.tiles[0] == tile.code)
    assert tile.window is not None
    assert tile.frame is not None
    at = (mark.at[0] - tile.window.x0 + tile.frame.x0, mark.at[1] - tile.window.y0 + tile.frame.y0)
    for page, (x, y), what in (
        (square.page, (square.at[0], square.at[1] + 20), "a side of a test square"),
        (rule.page, (rule.at[0], rule.at[1] + 20), "stroke of a ruler line"),
        (tile.number, (at[0] + 4.0, at[1]), "stroke of a register mark"),
        (tile.number, (tile.frame.x0, tile.frame.y0 + 100), "a side of the page frame"),
        (square.page, (square.at[0] + 25, square.at[1] + 28), "the word"),
    ):
        report = proved(letter, f.over(page, (x - 2.5, y - 2.5, 5, 5)))
        details = [check.detail for check in report.failed]
        assert any(what in detail for detail in details), (what, details)


def by_pikepdf(**options: object) -> Callable[[bytes], bytes]:
    def save(data: bytes) -> bytes:
        out = BytesIO()
        with pikepdf.open(BytesIO(data)) as pdf:
            pdf.save(out, **options)
        return out.getvalue()

    return save


def _pymupdf(**options: object) -> Callable[[bytes], bytes]:
    def save(data: bytes) -> bytes:
        with pymupdf.open(stream=data) as pdf:
            return bytes(pdf.tobytes(**options))

    return save


def _pypdf(data: bytes) -> bytes:
    writer = PdfWriter(clone_from=PdfReader(BytesIO(data)))
    for page in writer.pages:
        page.compress_content_streams()
    out = BytesIO()
    writer.write(out)
    return out.getvalue()


HARMLESS = {
    "saved": by_pikepdf(),
    "linearised": by_pikepdf(linearize=True),
    "recompressed": by_pikepdf(recompress_flate=True, object_stream_mode=pikepdf.ObjectStreamMode.generate),
    "unpacked": by_pikepdf(qdf=True),
    "normalised": by_pikepdf(normalize_content=True),
    "without a password": by_pikepdf(encryption=pikepdf.Encryption(owner="secret", user="")),
    "MuPDF saved": _pymupdf(),
    "MuPDF cleaned": _pymupdf(garbage=4, clean=True, deflate=True),
    "MuPDF unpacked": _pymupdf(expand=255, pretty=True),
    "pypdf cloned": _pypdf,
}


@pytest.mark.parametrize("save", HARMLESS.values(), ids=HARMLESS.keys())
def test_a_harmless_save_passes(letter: Document, save: Callable[[bytes], bytes]) -> None:
    """This test ensures that other libraries may save, compress, linearise and clean a file."""
    report = prove(save(letter.data))
    assert report.failed == ()
    assert report.verdict == "true-to-scale"
    assert report.exit_code is ExitCode.OK


def test_the_file_as_drawn_has_nothing_to_complain_of(ours: Document) -> None:
    report = prove(ours.data)
    assert report.failed == ()
    assert report.warned == ()
