"""The other edges from options and answers: what a spec says, and nothing else."""

from __future__ import annotations

import json
import tomllib
from typing import Any

import pytest

from tests.commands.test_start_piece import answers_of
from tests.specs import Table, neckline, piece, spec, straight, table
from tiler.commands import run
from tiler.commands.interview.path import QUESTIONS
from tiler.commands.interview.piece import judged, started_piece
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables

NECK = ("--front-half", "6 7/8 in", "--back-half", "3 1/2 in", "--width", "2 1/2 in", "--stretch", "80 %")


def _apart(one: Any) -> Any:
    """Leave out where the words of options and of a spec differ."""
    return one | {"ratio": one["ratio"] | {"source": ""}, "warnings": len(one["warnings"]), "failed": "failed" in one}


def of_options(words: tuple[str, ...], capsys: pytest.CaptureFixture[str]) -> Any:
    assert run([*words, "--json"]) == 0
    return [_apart(one) for one in json.loads(capsys.readouterr().out)["pieces"]]


def of_spec(one: Table, **keys: Any) -> Any:
    return [_apart(figures.to_json()) for figures in figure_job(read_tables(tomllib.loads(spec(one, **keys)), "spec:"))]


STRAIGHT = ("--kind", "straight", "--edge", "20 in", "--width", "1 in")
PARTS = ("--kind", "neckline", "--part", "front", "14 in", "--part", "back", "7 in", "--width", "1/2 in")
BUTTONS = ("--buttons", "5", "--first-button", "1 in", "--last-button", "1 in", "--button-width", "1/2 in")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("band", *STRAIGHT, *BUTTONS), '--buttons: close a strip that is open; write --ends "turned" as well'),
        (("band", *STRAIGHT, "--ends-allowance", "1 in"), 'write --ends "turned" as well, or leave it out'),
        (("band", *STRAIGHT, "--free-before", "8 in"), 'strip with two ends; write --ends "turned" as well'),
        (("band", *STRAIGHT, "--ends", "turned", *BUTTONS, "--last-button", "19 in"), "and --first-button of 1 in"),
        (("band", *PARTS, "--front-half", "7 in"), "--front-half: contradicts --part; give the whole edge in only one"),
        (("band", *PARTS, "--front-ratio", "90 %"), 'in a spec, write ratio = "95 %" beside its name'),
        (("band", *PARTS, "--point-angle", "50"), "in a spec, write corners = [90] beside its name"),
        (("band", *PARTS[:3], "", *PARTS[4:]), '--part: is empty; write "front"'),
        (("band", *PARTS, "--notch", "", "1 in"), '--notch: is empty; write "pocket"'),
        (("band", *PARTS, "--name", ""), '--name: is empty; write --name "Neckband"'),
        (("binding", "--finish", "french", *STRAIGHT, "--cut-on", "bias"), "10 to 15 % on its bias; give --stretch"),
        (("binding", "--finish", "french", *STRAIGHT, "--stands"), '"--stands" is for bands: leave it out, or take ti'),
        (("binding", "--finish", "french", *STRAIGHT, "--form", "contour"), '"--form" is for bands: leave it out, or'),
        (
            ("band", *STRAIGHT, "--cut-on", "bias"),
            '"--cut-on" is for bindings: leave it out, or take tiler binding; se',
        ),
        (("band", *STRAIGHT, "--standing"), '"--standing" is not an option of tiler band; did you mean "--stands"?'),
    ],
)
def test_what_does_not_go_together_is_said_of_options(
    words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(words) == 2
    out, err = capsys.readouterr()
    assert (out, err.count("\n")) == ("", 1)
    assert said in err


def test_a_collar(capsys: pytest.CaptureFixture[str]) -> None:
    stated = piece("Neckband", "2 1/2", neckline("6 7/8", "3 1/2"), stands=True, turned_over=True, fabric="knit")
    found = of_options(("band", *NECK, "--stands", "--turned-over"), capsys)
    assert found == of_spec(stated, fabrics={"knit": "80 %"})
    assert found[0]["standing"] == "turned-over"
    assert of_options(("band", *NECK, "--stands"), capsys)[0]["standing"] == "stands"
    assert run(["band", *NECK, "--turned-over"]) == 2
    assert "--turned-over: is for a band that stands up; write --stands as well" in capsys.readouterr().err
    (figures,) = started_piece(answers_of(sits="turned-over")).figures
    assert (figures.standing.value, figures.finished_width_mm) == ("turned-over", pytest.approx(2.5 * 25.4))


def test_parts(capsys: pytest.CaptureFixture[str]) -> None:
    named = [("half back", "3 in"), ("front", "11 in"), ("half back", "3 in")]
    edge = {"kind": "neckline", "parts": [{"name": name, "length": length} for name, length in named]}
    words = tuple(word for one in named for word in ("--part", *one))
    found = of_options(("band", "--kind", "neckline", *words, "--width", "1/2", "--stretch", "80 %"), capsys)
    assert found == of_spec(piece("Neckband", "1/2", edge, fabric="knit"), fabrics={"knit": "80 %"})
    assert run(["band", "--kind", "neckline", *words[:3], "--width", "1/2"]) == 2
    assert "--part: has 1 part" in capsys.readouterr().err
    (figures,) = started_piece(
        answers_of(parts="list", part="half back 3; front 11 in; half back 3", width="1/2")
    ).figures
    assert [(part.name, part.edge_mm) for part in figures.edge.parts] == [
        (name, pytest.approx(float(length.split()[0]) * 25.4)) for name, length in named
    ]
    assert figures.cut.value == "on-fold"
    assert started_piece(answers_of(parts="list", part="front 11; back 7")).figures[0].cut.value == "full-loop"


def test_parts_that_turn_by_themselves(capsys: pytest.CaptureFixture[str]) -> None:
    parts = [
        table(name="right front", length="56 cm", turning="0 deg", ratio="99 %"),
        table(name="back neck", length="18.5 cm", turning=90),
        table(name="left front", length="56 cm", turning="0"),
    ]
    words = ("--part", "right front", "56 cm, 0 deg, 99 %", "--part", "back neck", "18.5 cm, 90", "--part",
             "left front", "56 cm,0")  # fmt: skip
    found = of_options(
        ("band", "--kind", "curved", *words, "--width", "2 cm", "--stretch", "70 %", "--ends", "raw"), capsys
    )
    stated = piece("Band", "2 cm", table(kind="curved", parts=parts), fabric="knit", closed=False, ends="raw")
    assert found == of_spec(stated, units="cm", fabrics={"knit": "70 %"})
    answers = answers_of(units="cm", place="curved", parts="list", ends="raw", width="2",
                         part="right front 56, 0 deg, 99 %; back neck 18,5, 90; left front 56 cm, 0")  # fmt: skip
    # of parts that all say how far they turn nobody asks it again
    assert "turning" not in answers
    (figures,) = started_piece(answers).figures
    assert [part.edge_mm for part in figures.edge.parts] == [pytest.approx(one) for one in (560, 185, 560)]
    assert figures.edge.turning_deg == pytest.approx(90)
    # an angle without its unit is one all the same, and the strip is mirrored without the ratio of the first part
    mirrored = answers_of(units="cm", place="curved", parts="list", part="a 56, 0 deg; b 18, 90; c 56 cm, 0")
    assert (mirrored["cut"], answers["cut"]) == ("on-fold", "full-loop")
    # nor, of parts that all have a share of their own, how long the strip shall be
    shares = answers_of(place="curved", parts="list", part="front 14, 30 deg, 90 %; back 7, 60 deg, 80 %")
    assert "ratio" not in shares
    assert started_piece(shares).figures[0].loop_mm / 25.4 == pytest.approx(14 * 0.9 + 7 * 0.8)
    assert "turning" in answers_of(place="curved", parts="list", part="front 14, 30 deg; back 7")
    for wrong, said in (("56 cm, wide", "'wide' is not an angle"), ("56 cm, 0, 300 %", "'300 %' is out of range")):
        assert run(["band", "--kind", "curved", *words[:2], wrong, *words[3:], "--width", "2 cm"]) == 2
        assert f"--part: {said}" in capsys.readouterr().err


def test_a_leg_opening(capsys: pytest.CaptureFixture[str]) -> None:
    edge = {
        "kind": "leg",
        "front": "10 in",
        "back": "12 in",
        "turning": "100",
        "front-ratio": "95 %",
        "back-ratio": "86 %",
    }
    own = ("--front", "10 in", "--back", "12 in", "--turning", "100", "--front-ratio", "95 %", "--back-ratio", "86 %")
    found = of_options(
        ("binding", "--finish", "raw-edge", "--kind", "leg", *own, "--width", "3/8", "--stretch", "50 %"), capsys
    )
    assert found == of_spec(
        piece("Leg binding", "3/8", edge, "raw-edge-binding", fabric="knit"), fabrics={"knit": "50 %"}
    )
    answers = answers_of(
        place="leg-opening", front="10 in", back="12 in", turning="100", front_ratio="95", back_ratio="86 %"
    )
    (figures,) = started_piece(answers).figures
    assert [part.strip_mm / 25.4 for part in figures.edge.parts] == [pytest.approx(9.5), pytest.approx(10.32)]
    assert (figures.name, figures.quantity) == ("Leg band", 2)


def test_elastic(capsys: pytest.CaptureFixture[str]) -> None:
    words = (
        "band",
        "--kind",
        "straight",
        "--edge",
        "30 in",
        "--stretch",
        "50 %",
        "--elastic",
        "3/8 in",
        "--elastic-ratio",
        "85 %",
    )
    stated = piece(
        "Band",
        None,
        {"kind": "straight", "whole": "30 in"},
        fabric="knit",
        elastic={"width": "3/8 in", "ratio": "85 %"},
    )
    assert of_options(words, capsys) == of_spec(stated, fabrics={"knit": "50 %"})
    assert run([*words, "--width", "3/8 in"]) == 2
    assert "--width: leaves no room for elastic of ⅜ in" in capsys.readouterr().err
    (figures,) = started_piece(answers_of(place="waist", elastic="1 cm", elastic_ratio="80", units="cm")).figures
    assert (figures.elastic.cut_mm, figures.finished_width_mm) == (
        pytest.approx(0.8 * 22 * 25.4 + 20),
        pytest.approx(12),
    )


def test_an_open_strip_with_buttons(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("band", "--kind", "straight", "--edge", "24 in", "--width", "1 in", "--stretch", "50 %", "--ends", "raw",
             "--buttons", "5", "--first-button", "3/4 in", "--last-button", "1/2 in", "--button-width", "1/2 in",
             "--buttonholes", "along")  # fmt: skip
    own = {"count": 5, "first": "3/4 in", "last": "1/2 in", "diameter": "1/2 in", "direction": "along"}
    stated = piece("Band", "1 in", straight("24 in"), fabric="knit", closed=False, ends="raw", buttons=own)
    assert of_options(words, capsys) == of_spec(stated, fabrics={"knit": "50 %"})
    assert run([*words, "--ends-allowance", "1/2 in", "--join-at", "CB"]) == 2
    assert "--join-at: says where a ring is joined" in capsys.readouterr().err
    answers = answers_of(place="straight", edge="24 in", ends="raw", width="1 in", buttons="5", first_button="3/4 in",
                         last_button="1/2 in", button_width="1/2 in")  # fmt: skip
    (figures,) = started_piece(answers).figures
    assert figures.buttons.apart_mm == pytest.approx((24 - 1.25) / 4 * 25.4)
    assert (figures.ends.value, figures.cut.value) == ("raw", "full-loop")
    # called by its name before the width is known, it is not measured against a band of no width
    known = {key: answers[key] for key in list(answers)[: list(answers).index("width")]}
    (buttons,) = (question for question in QUESTIONS if question.key == "buttons")
    assert judged(buttons, "7", known) == "7"


def test_ties(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("binding", "--finish", "double-fold", "--kind", "straight", "--edge", "24 in", "--width", "3/8 in", "--stretch",
             "50 %", "--ends", "turned", "--free-before", "8 in", "--free-after", "8 in")  # fmt: skip
    edge = straight("24 in", before="8 in", after="8 in")
    stated = piece("Binding", "3/8 in", edge, "double-fold-binding", fabric="knit", closed=False, ends="turned")
    assert of_options(words, capsys) == of_spec(stated, fabrics={"knit": "50 %"})
    (figures,) = started_piece(
        answers_of(place="straight", edge="24 in", ends="turned", free_before="8", free_after="10")
    ).figures
    assert (figures.runs_on.before_mm / 25.4, figures.runs_on.after_mm / 25.4) == (pytest.approx(8), pytest.approx(10))


def test_the_bias(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("binding", "--finish", "double-fold", "--kind", "straight", "--edge", "24 in", "--width", "1/4 in", "--stretch",
             "12 %", "--cut-on", "bias", "--cloth-width", "45 in")  # fmt: skip
    stated = piece("Binding", "1/4 in", straight("24 in"), "double-fold-binding", fabric="knit", cut_on="bias")
    assert of_options(words, capsys) == of_spec(stated, fabrics={"knit": {"stretch": "12 %", "width": "45 in"}})
    answers = answers_of(place="straight", finish="double-fold-binding", edge="24 in", pull="percent", stretch="12 %",
                         cut_on="bias", width="1/4 in")  # fmt: skip
    (figures,) = started_piece(answers).figures
    assert (figures.cut.value, figures.bias is None) == ("full-loop", False)


def test_sections(capsys: pytest.CaptureFixture[str]) -> None:
    words = ("band", *NECK[:4], "--width", "1 in", "--stretch", "80 %", "--cloth-width", "14 in")
    stated = piece("Neckband", "1 in", neckline("6 7/8", "3 1/2"), fabric="knit", section="shoulders")
    found = of_options((*words, "--section", "shoulders"), capsys)
    assert found == of_spec(stated, fabrics={"knit": {"stretch": "80 %", "width": "14 in"}})
    assert [one["joins"] for one in found[0]["sections"]] == [["join (shoulder)"] * 2] * 2
    assert run([*words, "--section", "cb"]) == 2
    assert '--section: "cb" leaves a section of' in (refused := capsys.readouterr().err)
    assert 'write "shoulders" or "even", or leave --section out' in refused
    assert run([*words[:-2], "--section", "even"]) == 2
    assert "that width is not known; give --cloth-width, or leave it out" in capsys.readouterr().err
    (figures,) = started_piece(answers_of(place="hem", edge="40 in", cloth_width="30 in", section="sides")).figures
    assert ([one.count for one in figures.sections], figures.join_place) == ([2], "sides")
