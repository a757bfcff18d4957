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

from tests.chosen import each, long
from tiler.commands import run, start
from tiler.commands.interview.path import QUESTIONS

ROOT = Path(__file__).parents[2]

CREW = (
    "in", "neckline", "folded-band", "allowance", "parts", "cut-edge", "3/8 in", "7 in", "4 1/4 in", "3/8 in", "percent",
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


@long
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


def test_of_elastic_there_is_a_spec_and_no_piece(talk: Talk, undrawn: list[Path]) -> None:
    elastic = CUFF.replace("folded-band", "fold-over-elastic")
    Path("cuff.txt").write_text(elastic, encoding="utf-8")
    assert talk(options=("--answers", "cuff.txt", "-o", "cuff.pdf")) == 0
    assert (talk.files(), undrawn) == (["cuff.toml", "cuff.txt"], [])
    assert "Only a length is cut, so there is no piece to draw; tiler chart prints it." in talk.out
    text = Path("cuff.toml").read_text(encoding="utf-8")
    assert text.startswith("# How long it is cut: tiler figures cuff.toml\n")


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


@long
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
    assert talk(*CREW[:14], *["back"] * 13, "cuff", *[""] * 3, "22 in", *[""] * 6) == 130
    after = talk.err.rpartition("Which edge gets the strip?")[2]
    assert "shoulder" not in after
    # flat means nothing on a straight edge, so the usual answer is offered instead
    assert "How long shall the strip be" in after
    assert "[flat]" not in after


@pytest.mark.parametrize("more", ["?", "help", "Help"])
def test_a_question_says_more(talk: Talk, more: str) -> None:
    assert talk(more, *CREW[:7], more) == 130
    assert "A number without a unit, such as 7 1/4, is taken in this unit." in talk.err
    assert "For instance: 7 1/4 in, 18.5 cm" in talk.err
    assert list(talk.kept().values()) == list(CREW[:7])


def test_choices_are_known_by_number_and_by_their_beginning(talk: Talk) -> None:
    assert talk("centimetres", "3", "Raw", "2", "w") == 130
    assert talk.kept() == {
        "units": "cm",
        "place": "armhole",
        "finish": "raw-edge-binding",
        "replaces": "unknown",
        "parts": "whole",
    }


def test_a_wrong_answer_is_explained_and_asked_again(talk: Talk) -> None:
    assert talk("mm", "in", "necline", *[""] * 7, "0 in", "1,250 cm", "73/8", "7 in") == 130
    for message in (
        '\n  "mm" is not one of the answers; ',
        '\n  "necline" is not one of the answers; did you mean neckline?',
        "\n  an answer is needed here; for instance 7 1/4 in",
        "\n  '0 in' is zero; a length here is more than zero",
        "\n  '1,250 cm' is not a length; write 1.250 cm or 1250 cm",
        "\n  '73/8 in' has a fraction over 1: 7 3/8? Then write it so",
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


def test_what_was_typed_otherwise_is_read_back(talk: Talk) -> None:
    assert talk("cm", "1", *[""] * 5, "18,5", "9.5", "0,8", "percent", "80", "", "0,9") == 130
    for understood in (
        "\n  neckline\n", "\n  18.5 cm\n", "\n  9.5 cm; whole neckline 56.0 cm (22 1/16 in)\n",
        "\n  0.8 cm; whole neckline 52.8 cm (20 13/16 in)\n", "\n  80 %\n", "\n  90 %\n",
    ):  # fmt: skip
        assert understood in talk.err
    kept = talk.kept()
    assert [kept[key] for key in ("front-half", "end-allowance", "stretch", "ratio")] == [
        "18.5 cm",
        "0.8 cm",
        "80 %",
        "90 %",
    ]
    # what was typed as it is understood, or taken as offered, is not repeated
    assert "\n  cm\n" not in talk.err
    assert "\n  parts\n" not in talk.err


def test_the_advised_range_is_shown_before_the_length_is_asked_for(talk: Talk) -> None:
    assert talk(*CREW[:13]) == 130
    asked = " ".join(talk.err.partition("How long shall the strip be?")[2].split())
    # E 22.8326 in, W 0.625 in x 280 degrees: (E - W/2) / (1 + 0.25 x 0.8), E / (1 + 0.6 x 0.8), the worked job's flat loop
    assert "Advised: 17¾ in (45.1 cm), 77.8 % of the edge;" in asked
    assert "good from 15 7/16 in (39.2 cm), 60 % of the stretch, to 19⅜ in (49.3 cm), longest that lies flat" in asked


@pytest.mark.parametrize(
    ("line", "at"),
    each(
        ["front-half 7 1/2 in", "front half 7 1/2", "front = 7 1/2 in", "FR 7,5", "front-half=7 1/2 in"],
        [9, 13, len(CREW)],
    ),
)
def test_an_earlier_answer_is_corrected_by_its_name_in_one_line(
    talk: Talk, undrawn: list[Path], line: str, at: int
) -> None:
    assert talk(*CREW[:at], line, *CREW[at:], "yes") == 0
    assert "front-half = 7" in talk.err
    spec = tomllib.loads(Path("strip.toml").read_text(encoding="utf-8"))
    edge = spec["pieces"][0]["edge"]
    assert (edge["front-half"], edge["back-half"]) == (("7.5 in" if "," in line else "7 1/2 in"), "4 1/4 in")


def test_a_name_alone_goes_to_its_question_and_back_where_one_was(talk: Talk, undrawn: list[Path]) -> None:
    assert talk(*CREW[:13], "width", "3/4 in", *CREW[13:], "pap", "a4", "yes") == 0
    assert "[5/8 in] > 3/4 in" in talk.err
    spec = Path("strip.toml").read_text(encoding="utf-8")
    assert 'finished-width = "3/4 in"' in spec
    assert 'size = "a4"' in spec


def test_a_correction_keeps_what_still_fits_and_asks_the_rest(talk: Talk, undrawn: list[Path]) -> None:
    assert talk(*CREW, "place = cuff", "22 in", "", "yes") == 0
    assert "Asked again, since it no longer fits: ratio." in talk.err
    after = talk.err.partition("place = cuff")[2]
    assert re.findall(r"\(([a-z-]+)\)\n", after) == ["edge", "ratio"]
    assert tomllib.loads(Path("strip.toml").read_text(encoding="utf-8"))["pieces"][0]["edge"] == {
        "kind": "straight", "whole": "22 in", "garment-allowance": "3/8 in",
    }  # fmt: skip


def test_a_wrong_correction_changes_nothing(talk: Talk) -> None:
    assert talk(*CREW[:13], "width wide", "turning 20", "f 7 in") == 130
    assert "width: 'wide' is not a length" in talk.err
    # neither a question that does not arise nor a name that several answers share
    assert "'turning 20' is not a percentage" in talk.err
    assert "'f 7 in' is not a percentage" in talk.err
    assert list(talk.kept().values()) == list(CREW[:13])


def test_what_is_not_asked_for_is_given_by_its_name(talk: Talk, undrawn: list[Path]) -> None:
    assert talk(*CREW, "shorten 1/8", "", "shoulder-slope 25", "nonsense", "yes") == 0
    assert (
        "By name you can add: shoulder-slope, sits (stands up or turned over), elastic, ends (no ring), shorten or lengthen (after a fitting), cloth-width (and section, where it is joined)."
        in " ".join(talk.err.split())
    )
    assert '"nonsense" is not one of the answers; write yes, no, or the name of an answer' in " ".join(talk.err.split())
    piece = tomllib.loads(Path("strip.toml").read_text(encoding="utf-8"))["pieces"][0]
    assert piece["trials"] == [{"shorten": "1/8 in", "on": "fold"}]
    assert piece["edge"]["shoulder-slope"] == "25"


def test_a_title_may_begin_with_a_name(talk: Talk) -> None:
    assert talk(*CREW[:16], "Width of a band", "title = Neck = wide", "width = 1/2 in") == 130
    assert (talk.kept()["title"], talk.kept()["width"]) == ("Neck = wide", "1/2 in")


def test_answers_are_listed_and_quit_keeps_them(talk: Talk) -> None:
    assert talk("answers", *CREW[:3], "answers", "quit") == 130
    assert "There are no answers yet." in talk.err
    assert "\n  place              neckline\n" in talk.err
    assert "Stopped. Your answers are kept in strip.answers.toml." in talk.err
    assert list(talk.kept().values()) == list(CREW[:3])


def test_back_is_a_word_and_a_name(talk: Talk) -> None:
    assert talk("in", "armhole", *[""] * 5, "8 in", "9 in", "back = 8 3/4 in", "back", "9 1/4") == 130
    assert talk.kept()["back"] == "9 1/4 in"
    assert "back = 8 3/4 in; whole armhole 16" in talk.err


ASKED = "Is that right? Enter keeps it; or type the right one, or another's name."


def test_a_doubt_is_asked_about_once_right_after_its_answer(talk: Talk) -> None:
    """This test ensures that wholes given as halves are noticed at once, and kept where they are meant."""
    assert talk(*CREW[:7], "14 in", "8 1/2 in", "", "", "percent", "300", "30", "") == 130
    said = " ".join(talk.err.split())
    assert said.count(ASKED) == 2
    assert "wholes were not given as halves" in said.partition("(end-allowance)")[0]
    assert "knit stretches by 300 %" in said
    assert (talk.kept()["back-half"], talk.kept()["stretch"]) == ("8 1/2 in", "30 %")


def test_a_doubt_may_be_answered_by_another_name(talk: Talk) -> None:
    assert talk(*CREW[:7], "4 in", "9 1/4 in", "front-half 9 in", "back-half 6 in", "") == 130
    assert talk.err.count(ASKED) == 2
    assert (talk.kept()["front-half"], talk.kept()["back-half"]) == ("9 in", "6 in")


def test_ordinary_numbers_are_not_doubted(talk: Talk) -> None:
    assert talk(*CREW) == 130
    assert ASKED not in talk.err
