"""What is said of a base before anything is written: what it holds, what is lost, and which one is refused."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pytest
from pikepdf import Dictionary, Name, Pdf

from tests.catalog import bases
from tiler.catalog.base.forecast import foresee
from tiler.catalog.base.join import joinable
from tiler.catalog.base.survey import survey
from tiler.errors import EncryptedError, SpecError, UnreadableError
from tiler.sheets.document import Document


@pytest.fixture(scope="module")
def ours(one_band: Document) -> Document:
    return one_band


def collect(pdf: Pdf) -> None:
    pdf.Root.Collection = Dictionary(Type=Name.Collection)


def second_form(pdf: Pdf) -> None:
    pdf.Root.AcroForm.XFA = pdf.make_stream(b"<xdp/>")


def incremental(data: bytes) -> bytes:
    """Append an update that says nothing new."""
    start = int(data.rsplit(b"startxref", 1)[1].split()[0])
    trailer = data.rsplit(b"trailer", 1)[1].split(b"startxref")[0].strip()
    entries = trailer.rstrip(b"> \n") + f" /Prev {start} >>".encode()
    place = len(data)
    return data + b"xref\n0 0\ntrailer\n" + entries + f"\nstartxref\n{place}\n%%EOF\n".encode()


LOSSES = {
    "tagged": (lambda: bases.edited(bases.plain(), bases.tagged), "tagged structure"),
    "a standard": (lambda: bases.edited(bases.plain(), bases.claims_a_standard), "PDF/A"),
    "linearised": (lambda: bases.edited(bases.plain(), linearize=True), "linearised"),
    "scripts": (lambda: bases.edited(bases.plain(), bases.scripted), "scripts"),
    "portfolio": (lambda: bases.edited(bases.plain(), collect), "portfolio"),
    "second form": (lambda: bases.edited(bases.plain(), second_form), "XFA"),
    "earlier states": (lambda: incremental(bases.plain()), "2 states"),
}


@pytest.mark.parametrize(("make", "words"), LOSSES.values(), ids=LOSSES.keys())
def test_each_loss_is_named_before_anything_is_written(make: Callable[[], bytes], words: str, ours: Document) -> None:
    base = make()
    assert [words in loss for loss in foresee(survey(base), 2).losses] == [True]
    assert bases.joined(base, ours, 2)


def test_scripts_that_count_pages_lose_nothing_at_the_end(ours: Document) -> None:
    assert foresee(survey(bases.edited(bases.plain(), bases.scripted))).losses == ()


def test_a_base_that_cannot_be_joined_is_refused(ours: Document) -> None:
    base = bases.plain()
    encrypted = bases.edited(base, deterministic_id=False, encryption=pikepdf.Encryption(owner="x", user=""))
    locked = bases.edited(base, deterministic_id=False, encryption=pikepdf.Encryption(owner="x", user="y"))
    for data in (encrypted, locked):
        with pytest.raises(EncryptedError, match="encrypted"):
            bases.joined(data, ours)
    for data in (b"", b"no PDF at all", base[:300]):
        with pytest.raises(UnreadableError, match="damaged or not a PDF"):
            bases.joined(data, ours)
    with pytest.raises(SpecError, match="pages of tiler already"):
        bases.joined(bases.joined(base, ours), ours)
    with pytest.raises(SpecError, match="page 7 in the base, which has 6"):
        bases.joined(base, ours, 7)
    with pytest.raises(SpecError, match="viewer draws the pages itself"):
        bases.joined(bases.edited(base, lambda pdf: pdf.Root.__setitem__("/NeedsRendering", True)), ours)


def test_a_compensated_base_is_refused(ours: Document) -> None:
    compensated = ours.declaration.to_bytes().replace(b'"printer": null', b'"printer": "study"')

    def change(pdf: Pdf) -> None:
        pdf.attachments["tiler.json"] = compensated

    with pytest.raises(SpecError, match="compensated for the printer 'study'"):
        bases.joined(bases.edited(bases.plain(), change), ours)


def test_a_signed_base_is_refused_or_loses_its_signature(ours: Document) -> None:
    base = bases.edited(bases.plain(), bases.signed)
    with pytest.raises(SpecError, match=r"signed \(Release, DocMDP of the whole file\)"):
        bases.joined(base, ours)
    losses = joinable(base, accept=("signed",)).forecast.losses
    assert len(losses) == 2
    assert "'Release'" in losses[0]
    pdf = pikepdf.open(BytesIO(bases.joined(base, ours, accept=("signed",))))
    field = next(one for one in pdf.Root.AcroForm.Fields if str(one.T) == "Release")
    assert "/V" not in field
    assert "/Perms" not in pdf.Root
    assert "/SigFlags" not in pdf.Root.AcroForm


def test_a_survey_says_what_pages_are_like() -> None:
    pages = survey(bases.edited(bases.plain(), bases.in_many_shapes)).pages
    # points × 25.4/72; a quarter turn swaps the sides, the unit multiplies them
    sizes = [(round(page.width, 2), round(page.height, 2)) for page in pages]
    assert sizes == [(215.9, 279.4), (279.4, 215.9), (165.81, 197.56), (431.8, 558.8), (215.9, 279.4), (215.9, 279.4)]


def test_a_survey_says_which_size_most_pages_have() -> None:
    # letter is 215.9 by 279.4 mm, A4 210 by 297 mm
    assert survey(bases.edited(bases.plain(), bases.in_many_shapes)).usual_size == (216, 279)
    assert survey(bases.from_mupdf()).usual_size == (210, 297)
