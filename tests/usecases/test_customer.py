"""What customers are told of the files of a release."""

from __future__ import annotations

from tiler.usecases.bundle.archive import FileRecord
from tiler.usecases.bundle.customer import uses

PAPERS = {"letter": "Letter", "a4": "A4", "one-sheet": "A0"}
ALONE = " It holds the bands and bindings alone."


def told(base: str | None, shop: str | None = None) -> dict[str, str]:
    """Return what is said of each file of a release of two sizes, of which letter and the one sheet may join a base."""
    bases = {"letter": base, "one-sheet": shop}
    records = [
        FileRecord(f"{name}{paper}.pdf", "", 0, paper=paper, sizes=sizes, pages=7, base=bases.get(paper))
        for paper in PAPERS
        for name, sizes in (("", ("S", "M")), ("size-S-", ("S",)), ("size-M-", ("M",)))
    ]
    records += [FileRecord("x-projector.pdf", "", 0, paper="one-sheet", sizes=("S", "M"), pages=1)]
    records += [FileRecord("x-chart.pdf", "", 0), FileRecord("x.svg", "", 0)]
    firsts = {one.name: 5 if one.base else 1 for one in records}
    return {str(one.names[0]): str(one.use) for one in uses(records, PAPERS, firsts)}


def test_where_a_paper_joins_the_pattern_files_of_another_say_that_they_hold_the_strips_alone() -> None:
    said = told("top.pdf")
    with_rest = {name for name, words in said.items() if not words.endswith(ALONE)}
    assert with_rest == {"letter.pdf", "size-S-letter.pdf", "x-chart.pdf"}
    assert not any(words.endswith(ALONE) for words in told(None).values())


def test_one_size_on_a_sheet_of_the_pattern_names_the_page_to_print_first() -> None:
    assert told(None, "top.pdf")["size-S-one-sheet.pdf"] == (
        "For a copy shop, on A0, one size alone, which the name of the file tells. Print page 5 first."
    )
    assert told(None)["size-S-one-sheet.pdf"] == "For a copy shop, one size alone on one sheet."
