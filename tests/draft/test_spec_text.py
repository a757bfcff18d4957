"""This checks that a spec written as text reads as the tables that it was written from (TOML 1.0)."""

import tomllib

import pytest

from tiler.draft.spec.write import spec_text

TABLES = {
    "title": "Invented",
    "units": "cm",
    "paper": {"size": "a4"},
    "fabrics": {"rib": {"stretch": "60 %"}, "my rib": {"rest": "5 in", "pulled": "8 in"}},
    "pieces": [
        {
            "name": "Band",
            "quantity": 2,
            "edge": {"kind": "curved", "whole": "22 in", "corners": ["90", "-10"]},
            "ratio": {"loop": "19 in", "edge": "22 in"},
            "notches": [{"name": "pocket", "at": "4 in"}, {"name": "seam", "at": "0 in"}],
            "ease": "even",
        },
        {"name": "Cuff"},
    ],
}

ODD_TEXTS = [
    'a "quoted" word',
    "back\\slash, \\u0041 and \\n as typed",
    "# no comment",
    "'single', \"\"\"three\"\"\" and '''three'''",
    "a = 1\n[pieces]\nb\ttab\r\x00\x1f\x7f",
    "½ ″ ö 漢 🧵 é",
    "",
    "true",
]


def test_every_kind_of_value_comes_back() -> None:
    assert tomllib.loads(spec_text(TABLES, {}, "Invented")) == TABLES


@pytest.mark.parametrize("text", ODD_TEXTS)
def test_odd_texts_come_back_as_values_and_as_keys(text: str) -> None:
    tables = {
        "title": text,
        "fabrics": {text: {"stretch": text}},
        "pieces": [{"name": text, "notches": [{"name": text}]}],
    }
    assert tomllib.loads(spec_text(tables, {}, "")) == tables


def test_comments_stand_beside_their_keys_and_change_nothing() -> None:
    comments = {
        ("title",): "above every page",
        ("pieces", "edge", "whole"): "all of it",
        ("fabrics", "my rib", "rest"): "at rest",
    }
    text = spec_text(TABLES, comments, "First line\nsecond line")
    assert text.startswith("# First line\n# second line\ntitle = ")
    beside = {line.split(" = ")[0]: line.split("  # ")[1] for line in text.splitlines() if "  # " in line}
    assert beside == {"title": "above every page", "whole": "all of it", "rest": "at rest"}
    assert tomllib.loads(text) == TABLES
