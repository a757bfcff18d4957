"""This checks that the curves of an SVG come out in mm, by the rules of SVG 2 (W3C), and that nothing is trusted.

Absolute units are those of CSS Values 3, section 6.2: 1 in = 25.4 mm = 96 px = 72 pt = 6 pc, 1 Q = 0.25 mm.
"""

from cmath import exp
from math import hypot, pi, radians, sqrt

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from tests.chosen import over
from tiler.errors import UnreadableError
from tiler.reading.svg.read import SvgDrawing, read_svg
from tiler.reading.svg.shapes import arc_between

MM = 'width="200mm" height="100mm" viewBox="0 0 200 100"'
LINE = '<path id="line" d="M10,20 L40,60"/>'


def svg(content: str, attributes: str = MM, before: str = "") -> bytes:
    names = 'xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink"'
    return f"{before}<svg {names} {attributes}>{content}</svg>".encode()


def read(content: str, attributes: str = MM, before: str = "") -> SvgDrawing:
    return read_svg(svg(content, attributes, before), "front.svg")


def lengths(content: str, attributes: str = MM) -> list[float]:
    return [drawn.curve.length for drawn in read(content, attributes).curves]


def ends(content: str, attributes: str = MM) -> tuple[float, ...]:
    (drawn,) = read(content, attributes).curves
    curve = drawn.curve
    return (curve.start.real, curve.start.imag, curve.end.real, curve.end.imag)


# Units


@over(
    ("size", "factor"),
    [
        ('width="200mm" height="100mm"', 1.0),
        ('width="20cm" height="10cm"', 1.0),
        ('width="4in" height="2in"', 4 * 25.4 / 200),
        ('width="192px" height="96px"', 2 * 25.4 / 200),
        ('width="144pt" height="72pt"', 2 * 25.4 / 200),
        ('width="12pc" height="6pc"', 2 * 25.4 / 200),
        ('width="800Q" height="400Q"', 1.0),
        ('width=" 2e2 MM " height="100.0mm"', 1.0),
        ('width="200mm"', 1.0),
        ('height="100mm"', 1.0),
        ('width="100%" height="100mm"', 1.0),
    ],
)
def test_sizes_give_a_user_unit_its_length(size, factor):
    assert lengths(LINE, f'{size} viewBox="0 0 200 100"') == pytest.approx([50 * factor])


def test_without_a_view_box_a_user_unit_is_one_px():
    assert lengths(LINE, 'width="200mm" height="100mm"') == pytest.approx([50 * 25.4 / 96])


def test_px_are_told():
    assert read(LINE, 'width="300px" height="200px"').in_px
    assert not read(LINE).in_px


@over(
    "size",
    [
        "",
        'viewBox="0 0 200 100"',
        'width="100%" height="100%" viewBox="0 0 200 100"',
        'width="300" height="200" viewBox="0 0 200 100"',
        'width="200mm" height="100" viewBox="0 0 200 100"',
        'width="20em" height="100mm"',
        'width="0mm" height="0mm"',
        'width="-5mm" height="3mm"',
        'width="auto" height="auto"',
        'width="wide" height="3mm"',
        'width="1e300mm" height="3mm"',
    ],
)
def test_a_size_that_cannot_be_known_is_refused_with_the_way_out(size):
    with pytest.raises(UnreadableError, match=r"^front\.svg does not say how large it really is.* in mm, cm or in"):
        read(LINE, size)


def test_the_view_box_is_fitted_by_the_smaller_side_and_kept_in_the_middle():
    assert ends(LINE, 'width="400mm" height="100mm" viewBox="0 0 200 100"') == pytest.approx((110, 80, 140, 40))
    assert ends(LINE, 'width="200mm" height="300mm" viewBox="0 0 200 100"') == pytest.approx((10, 180, 40, 140))


@pytest.mark.parametrize(
    ("ratio", "expected"),
    [
        ("xMinYMin", (10, 80, 40, 40)),
        ("xMaxYMax meet", (210, 80, 240, 40)),
        ("defer xMidYMin", (110, 80, 140, 40)),
        ("none", (20, 80, 80, 40)),
        ("xMidYMid slice", (20, 110, 80, 30)),
        ("xMidYMax slice", (20, 160, 80, 80)),
    ],
)
def test_preserve_aspect_ratio(ratio, expected):
    size = 'width="400mm" height="100mm" viewBox="0 0 200 100"'
    assert ends(LINE, f'{size} preserveAspectRatio="{ratio}"') == pytest.approx(expected)


