"""This checks ``tiler chart``: the pages as other readers see them, and the CSV as RFC 4180 has it."""

import csv
import re
import tomllib
from fractions import Fraction
from io import BytesIO, StringIO
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pymupdf
import pytest
from pypdf import PdfReader

from tests.chosen import long, some
from tests.sheets.jobs import EXAMPLES
from tests.specs import Table, neckline, piece, spec, straight, written
from tiler.commands import run
from tiler.draft.chart_csv import CSV_HEAD
from tiler.draft.compute import figure_job
from tiler.draft.edition import Edition
from tiler.draft.figures import Figures
from tiler.draft.spec.read import read_tables
from tiler.sheets.reports.chart import chart_pdf

SIZES = [f"{number}" for number in range(2, 62, 2)]

ROW = re.compile(r"(\S+)( !)? [0-9]+[^ .]* [0-9]+\.[0-9] [0-9]+[^ .]* [0-9]+\.[0-9] ")
"""A size, what fails it, then lengths in both units."""

FRONTS = {size: f"{7 + index / 8} in" for index, size in enumerate(SIZES)}


def many_sizes(fronts: Table, names: tuple[str, str] = ("Neckband", "Cuff"), units: str = "in", cuffs: int = 2) -> str:
    """Return a neckband of a front for each size, and a cuff that is alike in all."""
    return spec(
        piece(names[0], "5/8 in", neckline(fronts, "4 in"), fabric="rib"),
        piece(names[1], "2 in", straight("10 in"), cut="full-loop", quantity=cuffs, ratio="80 %"),
        title="Many sizes",
        units=units,
        copyright="Saltmarsh Knits",
        sizes=list(fronts),
        fabrics={"rib": "70 %"},
    )


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return written(many_sizes(FRONTS), tmp_path_factory.mktemp("many"), "many.toml")


@pytest.fixture(scope="module")
def chart(many: Path) -> Path:
    """Give the chart of many sizes, made once for all tests that only look at it."""
    out = many.with_name("chart.pdf")
    assert run(["chart", str(many), "-o", str(out)]) == 0
    return out


@pytest.fixture(scope="module")
def lines_of_chart(chart: Path) -> list[list[str]]:
    return lines_of(chart)


def lines_of(pdf: Path) -> list[list[str]]:
    """Give the lines of text on each page."""
    with pdfplumber.open(pdf) as pages:
        return [page.extract_text().splitlines() for page in pages.pages]


def csv_of(spec: Path, *options: str) -> list[dict[str, str]]:
    out = spec.with_suffix(".csv")
    assert run(["chart", str(spec), "-o", str(out), "--force", *options]) == 0
    return list(csv.DictReader(StringIO(out.read_bytes().decode("utf-8"), newline="")))


@long
def test_thirty_sizes_are_legible_and_every_page_has_its_heads(chart: Path, lines_of_chart: list[list[str]]) -> None:
    pages = lines_of_chart
    assert len(pages) == 2
    for number, lines in enumerate(pages, 1):
        assert lines[0] == "Many sizes: cutting chart"
        assert "© Saltmarsh Knits" in lines
        assert "Cut length Cut width Edge Sewn length Shortest Longest Share" in lines
        assert f"Size {'in cm ' * 6}% of edge" in lines
        assert any(line.endswith(f"page {number} of 2") for line in lines)
    assert "Neckband folded band · rib · cut 1 on fold" in pages[0]
    assert "Cuff folded band · cut 2 full length" in pages[1]
    rows = [line for lines in pages for line in lines if ROW.match(line)]
    assert [row.split()[0] for row in rows] == SIZES * 2
    with pdfplumber.open(chart) as pdf:
        assert min(char["size"] for page in pdf.pages for char in page.chars) >= 8 - 1e-6
        box = [(char["x0"], char["x1"], page.width) for page in pdf.pages for char in page.chars]
    # nothing stands in the white that home printers leave, 5 mm
    assert all(x0 > 14 and x1 < width - 14 for x0, x1, width in box)


@pytest.fixture(scope="module")
def forty_seven() -> tuple[list[Figures], Edition]:
    """Give the figures of a neckband and of a cuff, each in 47 sizes."""
    job = read_tables(tomllib.loads(many_sizes({f"n{number}": "8 in" for number in range(47)})), "many.toml:")
    return list(figure_job(job)), job.edition


