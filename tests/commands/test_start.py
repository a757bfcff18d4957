"""This checks ``tiler start``: the dialogue, the answers that it keeps, and what it writes."""

from __future__ import annotations

import io
import json
import re
import signal
import subprocess
import sys
import time
import tomllib
from pathlib import Path

import pytest

from tiler.commands import run, start
from tiler.commands.interview.path import QUESTIONS

ROOT = Path(__file__).parents[2]

CREW = (
    "in", "neckline", "folded-band", "parts", "7 in", "4 1/4 in", "cut-edge", "3/8 in", "3/8 in", "20", "percent",
    "80 %", "5/8 in", "flat", "on-fold", "none", "Band for a neckline", "letter",
)  # fmt: skip
"""The crew neckband of the worked jobs."""

CREW_BAND = (
    "band", "--front-half", "7 in", "--back-half", "4 1/4 in", "--measured-on", "cut-edge", "--garment-allowance", "3/8 in",
    "--end-allowance", "3/8 in", "--width", "5/8 in", "--stretch", "80 %", "--ratio", "flat",
)  # fmt: skip

CUFF = """
units = "cm"
place = "cuff"
finish = "folded-band"
edge = 24
pull = "unknown"
"""


def test_a_question_names_only_pages_that_are_there() -> None:
    """This test ensures that who asks about a vee is led to the page of the guide that has one."""
    said = "\n".join(question.more for question in QUESTIONS)
    named = re.findall(r"[\w/-]+\.md", said)
    assert named == ["examples/guide/shapes.md"]
    assert "vee" in (ROOT / named[0]).read_text(encoding="utf-8")
    assert "README" not in said


class Talk:
    """A dialogue in a folder of its own: what was said, printed and written."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self.folder, self._patch, self._capsys = folder, monkeypatch, capsys
        monkeypatch.chdir(folder)
        self.out = self.err = ""

    def __call__(self, *lines: str, options: tuple[str, ...] = ()) -> int:
        self._patch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in lines)))
        code = run(["start", *options])
        self.out, self.err = self._capsys.readouterr()
        return code

    def kept(self) -> dict[str, str]:
        return tomllib.loads((self.folder / "strip.answers.toml").read_text(encoding="utf-8"))

    def files(self) -> list[str]:
        return sorted(path.name for path in self.folder.iterdir())


@pytest.fixture
def talk(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Talk:
    return Talk(tmp_path, monkeypatch, capsys)


@pytest.fixture
def undrawn(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Leave out the drawing, which costs a second; the tests that are about it draw."""
    drawn: list[Path] = []
    monkeypatch.setattr(start, "draw", lambda job, figures, output, given: drawn.append(output.path))
    return drawn


def test_answers_become_a_proved_pdf_and_a_spec_with_the_same_figures(
    talk: Talk, capsys: pytest.CaptureFixture[str]
) -> None:
    assert talk(*CREW, "yes") == 0
    assert talk.files() == ["strip.pdf", "strip.toml"]
    assert "proved true to scale" in talk.out
    shown = re.findall(r"^ .*[0-9].*(?:in|cm|%|°).*$", talk.out.partition("notches")[0], re.MULTILINE)
    assert run(["figures", "strip.toml"]) == 0
    figures = capsys.readouterr().out
    assert len(shown) > 10
    assert [line for line in shown if line not in figures] == []
    assert run(["figures", "strip.toml", "--json"]) == 0
    by_start = json.loads(capsys.readouterr().out)
    assert run([*CREW_BAND, "--json"]) == 0
    by_band = json.loads(capsys.readouterr().out)
    assert by_start == by_band
    # C: E 22.8326 in, loop 19.3905 in, by the formulas of loop and edge
    assert by_start["pieces"][0]["edge_mm"] / 25.4 == pytest.approx(22.8326, abs=5e-5)
    assert by_start["pieces"][0]["loop_mm"] / 25.4 == pytest.approx(19.3905, abs=5e-5)


def test_a_file_of_answers_asks_nothing_and_takes_usual_answers(talk: Talk, capsys: pytest.CaptureFixture[str]) -> None:
    Path("cuff.txt").write_text(CUFF, encoding="utf-8")
    assert talk(options=("--answers", "cuff.txt", "-o", "cuff.pdf", "--spec", "my cuff.toml")) == 0
    assert "\n  [" not in talk.err
    assert talk.files() == ["cuff.pdf", "cuff.txt", "my cuff.toml"]
    assert (
        Path("my cuff.toml")
        .read_text(encoding="utf-8")
        .startswith("# Draft it: tiler draft 'my cuff.toml' -o cuff.pdf --force\n")
    )
    assert run(["figures", "my cuff.toml", "--json"]) == 0
    (cuff,) = json.loads(capsys.readouterr().out)["pieces"]
    # advised, with the 50 % that are assumed: 240 / (1 + 0.25 x 0.5); a pair of cuffs
    assert cuff["loop_mm"] == pytest.approx(240 / 1.125)
    assert (cuff["name"], cuff["quantity"], cuff["finished_width_mm"]) == ("Cuff", 2, 50)