def test_the_origin_of_the_view_box_counts_and_y_runs_up():
    assert ends(LINE, 'width="200mm" height="100mm" viewBox="-10 -20 200 100"') == pytest.approx((20, 60, 50, 20))


def test_lengths_of_attributes_have_units_and_percentages():
    # a user unit is 1 mm here and 1 px is one user unit, so 1 in is 96 user units
    drawn = read('<line x1="1in" y1="10" x2="1in" y2="50%"/><circle r="10%"/><rect width="50%" height="10px"/>')
    upright, circle, box = (one.curve.length for one in drawn.curves)
    assert upright == pytest.approx(40)
    # percentages of neither side are of the diagonal divided by the square root of 2 (SVG 2, 8.9)
    assert circle == pytest.approx(2 * pi * hypot(200, 100) / sqrt(2) / 10)
    assert box == pytest.approx(2 * (100 + 10))


# Shapes


def test_every_shape_has_its_length():
    shapes = """
    <path d="M0,0 C0,-80 60,-100 90,-100"/>
    <line x1="10" y1="10" x2="40" y2="50"/>
    <polyline points="0,0 30,40 30,50"/>
    <polygon points="0 0 30 0 30 40"/>
    <circle cx="50" cy="50" r="10"/>
    <ellipse cx="50" cy="50" rx="90" ry="70"/>
    <rect x="5" y="5" width="30" height="20"/>
    <rect width="30" height="20" rx="3"/>
    <rect width="30" height="20" rx="3" ry="90"/>
    """
    # the cubic by quadrature; circle, rectangle and corners by their closed forms, ellipses by 4 a E(e^2)
    expected = [150.72505465, 50, 60, 120, 20 * pi, 504.620244995055, 100, 2 * 24 + 2 * 14 + 6 * pi]
    found = lengths(shapes)
    assert found[:8] == pytest.approx(expected, abs=5e-9)
    # radii are cut to half the side: 3 and 10
    rounded = read('<ellipse rx="3" ry="10"/>').curves[0].curve.length + 2 * 24
    assert found[8] == pytest.approx(rounded)
    assert [drawn.curve.closed for drawn in read(shapes).curves] == [False] * 3 + [True] * 6
    assert [len(drawn.curve.corners) for drawn in read(shapes).curves] == [0, 0, 1, 3, 0, 0, 4, 0, 0]


@over(
    "shape",
    [
        '<circle cx="5" cy="5"/>',
        '<circle r="0"/>',
        '<ellipse rx="5" ry="0"/>',
        '<rect width="5"/>',
        '<rect width="-5" height="5"/>',
        '<path d=""/>',
        '<path d="none"/>',
        "<path/>",
        '<path d="M 5 5"/>',
        '<path d="M 5 5 m 3 3"/>',
        '<polyline points="1 2"/>',
        '<polyline points=""/>',
    ],
)
def test_a_shape_without_extent_draws_no_curve(shape):
    assert read(shape).curves == ()


@over(
    ("data", "expected"),
    [
        ("M0 0H30V40", [70]),
        ("m10 10h30v40h-30z", [140]),
        ("M0,0 30,40 60,80", [100]),
        ("M0 0L3 4M10 10l3 4", [5, 5]),
        ("M0 0L30 0z l3 4", [60, 5]),
        ("M0 0L30 0ZM1 1l3 4", [60, 5]),
        ("M0 0 L 5.e1 0", [50]),
        ("M0 0L.5.5", [sqrt(0.5)]),
        ("M0-0L1e1-0", [10]),
        ("M 007 0 L 10. 0", [3]),
        ("M-05,0L5,0", [10]),
        ("M0 0\n\tL3\r\n4 ", [5]),
        ("M0 0Q0 0 10 0T20 0", [20]),
        ("M0 0C0 0 10 0 10 0S20 0 20 0", [20]),
        # arcs: flags may stand without a space; half and three quarters of a circle; line ends after them
        ("M0 0A5 5 0 0 1 10 0", [5 * pi]),
        ("M0 0a5 5 0 0110 0", [5 * pi]),
        ("M0 0A5 5 0 1 1 5 5\nL5 6", [7.5 * pi + 1]),
        ("M0 0A5,5,0,1,1,5,5\n", [7.5 * pi]),
        # radii that are too small grow until the arc fits; none is a line; the same end is nothing
        ("M0 0A1 1 0 0 1 10 0", [5 * pi]),
        ("M0 0A0 5 0 0 1 10 0", [10]),
        ("M0 0A5 5 0 0 1 0 0L3 4", [5]),
        ("M0 0A-5 5 0 0 1 10 0", [5 * pi]),
    ],
)
def test_path_data(data, expected):
    assert lengths(f'<path d="{data}"/>') == pytest.approx(expected, rel=1e-12)