@long
@pytest.mark.parametrize("count", some(range(34, 48, 3), 2))
def test_no_one_or_two_sizes_stand_alone_below_their_head(
    count: int, forty_seven: tuple[list[Figures], Edition]
) -> None:
    """This test ensures that neither the foot nor the top of a page parts a row or two from the rest of a piece."""
    figures, edition = forty_seven
    rows, again = list[int](), 0
    with pymupdf.open(stream=chart_pdf([*figures[:count], *figures[47 : 47 + count]], edition, "letter")) as pdf:
        for line in (line for page in pdf for line in page.get_text().splitlines()):
            if "folded band" in line:
                rows.append(0)
                again += "(continued)" in line
            elif re.match(r"n\d+$", line):
                rows[-1] += 1
    assert sum(rows) == 2 * count
    assert min(rows) >= 3
    assert len(rows) - again == 2


@long
def test_words_of_a_row_do_not_run_into_each_other(tmp_path: Path) -> None:
    fronts = {"22 plus petite W": "99 15/16 in", "M": "99 in"}
    wide = written(many_sizes(fronts, units="cm", cuffs=999), tmp_path)
    for paper in some(("letter-a4", "a4", "letter"), 2):
        out = tmp_path / f"{paper}.pdf"
        assert run(["chart", str(wide), "-o", str(out), "--paper", paper]) == 0
        with pdfplumber.open(out) as pdf:
            words = pdf.pages[0].extract_words(keep_blank_chars=True, x_tolerance=4)
        rows = [word for word in words if word["text"] in fronts]
        assert len(rows) == 4
        for row in rows:
            beside = sorted((w for w in words if abs(w["top"] - row["top"]) < 2), key=lambda word: word["x0"])
            # the size, six lengths in both units, and a share
            assert len(beside) == 14
            assert all(b["x0"] - a["x1"] > 4 for a, b in pairwise(beside))


@long
def test_the_pages_have_the_paper_and_the_title(many: Path, tmp_path: Path) -> None:
    out = tmp_path / "chart.pdf"
    assert run(["chart", str(many), "-o", str(out), "--paper", "a4", "--sizes", "4,2"]) == 0
    reader = PdfReader(BytesIO(out.read_bytes()))
    # A4 is 210 x 297 mm (ISO 216)
    assert [float(side) * 25.4 / 72 for side in reader.pages[0].mediabox[2:]] == pytest.approx([210, 297], abs=0.01)
    assert reader.metadata
    assert reader.metadata.title == "Many sizes: cutting chart"
    (lines,) = lines_of(out)
    assert [row[1] for row in map(ROW.match, lines) if row] == ["2", "4"] * 2


@long
def test_a_second_run_gives_the_same_bytes(many: Path, chart: Path, tmp_path: Path) -> None:
    assert run(["chart", str(many), "-o", str(tmp_path / "again.pdf")]) == 0
    assert (tmp_path / "again.pdf").read_bytes() == chart.read_bytes()


def test_the_csv_has_a_row_for_each_piece_and_size(many: Path) -> None:
    rows = csv_of(many)
    assert list(rows[0]) == list(CSV_HEAD)
    assert [(row["piece"], row["size"]) for row in rows] == [(p, s) for p in ("Neckband", "Cuff") for s in SIZES]
    # loop 8 in of a 10 in edge, plus two end seams of 1/4 in; a band is cut 2(w + s)
    cuff = rows[-1]
    assert (cuff["cut length in"], cuff["cut length cm"]) == ("8 1/2 in", "21.6 cm")
    assert (cuff["cut width in"], cuff["cut width cm"]) == ("4 1/2 in", "11.4 cm")
    assert (cuff["cut"], cuff["cut on"], cuff["fabric"]) == ("2", "full length", "")
    assert (cuff["stretch to in"], cuff["stretch to cm"], cuff["of the edge"]) == ("10 in", "25.4 cm", "80 %")
    # no fabric, so 50 % stretch: good from 10 / 1.3 in; on a straight edge nothing is too long to lie flat
    assert (cuff["sewn length in"], cuff["good from in"], cuff["good from cm"]) == ("8 in", "7 11/16 in", "19.5 cm")
    assert (cuff["good to in"], cuff["good to cm"]) == ("", "")
    band = rows[0]
    assert inches(band["good from in"]) < inches(band["sewn length in"]) <= inches(band["good to in"])


