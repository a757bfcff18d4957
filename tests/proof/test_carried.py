"""What our pages carry besides their content, layers that were not declared, and wishes against the print.

Keys and sections are those of ISO 32000-1.  None of these faults shows where the file is rendered with the settings
of today: what another reader or printer makes of them is not known, so the rule does not wait for a picture.
"""

from __future__ import annotations

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name, Pdf, String

from tests.catalog import bases
from tests.chosen import long
from tests.proof import faults as f
from tests.proof.conftest import proved
from tiler.proof import prove
from tiler.sheets.document import Document

A1 = 2


def note(pdf: Pdf, **entries: object) -> None:
    """Stick something that shows nothing on a page (12.5.2)."""
    look = Dictionary(Type=Name.Annot, Rect=Array([0, 0, 0, 0]), **entries)
    pdf.pages[A1 - 1].Annots = Array([pdf.make_indirect(look)])


def annotation(pdf: Pdf) -> None:
    note(pdf, Subtype=Name.Text, Contents=String("cut here"))


def hidden_annotation(pdf: Pdf) -> None:
    note(pdf, Subtype=Name.Square, F=2)


def field(pdf: Pdf) -> None:
    """A form field and its widget in one (12.5.6.19)."""
    note(pdf, Subtype=Name.Widget, FT=Name.Tx, T=String("size"))
    pdf.Root.AcroForm = Dictionary(Fields=Array([pdf.pages[A1 - 1].Annots[0]]))


def script() -> Dictionary:
    return Dictionary(S=Name.JavaScript, JS=String("this.zoom = 90"))


def page_action(pdf: Pdf) -> None:
    pdf.pages[A1 - 1].AA = Dictionary(O=script())


def file_action(pdf: Pdf) -> None:
    pdf.Root.AA = Dictionary(WP=script())


def opening_action(pdf: Pdf) -> None:
    pdf.Root.OpenAction = script()


def scripts(pdf: Pdf) -> None:
    pdf.Root.Names.JavaScript = Dictionary(Names=Array([String("zoom"), script()]))


def private_data(pdf: Pdf) -> None:
    pdf.pages[A1 - 1].PieceInfo = Dictionary(Other=Dictionary(Private=Dictionary(Copy=1)))


def separation(pdf: Pdf) -> None:
    pdf.pages[A1 - 1].SeparationInfo = Dictionary(Pages=Array([pdf.pages[A1 - 1].obj]), DeviceColorant=Name.Black)


def knockout(pdf: Pdf) -> None:
    pdf.pages[A1 - 1].Group = Dictionary(S=Name.Transparency, K=True)


def first_form(pdf: Pdf) -> pikepdf.Object:
    return next(iter(f.own_resources(pdf, A1).XObject.values()))


def opi(pdf: Pdf) -> None:
    first_form(pdf).OPI = Dictionary({"/2.0": Dictionary(Type=Name.OPI, Version=2.0, F=String("other.tif"))})


def another_file(pdf: Pdf) -> None:
    """A form that stands for a page of another file (8.10.4)."""
    first_form(pdf).Ref = Dictionary(F=String("other.pdf"), Page=0)


def picture(pdf: Pdf) -> None:
    """A picture that is never painted, with another one for the printer (8.9.5.4)."""
    entries = {"Type": Name.XObject, "Subtype": Name.Image, "Width": 1, "Height": 1, "BitsPerComponent": 8}
    other = pdf.make_stream(b"\0", **entries, ColorSpace=Name.DeviceGray)
    alternates = Array([Dictionary(Image=other, DefaultForPrinting=True)])
    shown = pdf.make_stream(b"\xff", **entries, ColorSpace=Name.DeviceGray, Alternates=alternates)
    f.own_resources(pdf, A1).XObject["/Picture"] = shown


def state(**entries: object) -> f.Change:
    """Set a graphics state before all else (8.4.5)."""

    def change(pdf: Pdf) -> None:
        f.own_resources(pdf, A1).ExtGState["/State"] = Dictionary(Type=Name.ExtGState, **entries)
        f.before(f.code("gs", Name("/State")), pages=[A1])(pdf)

    return change


