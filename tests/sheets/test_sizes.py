"""This checks that every size lies on pages of its own, and that the first page and the outline name them."""

from io import BytesIO
from itertools import pairwise
from pathlib import Path

import pypdfium2
import pytest
from pypdf import PdfReader

from tests.chosen import long
from tests.sheets.jobs import EXAMPLES, drawn_once
from tiler.declaration import Declaration
from tiler.paper import PaperChoice, page_size
from tiler.sheets.cover.sizes import ROW, SizePages, height_of_sizes
from tiler.sheets.document import Document
from tiler.sheets.layout.grid import arrange
from tiler.sheets.layout.item import Item
from tiler.usecases.draft import Wishes, draft_file

SIZES = ("XXS", "XS", "S", "M", "L", "XL", "2XL", "3XL")


@pytest.fixture(scope="module")
def document() -> Document:
    return drawn_once((EXAMPLES / "saltmarsh-sizes.toml").read_text("utf-8"), Wishes(nest=False))


def pages_of(declaration: Declaration) -> dict[str | None, list[int]]:
    """Give the numbers of the pages on which each size is seen."""
    found: dict[str | None, list[int]] = {}
    for page in declaration.pages:
        for piece in declaration.pieces:
            if page.window and page.window.overlaps(piece.sheet_bounds()):
                numbers = found.setdefault(piece.size, [])
                numbers += [page.number] if page.number not in numbers else []
    return found


def words(data: bytes, page: int) -> str:
    """Give the text of a page as an engine reads it that had no part in the writing."""
    with pypdfium2.PdfDocument(data) as pdf:
        return " ".join(pdf[page].get_textpage().get_text_range().split())


@long
def test_no_page_is_printed_for_two_sizes(document: Document) -> None:
    pages = pages_of(document.declaration)
    assert tuple(pages) == SIZES
    numbers = [number for own in pages.values() for number in own]
    assert sorted(numbers) == sorted({page.number for page in document.declaration.pages if page.window})
    assert len(numbers) == len(set(numbers))


def test_no_tile_is_taped_to_one_of_another_size(document: Document) -> None:
    size_of = {number: size for size, own in pages_of(document.declaration).items() for number in own}
    number_of = {page.code: page.number for page in document.declaration.pages}
    assert document.declaration.marks
    assert all(
        size_of[number_of[mark.tiles[0]]] == size_of[number_of[mark.tiles[1]]] for mark in document.declaration.marks
    )


def test_the_first_page_says_what_to_print_for_each_size(document: Document) -> None:
    first = words(document.data, 0)
    for size, numbers in pages_of(document.declaration).items():
        assert numbers == list(range(numbers[0], numbers[-1] + 1))
        assert f"{size} pages {numbers[0]}–{numbers[-1]} (" in first


def test_pieces_labels_and_outline_name_the_size(document: Document) -> None:
    reader = PdfReader(BytesIO(document.data))
    titles = [str(item.title) for item in reader.outline if not isinstance(item, list)]
    for size in SIZES:
        for name in ("Neckband", "Armhole binding", "Cuff"):
            assert any(title.startswith(f"{name}, size {size} (") for title in titles)
    for size, numbers in pages_of(document.declaration).items():
        assert f"Cuff size {size} · CUT" in " ".join(words(document.data, number - 1) for number in numbers)


@long
def test_the_picked_sizes_alone_are_drafted_and_proved(tmp_path: Path) -> None:
    made = draft_file(
        EXAMPLES / "saltmarsh-sizes.toml", tmp_path / "a.pdf", Wishes(paper="a4", sizes="M,S", nest=False)
    )
    assert made.report.verdict == "true-to-scale"
    assert [(piece.name, piece.size) for piece in made.declaration.pieces] == [
        (name, size) for name in ("Neckband", "Armhole binding", "Cuff") for size in ("S", "M")
    ]


@long
def test_one_sheet_lists_the_pieces_of_all_sizes() -> None:
    made = drawn_once(
        (EXAMPLES / "saltmarsh-sizes.toml").read_text("utf-8"), Wishes(paper="one-sheet", nest=False, sizes="XXS,3XL")
    )
    assert len(made.declaration.pages) == 1
    for size in ("XXS", "3XL"):
        assert f"Neckband size {size} · CUT 1 ON FOLD" in words(made.data, 0)


def test_sizes_lie_on_rows_of_their_own_with_one_left_empty() -> None:
    items = [Item(f"p{index}", 300.0, 60.0, size) for index, size in enumerate(["S", "M", "S", "M", "L"])]
    layout = arrange(items, page_size(PaperChoice()))
    rows: dict[str | None, set[int]] = {}
    for item, box in zip(items, layout.boxes, strict=True):
        rows.setdefault(item.size, set()).update(tile.row for tile in layout.tiles if tile.window.overlaps(box))
    for before, after in pairwise(rows.values()):
        assert min(after) == max(before) + 2


def test_thirty_sizes_have_room_on_the_first_page() -> None:
    sizes = [SizePages(f"{size}", f"pages {size}–{size + 1} (AA{size}–AB{size})") for size in range(30, 60)]
    assert height_of_sizes(sizes, 167.0) < 12 * ROW
    assert height_of_sizes(sizes, 45.0) > 30 * ROW
