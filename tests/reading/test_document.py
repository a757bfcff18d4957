"""Opening PDFs: what is read, and the one error for every way in which a file can be unreadable."""

from __future__ import annotations

import zlib
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Name, Pdf
from reportlab.pdfgen.canvas import Canvas

from tests.chosen import long
from tiler.errors import EncryptedError, ExitCode, UnreadableError
from tiler.reading.limits import TooManyObjectsError
from tiler.reading.pdf import document as reading
from tiler.reading.pdf.document import Document, PageRead


def drawn(pages: int = 1) -> bytes:
    out = BytesIO()
    canvas = Canvas(out, pagesize=(612, 792))
    for number in range(pages):
        canvas.drawString(72, 700, f"page {number + 1}")
        canvas.rect(72, 72, 144, 144)
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def saved(pdf: Pdf, **options: object) -> bytes:
    out = BytesIO()
    pdf.save(out, **options)
    return out.getvalue()


def altered(key: str, value: object) -> bytes:
    with pikepdf.open(BytesIO(drawn())) as pdf:
        pdf.pages[0].obj[key] = value
        return saved(pdf)


def pages_of(source: str | Path | bytes) -> list[PageRead]:
    with Document(source) as document:
        return list(document.pages())


def test_pages_are_read_one_after_the_other() -> None:
    pages = pages_of(drawn(3))
    assert [page.number for page in pages] == [1, 2, 3]
    assert [page.texts[0].text for page in pages] == ["page 1", "page 2", "page 3"]


def test_a_path_and_its_bytes_read_the_same(tmp_path: Path) -> None:
    path = tmp_path / "a.pdf"
    path.write_bytes(drawn())
    assert pages_of(path) == pages_of(str(path)) == pages_of(drawn())


@pytest.mark.parametrize(
    "data",
    [b"", b"hello", b"%PDF-1.7\n", drawn()[:400], drawn()[:-300], b"\x00" * 2000],
    ids=["empty", "no PDF", "header only", "cut early", "cut late", "zeros"],
)
def test_damage_is_one_kind_of_error(data: bytes) -> None:
    with pytest.raises(UnreadableError) as caught:
        pages_of(data)
    assert caught.value.code is ExitCode.UNREADABLE
    assert str(caught.value).count("\n") == 0


@pytest.mark.parametrize("revision", [2, 3, 4, 6])
def test_a_password_is_asked_for(revision: int) -> None:
    options = {"aes": False, "metadata": False} if revision < 4 else {}
    with pikepdf.open(BytesIO(drawn())) as pdf:
        data = saved(pdf, encryption=pikepdf.Encryption(owner="o", user="u", R=revision, **options))
    with pytest.raises(EncryptedError) as caught:
        pages_of(data)
    assert caught.value.code is ExitCode.ENCRYPTED


@pytest.mark.parametrize("revision", [4, 6])
def test_an_empty_password_needs_none(revision: int) -> None:
    with pikepdf.open(BytesIO(drawn())) as pdf:
        data = saved(pdf, encryption=pikepdf.Encryption(owner="o", user="", R=revision))
    with Document(data) as document:
        assert pikepdf.open(BytesIO(data)).is_encrypted
        assert [page.texts[0].text for page in document.pages()] == ["page 1"]


def test_a_missing_file_is_named(tmp_path: Path) -> None:
    with pytest.raises(UnreadableError, match=r"none\.pdf: there is no such file"):
        Document(tmp_path / "none.pdf")


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("/MediaBox", Array([0, 0, 0, 100])),
        ("/MediaBox", Array([0, 0, 100])),
        ("/MediaBox", Name.Nothing),
        ("/UserUnit", 0),
        ("/UserUnit", -2),
    ],
)
def test_a_page_without_a_size_is_refused(key: str, value: object) -> None:
    with pytest.raises(UnreadableError):
        pages_of(altered(key, value))


@long
def test_a_page_that_unfolds_into_too_much_is_refused() -> None:
    """This test ensures that a stream which inflates beyond the limit is not interpreted."""
    with pikepdf.open(BytesIO(drawn())) as pdf:
        pdf.pages[0].Contents = pdf.make_stream(b"0 0 m 9 9 l S\n" * (reading.MOST_CONTENT // 14 + 1))
        data = saved(pdf)
    assert len(data) < 200_000
    with pytest.raises(UnreadableError, match="too much"):
        pages_of(data)


def test_a_page_that_paints_too_much_is_refused() -> None:
    with Document(drawn(), most_objects=3) as document, pytest.raises(TooManyObjectsError, match="more than 3 objects"):
        list(document.pages())


def test_more_pages_than_are_read_are_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(reading, "MOST_PAGES_READ", 2)
    with pytest.raises(UnreadableError, match="3 pages"):
        Document(drawn(3))


def test_facts_are_those_of_the_catalog() -> None:
    """This test ensures that preferences, labels, language and version are read (ISO 32000-1, 12.2, 12.4.2, 14.9.2)."""
    with pikepdf.open(BytesIO(drawn(2))) as pdf:
        pdf.Root.ViewerPreferences = pikepdf.Dictionary(PrintScaling=Name("/None"), Enforce=[Name.PrintScaling])
        pdf.Root.PageLabels = pikepdf.Dictionary(Nums=[0, pikepdf.Dictionary(P="cover"), 1, pikepdf.Dictionary(P="A1")])
        pdf.Root.Lang = "en"
        pdf.docinfo["/Title"] = "Größe"
        facts = Document(saved(pdf, min_version="1.7")).facts
    assert facts.preferences == {"PrintScaling": "None", "Enforce": ["PrintScaling"]}
    assert facts.page_labels == ("cover", "A1")
    assert facts.version == (1, 7)
    assert (facts.language, facts.title) == ("en", "Größe")
    assert (facts.has_outline, facts.extension_level) == (False, 0)


def test_an_attachment_is_found_by_name_and_bounded(monkeypatch: pytest.MonkeyPatch) -> None:
    with pikepdf.open(BytesIO(drawn())) as pdf:
        pdf.attachments["other.txt"] = b"no"
        pdf.attachments["tiler.json"] = b"{}"
        data = saved(pdf)
    assert Document(data).declaration() == b"{}"
    assert Document(drawn()).declaration() is None
    with pikepdf.open(BytesIO(drawn())) as pdf:
        pdf.attachments["tiler.json"] = bytes(4000)
        data = saved(pdf)
    monkeypatch.setattr("tiler.reading.pdf.facts.MOST_ATTACHED", 1000)
    assert Document(data).declaration() is None
    assert len(zlib.compress(bytes(4000))) < 1000


def test_fonts_that_are_not_carried_along_are_named() -> None:
    """This test ensures that a standard font without a font program counts as not embedded (ISO 32000-1, 9.9)."""
    page = pages_of(drawn())[0]
    assert page.unembedded == ("Helvetica",)
