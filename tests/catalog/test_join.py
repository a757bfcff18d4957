"""Our pages in a pattern PDF: what was there is there, as other libraries than the writer's find it.

Read back with pikepdf, PyMuPDF and PDFium; pypdf, which writes, plays no part.
"""

from __future__ import annotations

import inspect
import json
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from io import BytesIO

import pikepdf
import pymupdf
import pypdfium2 as pdfium
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, String

from tests.catalog import bases
from tests.chosen import each, long
from tests.sheets.jobs import drawn_in
from tiler.catalog.base.join import joinable
from tiler.catalog.base.survey import survey
from tiler.declaration import Host
from tiler.sheets.document import Document

BASES: dict[str, Callable[[], bytes]] = {
    "plain": bases.plain,
    "full": bases.full,
    "layers off": lambda: bases.edited(bases.plain(), bases.all_layers_off),
    "inherited": lambda: bases.edited(bases.plain(), bases.inherited),
    "many shapes": lambda: bases.edited(bases.full(), bases.in_many_shapes),
    "object streams": lambda: bases.edited(bases.full(), object_stream_mode=pikepdf.ObjectStreamMode.generate),
    "MuPDF": bases.from_mupdf,
    "by hand": bases.by_hand,
}
PLACES = (0, 1, None)


@pytest.fixture(scope="module")
def ours(one_band: Document) -> Document:
    return one_band


@pytest.fixture(params=each(BASES, PLACES), ids=str)
def join_of(request: pytest.FixtureRequest) -> tuple[str, int | None]:
    name, place = request.param
    return name, place


@pytest.fixture
def base(join_of: tuple[str, int | None]) -> bytes:
    return base_named(join_of[0])


@cache
def base_named(name: str) -> bytes:
    return BASES[name]()


@cache
def joined_once(base: bytes, ours: Document, after: int | None) -> bytes:
    """Join once for all tests that only look at the file."""
    return bases.joined(base, ours, after)


@pytest.fixture
def after(join_of: tuple[str, int | None]) -> int | None:
    return join_of[1]


def open_both(before: bytes, joined: bytes) -> tuple[Pdf, Pdf]:
    return pikepdf.open(BytesIO(before)), pikepdf.open(BytesIO(joined))


def places(before: bytes, after: int | None, ours: Document) -> list[int]:
    """Give where each page of the base stands in the joined file, counted from 0."""
    with pikepdf.open(BytesIO(before)) as pdf:
        count = len(pdf.pages)
    after = count if after is None else after
    return [number if number < after else number + len(ours.declaration.pages) for number in range(count)]


def raw_contents(page: pikepdf.Page) -> list[bytes]:
    """Give the content streams as they are stored."""
    held = page.Contents
    streams = list(held) if isinstance(held, Array) else [held]
    return [stream.read_raw_bytes() for stream in streams]


def boxes(page: pikepdf.Page) -> tuple[object, ...]:
    """Give what a viewer makes of the page's geometry; pikepdf follows the page tree."""
    unit = page.obj.get("/UserUnit", 1)
    return [float(x) for x in page.mediabox], [float(x) for x in page.cropbox], page.rotation, float(unit)


def test_the_pages_of_the_base_stay_as_they_are(base: bytes, after: int | None, ours: Document) -> None:
    before, joined = open_both(base, joined_once(base, ours, after))
    where = places(base, after, ours)
    assert len(joined.pages) == len(before.pages) + len(ours.declaration.pages)
    for old, new in enumerate(where):
        assert raw_contents(joined.pages[new]) == raw_contents(before.pages[old])
        assert boxes(joined.pages[new]) == boxes(before.pages[old])


def test_the_pages_of_the_base_look_the_same_to_the_pixel(base: bytes, after: int | None, ours: Document) -> None:
    joined = joined_once(base, ours, after)
    with pdfium.PdfDocument(base) as before, pdfium.PdfDocument(joined) as now:
        before.init_forms()
        now.init_forms()
        for old, new in enumerate(places(base, after, ours)):
            assert pixels(before, old) == pixels(now, new)


