"""What each file of a release is for, as its customers are told."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from tiler.languages.catalogue import noted
from tiler.languages.words import Words
from tiler.paper import ONE_SHEET
from tiler.sheets.reports.customer import FileUse
from tiler.usecases.bundle.archive import FileRecord

ALL_SIZES = noted("{paper}, all sizes within each other: {pages}. Print page {first} first.")
ONE = noted("{paper}: {pages}. Print page {first} first.")
EACH = noted("{paper}, one size alone, which the name of the file tells. Print page {first} first.")
JOINED = noted(
    "{paper}, all sizes within each other: {pages}. Its bands and bindings begin on page {first}: print that page "
    "first."
)
ONE_JOINED = noted("{paper}: {pages}. Its bands and bindings begin on page {first}: print that page first.")
EACH_JOINED = noted(
    "{paper}, one size alone, which the name of the file tells. Its bands and bindings begin on page {first}: print "
    "that page first."
)
SHOP = noted("For a copy shop: all pieces on one sheet.")
SHOP_PAPER = noted("For a copy shop, on {paper}: {pages}. Print page {first} first.")
SHOP_EACH = noted("For a copy shop, one size alone on one sheet.")
SHOP_EACH_PAPER = noted(
    "For a copy shop, on {paper}, one size alone, which the name of the file tells. Print page {first} first."
)
PROJECTOR = noted(
    "For a projector: all pieces on one sheet in heavy lines. Set the projector until both squares measure right on "
    "the table."
)
WITHOUT_REST = noted("{use} It holds the bands and bindings alone.")
"""Said where other files hold the rest of the pattern as well."""

DRAWING = noted("For vector editors and cutting plotters: all pieces at true size, one unit is 1 mm.")
SHOWN = (PROJECTOR, DRAWING)
READ = {
    "-projector.pdf": PROJECTOR,
    ".svg": DRAWING,
    "-chart.pdf": noted("What to cut, in every size, as a list to print. Nothing in it is to scale."),
    "-chart.csv": noted("The same list for a spreadsheet."),
    "-instructions.pdf": noted("How the bands and bindings are sewn, with drawings. Nothing in it is to scale."),
}


def uses(records: Sequence[FileRecord], papers: dict[str, str], firsts: dict[str, int]) -> Iterator[FileUse]:
    """Yield every file, those of single sizes on one paper together.

    ``papers`` are the words for the papers, ``firsts`` the page of each file that is printed first.
    """
    sizes = max((len(one.sizes) for one in records), default=0)
    parted = any(one.base for one in records)
    for paper, words in papers.items():
        of_paper = [one for one in records if one.paper == paper and not one.name.endswith("-projector.pdf")]
        whole = [one for one in of_paper if len(one.sizes) == sizes]
        alone = [one for one in of_paper if len(one.sizes) < sizes]
        shop = paper == ONE_SHEET
        for one in whole:
            of_shop = SHOP_PAPER if one.base else SHOP
            several, single = (JOINED, ONE_JOINED) if firsts[one.name] > 1 else (ALL_SIZES, ONE)
            template = of_shop if shop else several if sizes > 1 else single
            pages = Words("{count} page", "{count} pages", count=one.pages)
            use = Words(template, paper=words, pages=pages, first=firsts[one.name])
            yield FileUse((one.name,), _use(use, one, parted))
        if alone:
            ends = (alone[0].name, Words("to {last}", last=alone[-1].name)) if len(alone) > 1 else (alone[0].name,)
            first = firsts[alone[0].name]
            of_shop = SHOP_EACH_PAPER if alone[0].base else SHOP_EACH
            each = of_shop if shop else EACH_JOINED if first > 1 else EACH
            yield FileUse(ends, _use(Words(each, paper=words, first=first), alone[0], parted))
    for one in records:
        for ending, what in READ.items():
            if one.name.endswith(ending):
                use = Words(what)
                yield FileUse((one.name,), _use(use, one, parted) if what in SHOWN else use)


def _use(use: Words, one: FileRecord, parted: bool) -> Words:
    """Say of a file of pieces whether it is without the rest of a pattern that other files hold."""
    return Words(WITHOUT_REST, use=use) if parted and not one.base else use
