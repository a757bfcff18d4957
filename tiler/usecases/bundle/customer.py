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
PROJECTOR = noted(
    "For a projector: all pieces on one sheet in heavy lines. Set the projector until both squares measure right on "
    "the table."
)
READ = {
    "-projector.pdf": PROJECTOR,
    ".svg": noted("For vector editors and cutting plotters: all pieces at true size, one unit is 1 mm."),
    "-chart.pdf": noted("What to cut, in every size, as a list to print. Nothing in it is to scale."),
    "-chart.csv": noted("The same list for a spreadsheet."),
    "-instructions.pdf": noted("How the bands and bindings are sewn, with drawings. Nothing in it is to scale."),
}


def uses(records: Sequence[FileRecord], papers: dict[str, str], firsts: dict[str, int]) -> Iterator[FileUse]:
    """Yield every file, those of single sizes on one paper together.

    ``papers`` are the words for the papers, ``firsts`` the page of each file that is printed first.
    """
    sizes = max((len(one.sizes) for one in records), default=0)
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
            yield FileUse((one.name,), Words(template, paper=words, pages=pages, first=firsts[one.name]))
        if alone:
            ends = (alone[0].name, Words("to {last}", last=alone[-1].name)) if len(alone) > 1 else (alone[0].name,)
            first = firsts[alone[0].name]
            each = SHOP_EACH if shop else EACH_JOINED if first > 1 else EACH
            yield FileUse(ends, Words(each, paper=words, first=first))
    for one in records:
        for ending, what in READ.items():
            if one.name.endswith(ending):
                yield FileUse((one.name,), Words(what))