def inches(text: str) -> Fraction:
    """Read a length such as ``8 1/2 in``."""
    return sum((Fraction(part) for part in text.removesuffix(" in").split()), Fraction(0))


def test_the_pages_show_between_which_lengths_a_strip_is_good(many: Path, tmp_path: Path) -> None:
    out = tmp_path / "chart.pdf"
    assert run(["chart", str(many), "-o", str(out), "--sizes", "2"]) == 0
    (lines,) = lines_of(out)
    band, cuff = (line.split() for line in lines if ROW.match(line))
    # the sewn length, the shortest, the longest: in cm
    sewn, shortest, longest = (float(band[column]) for column in (8, 10, 12))
    assert shortest < sewn <= longest
    # 10 in / (1 + 0.6 x 0.5) is 7 11/16 in or 19.5 cm; on a straight edge nothing is too long to lie flat
    assert cuff[7:] == ["8", "20.3", "7¹¹⁄₁₆", "19.5", "–", "–", "80"]


def test_whole_numbers_end_below_each_other(tmp_path: Path) -> None:
    """This test ensures that decimals stand below each other, whatever comes before them."""
    path = written(many_sizes({"S": "7 in", "L": "24 in"}), tmp_path)
    out = tmp_path / "chart.pdf"
    assert run(["chart", str(path), "-o", str(out)]) == 0
    with pdfplumber.open(out) as pdf:
        small, large, *_ = (line for line in pdf.pages[0].extract_text_lines() if ROW.match(line["text"]))
    # 22 in and 56 in and what the curve adds, as centimetres
    assert [len(line["text"].split()[6]) for line in (small, large)] == [4, 5]
    points = [[char["x0"] for char in line["chars"] if char["text"] == "."][2] for line in (small, large)]
    assert points[0] == pytest.approx(points[1], abs=0.01)


def test_what_is_doubted_stands_below_its_piece_the_failed_checks_first(tmp_path: Path) -> None:
    fronts = {"S": "7 in", "L": "9 in"}
    band = piece("Neckband", "5/8 in", neckline(fronts, "4 in"), fabric="rib", opening={"must-pass": "29 in"})
    path = written(
        spec(band, title="Doubts", units="in", sizes=list(fronts), fabrics={"rib": "50 %"}), tmp_path, "doubts.toml"
    )
    out = tmp_path / "chart.pdf"
    assert run(["chart", str(path), "-o", str(out)]) == 0
    (lines,) = lines_of(out)
    failed, doubts = lines.index("Neckband: checks that are not passed"), lines.index("Neckband: doubts")
    assert failed < doubts
    assert lines[failed + 1].startswith("! S: The strip opens to only")
    assert lines[doubts + 1].startswith("! ")
    assert [row[1] + (row[2] or "") for row in map(ROW.match, lines) if row] == ["S !", "L"]
    small, large = csv_of(path)
    assert small["not passed"].startswith("The strip opens to only")
    assert large["not passed"] == ""


def test_a_strip_that_is_not_shared_out_evenly_has_the_lengths_of_its_parts(tmp_path: Path) -> None:
    fronts = {"S": "7 in", "L": "9 in"}
    band = piece("Neckband", "5/8 in", neckline(fronts, "4 in"), fabric="rib", ease="by-curve")
    path = written(spec(band, title="Parts", units="in", sizes=list(fronts), fabrics={"rib": "50 %"}), tmp_path)
    rows = csv_of(path)
    assert [row["share out"] for row in rows] == ["part by part"] * 2
    out = tmp_path / "chart.pdf"
    assert run(["chart", str(path), "-o", str(out)]) == 0
    (lines,) = lines_of(out)
    assert "Front half: strip to edge Back half: strip to edge" in lines
    start = lines.index("Front half: strip to edge Back half: strip to edge")
    for row, line in zip(rows, lines[start + 2 : start + 4], strict=True):
        front, back = (part.split(" half ")[1].removesuffix(" cm") for part in row["parts cm"].split("; "))
        assert line.split()[2::2] == [*front.split(" cm to "), *back.split(" cm to ")]


