"""A release as a whole: its files, its list, its archive; joined to a base; replaced as a whole or not at all."""

from __future__ import annotations

import hashlib
import json
import os
import signal
import subprocess
import sys
import zipfile
from io import BytesIO
from pathlib import Path
from time import sleep

import pikepdf
import pymupdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from tests.chosen import long
from tests.forked import command
from tests.proof.foreign import foreign_files, rescaled
from tests.specs import neckline, piece, straight, table, written
from tests.specs import spec as spec_of
from tiler.commands import run
from tiler.declaration import Host
from tiler.errors import CannotWriteError, FailedProofError, OffScaleError, SpecError, TilerError
from tiler.paper import Projected
from tiler.proof import prove
from tiler.proof.report.wording import sentence
from tiler.usecases.bundle import make as making
from tiler.usecases.bundle.archive import FileRecord, archive
from tiler.usecases.bundle.copy_shop import copy_shop_paper
from tiler.usecases.bundle.listed import sealed
from tiler.usecases.bundle.make import Release, make, plan
from tiler.usecases.files.naming import size_words, slug

pytestmark = pytest.mark.usefixtures("forked")

EMPTY = sealed({"files": []})
ROOT = Path(__file__).parent.parent.parent
CUFFS = spec_of(
    piece("Cuff", "1 in", straight(table(S="8 in", M="9 in"))),
    title="Saltmarsh cuffs",
    version="2",
    date="2026-11-20",
    sizes=["S", "M"],
    changes=["The cuff is 1 cm wider."],
    publisher={"name": "Saltmarsh Knits", "web": "saltmarsh.example", "contact": "help@saltmarsh.example"},
)


@pytest.fixture(name="spec")
def cuffs(tmp_path: Path) -> Path:
    return written(CUFFS, tmp_path, "cuffs.toml")


