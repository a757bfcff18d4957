"""A file with a publisher's logo is proved to the last mark of it, and a logo covers nothing that is measured."""

from __future__ import annotations

import tomllib
import zlib
from collections.abc import Callable
from dataclasses import replace
from io import BytesIO
from typing import Any

import pikepdf
import pytest
from pikepdf import Name, Pdf

from tests.proof.faults import Instructions, alter, scaled, wrapped
from tests.reading.test_logo import MARK, png
from tests.sheets.jobs import ONE_BAND
from tests.specs import piece, spec, straight
from tiler.declaration import Declaration, DeclarationError, PageKind
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.printed import Picture, Shape
from tiler.proof import prove
from tiler.proof.compare.itself import compare_itself
from tiler.proof.report.verdict import Verdict
from tiler.reading.logo import read_logo
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes, draw_job

CUFF = spec(piece("Cuff", "1 in", straight("9 in")), title="Cuffs")
"""One strip that fits beside the instructions."""


def with_logo(data: bytes, paper: str = "letter", text: str = ONE_BAND, **wishes: Any) -> Document:
    job = read_tables(tomllib.loads(text), "spec.toml:")
    job = replace(job, edition=replace(job.edition, logo=read_logo(data, "mark")))
    return draw_job(job, figure_job(job), Wishes(paper=paper, **wishes))


@pytest.fixture(scope="module")
def drawn() -> Document:
    return with_logo(MARK.encode())


@pytest.fixture(scope="module")
def pictured() -> Document:
    return with_logo(png(300, 100))


def proved(document: Document, change: Callable[[Pdf], None]) -> Any:
    out = BytesIO()
    with pikepdf.open(BytesIO(document.data)) as pdf:
        change(pdf)
        pdf.save(out)
    return prove(out.getvalue())


def strokes(instructions: Instructions) -> list[tuple[int, int]]:
    """Find what is painted in a colour: the signs of the logo, each from its q to its Q."""
    found, start, coloured = [], 0, False
    for index, (_, operator) in enumerate(instructions):
        if str(operator) == "q":
            start, coloured = index, False
        elif str(operator) == "rg":
            coloured = True
        elif str(operator) == "Q" and coloured:
            found.append((start, index + 1))
            coloured = False
    return found


def test_a_logo_stands_above_the_title_where_the_piece_is_beside_the_instructions() -> None:
    """This test ensures that it stays off the frame of a page that is all there is."""
    document = with_logo(MARK.encode(), "a4", text=CUFF)
    assert [page.kind for page in document.declaration.pages] == [PageKind.TILE]
    assert prove(document.data).verdict is Verdict.TRUE


@pytest.mark.parametrize("paper", ["letter", "a4", "one-sheet"])
@pytest.mark.parametrize("data", [MARK.encode(), png(300, 100)], ids=["svg", "png"])
def test_a_logo_is_printed_and_proved(data: bytes, paper: str) -> None:
    document = with_logo(data, paper)
    signs = [mark for marks in document.declaration.printed for mark in marks if isinstance(mark, Shape | Picture)]
    assert len(signs) == (3 if data.startswith(b"<") else 1)
    assert prove(document.data).verdict is Verdict.TRUE


def left_out(pdf: Pdf) -> None:
    alter(strokes, 1, 0, lambda _: [])(pdf)


def moved(pdf: Pdf) -> None:
    alter(strokes, 1, 0, lambda one: wrapped(one, (1, 0, 0, 1, 1.5, 0)))(pdf)


def larger(pdf: Pdf) -> None:
    alter(strokes, 1, 2, lambda one: wrapped(one, scaled(1.01)))(pdf)


def paler(pdf: Pdf) -> None:
    def change(one: Instructions) -> Instructions:
        return [([0.6, 0.6, 0.6], operator) if str(operator) == "rg" else (given, operator) for given, operator in one]

    alter(strokes, 1, 0, change)(pdf)


def thinner(pdf: Pdf) -> None:
    def change(one: Instructions) -> Instructions:
        return [([0.5], operator) if str(operator) == "w" else (given, operator) for given, operator in one]

    alter(strokes, 1, 1, change)(pdf)


@pytest.mark.parametrize("fault", [left_out, moved, larger, paler, thinner])
def test_a_logo_that_is_not_as_declared_is_found(drawn: Document, fault: Callable[[Pdf], None]) -> None:
    assert proved(drawn, fault).verdict in (Verdict.OFF, Verdict.INCOMPLETE)


def test_samples_that_are_not_as_declared_are_found(pictured: Document) -> None:
    def change(pdf: Pdf) -> None:
        image = next(one for one in pdf.pages[0].Resources.XObject.values() if one.Subtype == Name.Image)
        samples = bytearray(image.read_bytes())
        third = len(samples) // 3
        samples[third : 2 * third] = bytes([230]) * third
        image.write(zlib.compress(bytes(samples)), filter=Name.FlateDecode)

    assert proved(pictured, change).verdict in (Verdict.OFF, Verdict.INCOMPLETE)


@pytest.mark.parametrize("over", ["a test square", "words"])
def test_a_logo_over_a_square_or_words_is_no_file_of_ours(drawn: Document, over: str) -> None:
    declaration = drawn.declaration
    assert [check.says.name for check in compare_itself(declaration)] == ["ITSELF_KEPT"]
    square = declaration.squares[0].box.middle
    word = next(mark.at for mark in declaration.printed[0] if getattr(mark, "text", "") == "Heron edges")

    def there(mark: Any) -> Any:
        if not isinstance(mark, Shape):
            return mark
        (x0, y0), (x, y) = mark.outlines[0][0], square if over == "a test square" else word
        return replace(mark, outlines=tuple(tuple((u - x0 + x, v - y0 + y) for u, v in one) for one in mark.outlines))

    first, *others = declaration.printed
    covered = replace(declaration, printed=(tuple(map(there, first)), *others))
    assert [check.says.name for check in compare_itself(covered)].count("ITSELF_COVERED")


def test_a_picture_of_more_samples_than_a_logo_has_is_not_rendered(pictured: Document) -> None:
    def swollen(mark: Any) -> Any:
        return replace(mark, columns=60_000, rows=60_000) if isinstance(mark, Picture) else mark

    first, *others = pictured.declaration.printed
    other = replace(pictured.declaration, printed=(tuple(map(swollen, first)), *others))
    with pytest.raises(DeclarationError, match="no samples, or too many"):
        Declaration.from_bytes(other.to_bytes())
