"""Pattern PDFs of others to join to, made by reportlab, pikepdf and PyMuPDF; none of them by pypdf.

Keys and sections are those of ISO 32000-1.  Lengths are points.
"""

from __future__ import annotations

from collections.abc import Callable, Collection
from io import BytesIO

import pikepdf
import pymupdf
from pikepdf import Array, Dictionary, Name, Pdf, String
from reportlab.pdfgen.canvas import Canvas

from tests.sheets.jobs import drawn_in
from tiler.catalog.base.join import Base, join, joinable
from tiler.declaration import Declaration
from tiler.sheets.document import Document

LETTER = (612, 792)
SQUARE = 144
"""A side of 2 in."""


def plain(pages: int = 6, side: float = SQUARE, size: tuple[float, float] = LETTER, label: str = "2 in") -> bytes:
    """A pattern with a labelled test square on its first page, an outline, links and a form."""
    out = BytesIO()
    canvas = Canvas(out, pagesize=size, invariant=1)
    canvas.setTitle("Heron dress")
    canvas.setAuthor("A. Example")
    for number in range(1, pages + 1):
        canvas.drawString(72, 700, f"Heron dress, sheet {number}")
        if number == 1 and side:
            canvas.rect(100, 300, side, side)
            canvas.drawString(110, 310, label)
            canvas.acroForm.textfield(name="sewer", value="Ada", x=300, y=600, width=120, height=20)
            canvas.acroForm.checkbox(name="washed", checked=True, x=300, y=560)
        canvas.bookmarkPage(f"sheet{number}")
        canvas.addOutlineEntry(f"Sheet {number}", f"sheet{number}", level=0 if number % 3 == 1 else 1)
        canvas.linkAbsolute("next", f"sheet{number % pages + 1}", (72, 690, 200, 715))
        canvas.linkURL("https://example.org/heron", (72, 640, 200, 660))
        canvas.showPage()
    canvas.save()
    return out.getvalue()


def edited(data: bytes, *changes: Callable[[Pdf], None], **options: object) -> bytes:
    """Give the file after changes of its objects."""
    out = BytesIO()
    with pikepdf.open(BytesIO(data)) as pdf:
        for change in changes:
            change(pdf)
        pdf.save(out, **{"deterministic_id": True, **options})
    return out.getvalue()


def labelled(pdf: Pdf) -> None:
    """Roman numerals, then a prefix with decimals that starts at 5, in a tree of two levels (12.4.2, 7.9.7)."""
    first = pdf.make_indirect(
        Dictionary(Nums=Array([0, Dictionary(S=Name.r)]), Limits=Array([0, 0])),
    )
    second = pdf.make_indirect(
        Dictionary(Nums=Array([2, Dictionary(S=Name.D, P=String("P-"), St=5)]), Limits=Array([2, 2]))
    )
    pdf.Root.PageLabels = Dictionary(Kids=Array([first, second]))


def layered(pdf: Pdf) -> None:
    """Two layers that paint on the first page, one of them off (8.11)."""
    groups = [pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String(name))) for name in ("size 8", "size 10")]
    page = pdf.pages[0]
    page.Resources.Properties = Dictionary(L1=groups[0], L2=groups[1])
    drawn = b"/OC /L1 BDC 2 w 400 100 m 500 100 l S EMC /OC /L2 BDC 6 w 400 200 m 500 200 l S EMC"
    page.contents_add(pdf.make_stream(drawn))
    pdf.Root.OCProperties = Dictionary(
        OCGs=Array(groups),
        D=Dictionary(Order=Array(groups), OFF=Array([groups[1]]), ON=Array([groups[0]])),
    )


def all_layers_off(pdf: Pdf) -> None:
    """Base state off: only what is named is shown (Table 101)."""
    layered(pdf)
    pdf.Root.OCProperties.D.BaseState = Name.OFF


def without_order(pdf: Pdf) -> None:
    layered(pdf)
    del pdf.Root.OCProperties.D["/Order"]


