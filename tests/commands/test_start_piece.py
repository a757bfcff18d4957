"""This checks the questions of ``tiler start`` and how each answer is judged."""

from __future__ import annotations

import tomllib
from contextlib import suppress
from itertools import product, takewhile
from random import Random

import pytest

from tests.chosen import each, long
from tiler.commands.interview.asking import DRAW, GO_ON
from tiler.commands.interview.dialogue import answered
from tiler.commands.interview.naming import still_fitting
from tiler.commands.interview.path import OWN_KEYS, QUESTIONS, path
from tiler.commands.interview.piece import judged, started_piece
from tiler.commands.interview.question import PLACES
from tiler.commands.one_piece.options import ALL, options_of
from tiler.commands.one_piece.table import comments_of
from tiler.draft.compute import figure_job
from tiler.draft.contour.form import Form
from tiler.draft.edge.seam_line import Kind, MeasuredOn
from tiler.draft.edge.shape import Shape
from tiler.draft.edition import Units
from tiler.draft.fastening.buttons import Direction
from tiler.draft.fastening.open_ends import FINISHED
from tiler.draft.spec.read import read_tables
from tiler.draft.spec.write import spec_text
from tiler.draft.strip.bias import CutOn
from tiler.draft.strip.corner import Corner
from tiler.draft.strip.ease import Ease
from tiler.draft.strip.finish import Cut, Finish
from tiler.draft.strip.fittings import ChangedOn
from tiler.draft.strip.notches import JoinAt, SectionAt
from tiler.draft.strip.refinish import Had
from tiler.errors import SpecError
from tiler.paper import PAPER_NAMES

BY_KEY = {question.key: question for question in QUESTIONS}

GIVEN = {
    "front-half": "7 in", "back-half": "4 in", "front": "8 in", "back": "9 in", "edge": "22 in", "turning": "90",
    "pulled": "6 in", "stretch": "50 %", "must-pass": "head, 24 months", "garment-stretch": "30 %",
    "neck-width": "7 in", "front-depth": "6 in", "replaces-width": "1/2 in", "point-angle": "60", "back-depth": "1 in", "body": "17 in",
    "part": "front 14 in; back 7 in",
}  # fmt: skip
"""An answer to every question without a usual one, and to those that are asked only after one."""

WALKS = 3 * len(PLACES)

NOT_OPTIONS = {"place", "parts", "point", "change", "pull", "sits"}

RARE = (
    *("sits", "elastic", "ends", "cut-on", "free-before", "free-after", "buttons", "front-ratio", "back-ratio"),
    *("cloth-width", "section", "form", "elastic-overlap", "ends-allowance", "buttons-on", "buttonholes"),
    *("cover", "shoulder-slope"),
)
"""Questions that few ways lead to: answered wherever they may be."""


def answers_of(**more: str) -> dict[str, str]:
    return answered(GIVEN | {key.replace("_", "-"): answer for key, answer in more.items()}, "test:")


@pytest.mark.parametrize(("place", "finish"), dict.fromkeys([*each(PLACES, Finish), *each(PLACES, [*Finish][::-1])]))
def test_every_edge_and_finish_ends_in_figures(place: str, finish: Finish) -> None:
    # every usual answer is judged on the way, each in one of the two units
    units = ("in", "cm")[(list(PLACES).index(place) + list(Finish).index(finish)) % 2]
    answers = answers_of(place=place, finish=finish.value, units=units)
    piece = started_piece(answers)
    (figures,) = piece.figures
    assert figures.finish is finish
    assert figures.quantity == (2 if place in ("armhole", "cuff", "leg", "leg-opening") else 1)
    assert piece.job.pieces[0].edge.kind == PLACES[place]
    assert all(question.key in answers for question in path(answers))