def transfer(pdf: Pdf) -> None:
    """A transfer function that leaves everything as it is (10.5)."""
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0]), C1=Array([1]), N=1)
    state(TR=pdf.make_indirect(function))(pdf)


def soft_mask(pdf: Pdf) -> None:
    group = pdf.make_stream(b"1 g 0 0 1000 1000 re f", Type=Name.XObject, Subtype=Name.Form)
    group.BBox, group.Group = Array([0, 0, 1000, 1000]), Dictionary(S=Name.Transparency, CS=Name.DeviceGray)
    state(SMask=Dictionary(Type=Name.Mask, S=Name.Luminosity, G=group))(pdf)


def colours(name: str, space: Array) -> f.Change:
    """Name a space of colours that nothing is painted in (8.6.5.6, 8.6.6)."""

    def change(pdf: Pdf) -> None:
        f.own_resources(pdf, A1).ColorSpace = Dictionary({name: space})

    return change


def spot() -> Array:
    function = Dictionary(FunctionType=2, Domain=Array([0, 1]), C0=Array([0]), C1=Array([1]), N=1)
    return Array([Name.Separation, Name.Varnish, Name.DeviceGray, function])


def portfolio(pdf: Pdf) -> None:
    pdf.Root.Collection = Dictionary(Type=Name.Collection, View=Name.T)


CARRIED: dict[str, tuple[f.Change, str]] = {
    "annotation": (annotation, "an annotation"),
    "hidden annotation": (hidden_annotation, "an annotation"),
    "form field": (field, "a form field"),
    "page action": (page_action, "actions of a page"),
    "file action": (file_action, "actions of the file"),
    "opening action": (opening_action, "an action when it is opened"),
    "scripts": (scripts, "scripts"),
    "private data": (private_data, "private data of another program"),
    "separation": (separation, "separations"),
    "spot colour": (colours("/Spot", spot()), "separations"),
    "default colours": (colours("/DefaultGray", Array([Name.DeviceGray])), "a default space of colours"),
    "portfolio": (portfolio, "a portfolio"),
    "knockout group": (knockout, "a knockout group"),
    "OPI": (opi, "OPI"),
    "page of another file": (another_file, "a page of another file"),
    "alternate picture": (picture, "an alternate picture"),
    "blend mode": (state(BM=Name.Multiply), "a blend mode"),
    "overprint": (state(OP=True), "overprint"),
    "halftone": (
        state(HT=Dictionary(HalftoneType=1, Frequency=8, Angle=45, SpotFunction=Name.Round)),
        "a halftone",
    ),
    "transfer function": (transfer, "a transfer function"),
    "soft mask": (soft_mask, "a soft mask"),
}


@pytest.mark.parametrize(("change", "what"), CARRIED.values(), ids=CARRIED.keys())
def test_what_a_page_carries_besides_its_content_fails(band_tiles: Document, change: f.Change, what: str) -> None:
    report = proved(band_tiles, change)
    assert report.verdict == "incomplete"
    found = [check for check in report.failed if check.name == "carried"]
    assert what in [check.label for check in found]
    assert A1 in {check.page or A1 for check in found}


def place_to_open(pdf: Pdf) -> None:
    pdf.Root.OpenAction = Array([pdf.pages[0].obj, Name.Fit])


def place_to_go_to(pdf: Pdf) -> None:
    pdf.Root.OpenAction = Dictionary(S=Name.GoTo, D=Array([pdf.pages[0].obj, Name.Fit]))


def empty_form(pdf: Pdf) -> None:
    pdf.Root.AcroForm = Dictionary(Fields=Array())


@pytest.mark.parametrize(
    "change",
    [place_to_open, place_to_go_to, empty_form, state(BM=Name.Normal, SMask=Name("/None"), OP=False, LW=1)],
    ids=["place", "go to", "empty form", "plain state"],
)
def test_what_changes_nothing_passes(band_tiles: Document, change: f.Change) -> None:
    report = proved(band_tiles, change)
    assert (report.failed, report.warned) == ((), ())


