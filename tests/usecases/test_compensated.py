"""A file for one printer: what that printer makes of it is right, and it never passes for a plain one.

The printer is played by arithmetic: what the file draws, times reading over nominal.
The file is measured with pdfplumber, which the drawing does not use.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from dataclasses import replace
from io import BytesIO
from pathlib import Path

import pdfplumber
import pikepdf
import pytest
from pikepdf import Name

from tests.chosen import long, some
from tests.proof.conftest import changed, proved
from tests.proof.faults import Fault, Instructions, code, own_resources, read, with_entry, write
from tests.proof.test_faults import judged, page_faults
from tests.sheets.jobs import MIXED, SAMPLE, drawn_once
from tests.specs import written
from tiler.commands import run
from tiler.declaration import Declaration
from tiler.errors import ExitCode
from tiler.proof import prove
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes
from tiler.usecases.printers.profiles import Axis, Printer

MM = 25.4 / 72
DEN = Printer("den", Axis(150.0, 148.2, 0.5), Axis(200.0, 196.6, 0.5))
WIDE = Printer("hall laser", Axis(150.0, 158.0, 0.5), Axis(200.0, 200.2, 0.5))

Capture = pytest.CaptureFixture[str]


@pytest.fixture(scope="module")
def made() -> Document:
    return drawn_once(SAMPLE, Wishes(printer=DEN))


@pytest.fixture(scope="module")
def made_tiles() -> Document:
    """Give the same without a first page of its own, which takes half as long to read."""
    return drawn_once(SAMPLE, Wishes(printer=DEN, cover=False))


def tagged(document: Document) -> dict[str | None, list[tuple[float, float]]]:
    """Give width and height of every closed path under each tag, mm as drawn."""
    found: dict[str | None, list[tuple[float, float]]] = {}
    with pdfplumber.open(BytesIO(document.data)) as pdf:
        for page in pdf.pages:
            for one in (*page.rects, *page.curves):
                found.setdefault(one.get("tag"), []).append((one["width"] * MM, one["height"] * MM))
    return found


@long
@pytest.mark.parametrize(
    ("printer", "wishes", "spec"),
    [
        pytest.param(DEN, Wishes(), SAMPLE, id="small, letter"),
        pytest.param(WIDE, Wishes(paper="a4", cover=False), SAMPLE, id="large, a4, no cover"),
        pytest.param(DEN, Wishes(paper="one-sheet"), MIXED, id="small, one sheet, mixed"),
    ],
)
def test_what_the_printer_makes_of_it_is_true(printer: Printer, wishes: Wishes, spec: str) -> None:
    document = drawn_once(spec, replace(wishes, printer=printer))
    across, down = printer.across.scale, printer.down.scale
    paths = tagged(document)
    squares = sorted((width * across, height * down) for width, height in paths["TestSquare"])
    # Half of the last digit of the factors, 0.005 %, is all that may be lost.
    assert squares == [pytest.approx((side, side), rel=6e-5) for side in (50.0, 50.8)]
    outlines = [(width * across, height * down) for width, height in paths["CutLine"]]
    for piece in document.declaration.pieces:
        size = (piece.cut_length_mm, piece.cut_width_mm)
        wanted = size[::-1] if piece.turned else size
        assert any(outline == pytest.approx(wanted, rel=6e-5) for outline in outlines)
    report = prove(document.data)
    assert (report.verdict, report.printer, int(report.exit_code)) == ("compensated", printer.name, 0)
    assert not report.warned


def test_the_paper_is_real_and_the_page_frames_keep_their_margins(made: Document) -> None:
    with pdfplumber.open(BytesIO(made.data)) as pdf:
        for page in pdf.pages[1:]:
            assert (page.width, page.height) == (612, 792)
            (frame,) = [one for one in page.rects if one.get("tag") == "PageFrame"]
            sides = [frame["x0"], 612 - frame["x1"], frame["y0"], 792 - frame["y1"]]
            assert [side * MM for side in sides] == pytest.approx([10.0] * 4, abs=0.01)


def test_every_page_and_the_title_name_the_printer(made: Document) -> None:
    with pdfplumber.open(BytesIO(made.data)) as pdf:
        assert "only for the printer den" in pdf.metadata["Title"]
        assert all("Only for the printer den" in page.extract_text() for page in pdf.pages)


def test_a_page_that_does_not_name_the_printer_fails(made: Document) -> None:
    def hush(pdf: pikepdf.Pdf) -> None:
        declared = replace(made.declaration, printer="attic")
        pdf.attachments["tiler.json"] = declared.to_bytes()

    report = proved(made, hush)
    assert "printer" in {check.name for check in report.failed}
    assert report.exit_code == ExitCode.OFF_SCALE


@pytest.mark.parametrize("name", [" ", "\u200b", "...", "den\nden", "x" * 31, "den\u202e"])
def test_a_name_that_nobody_can_read_is_no_name(made_tiles: Document, name: str) -> None:
    def rename(pdf: pikepdf.Pdf) -> None:
        pdf.attachments["tiler.json"] = replace(made_tiles.declaration, printer=name).to_bytes()

    report = proved(made_tiles, rename)
    assert [check.name for check in report.failed if "has no name that can be read" in check.detail] == ["declaration"]


def test_the_beginning_of_the_name_is_not_the_name(made: Document) -> None:
    """This test ensures that pages that say "den" do not name the printer "de", nor what it goes on with."""

    def rename(pdf: pikepdf.Pdf) -> None:
        pdf.attachments["tiler.json"] = replace(made.declaration, printer="de").to_bytes()

    assert "printer" in {check.name for check in proved(made, rename).failed}


def test_small_type_names_nobody(made: Document) -> None:
    """This test ensures that the words count from the house's least type on: 8 pt."""

    def shrink(pdf: pikepdf.Pdf) -> None:
        for number, page in enumerate(pdf.pages, 1):
            write(pdf, number, list(smaller(read(page))))

    def smaller(instructions: Instructions) -> Iterator[tuple[list[object], pikepdf.Operator]]:
        for operands, operator in instructions:
            yield ([operands[0], float(operands[1]) * 0.5], operator) if str(operator) == "Tf" else (operands, operator)

    report = proved(made, shrink)
    assert {check.page for check in report.failed if check.name == "printer"} == {
        *range(1, len(made.declaration.printed) + 1)
    }