@over(
    "data",
    [
        "L 5 5",
        "M 0 0 L 5",
        "M 0 0 L 5 x",
        "M 0 0 A 5 5 0 2 1 9 9",
        "M 0 0 A 5 5",
        "M0 0 L NaN 5",
        "M 0 0 &lt; 5",
        "5 5",
        "M 0 0 C 1 1 2 2 3",
    ],
)
def test_path_data_that_cannot_be_read_is_refused(data):
    with pytest.raises(UnreadableError, match=r"^front\.svg: the path data '.*' cannot be read"):
        read(f'<path d="{data}"/>')


NEAR = st.floats(-9, 9)
RADII = st.floats(13, 20)


@given(
    st.builds(complex, NEAR, NEAR),
    st.builds(complex, NEAR, NEAR),
    RADII,
    RADII,
    st.floats(-180, 180),
    st.booleans(),
    st.booleans(),
)
def test_an_arc_joins_its_ends_on_an_ellipse_of_its_radii(
    start: complex, end: complex, rx: float, ry: float, rotation: float, large: bool, sweep: bool
) -> None:
    assume(abs(end - start) > 1e-3)
    arc = arc_between(start, rx, ry, rotation, large, sweep, end)
    assert abs(arc.start - start) < 1e-9
    assert abs(arc.end - end) < 1e-9
    assert (abs(arc.sweep) > pi) == large
    assert (arc.sweep > 0) == sweep
    for k in range(9):
        point = (arc.at(k / 8) - arc.centre) / exp(1j * radians(rotation))
        assert hypot(point.real / rx, point.imag / ry) == pytest.approx(1)


# Transforms


@over(
    ("transform", "expected"),
    [
        ("translate(5)", (15, 80, 45, 40)),
        ("translate(5 6)", (15, 74, 45, 34)),
        ("scale(2)", (20, 60, 80, -20)),
        ("scale(2,0.5)", (20, 90, 80, 70)),
        ("rotate(90)", (-20, 90, -60, 60)),
        ("rotate(180 10 20)", (10, 80, -20, 120)),
        ("skewX(45)", (30, 80, 100, 40)),
        ("skewY(45)", (10, 70, 40, 0)),
        ("matrix(0 1 -1 0 3 4)", (-17, 86, -57, 56)),
        ("translate(5,6) scale(2)", (25, 54, 85, -26)),
        ("scale(2) , translate(5,6)\n", (30, 48, 90, -32)),
        ("translate(-5-6)", (5, 86, 35, 46)),
    ],
)
def test_transforms(transform, expected):
    assert ends(f'<path transform="{transform}" d="M10,20 L40,60"/>') == pytest.approx(expected)


def test_transforms_are_nested():
    nested = f'<g transform="translate(5,6)"><a><g transform="scale(2)"><g>{LINE}</g></g></a></g>'
    assert ends(nested) == pytest.approx((25, 54, 85, -26))


def test_a_circle_under_a_map_stays_exact():
    # half-diameters 90 and 70: 4 a E(e^2)
    circle = '<g transform="rotate(33) scale(9 7)"><circle r="10" transform="rotate(71)"/></g>'
    assert lengths(circle) == pytest.approx([504.620244995055], rel=1e-12)


