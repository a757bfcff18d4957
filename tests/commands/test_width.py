"""This checks that every table follows the terminal's width, and that a file or a pipe gets the same lines always."""

from __future__ import annotations

import re
import sys
from collections.abc import Callable
from contextlib import redirect_stdout
from io import StringIO
from pathlib import Path

import pytest

from tests.chosen import each, long
from tiler.commands import run
from tiler.commands.output.curve_table import _rows
from tiler.commands.output.size_table import _side_by_side
from tiler.commands.output.wrapping import fitted, width, wrapped

EXAMPLES = Path(__file__).parents[2] / "examples"
SPECS = sorted(EXAMPLES.glob("*.toml"))
COLUMNS = (60, 80, 100)

PARTED = re.compile(r"[0-9½¼¾⅛⅜⅝⅞]\n *(in\b|cm\b|mm\b|%|[0-9]+/[0-9])")

Told = Callable[..., str]


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Told:
    """Give what a command prints, on a terminal of so many columns or into a pipe."""
    monkeypatch.setenv("NO_COLOR", "1")

    def call(*words: object, columns: int | None = None) -> str:
        with monkeypatch.context() as terminal:
            terminal.setenv("COLUMNS", str(columns or 200))
            if columns:
                terminal.setattr(sys.stdout, "isatty", lambda: True)
                # a bar would move about on the same line
                terminal.setattr("tiler.commands.output.progress.LONG", 10**6)
            assert run([str(word) for word in words]) == 0
        return capsys.readouterr().out

    return call


