"""Every kind of edge on every surface: spec, options, answers, the page, figures, charts, pieces, steps, examples.

Numbers are arithmetic on the strips of ``every_edge``: 2 (w + s) of a band, a stated ratio of a stated edge.
"""

from __future__ import annotations

import json
from collections import Counter
from csv import DictReader
from io import BytesIO, StringIO
from typing import Any

import pytest
from pypdf import PdfReader
from werkzeug.datastructures import MultiDict

from tests.chosen import long
from tests.commands.test_start_piece import answers_of
from tests.sheets.test_steps import EXAMPLES, of_spec
from tests.usecases.every_edge import KINDS, figures_of, job_of
from tiler.browser.strip import strip_of
from tiler.commands import run
from tiler.commands.interview.piece import started_piece
from tiler.commands.output.cutting_chart import chart
from tiler.declaration import Tag
from tiler.draft.bought import drawn
from tiler.draft.chart_csv import chart_csv
from tiler.draft.figures import Figures
from tiler.draft.label import label_of
from tiler.draft.outline import draw_pieces
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.sewing.finishes import finishes_of
from tiler.sheets.sewing.words import steps

DRAWN = [kind for kind in KINDS if kind != "fold-over elastic"]


def plain(text: str) -> str:
    return " ".join(text.split())


def compared(one: Figures) -> dict[str, Any]:
    """Return what the figures say, without what options and a spec call by other words."""
    apart = ("name", "warnings", "failed")
    found = {key: value for key, value in one.to_json().items() if key not in apart}
    return found | {"ratio": {**found["ratio"], "source": ""}, "warnings": len(one.warnings)}


@pytest.mark.parametrize("kind", KINDS)
def test_options_and_the_page_state_what_a_spec_states(kind: str, capsys: pytest.CaptureFixture[str]) -> None:
    stated = compared(figures_of(kind))
    assert run([*KINDS[kind].words, "--json"]) == 0
    (found,) = json.loads(capsys.readouterr().out)["pieces"]
    (of_page,) = strip_of(MultiDict(KINDS[kind].form)).pieces
    assert compared(of_page) == stated
    apart = ("name", "warnings", "failed", "ratio")
    assert {k: v for k, v in found.items() if k not in apart} == {k: v for k, v in stated.items() if k not in apart}


ANSWERS: dict[str, dict[str, str]] = {
    "parts": {"parts": "list", "part": "half back 6; sleeve 5; front 20, 140 deg, 90 %; sleeve 5; half back 6"},
    "stand-up": {"sits": "stands", "front_half": "12", "back_half": "8", "width": "5"},
    "turned-over": {"sits": "turned-over", "front_half": "12", "back_half": "8", "width": "5"},
    "open": {"place": "straight", "edge": "20", "ends": "caught", "ends_allowance": "1"},
    "buttons": {"place": "straight", "edge": "20", "ends": "turned", "buttons": "3", "first_button": "2",
                "last_button": "2", "button_width": "12 mm"},
    "running on": {"place": "straight", "edge": "15", "ends": "turned", "free_before": "3", "free_after": "4",
                   "finish": "double-fold-binding", "width": "1"},
    "contour": {"parts": "shape", "neck_width": "22", "front_depth": "16", "back_depth": "10", "form": "contour"},
    "sections": {"front_half": "15", "back_half": "9", "cloth_width": "26", "section": "shoulders"},
    "leg": {"place": "leg-opening", "front": "10", "back": "12", "turning": "60", "front_ratio": "95",
            "back_ratio": "85", "finish": "raw-edge-binding", "width": "1"},
    "casing": {"place": "straight", "edge": "20", "elastic": "1", "elastic_ratio": "16 cm", "elastic_overlap": "2",
               "width": "1.2"},
    "fold-over elastic": {"place": "armhole", "front": "11", "back": "12", "finish": "fold-over-elastic", "width": "1"},
    "bias": {"place": "straight", "edge": "14", "finish": "double-fold-binding", "cut_on": "bias", "width": "1",
             "stretch": "12"},
}  # fmt: skip
LENGTHS = {"parts": "80", "stand-up": "90", "turned-over": "90", "sections": "80", "fold-over elastic": "90", "bias": "100"}  # fmt: skip