def furnished(pdf: Pdf) -> None:
    """Language, preferences, metadata, an attachment, named destinations both ways, an opening page."""
    pdf.Root.Lang = String("de-AT")
    pdf.Root.ViewerPreferences = Dictionary(HideToolbar=True, NumCopies=2)
    pdf.Root.PageMode = Name.UseOutlines
    pdf.Root.OpenAction = Array([pdf.pages[3].obj, Name.Fit])
    pdf.Root.Dests = Dictionary(old=Array([pdf.pages[4].obj, Name.Fit]))
    names = Array([String("fabric"), Dictionary(D=Array([pdf.pages[5].obj, Name.Fit]))])
    leaf = pdf.make_indirect(Dictionary(Names=names, Limits=Array([String("fabric"), String("fabric")])))
    pdf.Root.Names = Dictionary(Dests=Dictionary(Kids=Array([leaf])))
    pdf.attachments["zigzag.txt"] = b"stitch length 2.5 mm"
    pdf.attachments["guide.txt"] = b"wash before cutting"
    with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as metadata:
        metadata["dc:title"] = "Heron dress"
        metadata["xmp:Rating"] = "5"


def inherited(pdf: Pdf) -> None:
    """Boxes, rotation and resources that pages take from a tree of two levels, a box by reference (7.7.3.4)."""
    shared = pdf.make_indirect(Array([0, 0, 612, 792]))
    pages = [page.obj for page in pdf.pages]
    nodes = [
        pdf.make_indirect(Dictionary(Type=Name.Pages, Kids=Array(kids), Count=3, Parent=pdf.Root.Pages))
        for kids in (pages[:3], pages[3:])
    ]
    for number, page in enumerate(pages):
        page.Parent = nodes[number // 3]
        for key in ("/MediaBox", "/Rotate", "/Resources"):
            if key in page and number:
                pdf.Root.Pages[key] = page[key]
                del page[key]
    pdf.Root.Pages.Kids = Array(nodes)
    pdf.Root.Pages.MediaBox = shared
    pdf.Root.Pages.CropBox = Array([0, 0, 612, 792])
    pdf.Root.Pages.Rotate = 90
    nodes[1].Rotate = 180
    pages[0].Rotate = 0
    pages[4].MediaBox = pdf.make_indirect(Array([pdf.make_indirect(pikepdf.Object.parse(b"0")), 0, 612, 700]))


def in_many_shapes(pdf: Pdf) -> None:
    """A turned page, one cropped off its corner, one in another unit, one whose origin lies elsewhere."""
    pdf.pages[1].obj.Rotate = 270
    pdf.pages[2].obj.CropBox = Array([30, 40, 500, 600])
    pdf.pages[3].obj.UserUnit = 2
    pdf.pages[4].obj.MediaBox = Array([-100, 50, 512, 842])
    pdf.pages[5].obj.MediaBox = Array([612, 792, 0, 0])


def numbered(pdf: Pdf) -> None:
    """A link that counts pages instead of naming one, as some writers do within a file."""
    note = Dictionary(
        Type=Name.Annot, Subtype=Name.Link, Rect=Array([10, 10, 60, 60]), Dest=Array([4, Name.Fit]), Border=[0, 0, 0]
    )
    pdf.pages[0].Annots.append(pdf.make_indirect(note))


def signed(pdf: Pdf) -> None:
    """A signature field with a value (12.7.4.5); its contents stand in for a real signature."""
    value = pdf.make_indirect(
        Dictionary(
            Type=Name.Sig, Filter=Name("/Adobe.PPKLite"), ByteRange=Array([0, 10, 20, 30]), Contents=String("00")
        )
    )
    field = Dictionary(
        Type=Name.Annot,
        Subtype=Name.Widget,
        FT=Name.Sig,
        T=String("Release"),
        V=value,
        Rect=Array([0, 0, 0, 0]),
        P=pdf.pages[0].obj,
    )
    reference = pdf.make_indirect(field)
    pdf.pages[0].Annots.append(reference)
    pdf.Root.AcroForm.Fields.append(reference)
    pdf.Root.AcroForm.SigFlags = 3
    pdf.Root.Perms = Dictionary(DocMDP=value)


def scripted(pdf: Pdf) -> None:
    script = Dictionary(S=Name.JavaScript, JS=String("this.pageNum = 4"))
    pdf.Root.Names = Dictionary(JavaScript=Dictionary(Names=Array([String("start"), script])))


def tagged(pdf: Pdf) -> None:
    pdf.Root.MarkInfo = Dictionary(Marked=True)
    pdf.Root.StructTreeRoot = pdf.make_indirect(Dictionary(Type=Name.StructTreeRoot))


def claims_a_standard(pdf: Pdf) -> None:
    with pdf.open_metadata(set_pikepdf_as_editor=False) as metadata:
        metadata["pdfaid:part"] = "2"
        metadata["pdfaid:conformance"] = "B"


def full() -> bytes:
    """A base that has something of everything that must be kept."""
    return edited(plain(), labelled, layered, furnished)


def from_mupdf() -> bytes:
    """A base made by PyMuPDF: layers, a form, an outline, labels, links and an attachment."""
    pdf = pymupdf.open()
    for number in range(1, 6):
        pdf.new_page(width=595, height=842).insert_text((72, 72), f"Plover trousers {number}")
    group = pdf.add_ocg("seam lines", on=False)
    pdf[1].draw_line((72, 200), (400, 200), width=3, oc=group)
    pdf.set_toc([[1, "Front", 1], [2, "Pocket", 2], [1, "Back", 4]])
    pdf.set_page_labels([{"startpage": 0, "prefix": "P", "style": "D", "firstpagenum": 1}])
    pdf[0].insert_link({"kind": pymupdf.LINK_GOTO, "from": pymupdf.Rect(72, 100, 200, 120), "page": 4})
    widget = pymupdf.Widget()
    widget.field_name, widget.field_value = "inseam", "78 cm"
    widget.field_type, widget.rect = pymupdf.PDF_WIDGET_TYPE_TEXT, pymupdf.Rect(72, 300, 250, 320)
    pdf[2].add_widget(widget)
    pdf.embfile_add("fit.txt", b"try it in scrap cloth")
    pdf.set_metadata({"title": "Plover trousers", "author": "B. Example"})
    return bytes(pdf.tobytes())


def by_hand() -> bytes:
    """A file with a reused object number (7.3.10), a reference to nothing, and the information in the trailer."""
    parts = {
        1: (0, b"<< /Type /Catalog /Pages 2 0 R /Nowhere 99 0 R >>"),
        2: (0, b"<< /Type /Pages /Kids [ 3 1 R ] /Count 1 /MediaBox [ 0 0 300 400 ] >>"),
        3: (1, b"<< /Type /Page /Parent 2 0 R /Contents 4 2 R /Resources << >> >>"),
        4: (2, b"<< /Length 5 0 R >>\nstream\n50 50 100 100 re S\nendstream"),
        5: (0, b"18"),
    }
    out, places = b"%PDF-1.4\n", []
    for number, (generation, body) in parts.items():
        places.append(f"{len(out):010d} {generation:05d} n \n".encode())
        out += f"{number} {generation} obj\n".encode() + body + b"\nendobj\n"
    table = b"xref\n0 6\n0000000000 65535 f \n" + b"".join(places)
    trailer = b"trailer\n<< /Size 6 /Root 1 0 R /Info << /Title (By hand) >> >>\n"
    return out + table + trailer + f"startxref\n{len(out)}\n%%EOF\n".encode()


def joined(base: bytes, ours: Document, after: int | None = None, accept: tuple[str, ...] = ()) -> bytes:
    """Join a document of ours to a base, as a release does."""
    found = joinable(base, after, accept)
    ours = drawn_in(ours, found.host)
    return joined_bytes(found, ours.data, ours.declaration)


def joined_bytes(base: Base, ours: bytes, declaration: Declaration, hidden: Collection[str] = ()) -> bytes:
    """Return the longer file."""
    out = BytesIO()
    join(base, ours, declaration, out, hidden)
    return out.getvalue()