@pytest.mark.parametrize(
    ("unit", "parts", "pull", "measured_on"),
    list(product(("in", "cm"), ("parts", "whole"), ("pulled", "unknown"), ("seam-line", "cut-edge"))),
)
def test_every_way_to_measure_ends_in_figures(unit: str, parts: str, pull: str, measured_on: str) -> None:
    piece = started_piece(answers_of(units=unit, parts=parts, pull=pull, measured_on=measured_on))
    assert piece.job.edition.units == unit
    assert piece.job.paper.name == {"in": "letter", "cm": "a4"}[unit]
    assert ("whole" in piece.tables["pieces"][0]["edge"]) == (parts == "whole")
    assert ("fabrics" in piece.tables) == (pull == "pulled")


@long
def test_what_is_asked_depends_on_the_answers_before() -> None:
    def asked(**more: str) -> set[str]:
        return {question.key for question in path(answers_of(**more))}

    band, cuff = asked(), asked(place="cuff")
    assert band - cuff == {"parts", "front-half", "back-half", "end-allowance", "measured-on", "garment-lengthwise"}
    assert cuff - band == {"edge"}
    assert asked(finish="raw-edge-binding") == band - {"garment-allowance"} | {"thickness"}
    assert asked(finish="raw-edge-binding", thickness="1 mm") - band == {"thickness", "garment-thickness"}
    assert asked(finish="french-binding", cover="0") - band == {"thickness", "cover"}
    assert asked(pull="unknown") == band - {"rest", "pulled", "must-pass", "garment-stretch", "garment-lengthwise"}
    assert asked(replaces="unknown") == band - {"garment-allowance"} | {"seam-allowance"}
    assert asked(replaces="unknown", measured_on="cut-edge") == band
    assert asked(replaces="hem") == band | {"seam-allowance"}
    assert asked(replaces="french-binding") == band - {"garment-allowance"} | {"replaces-width", "seam-allowance"}
    vee = {"point", "corner", "neck-width", "front-depth"}
    assert asked(place="vee") == band | vee
    assert asked(place="vee", point="angle") == band | {"point", "corner", "point-angle"}
    shaped = band - {"front-half", "back-half", "end-allowance"} | {"neck-width", "front-depth", "back-depth", "change"}
    assert asked(parts="shape") == shaped | {"shape"}
    assert asked(parts="shape", shape="vee") == shaped | {"shape", "corner"}
    assert asked(place="vee", parts="shape", change="yes") == shaped | {"corner", "lower-front", "lower-back", "widen"}
    assert asked(ratio="body") == band | {"body", "body-ease"}
    assert asked(shorten="5 mm") == band | {"shorten", "on"}
    assert asked(shorten="none") == band | {"shorten"}
    assert "garment-stretch" not in asked(must_pass="none")
    assert "turning" in asked(place="curved")
    # a band that is cut to the shape of its edge has no length of its own
    contour = asked(parts="shape", neck_width="9 in", front_depth="6 in", back_depth="4 in", form="contour")
    assert contour == shaped - {"ratio"} | {"shape", "form"}
    # it may be open as a straight one is, and then nothing passes it
    known = {"parts": "shape", "neck_width": "9 in", "front_depth": "6 in", "back_depth": "4 in", "form": "contour"}
    opened = asked(**known, ends="caught", free_before="none", free_after="none")
    of_opening = {"must-pass", "garment-stretch", "garment-lengthwise"}
    assert opened == contour - of_opening | {"ends", "free-before", "free-after"}


