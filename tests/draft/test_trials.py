"""This checks fittings: a change on the fold counts twice, one on the loop once."""

import pytest

from tests.specs import table
from tiler.errors import SpecError

IN = 25.4


def test_a_change_on_the_fold_counts_twice(figure):
    plain = figure(ratio=0.85)
    tried = figure(ratio=0.85, trials=[table(shorten="3/16 in", on="fold", note="gapes at CF")])
    assert tried.trial_change_mm / IN == pytest.approx(-3 / 8)
    assert tried.loop_mm == pytest.approx(plain.loop_mm - 3 / 8 * IN)
    assert tried.cut_length_mm == pytest.approx(plain.cut_length_mm - 3 / 16 * IN)
    assert tried.to_json()["trial_change_mm"] == tried.trial_change_mm
    assert tried.fittings[0].trial.note == "gapes at CF"


def test_a_change_on_the_loop_counts_once(figure):
    plain = figure(ratio=0.85, cut="full-loop")
    tried = figure(ratio=0.85, cut="full-loop", trials=[table(lengthen="1/2 in", on="loop")])
    assert tried.trial_change_mm / IN == pytest.approx(0.5)
    assert tried.cut_length_mm == pytest.approx(plain.cut_length_mm + 0.5 * IN)


def test_the_story_goes_from_the_starting_ratio_to_the_last_fitting(figure):
    trials = [table(shorten="1/4 in", on="fold"), table(lengthen="1/8", on="loop"), table(shorten="1 cm", on="loop")]
    strip = figure(loop="19 in", trials=trials)
    steps = [19 - 0.5, 19 - 0.5 + 0.125, 19 - 0.5 + 0.125 - 1 / 2.54]
    assert [fitting.loop_mm / IN for fitting in strip.fittings] == pytest.approx(steps)
    assert [fitting.ratio for fitting in strip.fittings] == pytest.approx([step / 22 for step in steps])
    assert strip.ratio.used == strip.fittings[-1].ratio
    assert strip.loop_mm / IN == pytest.approx(steps[-1])
    assert strip.ratio.source == "loop: sewn length stated in the spec; then 3 fittings"


def test_checks_are_made_on_the_last_length(figure):
    long = figure(ratio=0.85, trials=[table(lengthen="2 in", on="fold")])
    assert any(text.startswith("Stands away") for text in long.warnings)


def test_without_fittings_nothing_is_told(figure):
    strip = figure()
    assert strip.fittings == ()
    assert "trial_change_mm" not in strip.to_json()


@pytest.mark.parametrize(
    ("trials", "expected"),
    [
        (table(shorten="1/4", on="fold"), "trials: must be a list of tables, not a table"),
        ([table(shorten="1/4")], "trials[0].on: is missing; write on ="),
        ([table(on="fold")], "trials[0].shorten: is missing; write shorten"),
        ([table(shorten="1/4", lengthen="1/4", on="fold")], "trials[0].lengthen: contradicts shorten"),
        ([table(shorten="-1/4", on="fold")], "trials[0].shorten: '-1/4' is negative"),
        ([table(shorten="1/4", on="half")], 'trials[0].on: "half" is not known; known are fold, loop'),
        ([table(shorten="1/4", on="fold", when="May")], "trials[0].when: is not a known key"),
        ([table(shorten="12 in", on="fold")], "trials: nothing is left of a strip of 18½ in (46.9 cm)"),
    ],
)
def test_a_fitting_that_cannot_be_gets_one_sentence(figure, trials, expected):
    with pytest.raises(SpecError) as caught:
        figure(trials=trials)
    assert expected in str(caught.value)