def pixels(pdf: pdfium.PdfDocument, number: int) -> tuple[int, int, bytes]:
    bitmap = pdf[number].render(scale=0.7, may_draw_forms=True)
    return bitmap.width, bitmap.height, bytes(bitmap.buffer)


def test_a_changed_pixel_would_be_seen(ours: Document) -> None:
    base = bases.plain()
    other = bases.edited(base, lambda pdf: pdf.pages[0].contents_add(pdf.make_stream(b"9 9 9 9 re f")))
    with pdfium.PdfDocument(base) as before, pdfium.PdfDocument(other) as now:
        assert pixels(before, 0) != pixels(now, 0)


def test_our_pages_stay_as_they_are(base: bytes, after: int | None, ours: Document) -> None:
    """This test ensures that ours stand together in their size, upright, whatever the base's page tree hands down."""
    there = drawn_in(ours, joinable(base, after).host)
    alone, joined = open_both(there.data, joined_once(base, ours, after))
    taken = set(places(base, after, ours))
    added = [number for number in range(len(joined.pages)) if number not in taken]
    assert added == list(range(added[0], added[0] + len(ours.declaration.pages)))
    for old, new in enumerate(added):
        assert raw_contents(joined.pages[new]) == raw_contents(alone.pages[old])
        assert boxes(joined.pages[new]) == boxes(alone.pages[old])
        assert not joined.pages[new].obj.MediaBox.is_indirect


def test_the_outline_goes_on_with_one_entry_of_ours(base: bytes, after: int | None, ours: Document) -> None:
    joined = joined_once(base, ours, after)
    where = places(base, after, ours)
    with pymupdf.open(stream=base) as old, pymupdf.open(stream=joined) as new:
        before, now = old.get_toc(), new.get_toc()
        moved = [[level, title, where[page - 1] + 1] for level, title, page in before]
        assert now[: len(before)] == moved
        first, *below = now[len(before) :]
        start = next(number for number in range(len(new)) if number not in where) + 1
        assert first == [1, "Heron edges: pieces", start]
        assert [level for level, _, _ in below] == [2] * len(below)
        with pymupdf.open(stream=ours.data) as alone:
            assert [[2, title, page + start - 1] for _, title, page in alone.get_toc()] == below


def test_every_page_keeps_its_label_and_ours_have_theirs(base: bytes, after: int | None, ours: Document) -> None:
    joined = joined_once(base, ours, after)
    where = places(base, after, ours)
    with pymupdf.open(stream=base) as old, pymupdf.open(stream=joined) as new:
        # without labels PyMuPDF gives none, where viewers count
        before = [page.get_label() or str(page.number + 1) for page in old]
        now = [page.get_label() for page in new]
    assert [now[number] for number in where] == before
    added = [label for number, label in enumerate(now) if number not in where]
    assert added == [page.code or "print first" for page in ours.declaration.pages]


@pytest.mark.parametrize("after", PLACES)
def test_the_labels_are_read_the_same_by_another_engine(after: int | None, ours: Document) -> None:
    base = bases.full()
    with pdfium.PdfDocument(joined_once(base, ours, after)) as pdf:
        labels = [pdf.get_page_label(number) for number in range(len(pdf))]
    kept = [labels[number] for number in places(base, after, ours)]
    assert kept == ["i", "ii", "P-5", "P-6", "P-7", "P-8"]


def test_links_and_named_destinations_lead_to_the_same_pages(base: bytes, after: int | None, ours: Document) -> None:
    joined = joined_once(base, ours, after)
    where = places(base, after, ours)
    with pymupdf.open(stream=base) as old, pymupdf.open(stream=joined) as new:
        for number, place in enumerate(where):
            before = [(link["kind"], tuple(link["from"]), link.get("uri"), target(link)) for link in links(old, number)]
            now = [(link["kind"], tuple(link["from"]), link.get("uri"), target(link)) for link in links(new, place)]
            shifted = [(*rest, None if page is None else where[page]) for *rest, page in before]
            assert now == shifted
        named = {name: spot["page"] for name, spot in old.resolve_names().items()}
        assert {name: spot["page"] for name, spot in new.resolve_names().items()} == {
            name: where[page] for name, page in named.items()
        }