@pytest.mark.parametrize("kind", [pytest.param(kind, marks=[long] if kind == "contour" else []) for kind in KINDS])
def test_questions_lead_to_the_same_strip(kind: str) -> None:
    ratio = {"ratio": LENGTHS[kind]} if kind in LENGTHS else {}
    own = {"units": "cm", "pull": "percent", "stretch": "60", "width": "2", "seam_allowance": "0.6", "cover": "0.3"}
    own |= {"garment_allowance": "0.6", "must_pass": "none"} | ratio | ANSWERS[kind]
    (found,) = started_piece(answers_of(**own)).figures
    stated = figures_of(kind)
    for key in ("loop_mm", "cut_length_mm", "cut_width_mm", "finished_width_mm"):
        assert getattr(found, key) == pytest.approx(getattr(stated, key)), key
    assert compared(found)["notches"] == compared(stated)["notches"]
    for key in ("standing", "ends", "runs_on", "buttons", "elastic", "bias", "contour_mm"):
        assert getattr(found, key) == getattr(stated, key), key
    assert [one.cut_length_mm for one in found.sections] == [one.cut_length_mm for one in stated.sections]


FIGURES: dict[str, tuple[tuple[str, ...], dict[str, Any]]] = {
    "parts": (("front 20.0 cm (7⅞ in) of edge, 18.0 cm (7 1/16 in) of strip", "front / sleeve 9.0 cm"),
              {"cut": "on-fold", "loop_mm": 356, "cut_length_mm": 184}),
    "stand-up": (("folded band that stands up", "height 5.0 cm (1 15/16 in)"),
                 {"standing": "stands", "cut_width_mm": 112, "loop_mm": 360}),
    "turned-over": (("folded band, turned over", "press in half, 10.6 cm"),
                    {"standing": "turned-over", "cut_width_mm": 212, "loop_mm": 360}),
    "open": (("ends caught, 1.0 cm (⅜ in) at each, in the cut length",),
             {"ends": {"finish": "caught", "allowance_mm": 10}, "cut_length_mm": 110}),
    "buttons": (("3 buttonholes, 1.5 cm (9/16 in) long, 8.0 cm (3⅛ in) apart, along the strip",
                 "centres 2.0 cm (13/16 in), 10.0 cm (3 15/16 in), 18.0 cm (7 1/16 in) from the left end"),
                {"buttons": {"count": 3, "at_mm": [20, 100, 180], "apart_mm": 80, "hole_mm": 15, "direction": "along"}}),
    "running on": (("runs on by 3.0 cm (1 3/16 in) at the left end and 4.0 cm (1 9/16 in) at the right, 1:1",
                    "leaves the edge 3.6 cm"),
                   {"ends": {"finish": "turned", "allowance_mm": 6.35, "before_mm": 30, "after_mm": 40},
                    "cut_length_mm": 30 + 150 + 40 + 2 * 6.35}),
    "contour": (("contour band, shaped like the edge", "finished edge"), {"ratio.used": 1, "seam_strain": 0}),
    "sections": (("front section: 12.6 cm", "back section: 7.8 cm", "joins 0.6 cm (¼ in) (shoulders)"),
                 {"sections.0.sewn_mm": 240, "sections.1.sewn_mm": 144}),
    "leg": (("leg opening seam line 22.0 cm", "front 10.0 cm (3 15/16 in) of edge, 9.5 cm", "side 10.1 cm (4 in)"),
            {"parts.0.strip_mm": 95, "parts.1.strip_mm": 102, "quantity": 2}),
    "casing": (("elastic 1.0 cm (⅜ in) wide: cut 18.0 cm (7 1/16 in), lap its ends by 2.0 cm (13/16 in)",),
               {"elastic": {"width_mm": 10, "cut_mm": 180, "overlap_mm": 20}, "finished_width_mm": 12}),
    "fold-over elastic": (("fold-over elastic", "cut 2 full length 22.0 cm (8⅝ in) long 2.0 cm (13/16 in) wide"),
                          {"finish": "fold-over-elastic", "loop_mm": 207, "cut_width_mm": 20}),
    "bias": (("On the bias: in one continuous strip from a square of 9.0 cm",),
             # side = sqrt(length x width), with two seams of 1/4 in at 45 degrees
             {"bias.square_mm": ((140 + 2 * 6.35 * 2**0.5) * 43) ** 0.5, "cut": "full-loop"}),
}  # fmt: skip


def at(tables: Any, path: str) -> Any:
    for key in path.split("."):
        tables = tables[int(key) if key.isdigit() else key]
    return tables


