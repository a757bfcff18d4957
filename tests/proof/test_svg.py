"""The proof of a drawing finds every fault that is built into one, and lets no other sentence stand for it."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace

import pytest

from tests.sheets.jobs import ONE_BAND, drawn_once
from tests.sheets.test_svg import NESTED, plane
from tiler.errors import ExitCode
from tiler.proof import Report, prove
from tiler.proof.report.check import CheckName
from tiler.proof.report.sentences import Says
from tiler.proof.report.verdict import Verdict
from tiler.proof.svg.proving import prove_svg
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes


@pytest.fixture(scope="module", name="nested")
def nested_sizes() -> Document:
    return plane(NESTED)


@pytest.fixture(scope="module", name="turned")
def nested_and_turned() -> Document:
    return plane(NESTED, Wishes(roll=203.2))


def proved(document: Document, text: str) -> Report:
    return prove_svg(text.encode("utf-8"), document.declaration)


def once(pattern: str, new: str | Callable[[re.Match[str]], str]) -> Callable[[str], str]:
    """Return what changes the first place that matches."""

    def change(text: str) -> str:
        changed, count = re.subn(pattern, new, text, count=1, flags=re.DOTALL)
        assert count == 1
        return changed

    return change


def moved(by: float) -> Callable[[re.Match[str]], str]:
    """Move the number of the second group."""
    return lambda found: f"{found[1]}{float(found[2]) + by:.4f}{found[3] if found.lastindex == 3 else ''}"


GROUP_S = r'<g id="[^"]*" data-piece="Neckband" data-size="S">.*?</g>\n</g>\n'
FAULTS: dict[str, tuple[Callable[[str], str], CheckName, str]] = {
    "a line moved by 0.1 mm": (
        once(r'(class="PressLine".*?d="M[0-9.]+ )([0-9.]+)', moved(0.1)),
        CheckName.PIECE,
        "press line off by 0.10 mm",
    ),
    "a line that ends 0.03 mm beyond its end": (
        once(r'(data-size="S">.*?class="CutLine".*?d="M[^"]* L)([0-9.]+)', moved(0.03)),
        CheckName.PIECE,
        "cut line off by 0.03 mm",
    ),
    "a scale of 0.97 by the view box": (
        once(r'viewBox="0 0 (\d+) (\d+)"', lambda f: f'viewBox="0 0 {int(f[1]) / 0.97:.4f} {int(f[2]) / 0.97:.4f}"'),
        CheckName.USER_UNIT,
        "one unit of the drawing is 0.9700 mm across and 0.9700 mm down",
    ),
    "a size in px": (
        once(r'width="(\d+)mm" height="(\d+)mm"', r'width="\1px" height="\2px"'),
        CheckName.USER_UNIT,
        "one unit of the drawing is 0.2646 mm",
    ),
    "a view box that begins elsewhere": (
        once(r'viewBox="0 0', 'viewBox="1 0'),
        CheckName.SQUARE_PLACE,
        "square stands 1.00 mm from its place",
    ),
    "a view box that is larger than its drawing": (
        once(
            r'width="(\d+)mm" height="(\d+)mm" viewBox="0 0 \d+ \d+"',
            lambda f: f'width="{int(f[1]) + 1}mm" height="{f[2]}mm" viewBox="0 0 {int(f[1]) + 1} {f[2]}"',
        ),
        CheckName.PAGE_SIZE,
        "the page is",
    ),
    "a lost notch": (
        once(r'(class="Notch"[^>]*>\n)<path[^>]*/>\n', r"\1"),
        CheckName.NOTCH,
        "notch missing",
    ),
    "a lost size": (once(GROUP_S, ""), CheckName.PIECE, "cut line missing"),
    "the lines of one size in the group of another": (
        lambda text: (
            text.replace('data-piece="Cuff" data-size="S"', "@")
            .replace('data-piece="Cuff" data-size="M"', 'data-piece="Cuff" data-size="S"')
            .replace("@", 'data-piece="Cuff" data-size="M"')
        ),
        CheckName.PIECE,
        "cut line off by",
    ),
    "a size twice": (
        lambda text: text.replace("</svg>", f"{re.findall(GROUP_S, text, re.DOTALL)[0]}</svg>"),
        CheckName.STRAY,
        "lines that do not belong to any piece",
    ),
    "a line of another kind": (once('class="SeamLine"', 'class="CutLine"'), CheckName.PIECE, "seam line missing"),
    "a word lost": (once(r"<text[^>]*>CF</text>\n", ""), CheckName.WORDS, 'first "CF"'),
    "a word twice": (once(r"(<text[^>]*>CF</text>\n)", r"\1\1"), CheckName.WORDS, 'first "CF"'),
    "a word changed": (once(r">CF<", ">CB<"), CheckName.WORDS, 'first "CF"'),
    "a word moved by 0.1 mm": (
        once(r'(<text x=")([0-9.]+)("[^>]*>place on fold)', moved(0.1)),
        CheckName.WORDS,
        'first "place on fold"',
    ),
    "a word mirrored": (
        once(
            r'(<text x="([0-9.]+)" y="([0-9.]+)"[^>]*)>CF',
            r'\1 transform="translate(\2 \3) scale(-1 1) translate(-\2 -\3)">CF',
        ),
        CheckName.TEXT,
        "mirrored",
    ),
    "a word turned": (
        once(r'(<text x="([0-9.]+)" y="([0-9.]+)"[^>]*)>CF', r'\1 transform="rotate(90 \2 \3)">CF'),
        CheckName.TEXT,
        "turned",
    ),
    "a word as small as nothing": (once(r'font-size="[0-9.]+">CF', 'font-size="0.1">CF'), CheckName.WORDS, "CF"),
    "a word in white": (
        once(r'fill="#000000" font-family', 'fill="#ffffff" font-family'),
        CheckName.WORDS,
        "words that are read",
    ),
    "words with a stroke": (
        once(r'fill="#000000" font-family', 'fill="#000000" stroke="#ffffff" stroke-width="2" font-family'),
        CheckName.WORDS,
        "words that are read",
    ),
    "a transform on a group": (
        once(r'(data-piece="Cuff" data-size="M")', r'\1 transform="translate(3 0)"'),
        CheckName.CARRIED,
        "transform of <g>",
    ),
    "a style": (once(r"<path ", '<path style="stroke:none" '), CheckName.CARRIED, "style of <path>"),
    "a group that is not shown": (once(r"<g id", '<g display="none" id'), CheckName.CARRIED, "display of <g>"),
    "a style sheet": (once("<title>", "<style>path {stroke: none}</style><title>"), CheckName.CARRIED, "<style>"),
    "a script": (once("</svg>", "<script>1</script></svg>"), CheckName.CARRIED, "<script>"),
    "a picture over the lines": (once("</svg>", '<rect width="500" height="500"/></svg>'), CheckName.CARRIED, "<rect>"),
    "words in other words": (
        once(r">place on fold<", "><tspan>place on fold</tspan><"),
        CheckName.CARRIED,
        "<tspan> in <text>",
    ),
    "an element of another language": (
        once("</svg>", '<p xmlns="http://www.w3.org/1999/xhtml">Cut here</p></svg>'),
        CheckName.CARRIED,
        "<p>",
    ),
    "an id twice": (
        once(r'id="[^"]*" data-piece', 'id="heading" data-piece'),
        CheckName.CARRIED,
        "the id heading again",
    ),
    "lines without a stroke": (
        once(r'class="CutLine" fill="none" stroke="#000000"', 'class="CutLine" fill="none"'),
        CheckName.INK,
        "a cut line of",
    ),
    "lines in white": (
        once(r'class="CutLine" fill="none" stroke="#000000"', 'class="CutLine" fill="none" stroke="#ffffff"'),
        CheckName.INK,
        "a cut line of",
    ),
    "a strip that is filled": (
        once(r'class="CutLine" fill="none"', 'class="CutLine" fill="#000000"'),
        CheckName.INK,
        "a cut line of",
    ),
    "a line as thin as nothing": (
        once(r'(class="CutLine".*?stroke-width=)"0.5"', r'\1"0"'),
        CheckName.INK,
        "a cut line of",
    ),
    "other dashes": (once(r'stroke-dasharray="6,1.5"', 'stroke-dasharray="6,2"'), CheckName.INK, "a press line of"),
    "a square too small": (once(r'(class="TestSquare".*?L)([0-9.]+)', moved(-0.5)), CheckName.SQUARE, "in across"),
    "a square lost": (
        once(r'(class="TestSquare"[^>]*>\n)<path[^>]*/>\n', r"\1"),
        CheckName.SQUARE_PLACE,
        "the 2 in square is missing",
    ),
    "a square that says nothing": (
        once(r"<text[^>]*>2 in × 2 in</text>\n", ""),
        CheckName.SQUARE_LABEL,
        "does not say its size",
    ),
    "no heading": (once(r'<g id="heading">.*?</g>\n</g>\n', ""), CheckName.SQUARE_PLACE, "square is missing"),
    "a line that leads nowhere": (
        once(r'(class="Leaders".*?d="M)([0-9.]+)', moved(0.1)),
        CheckName.PIECE,
        "Leaders off by 0.10 mm",
    ),
    "a curve": (once(r'd="M([0-9. ]+) L', r'd="M\1 Q1 1 '), CheckName.DECLARATION, "draws a curve"),
    "another title": (once(r"<title>[^<]*", "<title>Other"), CheckName.DOCUMENT, "title"),
    "half a file": (lambda text: text[: len(text) // 2], CheckName.DECLARATION, "damaged"),
}


def test_a_drawing_as_it_is_made_is_true_to_scale(nested: Document, turned: Document) -> None:
    for document in (nested, turned):
        report = prove_svg(document.data, document.declaration)
        assert (report.verdict, report.failed, report.warned) == (Verdict.TRUE, (), ())
        assert report.scale == pytest.approx((1, 1), abs=1e-6)
        assert report.exit_code is ExitCode.OK


@pytest.mark.parametrize("weight", [0.2, 0.889, 1.2])
def test_a_drawing_in_other_weights_is_true_to_scale(weight: float) -> None:
    """Of 0.889 mm the thinner lines are 0.4445 mm, which lies between two lengths of three digits."""
    drawing = plane(ONE_BAND, Wishes(line_weight=weight))
    assert prove_svg(drawing.data, drawing.declaration).verdict is Verdict.TRUE


@pytest.mark.parametrize("fault", FAULTS)
def test_a_fault_is_found(nested: Document, fault: str) -> None:
    change, name, words = FAULTS[fault]
    report = proved(nested, change(nested.data.decode("utf-8")))
    assert report.verdict in (Verdict.OFF, Verdict.INCOMPLETE)
    found = [check.detail for check in report.failed if check.name is name]
    assert any(words in detail for detail in found), [(check.name, check.detail) for check in report.failed]


def test_words_that_are_upright_where_their_piece_is_turned_are_found(turned: Document) -> None:
    report = proved(turned, once(r' transform="rotate\([^"]*"', "")(turned.data.decode("utf-8")))
    assert [check.says for check in report.failed] == [Says.WORDS_TWISTED]


def test_what_the_words_say_is_held_against_the_lines(nested: Document) -> None:
    """A strip declared shorter than its label says is off, however well the file agrees with the record."""
    declared = nested.declaration
    shorter = replace(
        declared, pieces=tuple(replace(one, cut_length_mm=one.cut_length_mm - 4) for one in declared.pieces)
    )
    failed = {check.name for check in prove_svg(nested.data, shorter).failed}
    assert {CheckName.SAID_SIZE, CheckName.PIECE} <= failed


def lengths(report: Report) -> list[tuple[str, float, float]]:
    """Give what is measured of each piece: its name, its length and its width, mm."""
    return [
        (check.label, round(check.measured_mm or 0.0, 2), round(float(check.numbers["width"]), 2))
        for check in report.checks
        if check.says is Says.PIECE_SIZED
    ]


@pytest.mark.parametrize(("text", "count"), [(ONE_BAND, 1), (NESTED, 6)], ids=["one band", "nested sizes"])
def test_lengths_are_those_that_the_proof_of_a_pdf_measures(text: str, count: int) -> None:
    """Two readers and PDFium measure a PDF of the same records; a strip is as long there as here."""
    pages, drawing = drawn_once(text, Wishes(paper="one-sheet")), plane(text)
    on_paper, on_plane = prove(pages.data, as_made=True), prove_svg(drawing.data, drawing.declaration)
    assert (on_paper.verdict, len(lengths(on_paper))) == (Verdict.TRUE, count)
    assert lengths(on_plane) == lengths(on_paper)
    assert [form.marks for form in drawing.declaration.forms] == [form.marks for form in pages.declaration.forms]
