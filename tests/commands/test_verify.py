"""``tiler verify`` from the command line: sentence, table, JSON and exit codes of the published interface."""

from __future__ import annotations

import json
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from tests.chosen import long
from tests.proof import faults as f
from tiler.commands import run
from tiler.sheets.document import Document

pytestmark = pytest.mark.usefixtures("forked")

Saved = Callable[..., Path]


@pytest.fixture
def saved(sample: Document, tmp_path: Path) -> Saved:
    def save(change: f.Change = lambda pdf: None, **options: object) -> Path:
        path = tmp_path / "file.pdf"
        with pikepdf.open(BytesIO(sample.data)) as pdf:
            change(pdf)
            pdf.save(path, **options)
        return path

    return save


@long
def test_a_good_file_is_said_to_be_true(saved: Saved, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", str(saved())]) == 0
    told = capsys.readouterr()
    lines = told.out.splitlines()
    assert lines[0].startswith("True to scale: ")
    assert lines[0].endswith(".")
    assert any("test square 2 in across" in line and "2.000 in 50.80 mm" in line for line in lines)
    assert "Failed" not in told.out
    assert told.err == ""


@long
def test_an_off_scale_file_says_by_how_much(saved: Saved, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", str(saved(f.whole_pages(f.scaled(0.96))))]) == 3
    lines = capsys.readouterr().out.splitlines()
    assert lines[0] == (
        "Off scale: a length of 100 mm comes out at 96.00 mm, across and down. Do not cut from this print."
    )
    assert len(lines) <= 45


@long
def test_both_axes_are_named_when_they_differ(saved: Saved, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", str(saved(f.whole_pages(f.scaled(0.99, 1.0))))]) == 3
    assert "99.00 mm across and at 100.00 mm down" in capsys.readouterr().out.splitlines()[0]


@long
def test_an_incomplete_file_names_what_is_wrong(saved: Saved, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify", str(saved(f.lost_page(3)))]) == 3
    told = capsys.readouterr().out
    assert told.startswith("Incomplete: the scale is right, but page A2 is missing")
    assert "Failed:" in told


@long
def test_json_is_the_published_form(saved: Saved, capsys: pytest.CaptureFixture[str]) -> None:
    path = saved(f.alter_part("TestSquare", 1, 0, f.by(f.scaled(0.996))))
    assert run(["verify", str(path), "--json"]) == 3
    told = json.loads(capsys.readouterr().out)
    assert list(told) == ["file", "verdict", "scale", "pages", "checks"]
    assert (told["file"], told["verdict"], told["pages"]) == (str(path), "off-scale", 3)
    assert told["scale"] == {"across": pytest.approx(0.996, abs=1e-5), "down": pytest.approx(0.996, abs=1e-5)}
    for check in told["checks"]:
        assert list(check) == ["name", "status", "page", "measured_mm", "nominal_mm", "detail"]
        assert check["status"] in {"pass", "warn", "fail"}
    first = told["checks"][0]
    assert first["name"] == "square"
    assert (first["page"], first["nominal_mm"], first["measured_mm"]) == (1, 50.0, 50.0)


def test_nothing_to_measure_is_a_verdict_with_its_own_code(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    path = tmp_path / "blank.pdf"
    with pikepdf.new() as pdf:
        pdf.add_blank_page()
        pdf.save(path)
    assert run(["verify", str(path)]) == 4
    assert capsys.readouterr().out.startswith("Nothing to measure: ")
    assert run(["verify", str(path), "--json"]) == 4
    assert json.loads(capsys.readouterr().out) == {
        "file": str(path),
        "verdict": "nothing-to-measure",
        "scale": None,
        "pages": 1,
        "checks": [],
    }


@pytest.mark.parametrize(
    ("options", "code"), [({"encryption": pikepdf.Encryption(owner="o", user="u")}, 6), ({"linearize": True}, 0)]
)
def test_a_password_has_its_own_code(
    saved: Saved, options: dict[str, object], code: int, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["verify", str(saved(**options))]) == code
    told = capsys.readouterr()
    assert len(told.err.splitlines()) == (1 if code else 0)


@long
def test_what_cannot_be_read_is_one_sentence(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    broken = tmp_path / "broken.pdf"
    broken.write_bytes(b"%PDF-1.7 and no more")
    for path in (broken, tmp_path / "none.pdf", tmp_path):
        assert run(["verify", str(path)]) == 5
        told = capsys.readouterr()
        assert told.out == ""
        assert len(told.err.splitlines()) == 1
    assert run(["verify", str(broken), "--json"]) == 5
    told = json.loads(capsys.readouterr().out)
    assert told["error"]["code"] == 5
    assert "broken.pdf" in told["error"]["message"]


def test_a_file_is_not_named_twice(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["verify"]) == 2
    assert run(["verify", "a.pdf", "b.pdf"]) == 2
    capsys.readouterr()
