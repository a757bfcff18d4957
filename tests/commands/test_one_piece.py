"""This checks ``tiler band`` and ``tiler binding``: the engine of a spec, from options alone."""

from __future__ import annotations

import json
import os
import re
import shlex
from pathlib import Path

import pytest

from tests.chosen import long
from tests.specs import neckline, piece, spec, written
from tiler.commands import run
from tiler.commands.one_piece.option import PIECE
from tiler.commands.one_piece.options import FINISH, GROUPS
from tiler.draft import fabric
from tiler.draft.edge import read as stated_edge
from tiler.draft.spec import piece as piece_spec
from tiler.draft.strip import fittings as trials
from tiler.draft.strip import loop

CREW = (
    "band", "--front-half", "7 in", "--back-half", "4 1/4 in", "--measured-on", "cut-edge", "--garment-allowance", "3/8 in",
    "--end-allowance", "3/8 in", "--width", "5/8 in", "--fabric", "rib", "--stretch", "80 %", "--ratio", "flat",
)  # fmt: skip
"""The crew neckband of the worked jobs."""

CREW_SPEC = spec(
    piece(
        "Neckband",
        "5/8 in",
        neckline("7 in", "4 1/4 in", measured_on="cut-edge", garment_allowance="3/8 in", end_allowance="3/8 in"),
        fabric="rib",
        ratio="flat",
    ),
    title="Band for a neckline",
    fabrics={"rib": "80 %"},
)

ARMHOLE = (
    "binding", "--finish", "raw-edge", "--front", "21 cm", "--back", "22.5 cm", "--measured-on", "cut-edge",
    "--shoulder-slope", "22", "--width", "1 cm", "--cut", "full-loop", "--stretch", "35 %", "--join-allowance", "0.7 cm",
    "--ratio", "flat",
)  # fmt: skip
"""The armhole binding of the worked jobs."""

RICH = (
    *ARMHOLE[:-2], "--fabric", 'rib "b" \\ # 2', "--recovery", "95 %", "--thickness", "0.5 mm", "--cloth-width", "150 cm",
    "--garment-rest", "10 cm", "--garment-pulled", "14 cm", "--ratio-loop", "19 in", "--ratio-edge", "22 in",
    "--shorten", "3 mm", "--on", "fold", "--must-pass", "hand, woman", "--notch", "pocket", "4 cm", "--notch", "b", "0 cm",
    "--quantity", "3", "--trim-allowance", "1 cm", "--paper", "a4", "--margin", "8 mm", "--overlap", "12 mm",
    "--title", "Ärmel = [1] # 2", "--name", "Strip", "--units", "in",
)  # fmt: skip
"""One piece with most of what an option can state."""