def links(pdf: pymupdf.Document, number: int) -> list[dict[str, object]]:
    return list(pdf[number].get_links())


def target(link: dict[str, object]) -> int | None:
    page = link.get("page")
    return page if isinstance(page, int) and page >= 0 else None


def test_the_bases_have_what_is_to_be_kept() -> None:
    """This test ensures that the checks of this module look at something."""
    with pymupdf.open(stream=bases.full()) as pdf:
        assert len(pdf.get_toc()) == 6
        assert sum(len(page.get_links()) for page in pdf) == 12
        assert set(pdf.resolve_names()) >= {"fabric", "old"}
        assert len(pdf.get_ocgs()) == 2
    with pymupdf.open(stream=bases.from_mupdf()) as pdf:
        assert (len(pdf.get_toc()), len(pdf.get_ocgs()), pdf.embfile_count()) == (3, 1, 1)


@long
def test_a_destination_that_counts_pages_is_moved_along(ours: Document) -> None:
    base = bases.edited(bases.plain(), bases.numbered)
    for after, page in ((2, 4 + len(ours.declaration.pages)), (5, 4), (None, 4)):
        joined = pikepdf.open(BytesIO(joined_once(base, ours, after)))
        assert joined.pages[0].Annots[-1].Dest[0] == page


@pytest.mark.parametrize("after", PLACES)
def test_form_fields_keep_their_values(after: int | None, ours: Document) -> None:
    for base, number in ((bases.full(), 0), (bases.from_mupdf(), 2)):
        joined = joined_once(base, ours, after)
        with pymupdf.open(stream=base) as old, pymupdf.open(stream=joined) as new:
            before = [(one.field_name, one.field_value, tuple(one.rect)) for one in old[number].widgets()]
            place = places(base, after, ours)[number]
            now = [(one.field_name, one.field_value, tuple(one.rect)) for one in new[place].widgets()]
        assert now == before != []
        filled, kept = open_both(base, joined)
        assert [str(field.T) for field in kept.Root.AcroForm.Fields] == [
            str(field.T) for field in filled.Root.AcroForm.Fields
        ]


@long
def test_layers_stay_on_and_off_and_are_listed(ours: Document) -> None:
    for change in (bases.layered, bases.all_layers_off, bases.without_order):
        base = bases.edited(bases.plain(), change)
        joined = bases.joined(base, with_layers(ours), 2)
        with pymupdf.open(stream=joined) as pdf:
            assert {one["name"] for one in pdf.get_ocgs().values()} == {"size 8", "size 10", "strip S", "strip M"}
            assert listed(pdf) == [
                ("size 8", 0, True),
                ("size 10", 0, False),
                ("Heron edges: pieces", 0, None),
                ("strip S", 1, True),
                ("strip M", 1, False),
            ]


def test_our_layers_come_along_where_the_base_has_none(ours: Document) -> None:
    with pymupdf.open(stream=bases.joined(bases.plain(), with_layers(ours))) as pdf:
        assert listed(pdf) == [("strip S", 0, True), ("strip M", 0, False)]


def listed(pdf: pymupdf.Document) -> list[tuple[str, int, bool | None]]:
    """Give the list of layers that a viewer shows: name, level, on or off; None for a heading."""
    return [
        (one["text"], one["depth"], None if one["type"] == "label" else bool(one["on"]))
        for one in pdf.layer_ui_configs()
    ]


def test_a_layer_of_ours_still_governs_our_pages(ours: Document) -> None:
    """This test ensures that the layers in the catalog are the ones that our pages name."""
    for base in (bases.plain(), bases.full()):
        joined = pikepdf.open(BytesIO(bases.joined(base, with_layers(ours))))
        named = {one.objgen for one in joined.pages[-1].Resources.Properties.values()}
        assert named <= {one.objgen for one in joined.Root.OCProperties.OCGs}
        assert len(named) == 2


