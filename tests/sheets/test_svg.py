"""The drawing for vector editors and cutting plotters: its unit, groups, names and words, read by another XML parser.

Rules are those of SVG 1.1 (W3C): width, height and viewBox 7.7, ids are XML names (XML 1.0, production 5).
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from xml.etree import ElementTree

import pymupdf
import pytest

from tests.sheets.jobs import EXAMPLES
from tests.specs import neckline, piece, shaped, spec, straight, table
from tiler.declaration import PIECE_TAGS
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.errors import SpecError
from tiler.proof.report.verdict import Verdict
from tiler.proof.svg.proving import prove_svg
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes, draw_plane

SVG = "{http://www.w3.org/2000/svg}"
NAME = re.compile("[:A-Z_a-z\u00c0-\u00d6\u00d8-\u00f6\u00f8-\u02ff\u0370-\u037d\u037f-\u1fff][^\\s<>&\"']*")
HOSTILE = "<&\"> 'x' λαιμόκοψη горловина Հայերեն "
SECOND = '12 "M" & co'
NESTED = spec(
    piece("Neckband", "1/2 in", neckline(table(S="7 in", M="7 1/2 in", L="8 in"), "3 3/4 in"), cut="on-fold"),
    piece("Cuff", "1 in", straight(table(S="8 in", M="8 1/2 in", L="9 in")), cut="full-loop", quantity=2),
    title="Heron top",
    version="2",
    date="2026-11-20",
    sizes=["S", "M", "L"],
)


def plane(text: str, wishes: Wishes | None = None) -> Document:
    job = read_tables(tomllib.loads(text), "spec.toml:")
    return draw_plane(job, figure_job(job), wishes or Wishes())


def root_of(document: Document) -> ElementTree.Element:
    return ElementTree.fromstring(document.data)


def groups(root: ElementTree.Element) -> Iterator[ElementTree.Element]:
    """Give the groups of pieces."""
    return (group for group in root.findall(f"{SVG}g") if "data-piece" in group.attrib)


def texts(element: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in element.iter(f"{SVG}text")]


@pytest.fixture(scope="module", name="nested")
def nested_sizes() -> Document:
    return plane(NESTED)


def test_one_user_unit_is_a_millimetre(nested: Document) -> None:
    root = root_of(nested)
    width, height = root.attrib["width"], root.attrib["height"]
    assert width.endswith("mm")
    assert root.attrib["viewBox"] == f"0 0 {width.removesuffix('mm')} {height.removesuffix('mm')}"


def test_another_reader_finds_the_same_size(nested: Document) -> None:
    """MuPDF gives points, 1/72 in."""
    with pymupdf.open(stream=nested.data, filetype="svg") as drawing:
        shown = drawing[0].rect
    declared = nested.declaration
    assert (shown.width, shown.height) == pytest.approx(
        (declared.page_width_mm * 72 / 25.4, declared.page_height_mm * 72 / 25.4), abs=0.1
    )


def test_nothing_but_groups_paths_and_texts_is_in_it(nested: Document) -> None:
    names = {element.tag.removeprefix(SVG) for element in root_of(nested).iter()}
    assert names == {"svg", "title", "g", "path", "text"}


def test_every_piece_in_every_size_is_a_group_and_so_is_what_they_share(nested: Document) -> None:
    found = [
        (group.get("data-piece"), group.get("data-size"), group.get("data-sizes")) for group in groups(root_of(nested))
    ]
    for name in ("Neckband", "Cuff"):
        assert {(name, size, None) for size in "SML"} < {*found}
        assert (name, None, "S, M, L") in found


def test_lines_stand_in_groups_of_their_kind(nested: Document) -> None:
    kinds = {inner.get("class") for group in groups(root_of(nested)) for inner in group}
    assert {"CutLine", "FoldLine", "PressLine", "SeamLine", "Notch", "StretchArrow", "Words"} <= kinds
    assert kinds <= {*PIECE_TAGS, "Leaders", "Words"}


def test_title_edition_and_what_to_check_stand_once_as_text(nested: Document) -> None:
    said = texts(root_of(nested))
    for words in ("Heron top", "version 2 · 2026-11-20", "2 in × 2 in", "5 cm × 5 cm"):
        assert [one for one in said if one == words][:1] == [words]
    assert sum("Check both squares before you cut" in one for one in said) == 1


def test_words_of_a_piece_on_a_narrow_roll_are_turned_with_it() -> None:
    """A plotter of 8 in is narrower than the strip, which then lies down the roll."""
    root = root_of(plane(NESTED, Wishes(roll=203.2)))
    assert float(root.attrib["width"].removesuffix("mm")) <= 203.2
    assert all(
        re.fullmatch(r"rotate\(-90 [0-9. ]+\)", text.get("transform") or "")
        for group in groups(root)
        for text in group.iter(f"{SVG}text")
    )


def test_a_drawing_that_just_fits_a_roll_is_no_wider_than_it(nested: Document) -> None:
    """What is on it takes a part of a millimetre, and a drawing whole ones where it may."""
    declared = nested.declaration
    taken = max(one.sheet_bounds().x1 for one in declared.drawn) + 10
    assert taken < declared.page_width_mm < taken + 1
    assert plane(NESTED, Wishes(roll=taken + 0.01)).declaration.page_width_mm <= taken + 0.01


def test_a_roll_with_no_room_for_the_squares_is_refused() -> None:
    with pytest.raises(SpecError, match=r"--roll: 80 mm is too narrow for what is drawn; take 1[0-9]{2} mm or more"):
        plane(NESTED, Wishes(roll=80.0))


def test_sizes_are_black_unless_colours_are_asked_for(nested: Document) -> None:
    def colours(document: Document) -> set[str | None]:
        return {one.get("stroke") for one in root_of(document).iter() if one.get("stroke")}

    assert colours(nested) == {"#000000"}
    assert len(colours(plane(NESTED, Wishes(colour=True)))) == 3


def test_the_same_spec_gives_the_same_bytes(nested: Document) -> None:
    assert plane(NESTED).data == nested.data


@pytest.mark.parametrize("name", [HOSTILE, HOSTILE.ljust(199, "w") + "x", "---", "1", "Band"])
def test_any_name_is_kept_as_it_is_and_makes_a_valid_id(name: str) -> None:
    """Beside it stands a piece whose name makes the same id."""
    job = spec(
        piece(name.strip(), "1/2 in", straight({"<S>": "20 in", SECOND: "22 in"})),
        piece(f"{name.strip()[:190]}!", "1/2 in", straight("20 in")),
        title=f"Top {HOSTILE}",
        sizes=["<S>", SECOND],
    )
    document = plane(job)
    root = root_of(document)
    ids = [element.attrib["id"] for element in root.iter() if "id" in element.attrib]
    assert len({*ids}) == len(ids)
    assert all(map(NAME.fullmatch, ids))
    assert {group.get("data-piece") for group in groups(root)} == {name.strip(), f"{name.strip()[:190]}!"}
    assert SECOND in texts(root)
    assert prove_svg(document.data, document.declaration).verdict is Verdict.TRUE


def test_a_drawing_in_two_languages_is_proved() -> None:
    job = spec(piece("Band", "1/2 in", straight("20 in")), title="Heron", language="de,fr")
    said = texts(root_of(document := plane(job)))
    assert any("beide Quadrate" in one for one in said)
    assert any("les deux carrés" in one for one in said)
    assert prove_svg(document.data, document.declaration).verdict is Verdict.TRUE


@pytest.mark.parametrize(
    "text",
    [
        spec(piece("Vee", "1 in", shaped("vee", "7 in", "6 in", "1 in"), corner="mitre", cut="on-fold")),
        spec(piece("Vee", "1 in", shaped("vee", "7 in", "6 in", "1 in"), corner="lapped")),
        (EXAMPLES / "saltmarsh-bindings.toml").read_text(encoding="utf-8"),
        (EXAMPLES / "saltmarsh-remnant.toml").read_text(encoding="utf-8"),
    ],
    ids=["mitred", "lapped", "bindings", "pieced"],
)
def test_every_kind_of_piece_is_proved(text: str) -> None:
    document = plane(text)
    report = prove_svg(document.data, document.declaration)
    assert (report.verdict, report.warned) == (Verdict.TRUE, ())


def test_pieces_lie_clear_of_each_other_and_of_the_heading() -> None:
    document = plane(NESTED, Wishes(nest=False))
    declared = document.declaration
    boxes = [one.sheet_bounds() for one in declared.pieces] + [square.box for square in declared.squares]
    assert not any(one.overlaps(other) for k, one in enumerate(boxes) for other in boxes[:k])
    assert all(box.x0 >= 0 and box.x1 <= declared.page_width_mm for box in boxes)
    assert all(box.y0 >= 0 and box.y1 <= declared.page_height_mm for box in boxes)