def json_of(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> dict[str, object]:
    assert run([*words, "--json"]) == 0
    found: dict[str, object] = json.loads(capsys.readouterr().out)
    return found


def piece_of(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> dict[str, float]:
    (piece,) = json_of(words, capsys)["pieces"]
    return piece


def test_the_worked_crew_band(capsys: pytest.CaptureFixture[str]) -> None:
    # C: E 22.8326 in, loop 19.3905 in, cut 10.0702 x 2 in, by the formulas of loop, edge and finish
    crew = piece_of(CREW, capsys)
    assert crew["edge_mm"] / 25.4 == pytest.approx(22.8326, abs=5e-5)
    assert crew["loop_mm"] / 25.4 == pytest.approx(19.3905, abs=5e-5)
    assert crew["cut_length_mm"] / 25.4 == pytest.approx(10.0702, abs=5e-5)
    assert crew["cut_width_mm"] / 25.4 == pytest.approx(2, abs=1e-9)


def test_the_worked_armhole_binding(capsys: pytest.CaptureFixture[str]) -> None:
    # C: E 47.4095 cm, loop 42.647 cm, cut 44.047 x 3.9525 cm, turning 224 degrees
    armhole = piece_of(ARMHOLE, capsys)
    assert armhole["edge_mm"] == pytest.approx(474.095, abs=5e-3)
    assert armhole["loop_mm"] == pytest.approx(426.47, abs=5e-3)
    assert (armhole["cut_length_mm"], armhole["cut_width_mm"]) == (
        pytest.approx(440.47, abs=5e-3),
        pytest.approx(39.525, abs=5e-3),
    )
    assert (armhole["turning_deg"], armhole["quantity"]) == (224, 2)


@long
def test_options_and_a_spec_by_hand_give_the_same_figures_and_the_same_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    crew = written(CREW_SPEC, tmp_path)
    assert json_of(CREW, capsys) == json_of(("figures", str(crew)), capsys)
    assert run([*CREW, "-o", str(tmp_path / "options.pdf")]) == 0
    assert run(["draft", str(crew), "-o", str(tmp_path / "spec.pdf")]) == 0
    assert (tmp_path / "options.pdf").read_bytes() == (tmp_path / "spec.pdf").read_bytes()


@long
@pytest.mark.parametrize("words", [CREW, RICH, (*CREW, "--no-cover", "--line-weight", "1 mm")])
def test_the_saved_spec_gives_the_same_bytes_by_the_line_that_stands_above_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...]
) -> None:
    pdf, spec = tmp_path / "piece.pdf", tmp_path / "piece.toml"
    assert run([*words, "-o", str(pdf), "--save-spec", str(spec)]) == 0
    line = spec.read_text(encoding="utf-8").splitlines()[0]
    found = re.fullmatch(r"# Draft it: tiler draft piece\.toml -o piece\.pdf(.*)", line)
    assert found
    again = tmp_path / "again.pdf"
    more = [word.strip('"') for word in re.findall(r'"[^"]*"|\S+', found[1])]
    assert run(["draft", str(spec), "-o", str(again), *more]) == 0
    assert pdf.read_bytes() == again.read_bytes()
    capsys.readouterr()
    assert json_of(words, capsys) == json_of(("figures", str(spec)), capsys)


@long
def test_the_line_above_a_saved_spec_works_in_its_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """This test ensures that names with blanks, other folders and a PDF that is there already are no hindrance."""
    (tmp_path / "my specs").mkdir()
    monkeypatch.chdir(tmp_path)
    assert run(["band", "--edge", "9 in", "--width", "1 in", "--kind", "straight", "--line-weight", "1 mm",
                "-o", "my band.pdf", "--save-spec", "my specs/my band.toml"]) == 0  # fmt: skip
    before = (tmp_path / "my band.pdf").read_bytes()
    line = (tmp_path / "my specs/my band.toml").read_text(encoding="utf-8").splitlines()[0]
    monkeypatch.chdir(tmp_path / "my specs")
    assert run(shlex.split(line.partition(": tiler ")[2])) == 0
    assert (tmp_path / "my band.pdf").read_bytes() == before
    assert len(list(tmp_path.rglob("*"))) == 3