def with_layers(ours: Document) -> Document:
    """Put two layers into our file, one of them off; the last page names them."""

    def change(pdf: Pdf) -> None:
        groups = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name))) for name in ("strip S", "strip M")]
        page = pdf.pages[-1]
        resources = Dictionary(dict(page.Resources.items()))
        resources.Properties = Dictionary(S=groups[0], M=groups[1])
        page.Resources = resources
        pdf.Root.OCProperties = Dictionary(
            OCGs=Array(groups), D=Dictionary(Order=Array(groups), OFF=Array([groups[1]]))
        )

    return replace(ours, data=bases.edited(ours.data, change))


@pytest.mark.parametrize("after", PLACES)
def test_catalog_metadata_and_attachments_are_kept(after: int | None, ours: Document) -> None:
    base = bases.full()
    before, joined = open_both(base, joined_once(base, ours, after))
    assert str(joined.Root.Lang) == "de-AT"
    assert joined.Root.PageMode == Name.UseOutlines
    assert joined.Root.Metadata.read_bytes() == before.Root.Metadata.read_bytes()
    assert {key: str(value) for key, value in joined.docinfo.items()} == {
        key: str(value) for key, value in before.docinfo.items()
    }
    assert joined.Root.OpenAction[0].objgen == joined.pages[places(base, after, ours)[3]].obj.objgen
    assert list(joined.attachments) == ["guide.txt", "tiler.json", "zigzag.txt"]
    for name in ("guide.txt", "zigzag.txt"):
        assert joined.attachments[name].get_file().read_bytes() == before.attachments[name].get_file().read_bytes()
    assert joined.trailer.ID[0] == before.trailer.ID[0]
    assert joined.trailer.ID[1] != before.trailer.ID[1]


def test_the_file_of_mupdf_keeps_its_attachment_and_title(ours: Document) -> None:
    joined = pikepdf.open(BytesIO(bases.joined(bases.from_mupdf(), ours)))
    assert joined.attachments["fit.txt"].get_file().read_bytes() == b"try it in scrap cloth"
    assert str(joined.docinfo.Title) == "Plover trousers"


@pytest.mark.parametrize("after", PLACES)
def test_the_declaration_says_where_ours_stand(after: int | None, ours: Document) -> None:
    with pikepdf.open(BytesIO(bases.joined(bases.plain(), ours, after))) as pdf:
        attached = pdf.attachments["tiler.json"].get_file().read_bytes()
    before = 6 if after is None else after
    assert json.loads(attached)["host"] == {"before": before, "after": 6 - before}
    assert attached == drawn_in(ours, Host(before, 6 - before)).declaration.to_bytes()


def test_viewers_are_asked_for_true_size(ours: Document) -> None:
    """This test ensures that Enforce comes with PDF 2.0 or the extension that it belongs to (ISO 32000-2, Table 147)."""
    joined = pikepdf.open(BytesIO(bases.joined(bases.full(), ours)))
    asked = joined.Root.ViewerPreferences
    assert (asked.PrintScaling, asked.Duplex, asked.PickTrayByPDFSize) == (Name("/None"), Name.Simplex, True)
    assert list(asked.Enforce) == [Name.PrintScaling]
    assert (asked.HideToolbar, asked.NumCopies) == (True, 2)
    assert joined.pdf_version == "1.7"
    assert joined.Root.Extensions.ADBE.ExtensionLevel >= 3
    second = bases.edited(bases.full(), force_version="2.0")
    joined = pikepdf.open(BytesIO(bases.joined(second, ours)))
    assert joined.pdf_version == "2.0"
    assert "/Extensions" not in joined.Root


