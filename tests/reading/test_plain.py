"""This checks that groups, lines and words of a plain drawing are read in mm, and that all else is named."""

from __future__ import annotations

import pytest

from tests.chosen import long
from tests.reading.test_svg import MM, svg
from tiler.errors import UnreadableError
from tiler.reading.svg.markup import DEEPEST, MOST_ELEMENTS
from tiler.reading.svg.plain import PlainDrawing, read_plain

STYLE = 'fill="none" stroke="#000000"'


def plain(content: str, attributes: str = MM) -> PlainDrawing:
    return read_plain(svg(content, attributes), "piece.svg")


def test_lines_are_read_in_mm_with_y_up_and_their_kind() -> None:
    drawing = plain(
        f'<g id="a" data-piece="Cuff"><g class="CutLine" {STYLE}>'
        '<path stroke-width="0.5" stroke-dasharray="6,1.5" d="M10 20 L40 20 L40 60 Z M1 2 L3 4"/></g></g>'
    )
    (group,) = drawing.groups
    (line,) = group.lines
    assert group.attributes["data-piece"] == "Cuff"
    assert (line.kind, line.stroke, line.fill) == ("CutLine", "#000000", "none")
    assert (line.weight, *line.dash) == pytest.approx((0.5, 6.0, 1.5))
    closed, opened = line.subpaths
    assert [number for point in closed for number in point] == pytest.approx([10, 80, 40, 80, 40, 40, 10, 80])
    assert [number for point in opened for number in point] == pytest.approx([1, 98, 3, 96])
    assert (drawing.width, drawing.height, *drawing.unit) == pytest.approx((200, 100, 1, 1))
    assert drawing.strange == ()


def test_a_word_is_read_with_its_place_its_size_and_how_it_runs() -> None:
    given = 'class="Words" fill="#000000" font-family="x"'
    drawing = plain(
        f'<g><g {given}><text x="10" y="20" font-size="3">a  &lt;b&gt;\n c</text>'
        '<text x="10" y="20" font-size="3" font-weight="bold" transform="rotate(-90 10 20)">up</text></g></g>'
    )
    across, up = drawing.groups[0].words
    assert (across.text, across.bold, up.text, up.bold) == ("a <b> c", False, "up", True)
    assert across.at == pytest.approx((10, 80))
    assert up.at == pytest.approx((10, 80))
    assert (across.along, across.up) == (pytest.approx((1, 0)), pytest.approx((0, 1)))
    assert (up.along, up.up) == (pytest.approx((0, 1)), pytest.approx((-1, 0)))
    assert (across.size, up.size) == pytest.approx((3, 3))


@pytest.mark.parametrize(
    ("content", "strange"),
    [
        ('<g transform="scale(2)"/>', "transform of <g>"),
        ('<g xml:space="preserve"/>', "http://www.w3.org/XML/1998/namespace space of <g>"),
        ('<g><a href="#x"/></g>', "<a> in <g>"),
        ("<defs/>", "<defs> in <svg>"),
        ('<g><m:x xmlns:m="urn:m"/></g>', "<x>"),
        ('<g id="a"/><g id="a"/>', "the id a again"),
        ("<g><text><title>a</title></text></g>", "<title> in <text>"),
    ],
)
def test_what_is_not_plain_is_named(content: str, strange: str) -> None:
    assert plain(content).strange == (strange,)


@pytest.mark.parametrize(
    "content",
    [
        '<g><path d="M0 0 C1 1 2 2 3 3"/></g>',
        '<g><path d="M0 0 X"/></g>',
        '<g><text x="1 2">a</text></g>',
        '<g><text transform="spin(2)">a</text></g>',
        '<g><path d="M0 0 L1 1" stroke-dasharray="a"/></g>',
    ],
)
def test_what_cannot_be_read_is_refused(content: str) -> None:
    with pytest.raises(UnreadableError, match=r"^piece\.svg: "):
        plain(content)


@long
@pytest.mark.parametrize("content", ["<g>" * (DEEPEST + 1) + "</g>" * (DEEPEST + 1), "<g/>" * MOST_ELEMENTS])
def test_the_limits_of_every_svg_hold(content: str) -> None:
    with pytest.raises(UnreadableError, match="nested too deeply"):
        plain(content)