@pytest.mark.parametrize(
    "transform", ["translate(5mm)", "spin(4)", "scale(1 2 3)", "translate(1 2", "matrix(1 2)", "rotate()"]
)
def test_a_transform_that_cannot_be_read_is_refused(transform):
    with pytest.raises(UnreadableError, match=r"^front\.svg: the transform"):
        read(f'<path transform="{transform}" d="M10,20 L40,60"/>')


@pytest.mark.parametrize(
    "moved",
    [
        '<path style="transform: scale(2)" d="M10,20 L40,60"/>',
        '<style>.big { transform: scale(2) }</style><path class="big" d="M10,20 L40,60"/>',
        '<path transform="scale(2)" transform-origin="5 5" d="M10,20 L40,60"/>',
    ],
)
def test_what_css_moves_is_refused(moved):
    with pytest.raises(UnreadableError, match="moves things by CSS"):
        read(moved)


def test_an_inner_svg_has_its_own_view_box():
    inner = f'<svg x="20" y="10" width="50" height="50" viewBox="0 0 100 100">{LINE}</svg>'
    assert ends(inner) == pytest.approx((25, 80, 40, 60))


def test_use_draws_what_is_defined():
    defined = f'<defs>{LINE}<symbol id="s" viewBox="0 0 100 100">{LINE}</symbol></defs>'
    assert lengths(defined) == []
    assert ends(f'{defined}<use href="#line" x="5" y="6"/>') == pytest.approx((15, 74, 45, 34))
    assert ends(f'{defined}<use xlink:href="#line" transform="scale(2)" x="5" y="6"/>') == pytest.approx(
        (30, 48, 90, -32)
    )
    assert ends(f'{defined}<use href="#s" width="50" height="50"/>') == pytest.approx((5, 90, 20, 70))
    assert lengths(f'{defined}<use href="#nothing"/>') == []


# What is drawn


@over(
    "hidden",
    [
        f'<g display="none">{LINE}</g>',
        f'<g style="display:none">{LINE}</g>',
        f'<g style="fill:none;display : none !important">{LINE}</g>',
        f'<g visibility="hidden">{LINE}</g>',
        f'<g style="visibility:collapse"><g>{LINE}</g></g>',
        f"<defs>{LINE}</defs>",
        f'<clipPath id="c">{LINE}</clipPath>',
        f"<mask>{LINE}</mask><pattern>{LINE}</pattern><marker>{LINE}</marker><symbol>{LINE}</symbol>",
        f"<style>#line {{ display: none }}</style>{LINE}",
        '<style>.a.b, .c{display:none}</style><path class="b a" d="M0 0L1 1"/><g class="c"><path d="M0 0L1 1"/></g>',
        '<style><![CDATA[ /* x */ path{display:none} ]]></style><path d="M0 0L1 1"/>',
        f"<foreignObject>{LINE}</foreignObject><text>words</text>",
        f'<metadata><other xmlns="http://example.com/other">{LINE}</other></metadata>',
        '<other xmlns="http://example.com/other"><path xmlns="http://www.w3.org/2000/svg" d="M0 0L1 1"/></other>',
    ],
)
def test_what_is_not_drawn_is_no_curve(hidden):
    assert read(hidden).curves == ()


@pytest.mark.parametrize(
    "shown",
    [
        f'<g visibility="hidden"><g visibility="visible">{LINE}</g></g>',
        f"<style>@media print {{ #line {{ display: none }} }} .other {{ display: none }}</style>{LINE}",
        f"<style>path {{ display: none }} #line {{ display: inline }}</style>{LINE}",
        '<style>#line { display: none }</style><path id="line" style="display:inline" d="M10,20 L40,60"/>',
        f"<switch><g>{LINE}</g></switch>",
    ],
)
def test_what_is_drawn_is_a_curve(shown):
    assert lengths(shown) == pytest.approx([50])


def test_curves_keep_the_ids_of_their_element_and_groups():
    drawn = read(
        f'<g id="front"><g id="lines"><path d="M0 0L1 1M2 2L3 3" id="two"/><path d="M0 0L1 1"/></g></g>{LINE}'
    ).curves
    assert [one.id for one in drawn] == ["two", "two", None, "line"]
    assert [one.groups for one in drawn] == [("front", "lines")] * 3 + [()]


# Files of strangers


def test_a_document_type_is_not_looked_up():
    before = '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd">'
    assert len(read(LINE, MM, before).curves) == 1