def test_what_the_base_asks_for_itself_stays_and_is_named(ours: Document) -> None:
    def change(pdf: Pdf) -> None:
        pdf.Root.ViewerPreferences = Dictionary(PrintScaling=Name.AppDefault, Duplex=Name.DuplexFlipLongEdge)

    base = bases.edited(bases.plain(), change)
    pdf = pikepdf.open(BytesIO(bases.joined(base, ours)))
    asked = pdf.Root.ViewerPreferences
    assert (asked.PrintScaling, asked.Duplex) == (Name.AppDefault, Name.DuplexFlipLongEdge)
    assert "/Enforce" not in asked
    assert [loss.split(" stays")[0] for loss in joinable(base).forecast.losses] == [
        "the base's PrintScaling AppDefault",
        "the base's Duplex DuplexFlipLongEdge",
    ]


def test_same_input_same_bytes(base: bytes, after: int | None, ours: Document) -> None:
    assert bases.joined(base, ours, after) == joined_once(base, ours, after)


def test_another_place_gives_other_bytes(ours: Document) -> None:
    base = base_named("full")
    assert joined_once(base, ours, 1) != joined_once(base, ours, 0)


def test_what_is_kept_is_counted() -> None:
    forecast = joinable(bases.full()).forecast
    assert forecast.losses == ()
    # the outline, the labels, layers, links, fields and attachments of bases.full(), counted by hand
    assert set(forecast.kept) >= {
        "6 pages",
        "6 outline entries",
        "page labels",
        "2 layers",
        "12 links",
        "2 form fields",
        "2 attachments",
        "XMP metadata",
        "language de-AT",
        "viewer preferences",
    }


@long
def test_links_from_page_to_page_may_be_as_long_as_the_file(ours: Document) -> None:
    """This test ensures that a chain of links, each of which leads to the next page, is followed to its end.

    There are more of them than calls may lie within each other.
    """
    base, deep, most = bases.plain(130), len(inspect.stack(0)), sys.getrecursionlimit()
    sys.setrecursionlimit(deep + 120)
    try:
        joined = bases.joined(base, ours)
    finally:
        sys.setrecursionlimit(most)
    with pymupdf.open(stream=joined) as pdf:
        assert pdf[128].get_links()[0]["page"] == 129
        assert pdf[129].get_links()[0]["page"] == 0


def test_nothing_of_the_old_layout_is_left(ours: Document) -> None:
    """This test ensures that object streams and hints of linearisation stay behind, which are no longer true."""
    options = {"linearize": True, "object_stream_mode": pikepdf.ObjectStreamMode.generate}
    joined = bases.joined(bases.edited(bases.full(), **options), ours)
    assert b"/Linearized" not in joined
    assert b"/ObjStm" not in joined
    again = pikepdf.open(BytesIO(joined))
    assert again.check_pdf_syntax() == []


def test_what_is_written_by_hand_is_understood(ours: Document) -> None:
    joined = pikepdf.open(BytesIO(bases.joined(bases.by_hand(), ours)))
    assert joined.pages[0].Contents.read_bytes() == b"50 50 100 100 re S"
    assert str(joined.docinfo.Title) == "By hand"
    assert joined.trailer.ID[0] == joined.trailer.ID[1]


def test_trees_bent_into_circles_are_left_after_one_round(ours: Document) -> None:
    def bend(pdf: Pdf) -> None:
        names, labels = (pdf.make_indirect(Dictionary()) for _ in range(2))
        names.Kids, labels.Kids = Array([names, names]), Array([labels, labels])
        pdf.Root.Names = Dictionary(Dests=names, EmbeddedFiles=names)
        pdf.Root.PageLabels = labels
        pdf.Root.Outlines.First.Next = pdf.Root.Outlines.First
        pdf.Root.Outlines.First.First = pdf.Root.Outlines.First

    base = bases.edited(bases.plain(), bend)
    assert survey(base).outline == 1
    joined = pikepdf.open(BytesIO(bases.joined(base, ours)))
    assert list(joined.attachments) == ["tiler.json"]


