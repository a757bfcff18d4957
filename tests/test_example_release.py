"""The worked release of the examples: its pattern of forty pages, and one of its twenty sizes joined to it."""

from __future__ import annotations

import runpy
import sys
from pathlib import Path

import pikepdf
import pymupdf
import pytest

from tests.chosen import long
from tiler.proof import prove
from tiler.usecases.bundle import make as making
from tiler.usecases.bundle.make import Release, make, plan

EXAMPLES = Path(__file__).parent.parent / "examples"


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Give what the script writes before it calls tiler."""
    made = tmp_path_factory.mktemp("overall")
    sys.path.insert(0, str(EXAMPLES))
    asked: list[list[str]] = []
    try:
        runpy.run_path(str(EXAMPLES / "make_release.py"))["main"](made, asked.append)
    finally:
        sys.path.remove(str(EXAMPLES))
    assert asked[0][2:4] == ["tiler", "bundle"]
    return made


@long
def test_the_pattern_has_forty_pages_with_a_layer_for_each_size(folder: Path) -> None:
    for paper in ("letter", "a4"):
        report = prove(folder / f"overall-{paper}.pdf")
        assert (report.verdict, report.pages) == ("true-to-scale", 40)
        with pymupdf.open(folder / f"overall-{paper}.pdf") as pdf:
            assert [one["name"] for one in pdf.get_ocgs().values()] == [f"Size {size}" for size in range(30, 70, 2)]


@long
@pytest.mark.usefixtures("forked")
def test_a_size_of_the_release_joins_the_pattern_and_counts_its_pages(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(making, "RELEASED", ("letter",))
    release = Release(folder / "overall.toml", tmp_path / "out", (folder / "overall-letter.pdf",), sizes="30")
    with plan(release, False) as planned:
        assert len(planned.job.sizes) == 20
        assert len({one.name for one in planned.figures}) == 6
        (joined,) = (one for one in make(planned) if one.base)
    assert joined.verdict == "true-to-scale"
    with pymupdf.open(tmp_path / "out" / joined.name) as pdf:
        assert f"page 41 of {pdf.page_count}" in pdf[40].get_text()
        on = [one["text"] for one in pdf.layer_ui_configs() if one["type"] != "label" and one["on"]]
        assert on == ["Size 30"]
    with pikepdf.open(tmp_path / "out" / joined.name) as pdf:
        names = [str(one.Name) for one in pdf.Root.OCProperties.OCGs]
        assert len(names) == len({*names})
        assert {f"Size {size}" for size in range(30, 70, 2)} <= {*names}