@pytest.fixture(autouse=True)
def one_process(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw here, where other processes are not what a test is about: they take a while to start."""
    monkeypatch.setattr(os, "cpu_count", lambda: 1)


@pytest.fixture
def a4_only(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(making, "RELEASED", ("a4",))


@pytest.fixture
def one_sheet_only(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(making, "RELEASED", ("one-sheet",))


@pytest.fixture
def letter_only(monkeypatch: pytest.MonkeyPatch) -> None:
    """Draw for one paper what is not about papers."""
    monkeypatch.setattr(making, "RELEASED", ("letter",))


def bundled(release: Release, force: bool = False) -> tuple[FileRecord, ...]:
    with plan(release, force) as planned:
        return make(planned)


def refused(release: Release, force: bool = False) -> None:
    with plan(release, force):
        pytest.fail("it was planned")


def files_of(folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in sorted(folder.iterdir())}


@pytest.fixture(scope="module")
def released(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give a release that a process of its own has made."""
    folder = tmp_path_factory.mktemp("release")
    written(CUFFS, folder, "cuffs.toml")
    environment = os.environ | {"PYTHONPATH": str(ROOT), "PYTHONHASHSEED": "7"}
    words = [sys.executable, "-m", "tiler", "bundle", "cuffs.toml", "-o", "out"]
    subprocess.run(words, check=True, cwd=folder, env=environment, capture_output=True)
    return folder / "out"


@long
@pytest.mark.usefixtures("letter_only")
def test_a_drawing_is_in_the_folder_the_list_and_the_archive(spec: Path, tmp_path: Path) -> None:
    records = bundled(Release(spec, tmp_path / "out", svg=True, roll=600.0))
    (drawing,) = (one for one in records if one.name == "saltmarsh-cuffs.svg")
    assert (drawing.verdict, drawing.sizes, drawing.paper, drawing.pages) == ("true-to-scale", ("S", "M"), None, None)
    data = (tmp_path / "out" / drawing.name).read_bytes()
    assert drawing.sha256 == hashlib.sha256(data).hexdigest()
    listed = json.loads((tmp_path / "out" / "manifest.json").read_bytes())["files"]
    assert [one["sha256"] for one in listed if one["name"] == drawing.name] == [drawing.sha256]
    with zipfile.ZipFile(tmp_path / "out" / "saltmarsh-cuffs.zip") as packed:
        assert packed.read(drawing.name) == data
    with pymupdf.open(tmp_path / "out" / "saltmarsh-cuffs-readme.pdf") as readme:
        said = " ".join(readme[0].get_text().split())
    assert "saltmarsh-cuffs.svg" in said
    assert "cutting plotters" in said


@long
@pytest.mark.usefixtures("letter_only")
def test_a_drawing_that_fails_its_proof_stops_the_release(
    spec: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from tiler.sheets.svg import document

    whole = document.svg
    monkeypatch.setattr(
        document, "svg", lambda declared: whole(declared).replace(b'data-size="S"', b'data-size="M"', 1)
    )
    with pytest.raises(FailedProofError, match=r"saltmarsh-cuffs\.svg failed its own proof"):
        bundled(Release(spec, tmp_path / "out", svg=True))
    assert not (tmp_path / "out").exists()


@long
def test_the_folder_holds_all_that_a_release_needs(released: Path) -> None:
    held = files_of(released)
    papers = ("letter", "a4", "one-sheet")
    assert set(held) == {
        *(f"saltmarsh-cuffs-{paper}.pdf" for paper in papers),
        *(f"saltmarsh-cuffs-size-{size}-{paper}.pdf" for size in "SM" for paper in papers),
        "saltmarsh-cuffs-chart.pdf",
        "saltmarsh-cuffs-chart.csv",
        "saltmarsh-cuffs-instructions.pdf",
        "saltmarsh-cuffs-readme.pdf",
        "manifest.json",
        "saltmarsh-cuffs.zip",
    }
    listed = {one["name"]: one for one in json.loads(held["manifest.json"])["files"]}
    for name, data in held.items():
        if name != "manifest.json":
            assert listed[name]["sha256"] == hashlib.sha256(data).hexdigest()
        if name in listed and listed[name]["paper"]:
            assert listed[name]["verdict"] == "true-to-scale"
            with pymupdf.open(stream=data, filetype="pdf") as pdf:
                assert pdf.page_count == listed[name]["pages"]
    # what was proved when it was drawn is what lies there
    assert prove(held["saltmarsh-cuffs-size-M-a4.pdf"]).verdict == "true-to-scale"
    assert listed["saltmarsh-cuffs-a4.pdf"]["sizes"] == ["S", "M"]
    assert listed["saltmarsh-cuffs-size-M-a4.pdf"]["sizes"] == ["M"]
    assert sorted(path.name for path in released.parent.iterdir()) == ["cuffs.toml", "out"]


@long
def test_the_archive_holds_the_same_bytes_with_one_time_for_all(released: Path) -> None:
    with zipfile.ZipFile(released / "saltmarsh-cuffs.zip") as packed:
        assert packed.testzip() is None
        assert {one.date_time for one in packed.infolist()} == {(2026, 11, 20, 0, 0, 0)}
        for name in packed.namelist():
            assert packed.read(name) == (released / name).read_bytes()
        assert {*packed.namelist(), "manifest.json", "saltmarsh-cuffs.zip"} == set(files_of(released))


def words_of(path: Path) -> str:
    with pymupdf.open(path) as pdf:
        return " ".join(" ".join(page.get_text() for page in pdf).split())


def test_customers_have_one_page_that_says_which_file_is_theirs(released: Path) -> None:
    path = released / "saltmarsh-cuffs-readme.pdf"
    with pymupdf.open(path) as pdf:
        assert pdf.page_count == 1
    said = words_of(path)
    for name in files_of(released):
        assert (name in said) == (name not in ("manifest.json", "saltmarsh-cuffs.zip", path.name)), name
    for words in (
        "all sizes within each other: 1 page. Print page 1 first.",
        "at 100 % or “actual size”",
        "New in version 2 · The cuff is 1 cm wider.",
        "Saltmarsh Knits · saltmarsh.example · help@saltmarsh.example",
        "close the guard after every cut",
    ):
        assert words in said
    assert "Saltmarsh Knits · saltmarsh.example" in words_of(released / "saltmarsh-cuffs-letter.pdf")


@pytest.mark.parametrize(
    ("dated", "first"),
    [("2026-11-20", (2026, 11, 20)), ("autumn", (1980, 1, 1)), ("1066-10-14", (1980, 1, 1)), (None, (1980, 1, 1))],
)
def test_files_in_the_archive_bear_the_day_of_the_release(
    dated: str | None, first: tuple[int, int, int], tmp_path: Path
) -> None:
    (tmp_path / "a.txt").write_bytes(b"a")
    out = BytesIO()
    archive(tmp_path, ["a.txt"], dated, out)
    with zipfile.ZipFile(out) as packed:
        assert packed.infolist()[0].date_time[:3] == first


@long
@pytest.mark.usefixtures("a4_only")
def test_a_page_for_customers_of_a_joined_file_names_the_page_in_it(spec: Path, tmp_path: Path) -> None:
    (tmp_path / "top.pdf").write_bytes(base("a4"))
    bundled(Release(spec, tmp_path / "out", (tmp_path / "top.pdf@1",), sizes="S", languages=("en", "de")))
    said = words_of(tmp_path / "out" / "saltmarsh-cuffs-readme.pdf")
    assert "A4: 3 pages. Its bands and bindings begin on page 2: print that page first." in said
    assert "A4: 3 Seiten. Die Bündchen und Einfassungen beginnen auf Seite 2: diese Seite zuerst drucken." in said


@long
def test_a_second_run_gives_the_same_bytes_here_and_in_other_processes(
    released: Path, spec: Path, tmp_path: Path
) -> None:
    bundled(Release(spec, tmp_path / "out"))
    assert files_of(tmp_path / "out") == files_of(released)


def base(paper: str, scale: float = 1.0) -> bytes:
    data = foreign_files(paper)["rectangle"]
    with pikepdf.Pdf.open(BytesIO(rescaled(data, scale))) as pdf:
        pdf.pages.append(pdf.pages[0])
        with pdf.open_outline() as outline:
            outline.root.append(pikepdf.OutlineItem("Front piece", 0))
        out = BytesIO()
        pdf.save(out, deterministic_id=True)
    return out.getvalue()


@long
def test_a_base_joins_the_file_of_its_own_paper(spec: Path, tmp_path: Path) -> None:
    (tmp_path / "top.pdf").write_bytes(base("a4"))
    with plan(Release(spec, tmp_path / "out", (tmp_path / "top.pdf",), after=1, sizes="S"), False) as planned:
        assert planned.alone == ("letter", "one-sheet")
        records = {one.name: one for one in make(planned)}
    assert records["saltmarsh-cuffs-a4.pdf"].base == "top.pdf"
    assert records["saltmarsh-cuffs-letter.pdf"].base is None
    with pymupdf.open(tmp_path / "out" / "saltmarsh-cuffs-a4.pdf") as pdf:
        titles = [title for _, title, _ in pdf.get_toc()]
        assert titles[0] == "Front piece"
        assert any("Cuff" in title for title in titles)
        assert pdf.page_count == (records["saltmarsh-cuffs-a4.pdf"].pages or 0)
        words = [page.get_text() for page in pdf]
    assert "2 in" in words[0]
    assert "Saltmarsh cuffs" in words[1]
    assert prove(tmp_path / "out" / "saltmarsh-cuffs-a4.pdf").verdict == "true-to-scale"


@long
def test_the_command_names_what_is_kept_and_who_stays_alone(
    spec: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "top.pdf").write_bytes(base("letter"))
    words = ["bundle", str(spec), "-o", str(tmp_path / "out"), "--with", str(tmp_path / "top.pdf"), "--sizes", "S"]
    assert run(words) == 0
    told = capsys.readouterr()
    assert "our pages follow page 2" in told.err
    assert "No base for A4 and one sheet" in told.err
    assert "joined to top.pdf" in told.out


def of_sizes(*sizes: tuple[float, float]) -> bytes:
    """Give a base with a true square on each page, whose sizes are in mm."""
    out = BytesIO()
    canvas = Canvas(out, invariant=1)
    for width, height in sizes:
        canvas.setPageSize((width * 72 / 25.4, height * 72 / 25.4))
        canvas.rect(100, 60, 144, 144)
        canvas.drawString(110, 70, "2 in")
        canvas.showPage()
    canvas.save()
    return out.getvalue()


A0, ROLL = (841.0, 1189.0), 36 * 25.4


@long
@pytest.mark.parametrize(
    ("sizes", "words", "ours"),
    [([A0, A0], "A0", A0), ([(ROLL, 1500.0), (ROLL, 700.0), (ROLL, 2600.0)], "36 in (91.4 cm) wide", None)],
)
def test_a_base_of_a_copy_shop_joins_the_one_sheet_of_its_paper(
    spec: Path, tmp_path: Path, sizes: list[tuple[float, float]], words: str, ours: tuple[float, float] | None
) -> None:
    """A0 is 841 x 1189 mm (ISO 216:2007); a roll is as wide as most of the pages."""
    (tmp_path / "top.pdf").write_bytes(of_sizes(*sizes))
    with plan(Release(spec, tmp_path / "out", (tmp_path / "top.pdf",), sizes="S"), False) as planned:
        assert planned.alone == ("letter", "a4")
        assert planned.words("one-sheet") == words
        records = {one.paper: one for one in make(planned) if one.base}
    assert {paper: one.verdict for paper, one in records.items()} == {"one-sheet": "true-to-scale"}
    told = sentence(prove(tmp_path / "out" / "saltmarsh-cuffs-one-sheet.pdf"))
    assert f"page {len(sizes) + 1} was added to a pattern of {len(sizes)} pages, with nothing missing" in told
    with pymupdf.open(tmp_path / "out" / "saltmarsh-cuffs-one-sheet.pdf") as pdf:
        assert pdf.page_count == len(sizes) + 1
        shown = pdf[len(sizes)].rect
        width, height = shown.width / 72 * 25.4, shown.height / 72 * 25.4
    if ours:
        assert (width, height) == pytest.approx(ours, abs=0.1)
    else:
        assert width <= ROLL


@long
def test_what_one_sheet_of_a_base_cannot_hold_lies_on_several(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(making, "RELEASED", ("one-sheet",))
    long = written(spec_of(piece("Hem", "1 in", straight("70 in"), cut="full-loop"), title="Long"), tmp_path)
    (tmp_path / "top.pdf").write_bytes(of_sizes(A0))
    with plan(Release(long, tmp_path / "out", (tmp_path / "top.pdf",)), False) as planned:
        joined = next(one for one in make(planned) if one.base)
    assert joined.pages == 3
    with pymupdf.open(tmp_path / "out" / joined.name) as pdf:
        assert {(round(page.rect.width), round(page.rect.height)) for page in pdf} == {(2384, 3370)}


@pytest.mark.parametrize(
    ("size", "side", "words"),
    [
        ((841.0, 1189.0), 841.0, "A0"),
        ((594.0, 841.0), 594.0, "A1"),
        ((914.0, 1500.0), 914.0, "36 in (91.4 cm) wide"),
        ((760.0, 914.0), 760.0, "36 in (91.4 cm) wide"),
        ((610.0, 3000.0), 610.0, "24 in (61.0 cm) wide"),
        ((841.0, 2000.0), 841.0, "33⅛ in (84.1 cm) wide"),
        ((700.0, 1900.0), 700.0, "27 9/16 in (70.0 cm) wide"),
        ((247.0, 317.0), 247.0, None),
        ((279.0, 432.0), 279.0, None),
        ((297.0, 420.0), 297.0, None),
    ],
)
def test_the_paper_of_a_copy_shop_is_known_by_its_pages(size: tuple[float, float], side: float, words: str) -> None:
    found = copy_shop_paper(size, side, "in")
    assert (found and found.words) == words


@long
def test_a_roll_that_is_not_that_of_the_base_is_refused(spec: Path, tmp_path: Path) -> None:
    (tmp_path / "top.pdf").write_bytes(of_sizes((ROLL, 700.0)))
    with pytest.raises(SpecError, match=r"--roll: is 24 in .* leave it out"):
        refused(Release(spec, tmp_path / "out", (tmp_path / "top.pdf",), roll=609.6))


@long
@pytest.mark.usefixtures("letter_only")
def test_a_base_that_is_off_is_refused_unless_accepted(spec: Path, tmp_path: Path) -> None:
    (tmp_path / "top.pdf").write_bytes(base("letter", 0.97))
    release = Release(spec, tmp_path / "out", (tmp_path / "top.pdf",), sizes="S")
    with pytest.raises(OffScaleError, match="--accept off-scale"):
        refused(release)
    assert not (tmp_path / "out").exists()
    accepted = Release(spec, tmp_path / "out", (tmp_path / "top.pdf",), sizes="S", accept=("off-scale",))
    assert {one.base for one in bundled(accepted)} == {None, "top.pdf"}


@long
@pytest.mark.parametrize(
    ("bases", "after", "words"),
    [
        (("a4", "a4"), None, "are both A4"),
        (("A0", "A0"), None, "are both for a copy shop"),
        ((), 3, "there is no base"),
        (("odd",), None, "247 × 317 mm; a base is Letter, A4, or for a copy shop"),
    ],
)
def test_bases_that_cannot_be_joined_are_refused(
    spec: Path, tmp_path: Path, bases: tuple[str, ...], after: int | None, words: str
) -> None:
    paths = []
    for number, paper in enumerate(bases):
        data = of_sizes(A0) if paper == "A0" else base("letter" if paper == "odd" else paper)
        if paper == "odd":
            with pikepdf.Pdf.open(BytesIO(data)) as pdf:
                for page in pdf.pages:
                    page.MediaBox = pikepdf.Array([0, 0, 700, 900])
                out = BytesIO()
                pdf.save(out)
                data = out.getvalue()
        paths.append(tmp_path / f"{number}.pdf")
        paths[-1].write_bytes(data)
    with pytest.raises(SpecError, match=words):
        refused(Release(spec, tmp_path / "out", tuple(paths), after))


@long
@pytest.mark.usefixtures("letter_only")
def test_only_a_release_is_replaced_and_only_with_force(spec: Path, tmp_path: Path) -> None:
    release = Release(spec, tmp_path / "out", sizes="S")
    bundled(release)
    before = files_of(tmp_path / "out")
    with pytest.raises(CannotWriteError, match="--force"):
        refused(release)
    bundled(release, force=True)
    assert files_of(tmp_path / "out") == before
    (tmp_path / "out" / "diary.txt").write_text("mine")
    with pytest.raises(CannotWriteError, match=r"diary\.txt, which is not part of a release"):
        refused(release, True)
    with pytest.raises(CannotWriteError):
        refused(Release(spec, tmp_path, sizes="S"), True)
    assert files_of(tmp_path / "out") == before | {"diary.txt": b"mine"}


@long
@pytest.mark.usefixtures("letter_only")
def test_a_failure_half_way_leaves_the_old_release(spec: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    release = Release(spec, tmp_path / "out", sizes="S")
    bundled(release)
    before = files_of(tmp_path / "out")

    def fails(*_: object) -> bytes:
        raise TilerError("no more")

    monkeypatch.setattr("tiler.usecases.bundle.make.archive", fails)
    with pytest.raises(TilerError, match="no more"):
        bundled(release, force=True)
    assert files_of(tmp_path / "out") == before
    assert sorted(path.name for path in tmp_path.iterdir()) == ["cuffs.toml", "out"]


@pytest.mark.skipif(os.name == "nt", reason="Windows ends processes without asking them")
@pytest.mark.parametrize("end", [signal.SIGTERM, signal.SIGINT])
def test_an_interrupt_leaves_the_old_release_and_no_process(
    spec: Path, tmp_path: Path, end: signal.Signals, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(os, "cpu_count", lambda: 2)
    (tmp_path / "out").mkdir()
    (tmp_path / "out" / "manifest.json").write_bytes(EMPTY)
    words = ("bundle", spec, "-o", "out", "--force")
    with command(*words, cwd=tmp_path, stderr=subprocess.PIPE, start_new_session=True) as asked:
        while not list(tmp_path.glob(".out.*.part")) and asked.poll() is None:
            sleep(0.01)
        asked.send_signal(end)
        _, said = asked.communicate(timeout=60)
        assert asked.returncode == 130, said
        assert gone(asked.pid)
    assert files_of(tmp_path / "out") == {"manifest.json": EMPTY}
    assert sorted(path.name for path in tmp_path.iterdir()) == ["cuffs.toml", "out"]


def gone(group: int) -> bool:
    """Tell whether every process of a group has ended, within a while."""
    for _ in range(500):
        try:
            os.killpg(group, 0)
        except ProcessLookupError:
            return True
        sleep(0.01)
    return False


def test_names_are_safe_and_unlike() -> None:
    assert slug("Saltmarsh Top: Größe ½!") == "saltmarsh-top-grosse-1-2"
    assert slug("針") == "pattern"
    assert size_words(["S", "s", "針", "4/5", "4-5"]) == {
        "S": "S",
        "s": "s-2",
        "針": "size-3",
        "4/5": "4-5",
        "4-5": "4-5-5",
    }


def doubtful(tmp_path: Path, **lengths: str) -> Path:
    text = spec_of(
        piece("Cuff", "1 in", straight(table(**lengths))),
        piece("Hem band", "1 in", straight("30 in"), cut="full-loop"),
        title="Saltmarsh cuffs",
        sizes=list(lengths),
    )
    return written(text, tmp_path, "cuffs.toml")


def test_a_size_out_of_line_stops_before_anything_is_drawn(tmp_path: Path) -> None:
    spec = doubtful(tmp_path, S="8 in", M="8 1/2 in", L="11 in", XL="9 1/2 in")
    heard: list[tuple[str, str]] = []
    words = r"'Cuff', size L: Out of line .* M 8½ in \(21.6 cm\), L 11 in .*--accept Cuff or --accept L\)\.$"
    with (
        pytest.raises(SpecError, match=words),
        plan(Release(spec, tmp_path / "out"), False, lambda about, doubt: heard.append((about, doubt))),
    ):
        pytest.fail("it was planned")
    assert [about for about, doubt in heard if doubt.startswith("Out of line")] == ["Cuff L"]
    # what all sizes have in common is told once
    assert "Cuff S, M, L, XL; Hem band S, M, L, XL" in [about for about, _ in heard]
    assert [path.name for path in tmp_path.iterdir()] == ["cuffs.toml"]


@long
@pytest.mark.usefixtures("letter_only")
@pytest.mark.parametrize("accepted", ["Cuff", "L"])
def test_what_is_accepted_by_its_piece_or_its_size_goes_on_and_is_listed(tmp_path: Path, accepted: str) -> None:
    spec = doubtful(tmp_path, S="8 in", M="8 1/2 in", L="11 in", XL="9 1/2 in")
    bundled(Release(spec, tmp_path / "out", sizes="L", accept=(accepted,)))
    doubts = json.loads((tmp_path / "out" / "manifest.json").read_bytes())["doubts"]
    assert [one["about"] for one in doubts if one["text"].startswith("Out of line")] == ["Cuff L"]
    assert "Out of line" in (tmp_path / "out" / "saltmarsh-cuffs-chart.csv").read_text(encoding="utf-8")


def test_what_passes_for_one_piece_does_not_pass_for_another(tmp_path: Path) -> None:
    spec = doubtful(tmp_path, S="8 in", M="8 1/2 in", L="11 in", XL="9 1/2 in")
    with pytest.raises(SpecError, match="'Cuff', size L: Out of line"):
        refused(Release(spec, tmp_path / "out", accept=("Hem band", "XL", "signed")))
    with pytest.raises(SpecError, match=r"--accept: 'Hem' is none of the pieces \(Cuff, Hem band\) or sizes \(S, M, L"):
        refused(Release(spec, tmp_path / "out", accept=("Hem",)))


def test_a_check_that_is_not_passed_stops_with_its_piece(tmp_path: Path) -> None:
    text = spec_of(
        piece("Neckband", "1/2 in", neckline("6 in", "4 in"), fabric="rib", opening={"must-pass": "24 in"}),
        fabrics={"rib": "20 %"},
        title="Saltmarsh cuffs",
    )
    with pytest.raises(SpecError, match=r"'Neckband': .*--accept Neckband\)") as fault:
        refused(Release(written(text, tmp_path, "cuffs.toml"), tmp_path / "out"))
    assert fault.value.code == 2


@long
def test_a_base_may_name_the_page_that_ours_follow(spec: Path, tmp_path: Path) -> None:
    for name in ("a4", "letter"):
        (tmp_path / f"{name}.pdf").write_bytes(base(name))
    given = (tmp_path / "a4.pdf@1", tmp_path / "letter.pdf")
    with plan(Release(spec, tmp_path / "out", given, after=0, sizes="S"), False) as planned:
        assert {paper: one.host for paper, one in planned.bases.items()} == {"a4": Host(1, 1), "letter": Host(0, 2)}
    (tmp_path / "a4.pdf@1").write_bytes(base("a4"))
    with plan(Release(spec, tmp_path / "out", given[:1], after=0, sizes="S"), False) as planned:
        assert planned.bases["a4"].host == Host(0, 2)
    with pytest.raises(SpecError, match=r"letter\.pdf: there is no page 3 in the base, which has 2"):
        refused(Release(spec, tmp_path / "out", (tmp_path / "letter.pdf@3",)))


@long
@pytest.mark.usefixtures("a4_only")
def test_the_files_of_single_sizes_join_the_base_too(spec: Path, tmp_path: Path) -> None:
    (tmp_path / "top.pdf").write_bytes(base("a4"))
    records = {one.name: one for one in bundled(Release(spec, tmp_path / "out", (tmp_path / "top.pdf@1",)))}
    joined = [name for name, one in records.items() if one.base]
    assert joined == ["saltmarsh-cuffs-a4.pdf", "saltmarsh-cuffs-size-S-a4.pdf", "saltmarsh-cuffs-size-M-a4.pdf"]
    for name in joined:
        with pymupdf.open(tmp_path / "out" / name) as pdf:
            words = [page.get_text() for page in pdf]
        assert [f"page {number} of {len(words)}" in text for number, text in enumerate(words, 1)] == [
            False,
            *[True] * (len(words) - 2),
            False,
        ]


@long
@pytest.mark.usefixtures("one_sheet_only")
def test_a_file_for_a_projector_has_heavy_lines_on_one_sheet(spec: Path, tmp_path: Path) -> None:
    records = {one.name: one for one in bundled(Release(spec, tmp_path / "out", sizes="S", projector=Projected.LIGHT))}
    one = records["saltmarsh-cuffs-projector.pdf"]
    assert (one.paper, one.pages, one.verdict) == ("one-sheet", 1, "true-to-scale")
    cut = {}
    for name in ("projector", "one-sheet"):
        with pymupdf.open(tmp_path / "out" / f"saltmarsh-cuffs-{name}.pdf") as pdf:
            cut[name] = max(drawn["width"] or 0.0 for drawn in pdf[0].get_drawings())
    # 1.2 mm and 0.5 mm in points
    assert cut["projector"] == pytest.approx(1.2 * 72 / 25.4, abs=0.01)
    assert cut["one-sheet"] == pytest.approx(0.5 * 72 / 25.4, abs=0.01)
    said = words_of(tmp_path / "out" / "saltmarsh-cuffs-readme.pdf")
    assert "saltmarsh-cuffs-projector.pdf For a projector: all pieces on one sheet in heavy lines." in said
    assert one.sizes == ("S",)
