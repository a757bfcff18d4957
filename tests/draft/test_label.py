"""This checks what a label says of the lengths between which its strip is good."""

import pytest

from tests.specs import straight
from tiler.draft.edition import Edition, Units
from tiler.draft.label import good_lengths, label_of


@pytest.mark.parametrize(
    ("keys", "words"),
    [
        # closed forms: 22 / 1.36 and (22 - 2.4435) / 1.02; 10 / 1.36; 22 / 1.18 over (22 - 4.8869) / 1.02
        (
            {"fabric": "rib"},
            "good from 16 3/16 in (41.1 cm), 60 % of the stretch, to 19 3/16 in (48.7 cm), longest that lies flat",
        ),
        ({"fabric": "rib", "edge": straight(10)}, "good from 7⅜ in (18.7 cm), 60 % of the stretch"),
        (
            {"fabric": "jersey", "finished_width": "1 in"},
            "no good length: 60 % of the stretch takes 18⅝ in (47.4 cm), and only up to 16¾ in (42.6 cm) lies flat",
        ),
    ],
)
def test_the_range_is_told(figure, keys, words):
    strip = figure(**keys)
    assert good_lengths(strip, "in") == words
    label = label_of(strip, Edition("Invented", Units.IN))
    assert [line.text.replace("\u00a0", " ") for line in label.lines()].count(words) == 1