@pytest.mark.parametrize("kind", KINDS)
def test_figures_tell_it(kind: str) -> None:
    told, keys = FIGURES[kind]
    lines = plain(" ".join(line.text for line in chart(job_of(kind), (figures_of(kind),))))
    for words in told:
        assert words in lines
    found = figures_of(kind).to_json()
    for path, value in keys.items():
        flat = value if isinstance(value, dict) else {"": value}
        seen = at(found, path)
        assert (seen if isinstance(value, dict) else {"": seen}) == {
            key: pytest.approx(one) if isinstance(one, int | float | list) else one for key, one in flat.items()
        }, path


ROWS: dict[str, tuple[dict[str, str], str]] = {
    "parts": ({"parts cm": "half back 4.8 cm to 6.0 cm; sleeve 4.0 cm to 5.0 cm; front 18.0 cm to 20.0 cm; sleeve 4.0 cm "
               "to 5.0 cm; half back 4.8 cm to 6.0 cm"}, "Half back: strip"),
    "stand-up": ({"finish": "folded band that stands up", "good to cm": ""}, "Height 5.0 cm"),
    "turned-over": ({"finish": "folded band, turned over", "cut width cm": "21.2 cm"}, "folded band, turned over"),
    "open": ({"ends": "caught", "end seam cm": "1.0 cm"}, "Each end 1.0 cm (⅜ in) longer, caught in a seam."),
    "buttons": ({"buttonholes cm": "3 buttonholes, 1.5 cm (9/16 in) long, 8.0 cm (3 1/8 in) apart"},
                "3 buttonholes, 1.5 cm"),
    "running on": ({"before cm": "3.0 cm", "after cm": "4.0 cm"}, "runs on by 3.0 cm"),
    "contour": ({"finish": "contour band, shaped like the edge", "good from cm": ""}, "Finished edge"),
    "sections": ({"joined at": "shoulders", "sections": "2",
                  "section cm": "front section: cut 1 on fold 12.6 cm; back section: cut 1 on fold 7.8 cm"},
                 "in sections, since the fabric is narrower"),
    "leg": ({"parts cm": "front 9.5 cm to 10.0 cm; back 10.2 cm to 12.0 cm", "cut": "2"}, "End seam (inseam)"),
    "casing": ({"elastic cm": "18.0 cm of 1.0 cm"}, "elastic 1.0 cm"),
    "fold-over elastic": ({"finish": "fold-over elastic", "marks cm": "shoulder 10.5 cm"}, "Marks, from the left cut end"),
    "bias": ({"on the bias": "On the bias: in one continuous strip from a square of 4 in (10.2 cm)."}, "On the bias"),
}  # fmt: skip


@pytest.mark.parametrize("kind", KINDS)
def test_it_has_its_row_in_the_chart(kind: str) -> None:
    cells, printed = ROWS[kind]
    (row,) = DictReader(StringIO(chart_csv((figures_of(kind),))))
    assert {key: row[key] for key in cells} == cells
    data = chart_pdf((figures_of(kind),), job_of(kind).edition, "a4")
    words = plain(" ".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages))
    assert printed in words.replace("\u2044", "/")


LABELS: dict[str, str] = {
    "parts": "84.8 % of the neckline seam line",
    "stand-up": "height 5.0 cm (1 15/16 in)",
    "turned-over": "folded band, turned over",
    "open": "cut 11.0 cm (4 5/16 in) from the fold",
    "buttons": "3 buttonholes, 1.5 cm (9/16 in) long, 8.0 cm (3⅛ in) apart",
    "running on": "runs on by 3.0 cm (1 3/16 in) at the left end and 4.0 cm (1 9/16 in) at the right, 1:1",
    "contour": "100 % of the front of the neckline seam line, 42.8 cm",
    "sections": "sewn length 24.0 cm (9 7/16 in), 80 % of the front of the neckline seam line, 30.0 cm",
    "leg": "89.5 % of the leg opening seam line",
    "casing": "elastic 1.0 cm (⅜ in) wide: cut 18.0 cm (7 1/16 in), lap its ends by 2.0 cm (13/16 in)",
    "bias": "On the bias: in one continuous strip from a square of 9.0 cm (3 9/16 in).",
}
NAMED: dict[str, tuple[list[str], list[str]]] = {
    # what the marks and the ends are called
    "parts": (["CF", "front / sleeve", "sleeve / half back", "CB"], ["end seam (CB)"]),
    "stand-up": (["CF", "shoulder", "CB"], ["end seam (CB)"]),
    "turned-over": (["CF", "shoulder", "CB"], ["end seam (CB)"]),
    "open": (["half"], ["end caught in a seam"]),
    "buttons": (["half"], ["turned end", "turned end"]),
    "running on": (["leaves the edge", "half", "leaves the edge"], ["turned end", "turned end"]),
    "contour": (["CF", "shoulder"], ["end seam (shoulder)"]),
    "sections": (["CF", "shoulder"], ["join (shoulder)"]),
    "leg": (["side"], ["front: end seam (inseam)", "back: end seam (inseam)"]),
    "casing": (["half"], ["end seam"]),
    "bias": (["half"], ["end seam", "end seam"]),
}
LINES: dict[str, dict[Tag, int]] = {
    "stand-up": {Tag.PRESS_LINE: 1},
    "turned-over": {Tag.PRESS_LINE: 1},
    "buttons": {Tag.BUTTONHOLE: 3},
    "running on": {Tag.PRESS_LINE: 3},
    "contour": {Tag.SEAM_LINE: 2, Tag.PRESS_LINE: 0},
    "leg": {Tag.PRESS_LINE: 2},
    "bias": {Tag.JOIN_LINE: 2, Tag.FOLD_LINE: 0},
}