@pytest.mark.parametrize(
    ("key", "answer", "message", "before"),
    [
        ("part", "front; back 7 in", "is empty", {"parts": "list"}),
        ("part", "front 14 in", "has 1 part", {"parts": "list"}),
        ("units", "mm", '"mm" is not one of the answers', {}),
        ("place", "elbow", '"elbow" is not one of the answers', {}),
        ("finish", "bindng", '"bindng" is not one of the answers', {}),
        ("parts", "thirds", '"thirds" is not one of the answers', {}),
        ("front-half", "7 lb", "'7 lb' has the unit lb, which is not taken here", {}),
        ("back-half", "-4 in", "'-4 in' is negative", {}),
        ("front", "a", "'a' is not a length", {"place": "armhole"}),
        ("back", "0", "'0' is zero", {"place": "armhole"}),
        ("edge", "200 m", "is longer than 100 m", {"place": "cuff"}),
        ("measured-on", "hem", '"hem" is not one of the answers', {}),
        ("garment-allowance", "1,500 cm", "write 1.500 cm or 1500 cm", {}),
        ("replaces", "bands", '"bands" is not one of the answers', {}),
        ("replaces-width", "narrow", "'narrow' is not a length", {"replaces": "folded-band"}),
        ("seam-allowance", "-1 cm", "is negative", {"replaces": "hem"}),
        ("shape", "oval", '"oval" is not one of the answers', {"parts": "shape"}),
        ("parts", "shape", '"shape" is not one of the answers', {"place": "armhole"}),
        ("point", "sharp", '"sharp" is not one of the answers', {"place": "vee"}),
        ("neck-width", "16 in", "is wider than both sides of the vee together", {"place": "vee"}),
        ("front-depth", "9 in", "front-half has only 7 in", {"place": "vee"}),
        ("front-depth", "4 in", "a rounded neckline has no point", {"place": "vee"}),
        ("back-depth", "0", "is zero", {"parts": "shape"}),
        ("point-angle", "5", "is out of range", {"place": "vee", "point": "angle"}),
        ("change", "maybe", '"maybe" is not one of the answers', {"parts": "shape"}),
        ("lower-front", "-9 in", "takes away the whole neckline", {"parts": "shape", "change": "yes"}),
        ("lower-back", "-2 in", "takes away the whole neckline", {"parts": "shape", "change": "yes"}),
        ("widen", "-4 in", "takes away the whole neckline", {"parts": "shape", "change": "yes"}),
        ("corner", "lapped", '"lapped" is not one of the answers', {"place": "vee", "finish": "raw-edge-binding"}),
        ("thickness", "thin", "'thin' is not a length", {"finish": "raw-edge-binding"}),
        ("garment-thickness", "-1 mm", "is negative", {"finish": "raw-edge-binding", "thickness": "1 mm"}),
        ("garment-lengthwise", "60 %", "is more than", {}),
        ("body", "0", "is zero", {"ratio": "body"}),
        ("body-ease", "80 %", "is out of range", {"ratio": "body"}),
        ("shorten", "40 in", "nothing is left", {}),
        ("lengthen", "-1 cm", "is negative", {}),
        ("elastic", "wide", "'wide' is not a length", {}),
        ("elastic-ratio", "10", "is out of range", {"elastic": "1 cm"}),
        ("front-ratio", "5 in", "is not a percentage", {"place": "leg-opening"}),
        ("back-ratio", "10 %", "is out of range", {"place": "leg-opening"}),
        ("cloth-width", "wide", "'wide' is not a length", {}),
        ("section", "CF", '"CF" is not one of the answers', {"cloth-width": "60 in"}),
        ("section", "sides", '"sides" is not one of the answers', {"cloth-width": "60 in"}),
        ("section", "shoulders", "leaves a section of", {"cloth-width": "8 in"}),
        ("cut-on", "grain", '"grain" is not one of the answers', {"finish": "raw-edge-binding"}),
        ("free-before", "long", "'long' is not a length", {"ends": "raw", "place": "straight"}),
        ("free-after", "30 m", "is longer than", {"ends": "raw", "place": "straight"}),
        ("ends", "frayed", '"frayed" is not one of the answers', {}),
        ("buttons", "many", "must be a whole number", {"ends": "raw", "place": "straight"}),
        ("buttons", "99", "from 1 to 60", {"ends": "raw", "place": "straight"}),
        ("first-button", "30 in", "which has only 22 in", {"ends": "raw", "place": "straight", "width": "1 in", "buttons": "3"}),
        ("last-button", "-1 in", "is negative", {"ends": "raw", "place": "straight", "width": "1 in", "buttons": "3"}),
        ("button-width", "0", "is zero", {"ends": "raw", "place": "straight", "width": "1 in", "buttons": "3"}),
        ("buttonholes", "aslant", '"aslant" is not one', {"ends": "raw", "place": "straight", "width": "1 in", "buttons": "3"}),
        ("button-width", "1/2 in", "does not fit across", {"ends": "raw", "place": "straight", "width": "1/2 in", "buttons": "3", "buttonholes": "across", "button-width": "1/8 in"}),
        ("buttons-on", "hem", '"hem" is none of the parts: front, back',
         {"ends": "raw", "place": "curved", "parts": "list", "width": "1 in", "buttons": "3"}),
        ("ends-allowance", "-1 in", "is negative", {"ends": "raw", "place": "straight"}),
        ("elastic-overlap", "-1 in", "is negative", {"elastic": "1 cm"}),
        ("elastic-ratio", "0 in", "is zero", {"elastic": "1 cm"}),
        ("sits", "up", '"up" is not one of the answers', {}),
        ("form", "bent", '"bent" is not one of the answers', {"parts": "shape"}),
        ("on", "strip", '"strip" is not one of the answers', {"shorten": "5 mm"}),
        ("measured-on", "cut-edge", "write replaces = unknown", {"finish": "raw-edge-binding", "replaces": "allowance"}),
        ("end-allowance", "8 in", "is not longer than its", {}),
        ("measured-on", "--rest", '"--rest" is not one of the answers', {}),
        ("rest", "--front-half", "'--front-half' is not a length", {}),
        ("ratio", "or fits", "'or fits' is not a percentage", {}),
        ("shoulder-slope", "70", "is out of range; an angle here is 0 to 60 degrees", {}),
        ("turning", "3 in", "is not an angle", {"place": "curved"}),
        ("pull", "much", '"much" is not one of the answers', {}),
        ("rest", "no", "'no' is not a length", {}),
        ("pulled", "3 in", "must be from 1 to 5 times rest", {}),
        ("stretch", "600", "is out of range", {"pull": "percent"}),
        ("width", "wide", "'wide' is not a length", {}),
        ("cover", "-1 mm", "is negative", {"finish": "french-binding"}),
        ("ratio", "loose", '"loose" is not known', {}),
        ("ratio", "flat", 'means nothing on a straight edge; write "advised", "usual" or a percentage', {"place": "cuff"}),
        ("cut", "fould", '"fould" is not one of the answers; did you mean on-fold?', {}),
        ("must-pass", "elbow", '"elbow" is not known; write a length', {}),
        ("must-pass", "head, 70 months", "is beyond the table", {}),
        ("garment-stretch", "a lot", "is not a percentage", {}),
        ("title", "a\x1b[1m", "holds a sign that does not print", {}),
        ("title", " ", "an answer is needed here", {}),
        ("title", "x" * 201, "has 201 characters; at most 200 fit", {}),
        ("paper", "a5", '"a5" is not one of the answers', {}),
    ],
)  # fmt: skip
def test_a_wrong_answer_is_refused_at_its_own_question(
    key: str, answer: str, message: str, before: dict[str, str]
) -> None:
    answers = answers_of(**{name.replace("-", "_"): value for name, value in before.items()})
    # only what was answered before: dictionaries keep the order of asking
    given = dict(takewhile(lambda answer: answer[0] != key, answers.items()))
    with pytest.raises(SpecError) as fault:
        judged(BY_KEY[key], answer, given)
    # the two that contradict each other may be named by the first
    assert str(fault.value).startswith((f"{key}: ", "front-half: is not longer than its end allowance"))
    assert message in str(fault.value)
    assert "--" not in str(fault.value).replace(answer, "")
    assert "pieces[0]" not in str(fault.value)