def test_a_turned_page_of_a_file_for_one_printer_fails(made: Document) -> None:
    """This test ensures that errors across and down do not change places unnoticed."""
    report = proved(made, with_entry("/Rotate", 90))
    assert report.verdict == "incomplete"
    assert {check.name for check in report.failed} == {"rotation"}


def test_words_that_are_not_declared_to_be_printed_name_nobody(letter: Document) -> None:
    """This test ensures that words without ink (rendering mode 3, ISO 32000-1, 9.3.6) make no file one for a printer."""
    declared = replace(letter.declaration, printer="den")

    def claim(pdf: pikepdf.Pdf) -> None:
        pdf.attachments["tiler.json"] = declared.to_bytes()
        for number, page in enumerate(pdf.pages, 1):
            face = pikepdf.Dictionary(Type=Name.Font, Subtype=Name.Type1, BaseFont=Name.Helvetica)
            own_resources(pdf, number).Font = pikepdf.Dictionary({**page.Resources.Font, "/Plain": face})
            said = pikepdf.String("Only for the printer den")
            words = [code("BT"), code("Tr", 3), code("Tf", Name("/Plain"), 9), code("Td", 40, 20), code("Tj", said)]
            write(pdf, number, [*read(page), *words, code("ET")])

    report = proved(letter, claim)
    assert report.verdict == "incomplete"
    assert {check.name for check in report.failed} == {"printer"}


def without(key: str) -> Callable[[Declaration], bytes]:
    def cut(declared: Declaration) -> bytes:
        tree = json.loads(declared.to_bytes())
        del tree[key]
        return json.dumps(tree).encode()

    return cut


def but(**changes: object) -> Callable[[Declaration], bytes]:
    def change(declared: Declaration) -> bytes:
        return json.dumps({**json.loads(declared.to_bytes()), **changes}).encode()

    return change