def test_a_saved_spec_explains_each_of_its_keys(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    spec = tmp_path / "piece.toml"
    assert run([*RICH, "--save-spec", str(spec)]) == 0
    assert str(spec) in capsys.readouterr().out
    keys = [
        line for line in spec.read_text(encoding="utf-8").splitlines() if " = " in line and not line.startswith("#")
    ]
    assert [line for line in keys if "  # " not in line and not line.startswith(("ratio", "trials"))] == []


def test_figures_come_first_then_the_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pdf = tmp_path / "crew.pdf"
    assert run([*CREW, "-o", str(pdf)]) == 0
    told = capsys.readouterr()
    assert "Neckband: folded band" in told.out
    assert told.out.index("10 1/16 in (25.6 cm) long from the fold") < told.out.index("proved true to scale")
    assert told.err == ""


def test_without_an_output_nothing_is_written(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(list(CREW)) == 0
    assert "proved" not in capsys.readouterr().out
    assert list(tmp_path.iterdir()) == []


def test_json_of_a_drawn_piece_is_that_of_draft(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pdf = tmp_path / "crew.pdf"
    found = json_of((*CREW, "-o", str(pdf)), capsys)
    assert list(found) == ["file", "title", "paper", "pages", "arrangement", "pieces", "proof"]
    assert (found["file"], found["proof"]["verdict"]) == (str(pdf), "true-to-scale")


@pytest.mark.parametrize("option", ["-o", "--save-spec"])
def test_an_existing_file_is_kept_until_force(tmp_path: Path, capsys: pytest.CaptureFixture[str], option: str) -> None:
    kept = tmp_path / "kept.pdf"
    kept.write_bytes(b"mine")
    kept.chmod(0o600)
    assert run([*CREW, option, str(kept)]) == 7
    told = capsys.readouterr()
    assert (told.out, kept.read_bytes()) == ("", b"mine")
    assert "--force" in told.err
    assert run([*CREW, option, str(kept), "--force"]) == 0
    assert kept.read_bytes() != b"mine"
    assert os.name == "nt" or kept.stat().st_mode & 0o177 == 0
    kept.chmod(0o400)
    assert run([*CREW, option, str(kept), "--force"]) == 7
    assert "is read-only" in capsys.readouterr().err


def test_one_name_for_both_files_is_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    name = str(tmp_path / "both.pdf")
    assert run([*CREW, "-o", name, "--save-spec", name]) == 7
    assert "name two files" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


STRAIGHT = ("band", "--kind", "straight", "--edge", "22 in", "--width", "1 in")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ((*CREW[:2], "1,5 cm", *CREW[3:]), "--front-half: '1,5 cm' is not a length; write 1.5 cm"),
        (("band", "--edge", "22 in", "--width", "1 in"), '--kind: is missing; write "neckline" or "armhole" or'),
        (("band", "--whole", "0 in", "--kind", "straight", "--width", "1 in"), "--whole: '0 in' is zero"),
        (("band", "--edge", "0 in", "--kind", "straight", "--width", "1 in"), "--edge: '0 in' is zero"),
        (("band", "--edge=0 in", "--kind", "straight", "--width", "1 in"), "--edge: '0 in' is zero"),
        (("band", "--edge", "22 in"), '--width: is missing; write --width "1/2 in", or --cut-width'),
        (("band", "--kind", "neckline", "--width", "1 in"), 'write --front-half "18 cm", or --edge for the edge in one'),
        ((*STRAIGHT, "--ratio", "flat"), '--ratio: "flat" means nothing on a straight edge; write "advised", "usual", a percentage'),
        ((*STRAIGHT, "--loop", "19 in", "--ratio", "80 %"), "--loop: contradicts --ratio; give only one of them"),
        ((*STRAIGHT, "--ratio", "80 %", "--ratio-loop", "19 in"), "--ratio-loop: contradicts --ratio; give only one"),
        ((*STRAIGHT, "--ratio-loop", "19 in"), '--ratio-edge: is missing; write --ratio-edge "22 in"'),
        ((*STRAIGHT, "--body-ease", "-2 %"), '--body: is missing; write --body "17.5 cm"'),
        ((*STRAIGHT, "--turning", "90"), '--turning: has no meaning for a straight edge; write --kind "curved"'),
        ((*STRAIGHT, "--fabric", "rib"), '--stretch: is missing; write --stretch "60 %", or --rest "4 in" and --pulled'),
        ((*STRAIGHT, "--fabric", "a: [b].c", "--stretch", "5 lb"), "--stretch: '5 lb' is not a percentage"),
        ((*STRAIGHT, "--garment-rest", "5 in"), '--garment-pulled: is missing; write --garment-stretch "60 %", or'),
        ((*STRAIGHT, "--must-pass", "9 in"), "--must-pass: needs the stretch of the strip; give --stretch"),
        ((*STRAIGHT, "--must-pass", "elbow"), '--must-pass: "elbow" is not known; write a length, "head, 0 months"'),
        ((*STRAIGHT, "--notch", "far", "99 in"), "--notch: 99 in (251.5 cm) lies outside the strip"),
        ((*STRAIGHT, "--shorten", "99 in", "--on", "fold"), "--shorten: nothing is left of a strip of"),
        ((*STRAIGHT, "--shorten", "1 in"), '--on: is missing; write --on "fold" when it was measured on the folded strip, or --on "loop"'),
        ((*STRAIGHT, "--on", "fold"), '--shorten: is missing; write --shorten "3/16 in", or --lengthen'),
        ((*CREW, "--kind", "armhole"), "an armhole edge measured as --front and --back; give --front and --back"),
        ((*STRAIGHT, "--quantity", "two"), "--quantity: must be a whole number, not a text"),
        ((*STRAIGHT, "--quantity", "1000"), "--quantity: must be a whole number from 1 to 999"),
        ((*STRAIGHT, "--corner", "mitre"), "measure --neck-width and --front-depth, or --point-angle, or leave --corner out"),
        ((*STRAIGHT, "--end-allowance", "1 in"), "leave it out with --edge"),
        ((*STRAIGHT, "--paper", "a5"), '--paper: "a5" is not known; known are letter, a4'),
        ((*STRAIGHT, "--title", " "), "--title: is empty"),
        ((*STRAIGHT, "--units", "mm"), '--units: "mm" is not known'),
        ((*STRAIGHT, "--garment-fabric", "knit", "--stretch", "9 %", "--garment-stretch", "9 %"), "--garment-stretch: contra"),
        (("band", "--kind", "straight", "--edge", "22", "--width", "1"), "--units: no length says its unit"),
        (("binding", "--edge", "22 in"), "--finish: is missing; write double-fold, french, raw-edge or fold-over-elastic"),
        (("binding", "--finish", "french-bindng"), '--finish: "french-bindng" is not known; did you mean french?'),
        (("binding", "--finish", "folded-band"), "--finish: a folded-band is not a binding; for one there is tiler band"),
    ],
)  # fmt: skip
def test_a_message_names_the_option_as_it_was_typed(
    capsys: pytest.CaptureFixture[str], words: tuple[str, ...], message: str
) -> None:
    assert run(list(words)) == 2
    told = capsys.readouterr()
    assert told.out == ""
    assert message in told.err
    assert "pieces[0]" not in told.err
    assert "options:" not in told.err


def test_a_paper_that_cannot_be_is_said_of_its_option(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([*CREW, "--overlap", "5 mm", "-o", str(tmp_path / "out.pdf")]) == 2
    assert "--overlap: 5 mm is less than a register mark plus 2 mm" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_warnings_speak_of_options(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["binding", "--finish", "french", "--front", "8 in", "--back", "9 in", "--width", "1/4 in", "--cover", "0",
                "--stretch", "40 %", "--must-pass", "hand, woman"]) == 0  # fmt: skip
    chart = " ".join(capsys.readouterr().out.split())
    assert 'write --cover "1/8 in".' in chart
    assert "give --garment-stretch to know whether it opens" in chart
    assert run(["band", "--front", "8 in", "--back", "9 in", "--width", "1/4 in"]) == 0
    assert "measure the fabric and give --stretch." in " ".join(capsys.readouterr().out.split())


@pytest.mark.parametrize("point", [("--neck-width", "7 in", "--front-depth", "8 in"), ("--point-angle", "47.26")])
def test_a_vee_may_be_measured_with_a_tape(capsys: pytest.CaptureFixture[str], point: tuple[str, ...]) -> None:
    words = (
        "band",
        "--front-half",
        "8 3/4 in",
        "--back-half",
        "3 3/4 in",
        *point,
        "--corner",
        "mitre",
        "--width",
        "1/2 in",
    )
    vee = piece_of((*words, "--stretch", "60 %"), capsys)
    # C: phi = 180 - 2 atan(3.5 / 8); a mitre of 1/4 in allowance is longest at the raw edges, by 1/4 (tan(phi / 2) + 1 / sin)
    beyond = vee["cut_length_mm"] - vee["loop_mm"] / 2
    assert beyond / 25.4 == pytest.approx(0.25 * 8 / 3.5 + 0.25 * 8.7321 / 3.5, abs=1e-3)


def test_what_was_typed_is_never_taken_for_a_key(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("binding", "--finish", "raw-edge", "--front", "8 in", "--back", "9 in", "--width", "1/4 in")
    for name in ("cut-width", 'whole = "1"', "name its fabric"):
        assert run([*words, "--stretch", "2 %", "--fabric", name]) == 0
        assert f"of the stretch of {name} (" in " ".join(capsys.readouterr().out.split())
    for more, message in (
        (("--cut", "front-half"), '--cut: "front-half" is not known; '),
        (("--garment-stretch", "cut-width"), "--garment-stretch: 'cut-width' is not a percentage"),
        (("--must-pass", "neck-width"), '--must-pass: "neck-width" is not known'),
        (("--stretch", "5 %", "--garment-stretch", "or fits"), "--garment-stretch: 'or fits' is not a percentage"),
    ):
        assert run([*words, *more]) == 2
        assert message in capsys.readouterr().err


@pytest.mark.parametrize(
    ("words", "kind", "unit"),
    [
        (("--front-half", "18 cm", "--back-half", "11 cm"), "neckline", "cm"),
        (("--front", "210 mm", "--back", "22.5 cm"), "armhole", "cm"),
        (("--front", '8"', "--back", "9 in"), "armhole", "in"),
        (("--kind", "straight", "--edge", "1 yd"), "straight", "in"),
        (("--shape", "scoop", "--neck-width", "7″", "--front-depth", "3 in", "--back-depth", "1 in"), "neckline", "in"),
        (("--kind", "straight", "--edge", "24", "--units", "cm"), "straight", "cm"),
        (("--kind", "straight", "--edge", "24 cm", "--units", "in"), "straight", "in"),
    ],
)
def test_kind_and_unit_follow_from_what_was_measured(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], words: tuple[str, ...], kind: str, unit: str
) -> None:
    spec = tmp_path / "piece.toml"
    assert run(["band", *words, "--width", "1/2 in", "--save-spec", str(spec)]) == 0
    text = spec.read_text(encoding="utf-8")
    assert f'kind = "{kind}"' in text
    assert f'units = "{unit}"' in text
    # the unit of the edge stands first in the chart
    assert re.search(rf"finished width +[^ ]+ {unit} \(", capsys.readouterr().out)


def test_strip_and_garment_of_one_cloth(capsys: pytest.CaptureFixture[str]) -> None:
    words = (*CREW, "--must-pass", "20 in", "--garment-fabric", "rib")
    opening = piece_of(words, capsys)["opening"]
    # strip and garment stretch alike, so the shorter of the two, the strip, decides
    assert opening["limited_by"] == "strip"
    assert not any("not checked" in text for text in piece_of(words, capsys)["warnings"])


@pytest.mark.parametrize("command", ["band", "binding"])
def test_the_help_is_grouped_and_holds_no_capitals_of_code(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([command, "--help"]) == 0
    text = capsys.readouterr().out
    assert [heading for heading in (*GROUPS, "File") if f"\n{heading}:\n" not in text] == []
    assert ("--cover" in text, "--seam-allowance" in text) == (command == "binding", command == "band")
    assert "on-fold|full-loop" in text
    assert all(len(line) <= 80 for line in text.splitlines())


def test_a_bare_call_shows_the_help(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["band"]) == 2
    assert "Edge, as measured:" in capsys.readouterr().err


def test_every_key_of_a_spec_has_an_option_or_belongs_to_a_written_spec() -> None:
    stated = {option.place for options in GROUPS.values() for option in options} | {FINISH.place}
    piece = {place[2] for place in stated if place[:2] == PIECE}
    edge = {place[3] for place in stated if place[:3] == (*PIECE, "edge")}
    # --ends says that a strip is open
    assert set(piece_spec.KEYS) - piece == {"child", "closed", "view"}
    # the side on which the garment lies is told of a drawing, which only a spec can name
    assert set(stated_edge.KEYS) - edge == {"garment"}
    assert set(loop.KEYS) - piece == set()
    assert set(fabric.KEYS) - {place[1] for place in stated if place[0] == "strip"} == set()
    assert set(trials.KEYS) - {place[4] for place in stated if place[:3] == (*PIECE, "trials")} == {"note", "date"}