FREE = {
    "front-half": ("7 in", "18,5 cm"), "back-half": ("4 in", "9,5 cm"), "front": ("8 in", "21 cm"), "back": ("8 1/2 in", "22 cm"),
    "free-before": ("8 in",), "free-after": ("none", "20 cm"), "buttons": ("3", "none"), "first-button": ("2 cm",), "last-button": ("2 cm",), "button-width": ("1 cm", "3 mm"),
    "elastic": ("none", "1 cm"), "elastic-ratio": ("85", "90 %", "20 in"), "elastic-overlap": ("1 cm",),
    "ends-allowance": ("3/8 in",), "buttons-on": ("front",), "front-ratio": ("96 %",), "back-ratio": ("88",),
    "part": ("front 14 in; back 7 in", "front 14 in, 180; back 7 in, 100 deg, 95 %", "half back 9; front 36 cm; half back 9 cm"), "edge": ("22 in", "60 cm"), "end-allowance": ("0", "1/4 in"), "replaces-width": ("1/2 in",),
    "garment-allowance": ("3/8 in", "unknown"), "seam-allowance": ("1/4 in",), "neck-width": ("7 in", "6 in"),
    "front-depth": ("6 in", "6 1/4 in"), "back-depth": ("1 in",), "point-angle": ("60", "55,5 deg"),
    "lower-front": ("1/2 in", "0"), "lower-back": ("0", "-1/4 in"), "widen": ("1 cm", "0"), "shoulder-slope": ("22",),
    "turning": ("90", "360"), "rest": ("4 in",), "pulled": ("6 in",), "stretch": ("60", "0.5"),
    "thickness": ("unknown", "0.8 mm"), "width": ("3/8 in", "1 cm", "1.5 cm"), "cover": ("0", "3 mm"),
    "cloth-width": ("60 in", "14 in"), "ratio": ("advised", "usual", "flat", "88", "18 in", "body"), "body": ("17 in",), "body-ease": ("5", "0 %"),
    "shorten": ("1/8 in",), "lengthen": ("5 mm",), "must-pass": ("none", "head, 24 months"),
    "garment-stretch": ("unknown", "30"), "garment-lengthwise": ("unknown", "20"), "garment-thickness": ("same", "1 mm"),
    "title": ("For Anna",),
}  # fmt: skip
"""Answers to try to the questions that have no words to choose from."""