@pytest.mark.parametrize(
    ("before", "content"),
    [
        ('<!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]>', "<text>&b;</text>"),
        ('<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>', "<text>&x;</text>"),
        ('<!DOCTYPE svg [<!ENTITY % p SYSTEM "http://example.com/p.dtd"> %p;]>', LINE),
    ],
)
def test_entities_are_refused(before, content):
    with pytest.raises(UnreadableError, match=r"^front\.svg has entities of its own"):
        read(content, MM, before)


@over(
    "content",
    [
        '<use href="other.svg#neck"/>',
        '<use xlink:href="http://example.com/a.svg#neck"/>',
        '<image href="photo.jpg" width="5" height="5"/>',
        '<image xlink:href="file:///etc/passwd" width="5" height="5"/>',
        "<style>@import url(http://example.com/a.css);</style>",
        "<style>path { fill: url('http://example.com/a.svg#g') }</style>",
        '<path style="fill:url(other.svg#g)" d="M0 0L1 1"/>',
        '<path clip-path="url( &quot;other.svg#g&quot; )" d="M0 0L1 1"/>',
        '<script href="http://example.com/a.js"/>',
    ],
)
def test_references_to_other_files_are_refused(content):
    with pytest.raises(UnreadableError, match="another file"):
        read(content + LINE)


def test_an_outer_style_sheet_is_refused():
    with pytest.raises(UnreadableError, match="a style sheet in another file"):
        read(LINE, MM, '<?xml-stylesheet type="text/css" href="a.css"?>')


@pytest.mark.parametrize(
    "content",
    [
        '<a href="http://example.com/">' + LINE + "</a>",
        '<image href="data:image/png;base64,AAAA"/>' + LINE,
        '<linearGradient id="g"/><path style="fill:url(#g)" fill="url(\'#g\')" d="M10,20 L40,60"/>',
        '<linearGradient id="h" xlink:href="#g"/>' + LINE,
    ],
)
def test_references_inside_the_file_are_fine(content):
    assert lengths(content) == pytest.approx([50])


@pytest.mark.parametrize(
    ("data", "reason"),
    [
        (b"", "damaged or not an SVG"),
        (b"<svg", "damaged or not an SVG"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><g></svg>", "damaged or not an SVG"),
        (b"<html><body/></html>", "is not an SVG"),
        (b"<other:svg xmlns:other='http://example.com'/>", "is not an SVG"),
        (b"<?xml version='1.0' encoding='nonsense'?><svg/>", "damaged or not an SVG|encoding"),
        (b"\xff\xfe\x00", "damaged or not an SVG"),
    ],
)
def test_a_damaged_file_is_refused(data, reason):
    with pytest.raises(UnreadableError, match=reason):
        read_svg(data, "front.svg")


def test_other_encodings_are_read():
    text = svg(LINE).decode()
    assert len(read_svg(text.encode("utf-16"), "front.svg").curves) == 1
    assert len(read_svg(b"\xef\xbb\xbf" + text.encode(), "front.svg").curves) == 1
    latin = '<?xml version="1.0" encoding="ISO-8859-1"?>' + text.replace('"line"', '"Ärmel"')
    assert read_svg(latin.encode("latin-1"), "front.svg").curves[0].id == "Ärmel"


def test_what_unfolds_without_end_is_refused():
    doubling = "".join(f'<g id="g{k}"><use href="#g{k + 1}"/><use href="#g{k + 1}"/></g>' for k in range(40))
    for content in (
        "<g>" * 200 + "</g>" * 200,
        '<g id="a"><use href="#a"/></g>',
        '<use id="a" href="#b"/><use id="b" href="#a"/>',
        doubling,
    ):
        with pytest.raises(UnreadableError, match=r"nested too deeply|calls itself"):
            read(content)


@pytest.mark.parametrize(
    "content",
    [
        '<path d="M0 0L1e300 1e300"/>',
        '<circle r="1e308"/>',
        '<path d="M0 0L1e999 0"/>',
        '<g transform="scale(1e200)"><g transform="scale(1e200)"><circle r="1"/></g></g>',
    ],
)
def test_numbers_beyond_all_measure_are_refused(content):
    with pytest.raises(UnreadableError, match=r"^front\.svg"):
        read(content)