@pytest.mark.parametrize(
    "attach",
    [
        pytest.param(None, id="no declaration"),
        pytest.param(without("printer"), id="printer key gone"),
        pytest.param(without("factor_down"), id="factor key gone"),
        pytest.param(but(printer=None), id="no printer, factors left"),
        pytest.param(but(printer=None, factor_across=1.0, factor_down=1.0), id="said to be plain"),
        pytest.param(but(printer=""), id="nameless"),
        pytest.param(but(factor_across=1.0, factor_down=1.0), id="factors of one"),
        pytest.param(but(factor_across=1.0173, factor_down=1.0121), id="factors exchanged"),
        pytest.param(but(factor_down=1.0163), id="one factor a little less"),
        pytest.param(but(factor_across=0), id="factor nought"),
        pytest.param(but(factor_across=1e300), id="factor beyond all"),
    ],
)
def test_a_compensated_file_never_passes_with_another_declaration(
    made_tiles: Document, attach: Callable[[Declaration], bytes] | None
) -> None:
    def change(pdf: pikepdf.Pdf) -> None:
        del pdf.attachments["tiler.json"]
        if attach:
            pdf.attachments["tiler.json"] = attach(made_tiles.declaration)

    report = proved(made_tiles, change)
    assert report.verdict in ("off-scale", "incomplete")
    assert report.exit_code == ExitCode.OFF_SCALE


def test_without_its_declaration_the_squares_read_off_scale(made: Document) -> None:
    def bare(pdf: pikepdf.Pdf) -> None:
        del pdf.attachments["tiler.json"]

    report = proved(made, bare)
    assert report.verdict == "off-scale"
    assert report.scale == pytest.approx((150 / 148.2, 200 / 196.6), rel=1e-4)


def test_a_plain_file_does_not_pass_for_a_compensated_one(sample: Document) -> None:
    def claim(pdf: pikepdf.Pdf) -> None:
        declared = replace(sample.declaration, printer="den", factor_across=1.0121, factor_down=1.0173)
        pdf.attachments["tiler.json"] = declared.to_bytes()

    assert proved(sample, claim).verdict == "off-scale"


@pytest.mark.parametrize("page", [0, 1])
def test_a_page_shrunk_by_one_percent_more_is_found(made: Document, page: int) -> None:
    def shrink(pdf: pikepdf.Pdf) -> None:
        pdf.pages[page].contents_add(b"0.99 0 0 0.99 0 0 cm", prepend=True)

    report = prove(changed(made, shrink))
    assert report.verdict == "off-scale"


@pytest.mark.parametrize("fault", some(page_faults(), 6), ids=lambda fault: fault.name)
def test_a_fault_of_whole_pages_is_found_in_a_compensated_file_too(made: Document, fault: Fault) -> None:
    judged(made, fault)


@long
@pytest.mark.usefixtures("forked")
def test_draft_and_verify_name_the_printer(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture) -> None:
    monkeypatch.setenv("TILER_PRINTERS", str(tmp_path / "printers"))
    spec, out = written(SAMPLE, tmp_path), tmp_path / "out.pdf"
    reading = ["--nominal", "20 cm", "--down", "196.6 mm", "--across", "198 mm"]
    assert run(["printer", "add", "den", *reading]) == 0
    capsys.readouterr()
    assert run(["draft", str(spec), "-o", str(out), "--printer", "den", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    assert (told["printer"], told["proof"]["printer"], told["proof"]["verdict"]) == ("den", "den", "compensated")
    assert run(["verify", str(out), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["printer"] == "den"
    assert run(["verify", str(out)]) == 0
    assert capsys.readouterr().out.startswith("Made for the printer den:")


@pytest.mark.parametrize(
    ("across", "down", "code", "words"),
    [
        ("17 cm", "17 cm", ExitCode.USAGE, "fit"),
        ("200.4 mm", "199.6 mm", ExitCode.USAGE, "nothing to undo"),
        ("200.4 mm", "198 mm", ExitCode.OK, "too coarse to decide"),
    ],
    ids=["fitted to the page", "true already", "in doubt"],
)
def test_what_no_printer_does_is_refused_and_what_is_in_doubt_is_warned_of(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture, across: str, down: str, code: int, words: str
) -> None:
    monkeypatch.setenv("TILER_PRINTERS", str(tmp_path / "printers"))
    spec, out = written(SAMPLE, tmp_path), tmp_path / "out.pdf"
    assert run(["printer", "add", "den", "--nominal", "20 cm", "--across", across, "--down", down]) == 0
    capsys.readouterr()
    assert run(["draft", str(spec), "-o", str(out), "--printer", "den"]) == code
    assert words in capsys.readouterr().err
    assert out.exists() == (code == 0)
    assert run(["draft", str(spec), "-o", str(tmp_path / "x.pdf"), "--printer", "nobody"]) == ExitCode.USAGE
