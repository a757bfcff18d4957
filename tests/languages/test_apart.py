"""Pages to read in two languages: all in the leading one, then all again in the other, as if each stood alone."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import cache
from io import BytesIO
from pathlib import Path

import pikepdf
import pymupdf
import pytest

from tests.chosen import long
from tests.commands.test_chart import FRONTS, many_sizes
from tests.languages.test_nothing_english import job_of
from tests.look.test_leaflets import faults
from tests.sheets.jobs import EXAMPLES
from tests.specs import written
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import Job
from tiler.languages.words import speaking
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.reports.customer import FileUse, customer_pdf
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.usecases.chart import write_chart
from tiler.usecases.instructions import write_instructions

CREW, VEE = (EXAMPLES / f"saltmarsh-{name}.toml" for name in ("crew", "vee"))
BOTH = ("de", "fr")


def charted(job: Job) -> bytes:
    return chart_pdf(figure_job(job), job.edition, "a4")


def instructed(job: Job) -> bytes:
    return instruction_pdf(finishes_of(figure_job(job), job.edition), "a4").data


def told_customers(job: Job) -> bytes:
    """Draw the page for a release of more files than two languages have room for."""
    changed = replace(job.edition, version="2", changes=("The cuff is wider.",))
    return customer_pdf(changed, [FileUse((f"file-{n}.pdf",), f"for {n}") for n in range(20)], for_child=True)


Made = Callable[[Job], bytes]
MADE: Sequence[tuple[Made, Path]] = ((charted, CREW), (instructed, VEE), (told_customers, CREW))


@cache
def drawn(made: Made, file: Path, *languages: str) -> bytes:
    with speaking(*languages):
        return made(job_of(file))


def pages(data: bytes, first: int, count: int) -> Iterator[tuple[str, int]]:
    """Yield the words and the number of strokes of each page; as MuPDF reads them, which the project does not use.

    The numbers of the pages, ``first`` of ``count`` and so on, are taken out, which must be there.
    """
    with pymupdf.open(stream=data, filetype="pdf") as pdf:
        for number, page in enumerate(pdf, first):
            said = " ".join(page.get_text().split())
            (end,) = {end for end in (f"Seite {number} von {count}", f"page {number} sur {count}") if end in said}
            yield said.replace(end, ""), len(page.get_drawings())


def page_count(data: bytes) -> int:
    with pymupdf.open(stream=data, filetype="pdf") as pdf:
        return int(pdf.page_count)


@long
@pytest.mark.parametrize(("made", "file"), MADE)
def test_each_language_has_the_pages_that_it_has_alone(made: Made, file: Path) -> None:
    alone = [list(pages(data, 1, page_count(data))) for data in (drawn(made, file, one) for one in BOTH)]
    data = drawn(made, file, *BOTH)
    assert list(pages(data, 1, page_count(data))) == [*alone[0], *alone[1]]


@pytest.mark.parametrize(
    ("made", "file", "names"),
    [
        (charted, CREW, ["Saltmarsh crew top: Zuschnitttabelle", "Saltmarsh crew top\xa0: tableau de coupe"]),
        (
            instructed,
            VEE,
            [
                "Doppelt gelegtes Bündchen, Enden auf Gehrung",
                "Doppelt gelegtes Bündchen, Enden überlappt",
                "Bande pliée, bouts en onglet",
                "Bande pliée, bouts superposés",
            ],
        ),
        (told_customers, CREW, ["Saltmarsh crew top: zuerst lesen", "Saltmarsh crew top : à lire d'abord"]),
    ],
)
def test_the_outline_leads_to_both_in_their_own_words(made: Made, file: Path, names: list[str]) -> None:
    with pymupdf.open(stream=drawn(made, file, *BOTH), filetype="pdf") as pdf:
        each = pdf.page_count // len(names)
        assert pdf.get_toc() == [[1, name, 1 + each * index] for index, name in enumerate(names)]


@pytest.mark.parametrize(("made", "file"), MADE)
def test_pages_in_the_second_language_say_so(made: Made, file: Path) -> None:
    """This test ensures that a reader of screens speaks each page in its language (ISO 32000-1, 14.9.2)."""
    with pikepdf.open(BytesIO(drawn(made, file, *BOTH))) as pdf:
        assert str(pdf.Root.Lang) == "de"
        marked = [list(pikepdf.parse_content_stream(page)) for page in pdf.pages]
    for number, page in enumerate(marked):
        tags = [str(one.operands[1].Lang) for one in page if str(one.operator) == "BDC"]
        assert tags == ["fr"] * (number >= len(marked) // 2)
        depth = 0
        for one in page:
            depth += {"BMC": 1, "BDC": 1, "EMC": -1}.get(str(one.operator), 0)
            # nothing is said outside of it
            assert depth >= 0
            assert depth or not tags or str(one.operator) not in ("Tj", "TJ")
        assert depth == 0


@pytest.mark.parametrize(("made", "file"), MADE)
def test_words_stand_clear_of_each_other(made: Made, file: Path) -> None:
    assert faults(drawn(made, file, *BOTH)) == []


@long
def test_a_chart_of_many_pages_has_them_in_both(tmp_path: Path) -> None:
    many = written(many_sizes(FRONTS), tmp_path, "many.toml")
    german, french, both = (drawn(charted, many, *languages) for languages in (("de",), ("fr",), BOTH))
    each = page_count(german)
    assert each > 1
    assert list(pages(both, 1, 2 * each)) == [*pages(german, 1, each), *pages(french, 1, each)]


def test_customers_have_one_page_where_both_languages_have_room() -> None:
    with speaking(*BOTH):
        data = customer_pdf(job_of(CREW).edition, [FileUse(("file.pdf",), "for all")], for_child=False)
    with pymupdf.open(stream=data, filetype="pdf") as pdf:
        (page,) = (page.get_text() for page in pdf)
        assert pdf.get_toc() == []
    for words in ("So wird gedruckt", "Comment imprimer"):
        assert words in page


@long
def test_both_commands_write_two_languages(tmp_path: Path) -> None:
    chart, steps, table = (tmp_path / name for name in ("chart.pdf", "steps.pdf", "chart.csv"))
    write_chart(CREW, chart, None, None, False, BOTH)
    assert page_count(chart.read_bytes()) == 2
    assert write_instructions(CREW, steps, None, False, BOTH).pages == page_count(steps.read_bytes()) == 4
    write_chart(CREW, table, None, None, False, BOTH)
    assert table.read_text("utf-8").startswith("piece,")
