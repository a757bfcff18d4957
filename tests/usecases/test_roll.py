"""One sheet on a roll, split where viewers end, and heavy lines for a projector, black on white or white on black."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pymupdf
import pytest

from tests.chosen import long
from tests.proof.faults import Instructions, code, read, write
from tests.sheets.jobs import EXAMPLES, SAMPLE, drawn_once
from tests.specs import piece, spec, straight, written
from tiler.box import Box
from tiler.commands import run
from tiler.declaration import FILE_NAME, Declaration
from tiler.errors import SpecError
from tiler.paper import LONGEST_PAGE, Projected
from tiler.proof import prove
from tiler.proof.ink.rendering import AT_ONCE, Rendering, bands
from tiler.proof.report.verdict import Verdict
from tiler.usecases.draft import Proved, Wishes, draft_file

BINDINGS = EXAMPLES / "saltmarsh-bindings.toml"
CUFF = spec(piece("Cuff", "2 in", straight("9 in")), title="Cuffs")
HEM = spec(
    piece(
        "Hem binding",
        "1/4 in",
        straight("260 in"),
        finish="double-fold-binding",
        cover="1/8 in",
        cut="full-loop",
        ratio="100 %",
    ),
    title="Long strips",
)


def drafted(folder: Path, spec: Path, roll: float | None = None, line_weight: float | None = None) -> Proved:
    return draft_file(spec, folder / "out.pdf", Wishes("one-sheet", roll=roll, line_weight=line_weight))


@pytest.mark.parametrize("roll", [400.0, 609.6, 914.4])
def test_a_page_is_no_wider_than_the_roll(tmp_path: Path, roll: float) -> None:
    made = drafted(tmp_path, BINDINGS, roll)
    assert made.declaration.page_width_mm <= roll
    assert made.declaration.page_height_mm >= made.declaration.page_width_mm
    assert len(made.declaration.pages) == 1


@long
@pytest.mark.parametrize("roll", [None, 609.6])
def test_what_is_longer_than_viewers_show_is_split_with_register_marks(tmp_path: Path, roll: float | None) -> None:
    """Pages beyond 14,400 units (200 in) show blank in some viewers, so a strip of 260 in lies on two of 200 in."""
    made = drafted(tmp_path, written(HEM, tmp_path), roll)
    assert made.declaration.page_height_mm == LONGEST_PAGE == 14400 / 72 * 25.4
    assert [page.code for page in made.declaration.pages] == ["A1", "B1"]
    assert made.declaration.marks
    assert made.report.verdict == "true-to-scale"


def test_a_roll_that_leaves_no_room_for_the_squares_is_refused(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="too narrow"):
        drafted(tmp_path, BINDINGS, 203.2)


def test_a_roll_is_for_one_sheet_only(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="--paper one-sheet"):
        draft_file(BINDINGS, tmp_path / "out.pdf", Wishes("a4", roll=914.4))


@pytest.mark.parametrize("weight", [0.2, 1.0, 1.2])
def test_lines_of_any_weight_are_proved(tmp_path: Path, weight: float) -> None:
    assert drafted(tmp_path, written(SAMPLE, tmp_path), line_weight=weight).report.verdict == "true-to-scale"


@pytest.mark.parametrize("weight", [0.05, 5.0])
def test_a_line_that_is_none_is_refused(tmp_path: Path, weight: float) -> None:
    with pytest.raises(SpecError, match="line-weight"):
        drafted(tmp_path, BINDINGS, line_weight=weight)


@pytest.mark.parametrize("how", list(Projected))
def test_a_file_for_a_projector_is_one_sheet_that_tells_how_it_is_shown(tmp_path: Path, how: Projected) -> None:
    made = draft_file(written(CUFF, tmp_path), tmp_path / "out.pdf", Wishes(projected=how))
    assert made.report.verdict is Verdict.TRUE
    assert made.declaration.dark is (how is Projected.DARK)
    with pymupdf.open(tmp_path / "out.pdf") as pdf:
        (page,) = pdf
        said = " ".join(page.get_text().split())
        corner = page.get_pixmap().pixel(3, 3)
    assert "1 Project This file is for a projector" in said
    assert "print this page again" not in said
    assert corner == ((0, 0, 0) if how is Projected.DARK else (255, 255, 255))


def test_a_file_for_a_projector_has_no_other_paper(tmp_path: Path) -> None:
    with pytest.raises(SpecError, match="--projector: shows all pieces on one sheet; leave --paper out"):
        draft_file(written(CUFF, tmp_path), tmp_path / "out.pdf", Wishes("a4", projected=Projected.LIGHT))


@pytest.fixture(scope="module")
def dark() -> bytes:
    return drawn_once(CUFF, Wishes(projected=Projected.DARK)).data


def altered(data: bytes, change: Callable[[Instructions], Instructions]) -> bytes:
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        write(pdf, 1, change(read(pdf.pages[0])))
        pdf.save(out)
    return out.getvalue()


def without_black(instructions: Instructions) -> Instructions:
    first = next(index for index, (_, operator) in enumerate(instructions) if str(operator) == "re")
    return [*instructions[:first], *instructions[first + 2 :]]


def a_patch(instructions: Instructions) -> Instructions:
    patch = [code("q"), code("g", 0.75), code("re", 300, 40, 60, 9), code("f"), code("Q")]
    return [*instructions, *patch]


def pale(instructions: Instructions) -> Instructions:
    return [([0.2], operator) if str(operator) == "G" else (given, operator) for given, operator in instructions]


def covered(instructions: Instructions) -> Instructions:
    return [*instructions, code("q"), code("g", 0), code("re", 0, 200, 2000, 20), code("f"), code("Q")]


@long
@pytest.mark.parametrize("fault", [without_black, a_patch, pale, covered])
def test_a_fault_of_what_is_white_on_black_is_found(dark: bytes, fault: Callable[[Instructions], Instructions]) -> None:
    assert prove(dark).verdict is Verdict.TRUE
    assert prove(altered(dark, fault)).verdict is not Verdict.TRUE


@long
def test_a_file_that_is_painted_otherwise_than_it_declares_is_not_true(dark: bytes) -> None:
    """This test ensures that a file is not taken for the negative that another one is."""
    light = drawn_once(CUFF, Wishes(projected=Projected.LIGHT)).data
    for one, other in ((dark, light), (light, dark)):
        out = BytesIO()
        with pikepdf.open(BytesIO(one)) as pdf, pikepdf.open(BytesIO(other)) as painted:
            pdf.pages[0].Contents = pdf.make_stream(painted.pages[0].Contents.read_bytes())
            pdf.save(out)
        assert prove(out.getvalue()).verdict is not Verdict.TRUE


@pytest.mark.parametrize(
    ("words", "dark"), [(("--projector", "{spec}"), False), (("{spec}", "--projector-dark"), True)]
)
def test_the_option_stands_before_the_spec_or_behind_it(tmp_path: Path, words: tuple[str, str], dark: bool) -> None:
    spec, out = written(CUFF, tmp_path), tmp_path / "out.pdf"
    assert run(["draft", *(word.format(spec=spec) for word in words), "-o", str(out)]) == 0
    with pikepdf.open(out) as pdf:
        declared = Declaration.from_bytes(pdf.attachments[FILE_NAME].get_file().read_bytes())
    assert (declared.paper, declared.dark) == ("one-sheet", dark)


@long
@pytest.mark.parametrize("up", [0.1, 0.5, 0.9])
def test_a_large_sheet_is_looked_at_to_its_edges(up: float) -> None:
    """This test ensures that a patch of 2 mm is found in the first, a middle and the last piece that is looked at."""
    document = drawn_once(HEM, Wishes("one-sheet"))
    wide, high = document.declaration.page_width_mm, document.declaration.page_height_mm
    assert len(bands(Box(0.0, 0.0, wide, high))) > 2
    assert prove(document.data).verdict is Verdict.TRUE
    at = wide / 2 / 25.4 * 72, high * up / 25.4 * 72
    patch = [code("q"), code("g", 0.5), code("re", *at, 2 / 25.4 * 72, 2 / 25.4 * 72), code("f"), code("Q")]
    assert prove(altered(document.data, lambda instructions: [*instructions, *patch])).verdict is not Verdict.TRUE


@long
@pytest.mark.parametrize("roll", [611.1, 777.77, 914.4, 1234.5])
def test_a_true_sheet_of_any_size_is_looked_at_in_pieces(monkeypatch: pytest.MonkeyPatch, roll: float) -> None:
    """This test ensures that the rounded size of a page does not make for pictures of the whole."""
    pictures: list[tuple[int, int]] = []
    shown = Rendering.grey

    def grey(rendering: Rendering, *page: Any, **how: Any) -> Any:
        picture = shown(rendering, *page, **how)
        pictures.append(picture.size)
        return picture

    monkeypatch.setattr(Rendering, "grey", grey)
    assert prove(drawn_once(HEM, Wishes("one-sheet", roll=roll)).data, as_made=True).verdict is Verdict.TRUE
    assert len(pictures) > 2
    assert max(wide * high for wide, high in pictures) < 1.1 * AT_ONCE