def test_figures_stand_before_the_question_and_no_draws_nothing(talk: Talk, undrawn: list[Path]) -> None:
    assert talk(*CREW, "no") == 0
    assert "10 1/16 in (25.6 cm) long from the fold" in talk.out
    assert "Nothing was drawn. Your answers are kept in strip.answers.toml" in talk.err
    assert (talk.files(), undrawn) == (["strip.answers.toml"], [])
    assert talk("yes", "yes") == 0
    assert (talk.files(), undrawn) == (["strip.toml"], [Path("strip.pdf")])


@pytest.mark.parametrize("count", [0, 1, 8, len(CREW)])
def test_the_end_of_input_loses_no_answer(talk: Talk, undrawn: list[Path], count: int) -> None:
    assert talk(*CREW[:count]) == 130
    assert undrawn == []
    if not count:
        assert talk.files() == []
        assert "There were no answers yet" in talk.err
        return
    assert list(talk.kept().values()) == list(CREW[:count])
    assert "Go on with: tiler start -o strip.pdf" in talk.err
    assert talk("yes", *CREW[count:], "yes") == 0
    assert "10 1/16 in (25.6 cm) long from the fold" in talk.out
    assert talk.files() == ["strip.toml"]


def test_ctrl_c_loses_no_answer(tmp_path: Path) -> None:
    child = subprocess.Popen(
        [sys.executable, "-m", "tiler", "start"],
        cwd=tmp_path, env={"PYTHONPATH": str(ROOT), "PATH": ""}, text=True,
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
    )  # fmt: skip
    assert child.stdin
    child.stdin.write("cm\narmhole\n")
    child.stdin.flush()
    kept = tmp_path / "strip.answers.toml"
    while child.poll() is None and not (kept.exists() and "armhole" in kept.read_text(encoding="utf-8")):
        time.sleep(0.01)
    child.send_signal(signal.SIGINT)
    out, err = child.communicate(timeout=60)
    assert (child.returncode, out) == (130, "")
    assert "Stopped. Your answers are kept in strip.answers.toml." in err
    assert "Traceback" not in err
    assert tomllib.loads(kept.read_text(encoding="utf-8")) == {"units": "cm", "place": "armhole"}
    assert [path.name for path in tmp_path.iterdir()] == [kept.name]


