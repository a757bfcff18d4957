"""A printer's error carried to the pieces: propagation of uncertainty, JCGM 100:2008 (GUM), 5.1.2."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.specs import piece, spec, straight, written
from tiler.commands import run
from tiler.usecases.printers.print_error import carried, doubts, too_coarse
from tiler.usecases.printers.profiles import Axis, Printer

Capture = pytest.CaptureFixture[str]


def test_a_known_error_and_its_doubt() -> None:
    # By hand: 49.4 for 50 is 1.2 % short; 500 mm · 0.012 = 6 mm; 500 mm · 0.5 / 50 = 5 mm, at 20 cm 1.25 mm.
    coarse = carried(500.0, Axis(50.0, 49.4, 0.5), "across")
    assert (coarse.error, coarse.doubt) == (pytest.approx(-6.0), pytest.approx(5.0))
    fine = carried(500.0, Axis(200.0, 197.6, 0.5), "across")
    assert (fine.error, fine.doubt) == (pytest.approx(-6.0), pytest.approx(1.25))


def test_an_error_as_large_as_its_doubt_is_too_coarse_and_the_line_to_read_is_named() -> None:
    axes = Axis(50.0, 49.5, 0.5), Axis(50.0, 50.5, 0.5)
    across, down = too_coarse(Printer("p", *axes))
    assert "15 cm line across" in across
    assert "20 cm line down" in down
    assert "0.25 %" in down
    assert list(too_coarse(Printer("p", Axis(50.0, 49.4, 0.5), Axis(50.0, 50.6, 0.5)))) == []
    (last,) = too_coarse(Printer("p", Axis(50.0, 49.4, 0.5), Axis(200.0, 200.2, 0.5)))
    assert "no line of the first page is longer" in last


def test_an_error_alike_on_both_axes_is_taken_for_a_fitted_page() -> None:
    # A4 fitted to letter: 279.4 / 297 = 94.07 %.
    (fitted,) = doubts(Printer("p", Axis(150.0, 141.1, 0.5), Axis(200.0, 188.2, 0.5)))
    assert "fitted to the paper" in fitted
    assert list(doubts(Printer("p", Axis(150.0, 148.0, 0.5), Axis(200.0, 197.5, 0.5)))) == []
    assert list(doubts(Printer("p", Axis(150.0, 141.1, 0.5), Axis(200.0, 199.0, 0.5)))) == []


@pytest.mark.parametrize("cut", ["on-fold", "full-loop"])
def test_show_gives_the_error_of_the_whole_strip(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: Capture, cut: str
) -> None:
    monkeypatch.setenv("TILER_PRINTERS", str(tmp_path / "printers"))
    keys = {"seam_allowance": "6 mm", "join_allowance": "6 mm", "loop": "48.8 cm"}
    band = piece("Neckband", "16 mm", straight("57 cm"), cut=cut, **keys)
    crew = str(written(spec(band, units="cm"), tmp_path))
    readings = ["--nominal", "20 cm", "--across", "198 mm", "--down", "196 mm", "--reading-error", "1 mm"]
    assert run(["printer", "add", "kitchen", *readings]) == 0
    capsys.readouterr()
    assert run(["printer", "show", "kitchen", "--for", crew, "--json"]) == 0
    (errors,) = json.loads(capsys.readouterr().out)["pieces"]
    # 488 + 2 · 6 = 500 mm; 0.5 % of it in doubt; 1 % short across, 2 % down.
    strip = errors["strip"]
    assert strip["length_mm"] == pytest.approx(500.0)
    assert strip["error_mm"] == pytest.approx({"across": -5.0, "down": -10.0}[strip["axis"]])
    assert strip["uncertainty_mm"] == pytest.approx(2.5)
    assert errors["width"]["axis"] != strip["axis"]
    assert run(["printer", "show", "kitchen", "--for", crew]) == 0
    short = {"across": "5 mm", "down": "10 mm"}[strip["axis"]]
    assert f"would come out {short} ± 2 mm short" in capsys.readouterr().out
