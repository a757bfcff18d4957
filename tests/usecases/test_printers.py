"""What is known of a printer: kept, listed, shown, removed; a damaged file harms no other."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest

from tiler.commands import run
from tiler.errors import ExitCode, SpecError, UnreadableError
from tiler.usecases.printers.profiles import Axis, checked_printer, load_printer, profile_path, save_printer

Capture = pytest.CaptureFixture[str]


@pytest.fixture(autouse=True)
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Keep printers in a folder that no other test shares."""
    folder = tmp_path / "printers"
    monkeypatch.setenv("TILER_PRINTERS", str(folder))
    return folder


def add(name: str, *more: str) -> int:
    return run(["printer", "add", name, "--nominal", "5 cm", "--across", "49.5 mm", "--down", "49 mm", *more])


def test_a_reading_of_5_cm_to_half_a_millimetre_carries_one_percent() -> None:
    # Relative uncertainty of a product by a constant, JCGM 100:2008 (GUM), 5.1.6: d / n = 0.5 / 50.
    axis = Axis(50.0, 49.0, 0.5)
    assert axis.doubt == pytest.approx(0.01)
    assert axis.scale == pytest.approx(0.98)
    assert axis.decides
    assert not Axis(50.0, 49.5, 0.5).decides


def test_what_is_added_is_kept_listed_shown_and_removed(folder: Path, capsys: Capture) -> None:
    assert add("Kitchen") == 0
    assert [path.name for path in folder.iterdir()] == ["kitchen.json"]
    capsys.readouterr()
    assert run(["printer", "list"]) == 0
    assert capsys.readouterr().out == "Kitchen: across 99.00 % ± 1.00 %, down 98.00 % ± 1.00 %\n"
    assert run(["printer", "show", "kitchen", "--json"]) == 0
    shown = json.loads(capsys.readouterr().out)
    assert shown["down"] == {
        "nominal_mm": 50.0,
        "measured_mm": 49.0,
        "scale": 0.98,
        "uncertainty": 0.01,
        "decides": True,
    }
    assert run(["printer", "remove", "KITCHEN"]) == 0
    assert list(folder.iterdir()) == []
    assert run(["printer", "show", "kitchen"]) == ExitCode.USAGE


def test_a_known_printer_is_replaced_only_with_force(folder: Path, capsys: Capture) -> None:
    assert add("kitchen") == 0
    before = (folder / "kitchen.json").read_bytes()
    assert add("KITCHEN", "--reading-error", "1 mm") == ExitCode.CANNOT_WRITE
    assert "--force" in capsys.readouterr().err
    assert (folder / "kitchen.json").read_bytes() == before
    assert add("KITCHEN", "--reading-error", "1 mm", "--force") == 0
    assert load_printer(folder, "kitchen").down.reading_error == 1.0


@pytest.mark.parametrize(
    "text",
    [
        b"",
        b"{",
        b"\xff\xfe",
        b"[]",
        b'{"format": 2}',
        b'{"format": 1, "name": "bad"}',
        b'{"format": 1, "name": "bad", "nominal_across_mm": 50, "across_mm": 0, "nominal_down_mm": 50, "down_mm": 50,'
        b' "reading_error_mm": 0.5}',
        b'{"format": 1, "name": "other", "nominal_across_mm": 50, "across_mm": 50, "nominal_down_mm": 50,'
        b' "down_mm": 50, "reading_error_mm": 0.5}',
        b"[" * 100_000,
    ],
)
def test_a_damaged_file_is_reported_with_its_path_and_left_alone(folder: Path, capsys: Capture, text: bytes) -> None:
    assert add("good") == 0
    bad = folder / "bad.json"
    bad.write_bytes(text)
    capsys.readouterr()
    assert run(["printer", "list"]) == 0
    out, err = capsys.readouterr()
    assert out.startswith("good: ")
    assert str(bad) in err
    assert err.count("\n") == 1
    with pytest.raises(UnreadableError, match=r"bad\.json"):
        load_printer(folder, "bad")
    assert add("bad") == ExitCode.CANNOT_WRITE
    assert bad.read_bytes() == text


@pytest.mark.parametrize("name", ["", "../up", "a/b", ".hidden", "x" * 31, "a\nb", " a"])
def test_a_name_that_could_leave_the_folder_is_refused(folder: Path, name: str) -> None:
    with pytest.raises(SpecError, match="NAME"):
        profile_path(folder, name)


def test_readings_that_cannot_be_are_refused() -> None:
    with pytest.raises(SpecError, match="--across"):
        checked_printer("p", (50.0, 50.0), (4.95, 50.0), 0.5)
    with pytest.raises(SpecError, match="--reading-error"):
        checked_printer("p", (50.0, 50.0), (50.0, 50.0), 6.0)


def test_what_cannot_be_written_is_said_in_one_sentence(folder: Path, capsys: Capture) -> None:
    folder.parent.mkdir(exist_ok=True)
    folder.write_text("a file where the folder should be")
    assert add("kitchen") == ExitCode.CANNOT_WRITE
    assert str(folder) in capsys.readouterr().err


def test_axes_may_be_read_on_different_lines(folder: Path) -> None:
    assert add("p", "--nominal-across", "49 mm") == 0
    printer = load_printer(folder, "p")
    assert (printer.across.nominal, printer.down.nominal) == (49.0, 50.0)
    profile_path(folder, "p").chmod(0o600)
    save_printer(folder, printer, force=True)
    assert load_printer(folder, "p") == printer
    assert os.name == "nt" or profile_path(folder, "p").stat().st_mode & 0o777 == 0o600


def test_an_empty_list_says_so(capsys):
    assert run(["printer", "list"]) == 0
    assert capsys.readouterr().out == "No printer is stored yet; tiler printer add stores one.\n"
