"""This checks that the curve that is meant is found, and that what cannot be meant is refused in one sentence."""

import os
from pathlib import Path

import pikepdf
import pytest

from tests.reading.files import pdf, saved
from tiler.errors import EncryptedError, NothingToMeasureError, SpecError, TilerError, UnreadableError
from tiler.reading.drawing import is_pdf, pick, read_curves
from tiler.usecases.drawings.apart import inside

MM = 25.4 / 72

DRAWING = """<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="100mm" viewBox="0 0 200 100">
<g id="front"><path id="neck" d="M0,0 C0,80 60,100 90,100"/></g>
<g id="back"><path id="back-neck" d="M0,0L30,40"/><path id="shoulder" d="M30,40L60,80"/></g>
<path id="two" d="M0,0L3,4M5,5L8,9"/>
<path id="dot" d="M5,5L5,5"/>
<path id="loop" d="M0,0L10,10L10,0L0,10"/>
<defs><path id="spare" d="M0,0L3,4"/></defs>
</svg>"""


@pytest.fixture
def svg(tmp_path: Path) -> Path:
    return saved(tmp_path, "front.svg", DRAWING.encode())


@pytest.fixture
def base(tmp_path: Path) -> Path:
    pages = ("0 0 m 30 40 l S", "0 0 m 60 80 l S 60 80 m 60 100 l S 200 0 m 60 100 l S", "")
    return saved(tmp_path, "base.pdf", pdf(*pages))


def refusal(*arguments, **options) -> str:
    with pytest.raises(SpecError) as fault:
        pick(*arguments, **options)
    text = str(fault.value)
    assert "\n" not in text
    return text


def test_curves_are_numbered_in_the_order_in_which_they_are_drawn(svg, base):
    assert [(one.number, one.id, one.page) for one in read_curves(svg)][:4] == [
        (1, "neck", None),
        (2, "back-neck", None),
        (3, "shoulder", None),
        (4, "two", None),
    ]
    assert [(one.number, one.id, one.page) for one in read_curves(base)] == [
        (1, None, 1),
        (1, None, 2),
        (2, None, 2),
        (3, None, 2),
    ]
    assert [one.number for one in read_curves(base, 2)] == [1, 2, 3]


def test_a_curve_is_picked_by_id_or_number(svg, base):
    # the cubic's length by quadrature
    assert pick(svg, id="neck").length == pytest.approx(150.72505465)
    assert pick(svg, curve=1).length == pytest.approx(150.72505465)
    assert pick(svg, id="front").length == pytest.approx(150.72505465)
    assert pick(base, page=2, curve=2).length == pytest.approx(20 * MM)
    assert pick(base, page=1).length == pytest.approx(50 * MM)


def test_several_curves_are_chained_in_order(svg, base):
    assert pick(svg, id=["back-neck", "shoulder"]).length == pytest.approx(100)
    assert pick(base, page=2, curve=[1, 2]).length == pytest.approx(120 * MM)
    assert "curve 1 does not begin where" in refusal(base, page=2, curve=[2, 3, 1])
    assert "named twice" in refusal(base, page=2, curve=[1, 1])


def test_a_name_that_is_not_there_is_answered_with_those_that_are_the_nearest_first(svg):
    text = refusal(svg, id="nek")
    assert "there is no drawn 'nek'; there are neck, " in text
    assert "shoulder" in text
    assert "spare" not in text
    assert "there is no drawn 'spare'" in refusal(svg, id="spare")


def test_a_name_that_holds_several_curves_is_answered_with_their_numbers(svg):
    assert "'two' holds 2 curves; name one by curve = 4, 5" in refusal(svg, id="two")
    assert "'back' holds 2 curves; name one by curve = 2, 3" in refusal(svg, id="back")


def test_a_drawing_without_ids_says_so(tmp_path):
    plain = saved(tmp_path, "plain.svg", DRAWING.replace(" id=", " class=").encode())
    assert "no other id; name it by curve" in refusal(plain, id="neck")


def test_numbers_that_are_not_there(svg, base):
    assert "there is no curve 9; there are curves 1 to 7" in refusal(svg, curve=9)
    assert "there is no curve 0" in refusal(svg, curve=0)
    assert "there is no curve 2; there is only curve 1" in refusal(base, page=1, curve=2)
    assert "has no page 4; it has pages 1 to 3" in refusal(base, page=4, curve=1)
    assert "has no page 0" in refusal(base, page=0, curve=1)
    assert "an SVG, which has no pages" in refusal(svg, page=1, curve=1)
    assert "several pages with curves; say which, as in page = 1" in refusal(base, curve=1)
    assert "give id or curve, not both" in refusal(svg, id="neck", curve=1)
    assert "holds 7 curves; say which" in refusal(svg)


def test_a_page_without_curves_has_nothing_to_measure(base):
    with pytest.raises(NothingToMeasureError, match=r"page 3 holds no curve"):
        pick(base, page=3, curve=1)


