"""This checks that a spec written as text reads as the tables that it was written from (TOML 1.0)."""

import tomllib

from hypothesis import given
from hypothesis import strategies as st

from tests.chosen import long, over
from tests.specs import armhole, curved, neckline, piece, spec, table
from tiler.draft.spec.read import read_tables
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


@over("text", ODD_TEXTS)
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


TEXTS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
VALUES = TEXTS | st.booleans() | st.integers(-(2**63), 2**63 - 1) | st.floats(allow_nan=False)
PLAIN = st.dictionaries(TEXTS, VALUES | st.lists(VALUES, max_size=3), max_size=3)
PIECES = st.dictionaries(TEXTS, VALUES | PLAIN | st.lists(PLAIN, max_size=2), max_size=4)


@given(
    st.dictionaries(TEXTS, VALUES, max_size=3), st.lists(PIECES, max_size=3), st.dictionaries(TEXTS, PLAIN, max_size=3)
)
def test_any_tables_come_back(head: dict[str, object], pieces: list[object], fabrics: dict[str, object]) -> None:
    tables = head | {"fabrics": fabrics, "pieces": pieces}
    assert tomllib.loads(spec_text(tables, {}, "Invented")) == tables


LENGTHS = st.integers(160, 640).map(lambda sixteenths: f"{sixteenths // 16} {sixteenths % 16}/16 in")
EDGES = (
    st.builds(neckline, LENGTHS, LENGTHS, shoulder_slope=st.none() | st.integers(0, 30))
    | st.builds(armhole, LENGTHS, LENGTHS, end_allowance=st.none() | st.just("1/4 in"))
    | st.builds(curved, LENGTHS, st.integers(-90, 300))
)
STATED = st.fixed_dictionaries(
    {"edge": EDGES, "finish": st.sampled_from(["folded-band", "french-binding"]), "width": st.just("1/2 in")},
    optional={
        "cut": st.sampled_from(["on-fold", "full-loop"]),
        "ratio": st.just("flat") | st.floats(0.5, 1.0) | st.just(table(loop="19 in", edge="22 in")),
        "quantity": st.integers(1, 9),
        "notches": st.lists(st.builds(table, name=st.sampled_from("ab"), at=LENGTHS), max_size=2),
    },
)


@long
@given(st.lists(STATED, min_size=1, max_size=3), st.sampled_from(["in", "cm"]))
def test_a_job_is_the_same_read_from_its_tables_and_from_its_text(stated: list[dict[str, object]], units: str) -> None:
    tables = tomllib.loads(spec(*(piece(f"Band {k}", **keys) for k, keys in enumerate(stated)), units=units))
    written = tomllib.loads(spec_text(tables, {("title",): "as printed"}, "Two\nlines"))
    assert read_tables(written, "spec.toml:") == read_tables(tables, "spec.toml:")