@pytest.mark.parametrize("kind", DRAWN)
def test_its_piece_tells_and_shows_it(kind: str) -> None:
    edition = job_of(kind).edition
    (strip, *_) = drawn((figures_of(kind),))
    (one, *_) = draw_pieces((figures_of(kind),), edition)
    assert LABELS[kind] in plain(" ".join(line.text for line in label_of(strip, edition).lines()))
    marks, ends = NAMED[kind]
    assert [str(mark.name) for mark in strip.notches] == marks
    assert [str(word.text) for word in one.end_words] == ends
    drawn_of = Counter(part.tag for part in one.parts)
    assert {tag: drawn_of[tag] for tag in LINES.get(kind, {})} == LINES.get(kind, {})


STEPS = {
    "parts": ("Pin it to the garment", "Pin the end seam and every notch to its place"),
    "stand-up": ("Turn it out and press", "It now stands 5.0 cm (1 15/16 in) high"),
    "turned-over": ("Turn it over", "so that 5.0 cm (1 15/16 in) shows"),
    "open": ("Pin it to the garment", "Pin both ends and every notch to their places"),
    "buttons": ("Work the buttonholes", "3 buttonholes, 1.5 cm (9/16 in) long, 8.0 cm (3⅛ in) apart"),
    "running on": ("Sew the free lengths", "Beyond the notch where it leaves the edge"),
    "contour": ("Sew the layers together", "sew along the finished edge, 0.6 cm (¼ in) from its edge"),
    "sections": ("Close the strip (shoulders)", "A strip in sections: join these first, mark to mark"),
    "leg": ("Close the strip (inseam)", "sew 0.6 cm (¼ in) from the ends"),
    "casing": ("Draw the elastic in", "elastic 1.0 cm (⅜ in) wide: cut 18.0 cm (7 1/16 in)"),
    "fold-over elastic": ("Fold it over the edge", "Lay the garment's raw edge into the fold of the elastic"),
    "bias": ("Close the strip", "right sides together at a right angle, the slanted ends even"),
}


@pytest.mark.parametrize("kind", KINDS)
def test_its_instructions_have_a_step_for_it(kind: str) -> None:
    (page,) = finishes_of((figures_of(kind),), job_of(kind).edition)
    found = {plain(step.name): plain(step.text) for step in steps(page)}
    name, text = STEPS[kind]
    assert text in found[name]


HAS = {
    "parts": lambda one: any(part.listed for part in one.edge.parts),
    "stand-up": lambda one: one.standing == "stands",
    "turned-over": lambda one: one.standing == "turned-over",
    "open": lambda one: one.is_open and not one.buttons,
    "buttons": lambda one: one.buttons,
    "running on": lambda one: one.runs_on.there,
    "contour": lambda one: one.contour_mm,
    "sections": lambda one: one.sections and one.join_place == "sides",
    "leg": lambda one: one.edge.kind == "leg" and any(part.ratio for part in one.edge.parts),
    "casing": lambda one: one.elastic,
    "fold-over elastic": lambda one: one.finish.is_bought,
    "bias": lambda one: one.bias,
}


@pytest.mark.parametrize("kind", KINDS)
def test_an_example_has_one(kind: str) -> None:
    (path,) = [path for path in EXAMPLES if path.stem == f"saltmarsh-{KINDS[kind].example}"]
    # the pages are those of the example's strips, read once for all tests
    assert any(HAS[kind](one) for page in of_spec(path) for one in page.strips)