def test_an_answer_that_fails_while_it_is_drawn_is_kept(talk: Talk, monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupted(*_more: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(start, "draw", interrupted)
    assert talk(*CREW, "yes") == 130
    assert talk.files() == ["strip.answers.toml"]


def test_beginning_anew_forgets_what_was_kept(talk: Talk) -> None:
    assert talk("cm", "armhole") == 130
    assert talk("back", "no", "in") == 130
    assert "2 answers are kept in strip.answers.toml" in talk.err
    assert "There is no question before this one" in talk.err
    assert talk.kept() == {"units": "in"}


def test_back_goes_back_one_question_and_offers_the_answer_again(talk: Talk) -> None:
    assert talk("back", "cm", "cuff", "back", "", "french-binding", "back", "back", "armhole") == 130
    assert "This is the first question." in talk.err
    assert talk.err.count("  [cuff] > ") == 2
    # what was answered before is offered again after a way back
    assert talk.err.rstrip().rpartition("  [")[2].startswith("french-binding] >")
    assert talk.kept() == {"units": "cm", "place": "armhole", "finish": "french-binding"}


def test_back_from_the_figures_changes_the_last_answer(talk: Talk, undrawn: list[Path]) -> None:
    assert talk(*CREW, "back", "a4", "yes") == 0
    assert talk.out.count("long from the fold") == 2
    assert 'size = "a4"' in Path("strip.toml").read_text(encoding="utf-8")


def test_a_changed_answer_changes_what_is_asked_and_offered(talk: Talk) -> None:
    assert talk(*CREW[:14], *["back"] * 13, "cuff", *[""] * 1, "22 in", *[""] * 6) == 130
    after = talk.err.rpartition("Which edge gets the strip?")[2]
    assert "shoulder" not in after
    # flat means nothing on a straight edge, so the usual answer is offered instead
    assert "How long shall the strip be" in after
    assert "[flat]" not in after


def test_a_question_mark_says_more(talk: Talk) -> None:
    assert talk("?", *CREW[:4], "?") == 130
    assert "A number without a unit, such as 7 1/4, is taken in this unit." in talk.err
    assert "For instance: 7 1/4 in, 18.5 cm" in talk.err
    assert list(talk.kept().values()) == list(CREW[:4])


def test_choices_are_known_by_number_and_by_their_beginning(talk: Talk) -> None:
    assert talk("centimetres", "2", "Raw", "w") == 130
    assert talk.kept() == {"units": "cm", "place": "armhole", "finish": "raw-edge-binding", "parts": "whole"}


def test_a_wrong_answer_is_explained_and_asked_again(talk: Talk) -> None:
    assert talk("mm", "in", "necline", "", "", "", "", "0 in", "1,5 cm", "7 in") == 130
    for message in (
        '\n  "mm" is not one of the answers; ',
        '\n  "necline" is not one of the answers; did you mean neckline?',
        "\n  an answer is needed here; for instance 7 1/4 in",
        "\n  '0 in' is zero; a length here is more than zero",
        "\n  '1,5 cm' is not a length; write 1.5 cm",
    ):
        assert message in talk.err
    assert talk.kept()["front-half"] == "7 in"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('widht = "1 in"', "widht: is not a question; did you mean width?"),
        ('kind = "cuff"', "kind: is not a question; did you mean place?"),
        ("cut = true", 'cut: must be a text or a number, not true or false; write cut = "…"'),
        ('place = "cuff"', 'edge: is missing; write edge = "22 in" (How long is the whole edge?)'),
        ('units = "cm"\nplace = "cuff"', 'edge: is missing; write edge = "56 cm" (How long is the whole edge?)'),
        ('place = "cufff"', 'place: "cufff" is not one of the answers; did you mean cuff?'),
        (CUFF + 'width = "1 lb"', "width: '1 lb' has the unit lb, which is not taken here"),
        ("cuff", "write one answer a line, for instance front-half"),
    ],
)
def test_a_file_of_answers_is_refused_with_its_name_and_key(talk: Talk, text: str, message: str) -> None:
    Path("my.toml").write_text(text, encoding="utf-8")
    assert talk(options=("--answers", "my.toml")) == 2
    assert talk.err.startswith("tiler: my.toml: ")
    assert message in talk.err
    assert (talk.out, talk.files()) == ("", ["my.toml"])


def test_answers_that_nobody_asks_for_are_named(talk: Talk, undrawn: list[Path]) -> None:
    Path("my.toml").write_text(CUFF + "shoulder-slope = 20", encoding="utf-8")
    assert talk(options=("--answers", "my.toml")) == 0
    assert talk.err == "my.toml: not asked after the other answers, so left out: shoulder-slope.\n"


def test_a_missing_file_of_answers_is_named(talk: Talk) -> None:
    assert talk(options=("--answers", "my.toml")) == 2
    assert "my.toml: there is no such file" in talk.err


@pytest.mark.parametrize("name", ["strip.pdf", "strip.toml"])
def test_an_existing_file_is_refused_before_the_first_question(talk: Talk, undrawn: list[Path], name: str) -> None:
    Path(name).write_bytes(b"mine")
    assert talk(*CREW, "yes") == 7
    assert "Do you measure" not in talk.err
    assert f"{name} is there already" in talk.err
    assert Path(name).read_bytes() == b"mine"
    assert talk(*CREW, "yes", options=("--force",)) == 0


def test_the_file_of_answers_is_never_written_over(talk: Talk) -> None:
    Path("strip.toml").write_text(CUFF, encoding="utf-8")
    assert talk(options=("--answers", "strip.toml", "--force")) == 7
    assert "is the input itself" in talk.err
    assert Path("strip.toml").read_text(encoding="utf-8") == CUFF


def test_a_closed_input_is_the_end_of_input(talk: Talk, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdin", None)
    assert run(["start"]) == 130


def test_what_is_doubted_is_said_without_the_words_of_options(talk: Talk) -> None:
    assert talk(*CREW[:11], "80 %", "5/8 in", "flat", "on-fold", "elbow", "head, woman", "unknown", *CREW[16:]) == 130
    assert "The garment is not checked: measure the garment's fabric too, to know" in " ".join(talk.out.split())
    assert "--" not in talk.out + talk.err
    assert [line for line in (talk.out + talk.err).splitlines() if len(line) > 79] == []