@pytest.mark.parametrize(
    ("stated", "after", "now"),
    [
        ([1, 2], 2, [1, 5]),
        ([1, 2], 4, [1, 2, 5, 7]),
        ([2, 5], 3, [2, 8]),
        ([1, 1, 4, 6], 0, [1, 4, 7, 9]),
        ([5, 6], 2, [3, 5, 8, 9]),
    ],
)
def test_the_pages_that_a_base_asks_to_print_are_counted_anew_with_ours(
    stated: list[int], after: int, now: list[int], ours: Document
) -> None:
    def change(pdf: Pdf) -> None:
        pdf.Root.ViewerPreferences = Dictionary(PrintPageRange=Array(stated))

    assert len(ours.declaration.printed) == 3
    with pikepdf.open(BytesIO(bases.joined(bases.edited(bases.plain(), change), ours, after))) as pdf:
        assert [int(one) for one in pdf.Root.ViewerPreferences.PrintPageRange] == now


@pytest.mark.parametrize("stated", [[1], [3, 2], [0, 2], [], ["a", 2]])
def test_a_list_of_pages_to_print_that_is_none_is_taken_out_and_named(stated: list[int], ours: Document) -> None:
    def change(pdf: Pdf) -> None:
        listed = Array([String(one) if isinstance(one, str) else one for one in stated])
        pdf.Root.ViewerPreferences = Dictionary(PrintPageRange=listed)

    base = bases.edited(bases.plain(), change)
    assert any("PrintPageRange is taken out" in loss for loss in joinable(base).forecast.losses)
    with pikepdf.open(BytesIO(bases.joined(base, ours))) as pdf:
        assert "/PrintPageRange" not in pdf.Root.ViewerPreferences


def in_parts(pdf: Pdf) -> None:
    """Three parts of pages 1 and 2, 3, and 4 to 6 (ISO 32000-2, 14.12)."""
    root = pdf.make_indirect(Dictionary(Type=Name.DPartRoot))
    node = pdf.make_indirect(Dictionary(Type=Name.DPart, Parent=root))
    leaves = []
    for first, last in ((0, 1), (2, 2), (3, 5)):
        leaf = pdf.make_indirect(Dictionary(Type=Name.DPart, Parent=node, Start=pdf.pages[first].obj))
        if last > first:
            leaf.End = pdf.pages[last].obj
        for number in range(first, last + 1):
            pdf.pages[number].obj.DPart = leaf
        leaves.append(leaf)
    node.DParts = Array([Array(leaves)])
    root.DPartRootNode = node
    pdf.Root.DPartRoot = root


@pytest.mark.parametrize(
    ("after", "runs"),
    [
        (0, [(0, 4), (5, 5), (6, 8)]),
        (1, [(0, 4), (5, 5), (6, 8)]),
        (2, [(0, 4), (5, 5), (6, 8)]),
        (3, [(0, 1), (2, 5), (6, 8)]),
        (6, [(0, 1), (2, 2), (3, 8)]),
    ],
)
def test_document_parts_take_our_pages_in(after: int, runs: list[tuple[int, int]], ours: Document) -> None:
    base = bases.edited(bases.plain(), in_parts)
    assert "our pages belong to the document part of the page that they follow" in joinable(base).forecast.changed
    with pikepdf.open(BytesIO(bases.joined(base, ours, after))) as pdf:
        numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages)}
        leaves = pdf.Root.DPartRoot.DPartRootNode.DParts[0]
        found = [(numbers[leaf.Start.objgen], numbers[leaf.get("/End", leaf.Start).objgen]) for leaf in leaves]
        assert found == runs
        for leaf, (first, last) in zip(leaves, runs, strict=True):
            assert all(pdf.pages[number].obj.DPart.objgen == leaf.objgen for number in range(first, last + 1))


def test_what_viewers_are_asked_for_anew_is_named() -> None:
    (asked,) = joinable(bases.plain()).forecast.changed
    assert asked == "viewers are asked for PrintScaling None, Duplex Simplex, PickTrayByPDFSize true"
