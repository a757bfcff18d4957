"""Slanted ends and sections: words keep off their lines, drawn sizes hold, and the proof sees them."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO
from itertools import combinations, pairwise, product
from pathlib import Path

import pikepdf
import pymupdf
import pytest

from tests.chosen import each, some
from tests.sheets.jobs import drawn_once
from tests.sheets.test_lettering import long_lines
from tests.specs import CUTS, FINISHES, neckline, piece, shaped, spec, table, written
from tiler.box import Box, Point
from tiler.declaration import Tag
from tiler.draft.compute import figure_job
from tiler.draft.outline import draw_pieces
from tiler.draft.spec.read import read_spec
from tiler.proof import prove
from tiler.sheets.pieces.lettering import Lettered, letter
from tiler.usecases.draft import Wishes

POINT = 25.4 / 72

ALLOWANCE = {"folded-band": {"seam_allowance": "1/8 in"}, "raw-edge-binding": {"trim_allowance": "1/8 in"}}


def text_of(
    finish: str = "folded-band",
    width: str = "2 in",
    cut: str = "on-fold",
    corner: str = "mitre",
    point: str = "120",
    cloth: str = "60 in",
) -> str:
    edge = neckline("10 in", "5 in", corners=[float(point)])
    keys = {"cut_width": width, "cut": cut, "fabric": "rib", "corner": corner, **ALLOWANCE.get(finish, {})}
    band = piece("Neckband", None, edge, finish, **keys)
    return spec(band, title="Everyday vee", fabrics={"rib": table(stretch="60 %", width=cloth)})


def lettered(tmp_path: Path, **changes: str) -> Lettered:
    return all_lettered(tmp_path, **changes)[0]


def all_lettered(tmp_path: Path, **changes: str) -> list[Lettered]:
    job = read_spec(written(text_of(**changes), tmp_path))
    return [letter(piece) for piece in draw_pieces(figure_job(job), job.edition)]


def crosses(box: Box, start: Point, end: Point) -> bool:
    """Tell whether a straight line enters a box (clipping after Liang and Barsky)."""
    t0, t1 = 0.0, 1.0
    for a, b, low, high in ((start[0], end[0], box.x0, box.x1), (start[1], end[1], box.y0, box.y1)):
        step = b - a
        if not step:
            if not low < a < high:
                return False
            continue
        first, last = sorted(((low - a) / step, (high - a) / step))
        t0, t1 = max(t0, first), min(t1, last)
    return t0 < t1


def test_a_line_through_a_box_is_seen() -> None:
    box = Box(0, 0, 2, 1)
    assert crosses(box, (-1, -1), (3, 2))
    assert crosses(box, (1, -5), (1, 5))
    assert not crosses(box, (0, 1.5), (3, 3))
    assert not crosses(box, (-1, 0.5), (-0.1, 0.5))


def vees() -> Iterator[tuple[str, str, str, str]]:
    """Give half of all combinations, in which any three choices meet."""
    for cut, finish, width, point in product(range(2), range(len(FINISHES)), range(4), range(3)):
        if (cut + finish + width + point) % 2 == 0:
            widths, points = ("3/4 in", "1 1/2 in", "3 in", "5 in"), ("25", "80", "140")
            yield CUTS[cut], FINISHES[finish], widths[width], points[point]


@pytest.mark.parametrize(("cut", "finish", "width", "point"), some(list(vees()), 2))
def test_words_keep_off_slanted_lines(tmp_path: Path, cut: str, finish: str, width: str, point: str) -> None:
    keep_off(lettered(tmp_path, cut=cut, finish=finish, width=width, point=point))


@pytest.mark.parametrize(
    ("cut", "point", "width"),
    [*each(CUTS, ["62", "100", "140"], ["1 in", "2 in", "4 in"]), *each(CUTS[::-1], ["140", "62", "100"], ["2 in"])],
)
def test_words_keep_off_lapped_ends(tmp_path: Path, cut: str, point: str, width: str) -> None:
    keep_off(lettered(tmp_path, cut=cut, point=point, width=width, corner="lapped"))


def sections_of() -> Iterator[tuple[str, str, str, str]]:
    """Give half of all combinations, in which any three choices meet."""
    for cut, cloth, width, corner in product(range(2), range(3), range(3), range(2)):
        if (cut + cloth + width + corner) % 2 == 0:
            cloths, widths = ("22 in", "12 in", "6 in"), ("1 in", "2 in", "4 in")
            yield CUTS[cut], cloths[cloth], widths[width], ("none", "mitre")[corner]


@pytest.mark.parametrize(("cut", "cloth", "width", "corner"), list(sections_of()))
def test_words_keep_off_the_joins_of_sections(tmp_path: Path, cut: str, cloth: str, width: str, corner: str) -> None:
    sections = all_lettered(tmp_path, cut=cut, cloth=cloth, width=width, corner=corner)
    assert sections[0].piece.figures.section or cloth == "22 in"
    for one in sections:
        keep_off(one)


def keep_off(one: Lettered) -> None:
    for a, b in combinations(one.texts, 2):
        assert not a.box.overlaps(b.box), (a.text, b.text)
    for text in one.texts:
        for line in long_lines(one):
            assert not text.box.overlaps(line), text.text
        for part in one.parts:
            for subpath in part.subpaths:
                for start, end in pairwise(subpath):
                    assert not crosses(text.box, start, end), (text.text, part.tag)


def test_the_advice_stands_on_a_piece_that_has_room(tmp_path: Path) -> None:
    words = " ".join(text.printed for text in lettered(tmp_path, width="3 in").texts)
    assert "Stay-stitch the garment's corner on the seam line" in words
    assert "Lay the point notch on the clip" in words
    narrow = " ".join(text.printed for text in lettered(tmp_path, width="3/4 in", finish="double-fold-binding").texts)
    assert "Stay-stitch" not in narrow


def test_the_joins_of_sections_are_named(tmp_path: Path) -> None:
    words = [
        [text.text for text in one.texts]
        for one in all_lettered(tmp_path, cut="full-loop", cloth="20 in", width="3 in", corner="none")
    ]
    front, back = words
    assert {"join (right shoulder)", "join (left shoulder)", "CF"} <= {*front}
    assert {"join (right shoulder)", "join (left shoulder)", "CB"} <= {*back}


def corners_of(page: pymupdf.Page, count: int) -> list[tuple[float, float]]:
    """Give the corners of the one polyline of ``count`` lines on a page, mm, y up."""
    found = [one for one in page.get_drawings() if len(one["items"]) == count and one["width"] > 1.2]
    (path,) = found
    points = [path["items"][0][1], *(item[2] for item in path["items"])]
    return [(point.x * POINT, (page.rect.height - point.y) * POINT) for point in points]


def test_a_mitred_vee_is_drawn_at_its_size(tmp_path: Path) -> None:
    # 11.1281 in at the fold line and 12.8424 in at the raw edges: the worked vee of the published formulas
    text = spec(
        piece("Neckband", "1/2", shaped("vee", 7, 8, 1), fabric="rib", ratio="flat", corner="mitre"),
        title="Invented vee",
        paper=table(size="one-sheet"),
        fabrics={"rib": "50 %"},
    )
    document = drawn_once(text)
    with pymupdf.open(stream=document.data) as pdf:
        points = corners_of(pdf[0], 4)
    # the strip is turned on this sheet: its length runs up the page, from the fold at the foot
    foot = points[0][1]
    lengths = [y - foot for _, y in points]
    wanted = [0, 12.84235 * 25.4, 11.12806 * 25.4, 12.84235 * 25.4, 0]
    assert lengths == pytest.approx(wanted, abs=0.02)
    across = [abs(x - points[0][0]) for x, _ in points]
    assert across == pytest.approx([0, 0, 0.75 * 25.4, 1.5 * 25.4, 1.5 * 25.4], abs=0.02)


def pairs_of_ends() -> Iterator[tuple[str, str, str, str]]:
    """Give half of all combinations, in which any two choices meet."""
    ends = [("mitre", "60 in"), ("mitre", "14 in"), ("none", "14 in")]
    for one, two, three in product(range(len(FINISHES)), range(2), range(len(ends))):
        if (one + two + three) % 2 == 0:
            yield FINISHES[one], ("on-fold", "full-loop")[two], *ends[three]


@pytest.mark.parametrize(("finish", "cut", "corner", "cloth"), list(pairs_of_ends()))
def test_slanted_ends_and_extra_seams_are_proved(
    tmp_path: Path, finish: str, cut: str, corner: str, cloth: str
) -> None:
    text = text_of(finish=finish, cut=cut, corner=corner, cloth=cloth)
    report = prove(drawn_once(text, Wishes(cover=False)).data)
    assert report.verdict == "true-to-scale", report.first_failure()


@pytest.mark.parametrize(
    ("tag", "check"), [(Tag.CUT_LINE, "piece"), (Tag.JOIN_LINE, "piece"), (Tag.PRESS_LINE, "piece")]
)
def test_a_slanted_line_whose_corner_is_moved_fails_the_proof(tmp_path: Path, tag: Tag, check: str) -> None:
    document = drawn_once(text_of())
    path = tmp_path / "strip.pdf"
    with pikepdf.open(BytesIO(document.data)) as pdf:
        move_a_corner(pdf, tag)
        pdf.save(path)
    report = prove(path)
    assert report.verdict == "incomplete"
    assert any(one.name == check and one.status == "fail" for one in report.checks)


def move_a_corner(pdf: pikepdf.Pdf, tag: Tag) -> None:
    """Move the second point of the first part of a kind by 0.1 mm along the strip."""
    forms = {}
    for page in pdf.pages:
        forms.update(page.obj.Resources.get("/XObject", {}))
    form = next(form for name, form in forms.items() if name.endswith(".p1"))
    content = [(list(one.operands), one.operator) for one in pikepdf.parse_content_stream(form)]
    start = next(k for k, (args, op) in enumerate(content) if str(op) == "BMC" and str(args[0]) == f"/{tag}")
    second = next(k for k in range(start, len(content)) if str(content[k][1]) == "l")
    content[second][0][0] = float(content[second][0][0]) + 0.1 / POINT
    form.write(pikepdf.unparse_content_stream(content))