def test_a_strip_longer_than_its_fabric_is_wide_has_its_sections(tmp_path: Path) -> None:
    band = piece(
        "Hem band", "2 in", straight({"S": "30 in", "L": "40 in"}), cut="full-loop", fabric="rib", ratio="90 %"
    )
    fabrics = {"rib": {"stretch": "50 %", "width": "32 in"}}
    path = written(spec(band, title="Pieced", units="in", sizes=["S", "L"], fabrics=fabrics), tmp_path)
    small, large = csv_of(path)
    assert (small["sections"], small["section in"], small["joined at"]) == ("1", "", "")
    # 36 in and two end allowances of 1/4 in are longer than 32 in; the join takes two more
    assert (large["cut length in"], large["sections"]) == ("", "2")
    assert large["section in"] == "sections 1 and 2: cut 2 full length 18 1/2 in"
    out = tmp_path / "chart.pdf"
    assert run(["chart", str(path), "-o", str(out)]) == 0
    (lines,) = lines_of(out)
    assert any(line.startswith("L pieced pieced ") for line in lines)
    assert "L, sections 1 and 2 cut 2 full length 18½ 47.0 4½ 11.4 18 45.7 20 50.8" in lines
    text = " ".join(lines)
    assert "L: Cut in 2 sections, since rib is 32 in (81.3 cm) wide: sections 1 and 2. Joins: the end seam and" in text


@long
def test_pages_are_about_equally_full(lines_of_chart: list[list[str]]) -> None:
    """This test ensures that no page is left with the rest of a chart, far emptier than the others."""
    counts = [sum(bool(ROW.match(line)) for line in lines) for lines in lines_of_chart]
    assert counts == [30, 30]


def test_the_csv_is_that_of_rfc_4180_and_no_cell_is_a_formula(tmp_path: Path) -> None:
    names = ('=HYPERLINK("x"), "y"', "Ärmelbündchen")
    path = written(many_sizes({"+1": 7, "@b": 8, "-2": 9}, names), tmp_path)
    rows = csv_of(path)
    data = path.with_suffix(".csv").read_bytes()
    assert data.count(b"\r\n") == data.count(b"\n") == 7
    assert data.endswith(b"\r\n")
    assert rows[0]["piece"] == """'=HYPERLINK("x"), "y\""""
    assert [row["size"] for row in rows] == ["'+1", "'@b", "'-2"] * 2
    assert rows[3]["piece"] == "Ärmelbündchen"
    # fractions are plain, so that only names depend on the code of the text
    assert all(cell.isascii() for row in rows for key, cell in row.items() if key != "piece")


def test_a_spec_without_sizes_has_a_chart_too(tmp_path: Path) -> None:
    crew = written((EXAMPLES / "saltmarsh-crew.toml").read_text(encoding="utf-8"), tmp_path)
    (row,) = csv_of(crew)
    assert (row["piece"], row["size"]) == ("Neckband", "")
    out = tmp_path / "crew.pdf"
    assert run(["chart", str(crew), "-o", str(out)]) == 0
    (lines,) = lines_of(out)
    assert f"{'in cm ' * 6}% of edge" in lines


@long
def test_the_sizes_and_the_names_of_pieces_are_bold(chart: Path) -> None:
    with pdfplumber.open(chart) as pages:
        lines = pages.pages[0].extract_text_lines()
    for start, bold in (("2 8", "2"), ("Neckband", "Neckband")):
        line = next(line for line in lines if line["text"].startswith(start))
        assert "".join(char["text"] for char in line["chars"] if "Bold" in char["fontname"]).strip() == bold


@pytest.mark.parametrize(
    ("options", "code", "message"),
    [
        (("-o", "chart.txt"), 2, "a name that ends in .pdf or .csv"),
        (("-o", "there.pdf"), 7, "is there already"),
        (("-o", "chart.csv", "--paper", "a4"), 2, "a CSV has no paper"),
        (("-o", "chart.pdf", "--sizes", "M"), 2, '"M" is not a size of the spec'),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    tmp_path: Path, monkeypatch, capsys, options: tuple[str, ...], code: int, message: str
) -> None:
    many = written(many_sizes(FRONTS), tmp_path, "many.toml")
    monkeypatch.chdir(many.parent)
    Path("there.pdf").write_bytes(b"old")
    assert run(["chart", str(many), *options]) == code
    assert message in capsys.readouterr().err
    assert Path("there.pdf").read_bytes() == b"old"
    assert {path.name for path in many.parent.iterdir()} == {"many.toml", "there.pdf"}