def test_a_line_without_length_or_that_crosses_itself_is_no_edge(svg, base):
    assert "('dot') has no length" in refusal(svg, id="dot")
    assert "('loop'): the line crosses or retraces itself at 5.0 mm from the left, 95.0 mm" in refusal(svg, id="loop")


def test_a_chain_that_crosses_itself_is_no_edge(tmp_path):
    path = saved(tmp_path, "base.pdf", pdf("0 0 m 100 100 l S 100 100 m 100 0 l S 100 0 m 0 100 l S"))
    assert "crosses" in refusal(path, page=1, curve=[1, 2, 3])


@pytest.mark.parametrize(
    ("name", "data", "reason"),
    [
        ("a.pdf", b"", "neither a PDF nor an SVG"),
        ("a.svg", b"hello", "neither a PDF nor an SVG"),
        ("a.png", b"\x89PNG\r\n\x1a\n", "neither a PDF nor an SVG"),
        ("a.svgz", b"\x1f\x8b\x08", "is compressed"),
        ("a.pdf", b"%PDF-1.7\n", "damaged"),
        ("a.pdf", pdf("0 0 m 5 5 l S")[:400], "damaged|no pages"),
        ("a.svg", b"<svg", "damaged"),
    ],
)
def test_a_file_that_cannot_be_read_is_refused(tmp_path, name, data, reason):
    with pytest.raises(UnreadableError, match=reason):
        read_curves(saved(tmp_path, name, data))


def test_a_file_that_is_not_there_is_refused(tmp_path):
    with pytest.raises(UnreadableError, match="there is no such file"):
        read_curves(tmp_path / "none.svg")
    with pytest.raises(UnreadableError, match="is a folder; name the drawing itself"):
        read_curves(tmp_path)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no pipes here")
def test_a_pipe_is_not_waited_for(tmp_path):
    os.mkfifo(tmp_path / "pipe.svg")
    with pytest.raises(UnreadableError, match="not an ordinary file"):
        read_curves(tmp_path / "pipe.svg")


def test_a_password_is_asked_for(tmp_path):
    with pikepdf.open(saved(tmp_path, "plain.pdf", pdf("0 0 m 5 5 l S"))) as file:
        file.save(tmp_path / "locked.pdf", encryption=pikepdf.Encryption(owner="o", user="u"))
        file.save(tmp_path / "open.pdf", encryption=pikepdf.Encryption(owner="o", user=""))
    with pytest.raises(EncryptedError):
        read_curves(tmp_path / "locked.pdf")
    assert len(read_curves(tmp_path / "open.pdf")) == 1


def test_what_a_file_is_stands_in_its_first_bytes(tmp_path, svg, base):
    assert is_pdf(base)
    assert not is_pdf(svg)
    assert not is_pdf(saved(tmp_path, "wide.svg", DRAWING.encode("utf-16")))
    assert not is_pdf(saved(tmp_path, "marked.svg", b"\xef\xbb\xbf \n" + DRAWING.encode()))


# Paths of a spec


def test_a_drawing_lies_in_the_folder_of_its_spec(tmp_path):
    (tmp_path / "specs" / "drawings").mkdir(parents=True)
    folder = tmp_path / "specs"
    assert inside(folder, "front.svg") == folder / "front.svg"
    assert inside(folder, "drawings/../front.svg").resolve() == (folder / "front.svg").resolve()
    assert inside(folder, str(folder / "front.svg")) == folder / "front.svg"


@pytest.mark.parametrize("name", ["../front.svg", "drawings/../../front.svg", "/etc/passwd", ".."])
def test_a_path_that_leads_out_of_the_folder_is_refused(tmp_path, name):
    with pytest.raises(SpecError, match="outside the spec's folder"):
        inside(tmp_path, name)


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no links here")
def test_a_link_that_leads_out_of_the_folder_is_refused(tmp_path):
    folder = tmp_path / "specs"
    folder.mkdir()
    (tmp_path / "secret.svg").write_text(DRAWING)
    (folder / "front.svg").symlink_to(tmp_path / "secret.svg")
    (folder / "up").symlink_to(tmp_path)
    (folder / "own.svg").symlink_to(folder / "real.svg")
    (folder / "ring").symlink_to(folder / "ring")
    for name in ("front.svg", "up/secret.svg"):
        with pytest.raises(SpecError, match="outside the spec's folder"):
            inside(folder, name)
    assert inside(folder, "own.svg") == folder / "own.svg"
    with pytest.raises(TilerError):
        read_curves(inside(folder, "ring"))
    # the folder itself may be reached through a link
    (tmp_path / "linked").symlink_to(folder)
    assert inside(tmp_path / "linked", "own.svg") == tmp_path / "linked" / "own.svg"


def test_a_name_that_is_no_path_is_refused(tmp_path):
    with pytest.raises(SpecError, match="is not a path"):
        inside(tmp_path, "a\0b.svg")