@pytest.fixture(scope="module")
def drafted(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A drafted file to list the curves of."""
    path = tmp_path_factory.mktemp("drafted") / "crew.pdf"
    assert run(["draft", str(EXAMPLES / "saltmarsh-vee.toml"), "-o", str(path)]) == 0
    return path


@pytest.fixture(scope="module")
def piped(drafted: Path) -> str:
    """The list of its curves in a pipe."""
    with redirect_stdout(StringIO()) as told:
        assert run(["edge", str(drafted)]) == 0
    return told.getvalue()


def fits(text: str, columns: int) -> None:
    assert max(map(len, text.splitlines())) < columns
    assert not PARTED.search(text)


@pytest.mark.parametrize(("spec", "columns"), each(SPECS, COLUMNS))
def test_the_figures_of_every_example_fit(spec: Path, columns: int, told: Told) -> None:
    shown = told("figures", spec, columns=columns)
    fits(shown, columns)
    piped = told("figures", spec)
    # the same words and numbers, whatever the lines; a folded table has them in another order
    assert sorted(shown.split()) == sorted(piped.split())
    assert (shown == piped) is (columns == 80)


@long
@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize("columns", COLUMNS)
def test_the_curves_of_a_drawing_fit(columns: int, drafted: Path, piped: str, told: Told) -> None:
    shown = told("edge", drafted, columns=columns)
    listed, pasted = shown.rstrip().rsplit("\n", 1)
    fits(listed, columns)
    # one line, so that it can be copied
    assert pasted.startswith("front-half = {")
    assert ("curve page  length" in shown) is (columns > 60)
    assert shown.count("180° (3 corners)") + shown.count("180° (3\n") == piped.count("180° (3 corners)")


@pytest.mark.parametrize("columns", COLUMNS)
def test_what_testers_read_fits(columns: int, told: Told) -> None:
    file = EXAMPLES / "saltmarsh-readings.csv"
    shown = told("readings", file, columns=columns)
    fits(shown, columns)
    assert sorted(shown.split()) == sorted(told("readings", file).split())
    if columns > 60:
        assert "Bodil           1 99.7 %                         99.3 %\n" in shown
    else:
        assert "Bodil           1 99.7 %\n                  99.3 %\n" in shown


@pytest.mark.parametrize("columns", COLUMNS)
def test_printers_fit(columns: int, told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("TILER_PRINTERS", str(tmp_path))
    told("printer", "add", "kitchen table upstairs", "--nominal", "15 cm", "--across", "14.9 cm", "--down", "14.8 cm")
    for words in (("list",), ("show", "kitchen table upstairs", "--for", EXAMPLES / "saltmarsh-crew.toml")):
        fits(told("printer", *words, columns=columns), columns)
        # a line is one fact for whoever reads a pipe
        assert len(told("printer", *words).splitlines()) == (1 if words == ("list",) else 4)


@long
@pytest.mark.parametrize("columns", COLUMNS)
def test_the_account_of_a_draft_fits(columns: int, told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    draft = ("draft", EXAMPLES / "saltmarsh-vee.toml", "-o", "vee.pdf", "--force")
    fits(told(*draft, columns=columns), columns)


@long
def test_the_account_of_a_draft_is_two_lines_in_a_pipe(
    told: Told, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    drawn, arranged = told("draft", EXAMPLES / "saltmarsh-vee.toml", "-o", "vee.pdf").splitlines()
    assert drawn.startswith("vee.pdf: 2 pages of Letter")
    assert arranged == "Arranged on 1 page with the strips cut up, 2 pages in a grid."


@pytest.mark.parametrize(("columns", "filled"), [(20, 59), (60, 59), (72, 71), (80, 79), (100, 99), (250, 99)])
def test_the_width_is_that_of_the_terminal_within_bounds(
    columns: int, filled: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", str(columns))
    assert width() == 79
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    assert width() == filled


def test_a_path_and_a_number_stay_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    path = "/home/somebody/patterns/saltmarsh-crew-top-with-a-long-name-and-two-bindings.pdf"
    sentence = f"Written to {path}: the strip is 12 3/16 in (31.1 cm) long, true to ± 0.5 mm in 100 %."
    assert fitted(sentence) == [sentence]
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    lines = fitted(sentence)
    assert f"    {path}:" in lines
    assert " ".join(line.strip() for line in lines) == sentence
    for start in range(40, 60):
        broken = "\n".join(line.text for line in wrapped(f"{'x' * start} 12 3/16 in, 0.5 mm, 99.5 %"))
        assert not PARTED.search(broken)


def test_the_widest_sizes_fold_into_the_narrowest_table(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "60")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    row = (
        "22 plus petite W",
        "99 13/16 in (253.5 cm)",
        "99 13/16 in (253.5 cm)",
        "10 13/16 in (27.5 cm)",
        "100.5 %",
        "!",
    )
    lines = [line.text for line in _side_by_side([("size", "edge", "cut length", "cut width", "of edge", ""), row])]
    assert max(map(len, lines)) < 60
    assert [line.split() for line in lines[1:]] == [
        ["22", "plus", "99", "13/16", "in", "99", "13/16", "in", "10", "13/16", "in", "100.5", "%", "!"],
        ["petite", "W", "(253.5", "cm)", "(253.5", "cm)", "(27.5", "cm)"],
    ]


def test_a_long_name_moves_the_columns_of_curves_together_and_a_longer_one_makes_sentences(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    row = ("1", "", "5 15/16 in (15.1 cm)", "90°", "open", "35–125/41–141")
    names = ("neck", "front-neck", "front-neck-of-the-lining-of-the-top")
    in_a_pipe = [list(_rows([(*row, name)], pages=False)) for name in names]
    assert {lines[0] for lines in in_a_pipe} == {
        "curve  length                  turns            ends   from left/foot, mm"
    }
    monkeypatch.setenv("COLUMNS", "80")
    monkeypatch.setattr(sys.stdout, "isatty", lambda: True)
    usual, close, sentence = (list(_rows([(*row, name)], pages=False)) for name in names)
    assert usual == in_a_pipe[0]
    assert close == [
        "curve  length                turns ends from left/foot, mm",
        "    1  5 15/16 in (15.1 cm)  90°   open 35–125/41–141      front-neck",
    ]
    assert sentence == [
        "curve 1: 5 15/16 in (15.1 cm), turns 90°, open, from left/foot",
        "    35–125/41–141 mm, id front-neck-of-the-lining-of-the-top",
    ]