def walked(seed: int) -> dict[str, str]:
    """Answer all that is asked, and some of what can be added, by chance: the first answer that is right."""
    random, answers = Random(seed), {"units": ("in", "cm")[seed % 2], "place": tuple(PLACES)[seed % len(PLACES)]}
    way = seed // len(PLACES)
    forced = {"parts": ("parts", "shape", "whole")[way], "point": ("lengths", "", "angle")[way]}
    if answers["place"] == "neckline" and way == 0:
        # a plain band may be more than a plain band
        forced |= {"finish": "folded-band", "replaces": "allowance", "parts": "list"}
    if answers["place"] == "curved" and way == 0:
        # nor need it be straight
        forced |= {"finish": "folded-band", "replaces": "allowance", "form": "contour"}
    forced["ends"] = {"straight": "turned", "hem": "raw"}.get(answers["place"], "")
    forced |= {"elastic": "none" if forced["ends"] else "", "thickness": "0.8 mm"}
    forced["garment-stretch"] = "30" if seed % 2 else ""
    if answers["place"] == "waist":
        forced |= {"finish": "folded-band", "elastic": "1 cm"}
    for question in QUESTIONS[2:]:
        if question.asked(answers) and (not question.optional or question.key in RARE or random.random() < 0.3):
            tried = list(question.words_in(answers) or FREE[question.key])
            if forced.get(question.key) in tried:
                tried = [forced[question.key]]
            for answer in random.sample(tried, len(tried)):
                with suppress(SpecError):
                    answers[question.key] = judged(question, answer, answers)
                    break
            assert question.key in answers, (question.key, answers)
    return answers


