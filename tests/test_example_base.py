"""The base pattern of the example: read by PyMuPDF and pikepdf, and as long at its edges as the spec says."""

from __future__ import annotations

import runpy
from pathlib import Path

import pikepdf
import pymupdf
import pytest

from tests.chosen import long
from tiler.commands import run
from tiler.proof import prove
from tiler.usecases.bundle import make as making
from tiler.usecases.bundle.make import Release, plan
from tiler.usecases.draft import Wishes, draw_job

pytestmark = pytest.mark.usefixtures("forked")

EXAMPLES = Path(__file__).parent.parent / "examples"
SPEC = EXAMPLES / "saltmarsh-sizes.toml"
SIZES = ["XXS", "XS", "S", "M", "L", "XL", "2XL", "3XL"]


@pytest.fixture(scope="module")
def base(tmp_path_factory: pytest.TempPathFactory) -> Path:
    target = tmp_path_factory.mktemp("base") / "top.pdf"
    runpy.run_path(str(EXAMPLES / "make_base.py"))["main"](target)
    return target


@long
def test_the_base_is_a_true_letter_pattern_with_outline_labels_and_layers(base: Path) -> None:
    assert prove(base).verdict == "true-to-scale"
    with pymupdf.open(base) as pdf:
        assert {tuple(page.rect) for page in pdf} == {(0, 0, 612, 792)}
        assert [(title, page) for _, title, page in pdf.get_toc()] == [("Start here", 1), ("Front", 2), ("Back", 8)]
        assert [pdf[index].get_label() for index in (0, 1, 12)] == ["i", "F1", "B6"]
        assert [one["name"] for one in pdf.get_ocgs().values()] == [f"size {size}" for size in SIZES]


@pytest.mark.parametrize(("page", "neck", "armhole"), [(2, 7.25, 8.25), (8, 3.75, 8.625)])
def test_its_edges_are_as_long_as_the_spec_says(base: Path, page: int, neck: float, armhole: float) -> None:
    """This test ensures it for size XXS (7 1/4 and 3 3/4 in of neckline, 8 1/4 and 8 5/8 in of armhole).

    A Bézier curve's length is taken by chords through points of de Casteljau's subdivision.
    """
    with pymupdf.open(base) as pdf:
        outline = next(one for one in pdf[page - 1].get_drawings() if sum(i[0] == "c" for i in one["items"]) == 2)
        curves = [item[1:] for item in outline["items"] if item[0] == "c"]
    assert [chords(curve) / 72 for curve in curves] == pytest.approx([neck, armhole], abs=0.001)


def chords(curve: tuple[pymupdf.Point, ...], depth: int = 9) -> float:
    a, b, c, d = curve
    if not depth:
        return abs(d - a)
    ab, bc, cd = (a + b) / 2, (b + c) / 2, (c + d) / 2
    abc, bcd = (ab + bc) / 2, (bc + cd) / 2
    middle = (abc + bcd) / 2
    return chords((a, ab, abc, middle), depth - 1) + chords((middle, bcd, cd, d), depth - 1)


@long
def test_a_drawn_base_is_the_same_each_time(base: Path, tmp_path: Path) -> None:
    runpy.run_path(str(EXAMPLES / "make_base.py"))["main"](tmp_path / "again.pdf")
    assert (tmp_path / "again.pdf").read_bytes() == base.read_bytes()


@long
def test_the_spec_nests_and_joins_the_base_without_loss(base: Path, tmp_path: Path) -> None:
    with plan(Release(SPEC, tmp_path / "out", (base,), after=1), False) as planned:
        assert list(planned.sizes) == SIZES
        ((paper, one),) = planned.bases.items()
        assert (paper, one.doubts, one.forecast.losses) == ("letter", (), ())
    document = draw_job(planned.job, planned.figures, Wishes(paper="letter", nest=True))
    assert {piece.size for piece in document.declaration.pieces} >= set(SIZES)


@long
def test_a_release_of_the_example_joins_its_letter_file_only(
    base: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(making, "RELEASED", ("letter", "a4"))
    out = tmp_path / "out"
    assert run(["bundle", str(SPEC), "-o", str(out), "--with", str(base), "--after", "1", "--sizes", "M"]) == 0
    with pikepdf.open(out / "saltmarsh-pattern-top-letter.pdf") as joined, pikepdf.open(base) as alone:
        ours = len(joined.pages) - len(alone.pages)
        for index, page in enumerate(alone.pages):
            kept = joined.pages[index + ours if index else 0]
            assert kept.Contents.read_bytes() == page.Contents.read_bytes()
            assert list(kept.MediaBox) == list(page.MediaBox)
    assert ours > 0
