"""Fold-over elastic: cut by its length alone, told everywhere and drawn nowhere."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from math import radians
from typing import Any

import pytest

from tests.sheets.jobs import drawn_once
from tests.specs import Table, armhole, neckline, piece, spec, straight, table
from tiler.commands import run
from tiler.draft.bought import told_marks
from tiler.draft.chart import chart_rows
from tiler.draft.chart_csv import chart_csv
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.errors import SpecError
from tiler.printed import Word
from tiler.proof import prove
from tiler.proof.compare.said import compare_said
from tiler.usecases.draft import Wishes

IN = 25.4  # NIST SP 811, App. B
ELASTIC = {"soft": "80 %"}
NECK = neckline({"S": 8, "M": 9}, 4)


def elastic(edge: Table | None = None, **keys: Any) -> Table:
    own = {"finish": "fold-over-elastic", "width": "3/8", "fabric": "soft", "edge": edge or straight(20)} | keys
    return piece("Elastic", **own)


def figured(*pieces: Table, **keys: Any) -> Any:
    return figure_job(read_tables(tomllib.loads(spec(*pieces, fabrics=ELASTIC, **keys)), "spec.toml:"))


BOTH = spec(
    piece("Hem", 1, straight(16), fabric="soft"),
    elastic(NECK),
    title="Two edges",
    sizes=["S", "M"],
    fabrics=ELASTIC,
)


def test_it_is_twice_as_wide_as_it_shows_and_only_its_length_is_cut() -> None:
    (one,) = figured(elastic(ratio="90 %"))
    # C: 90 % of 20 in, and an end seam of 1/4 in at either end
    assert (one.cut_length_mm / IN, one.cut_width_mm / IN) == (pytest.approx(18.5), pytest.approx(0.75))
    assert (one.cut.value, one.press_lines, one.sections, one.cloth) == ("full-loop", (), (), None)
    (bent,) = figured(elastic(neckline(8, 6)))
    # C: a binding that takes a tenth of the 80 %, its finished edge 3/8 in inside: (E - W / 2) / (1 + 0.1 x 0.8)
    assert bent.loop_mm / IN == pytest.approx((28 - 0.375 * radians(280) / 2) / 1.08)
    (wide,) = figured(elastic(width=None, cut_width="5/8"))
    assert wide.finished_width_mm / IN == pytest.approx(5 / 16)


def test_cloth_that_is_narrow_says_nothing_about_it() -> None:
    fabrics = {"soft": table(stretch="80 %", width="10 in")}
    (one,) = figure_job(read_tables(tomllib.loads(spec(elastic(), fabrics=fabrics)), "spec.toml:"))
    assert (one.sections, one.cloth) == ((), None)


@pytest.mark.parametrize(
    ("keys", "said"),
    [
        ({"cut": "on-fold"}, "cut: has no meaning for fold-over-elastic, of which only the length is cut"),
        ({"cut_on": "bias"}, "cut-on: has no meaning for fold-over-elastic"),
        ({"section": "even"}, "section: has no meaning for fold-over-elastic"),
        ({"notches": [table(name="tag", at=1)]}, "notches: has no meaning for fold-over-elastic"),
        ({"cover": "3 mm"}, "cover: has no meaning for a fold-over-elastic"),
        ({"stands": True}, "stands: is for a folded-band"),
    ],
)
def test_what_is_said_of_cloth_is_refused(keys: dict[str, Any], said: str) -> None:
    with pytest.raises(SpecError) as fault:
        figured(elastic(**keys))
    assert said in str(fault.value)


def test_a_spec_of_nothing_else_is_not_drawn() -> None:
    with pytest.raises(SpecError) as fault:
        drawn_once(spec(elastic(), fabrics=ELASTIC))
    says = "Elastic: is cut by its length alone, so there is no piece to draw; tiler figures tells that length"
    assert says in str(fault.value)
    assert fault.value.code == 2


def test_page_1_lists_it_with_its_marks_and_no_page() -> None:
    document = drawn_once(BOTH)
    assert {one.name for one in document.declaration.pieces} == {"Hem"}
    assert [(one.name, one.size) for one in document.declaration.bought] == [("Elastic", "S"), ("Elastic", "M")]
    words = [mark for mark in document.declaration.printed[0] if isinstance(mark, Word)]
    told = " ".join(word.text for word in words)
    assert "Elastic S cut 1 full length 21⅞ in (55.4 cm) × ¾ in (1.9 cm) fold-over elastic · soft 1, 2" in told
    assert "Marks, from the left cut end: CB ¼ in (0.6 cm); shoulder" in told.replace("\u00a0", " ")
    assert "A binding takes no seam allowance" in told
    report = prove(document.data)
    assert report.verdict == "true-to-scale", report.first_failure()
    # without a first page it stands in the chart alone
    assert drawn_once(BOTH, Wishes(cover=False)).declaration.bought == ()


@pytest.mark.parametrize("change", [{"cut_length_mm": 500.0}, {"quantity": 2}, {"name": "Band"}, {"size": "L"}])
def test_a_row_that_says_something_else_is_a_fault(change: dict[str, Any]) -> None:
    declaration = drawn_once(BOTH).declaration
    first, *others = declaration.bought
    changed = replace(declaration, bought=(replace(first, **change), *others))
    assert not [one for one in compare_said(declaration) if one.status == "fail"]
    told = [one.label for one in compare_said(changed) if one.status == "fail"]
    assert f"{change.get('name', 'Elastic')} in the table of pieces" in told


def test_the_declaration_of_a_file_without_it_has_no_word_of_it() -> None:
    plain = drawn_once(spec(piece("Hem", 1, straight(16)))).declaration
    assert b'"bought"' not in plain.to_bytes()
    both = drawn_once(BOTH).declaration
    assert type(both).from_bytes(both.to_bytes()).bought == tuple(
        replace(one, cut_length_mm=round(one.cut_length_mm, 4)) for one in both.bought
    )


def test_the_chart_has_its_row() -> None:
    _, row = chart_rows(figured(piece("Hem", 1), elastic(neckline(8, 4))))
    assert (row.width.inches, row.width.centimetres) == ("¾ in", "1.9 cm")  # as it is bought, not rounded up
    assert told_marks(row.marks, "in", row.first_part).startswith("Marks, from the left cut end: CB")
    _, row = chart_rows(figured(piece("Hem", 1), elastic(armhole(8, 9))))
    assert told_marks(row.marks, "in", row.first_part).startswith(
        "Marks, from the left cut end (front first): shoulder"
    )
    assert "Elastic" in chart_csv(figured(elastic()))


def test_options_and_questions(capsys: pytest.CaptureFixture[str], tmp_path: Any) -> None:
    from tests.commands.test_start_piece import answers_of
    from tiler.commands.interview.piece import started_piece

    words = [
        "binding",
        "--finish",
        "fold-over-elastic",
        "--kind",
        "straight",
        "--edge",
        "20 in",
        "--width",
        "3/8 in",
        "--ratio",
        "90 %",
    ]
    assert run(words) == 0
    assert "cut 1 full length   18½ in (47.0 cm) long" in capsys.readouterr().out
    assert run([*words, "-o", str(tmp_path / "elastic.pdf")]) == 2
    assert "is cut by its length alone, so there is no piece to draw" in capsys.readouterr().err
    assert not (tmp_path / "elastic.pdf").exists()
    answers = answers_of(place="vee", finish="fold-over-elastic")
    assert not {"cut", "corner", "thickness"} & answers.keys()
    (figures,) = started_piece(answers).figures
    assert figures.finish == "fold-over-elastic"