@long
def test_what_pages_of_others_carry_is_their_matter(one_band: Document) -> None:
    """This test ensures that the form, the links and the layers of a base count only on our pages."""
    joined = bases.joined(bases.edited(bases.plain(), bases.layered), one_band, 2)
    assert prove(joined).failed == ()

    def change(pdf: Pdf) -> None:
        pdf.pages[3].Annots = pdf.pages[0].Annots

    report = prove(bases.edited(joined, change))
    assert [(check.name, check.page) for check in report.failed if check.label == "an annotation"] == [("carried", 4)]


def group(pdf: Pdf, number: int = 0) -> pikepdf.Object:
    return pdf.Root.OCProperties.OCGs[number]


def on_a_layer(pdf: Pdf) -> None:
    """Put a piece on a layer that nobody declared."""
    layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("more")))
    pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary())
    first_form(pdf).OC = layer


def idle_layer(pdf: Pdf) -> None:
    layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name=String("more")))
    pdf.Root.OCProperties = Dictionary(OCGs=Array([layer]), D=Dictionary())


def member(pdf: Pdf) -> None:
    """A membership that always shows (8.11.2.2)."""
    idle_layer(pdf)
    first_form(pdf).OC = pdf.make_indirect(Dictionary(Type=Name.OCMD, OCGs=group(pdf)))


@pytest.mark.parametrize(("change", "check"), [(on_a_layer, "layers"), (idle_layer, "layers"), (member, "carried")])
def test_a_layer_that_was_not_declared_fails(band_tiles: Document, change: f.Change, check: str) -> None:
    report = proved(band_tiles, change)
    assert report.verdict == "incomplete"
    assert check in {one.name for one in report.failed}


def wish(key: str, value: object) -> f.Change:
    def change(pdf: Pdf) -> None:
        pdf.Root.ViewerPreferences[key] = value

    return change


AGAINST = {
    "one page": wish("/PrintPageRange", Array([1, 1])),
    "all but one": wish("/PrintPageRange", Array([1, 1, 3, 9])),
    "printed area": wish("/PrintArea", Name.TrimBox),
    "printed clip": wish("/PrintClip", Name.ArtBox),
    "shown area": wish("/ViewArea", Name.BleedBox),
    "shown clip": wish("/ViewClip", Name.TrimBox),
    "copies": wish("/NumCopies", 2),
    "two-sided": wish("/Duplex", Name.DuplexFlipLongEdge),
}


@pytest.mark.parametrize("change", AGAINST.values(), ids=AGAINST.keys())
def test_a_wish_against_the_print_fails(band_tiles: Document, change: f.Change) -> None:
    """This test ensures that viewer preferences (ISO 32000-2, Table 147) hide, cut or double nothing of ours."""
    report = proved(band_tiles, change)
    assert report.verdict == "incomplete"
    assert {check.name for check in report.failed} == {"preferences"}


@pytest.mark.parametrize(
    "change",
    [wish("/PrintPageRange", Array([1, 1, 2, 9])), wish("/PrintArea", Name.CropBox), wish("/NumCopies", 1)],
    ids=["all pages", "whole page", "one copy"],
)
def test_a_wish_for_the_whole_print_passes(band_tiles: Document, change: f.Change) -> None:
    report = proved(band_tiles, change)
    assert (report.failed, report.warned) == ((), ())


def test_a_base_that_prints_some_pages_only_prints_ours_too(one_band: Document) -> None:
    """This test ensures that a range of pages does not outlive the numbers that it speaks of."""
    base = bases.edited(bases.plain(), ranged)
    assert "PrintPageRange is counted anew, and prints our pages too" in bases.joinable(base).forecast.changed
    report = prove(bases.joined(base, one_band, 2))
    assert (report.failed, report.warned) == ((), ())


def ranged(pdf: Pdf) -> None:
    pdf.Root.ViewerPreferences = Dictionary(PrintPageRange=Array([1, 2]))