@long
def test_every_way_through_is_a_spec_with_the_figures_that_were_shown() -> None:
    reached: set[str] = set()
    for seed in range(WALKS):
        answers = walked(seed)
        piece = started_piece(answers)
        text = spec_text(piece.tables, comments_of(piece.options, piece.names, piece.finish), "")
        (again,) = figure_job(read_tables(tomllib.loads(text), "spec.toml"))
        (shown,) = piece.figures
        apart = ("warnings", "ratio", "failed")  # where the words of a spec and of answers differ
        assert {k: v for k, v in again.to_json().items() if k not in apart} == {
            k: v for k, v in shown.to_json().items() if k not in apart
        }, answers
        assert [one.check for one in again.failed] == [one.check for one in shown.failed]
        assert (again.loop_mm, len(again.warnings)) == (shown.loop_mm, len(shown.warnings))
        assert again.instructions == shown.instructions
        # what is kept reads as the same answers again
        assert seed % 4 or still_fitting(answers) == answers
        reached |= answers.keys()
    assert reached == set(BY_KEY)


def test_a_wrong_answer_to_every_question_is_tried_above() -> None:
    tried = test_a_wrong_answer_is_refused_at_its_own_question.pytestmark[0].args[1]
    assert {case[0] for case in tried} == set(BY_KEY)


def test_questions_choose_from_the_words_of_the_options() -> None:
    rows = [row for row in ALL if row.question]
    assert {row.question.key for row in rows} | set(OWN_KEYS) == set(BY_KEY)
    # a binding is not asked for a band, and a ring has no ends, so only the question has all finishes and "closed"
    assert {row.parameter for row in rows if row.question.words != row.words} == {"finish", "replaces", "ends"}
    assert BY_KEY["finish"].words == tuple(Finish)
    for question in QUESTIONS:
        assert all(question.meaning(word) for word in question.words)
        assert set(question.meanings) == set(question.words)


def test_options_choose_from_the_words_of_the_engine() -> None:
    lists = {
        "kind": Kind, "measured_on": MeasuredOn, "shape": Shape, "cut": Cut, "corner": Corner, "join_at": JoinAt, "ease": Ease,
        "on": ChangedOn, "replaces": Had, "ends": FINISHED, "buttonholes": Direction, "cut_on": CutOn, "section": SectionAt, "form": Form,
        "units": Units, "paper": PAPER_NAMES, "finish": [finish.removesuffix("-binding") for finish in Finish if not finish.is_band],
    }  # fmt: skip
    assert {row.parameter: row.words for row in ALL if row.words} == {key: tuple(words) for key, words in lists.items()}
    assert PLACES.keys() == set(BY_KEY["place"].words)


def test_a_paper_is_told_by_its_size() -> None:
    meanings = BY_KEY["paper"].meanings
    assert (meanings["letter"], meanings["a3"], meanings["tabloid"]) == ("8 1/2 x 11 in", "297 x 420 mm", "11 x 17 in")


def test_every_question_stands_for_an_option() -> None:
    options = {option.names[0].removeprefix("--") for band in (True, False) for group in options_of(band).values() for option in group}  # fmt: skip
    assert set(BY_KEY) - options == NOT_OPTIONS


@pytest.mark.parametrize(
    ("key", "said", "meant"),
    [
        ("place", "10", "curved"),
        ("finish", "band", "folded-band"),
        ("finish", "french", "french-binding"),
        ("cut", "fold", "on-fold"),
    ],
)
def test_a_part_of_a_word_will_do_where_only_one_has_it(key: str, said: str, meant: str) -> None:
    assert judged(BY_KEY[key], said, {"units": "in", "place": "neckline", "finish": "folded-band"}) == meant


def test_lines_are_short_and_questions_ask() -> None:
    for question in (*QUESTIONS, DRAW, GO_ON):
        assert question.asks.endswith("?")
        lines = (
            f"{question.asks} ({question.key})",
            *(f"  {line}" for line in (question.why, *question.more.splitlines())),
        )
        assert [line for line in lines if len(line) > 79] == []
        assert "\n" not in question.asks + question.why
        assert not {"key", "option", "value", "string", "file", "default"} & set(question.asks.casefold().split())
