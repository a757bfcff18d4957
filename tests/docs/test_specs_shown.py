"""Every spec of the README and the guide can be drafted, and every piece of one belongs into a spec.

A block is a whole spec when it has a title.  One with a name but without a title is
another file, which a command of its page takes.  Any other is a fragment: its keys
of a spec stand in for those of the page's first spec, its keys of a piece for those of
that spec's first piece, where they also drive out a key that says the same otherwise.
"""

from __future__ import annotations

import copy
import shutil
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.chosen import long
from tests.docs.pages import ROOT, TEXTS, refresh
from tiler.commands import run
from tiler.draft.compute import figure_job
from tiler.draft.spec import piece as piece_spec
from tiler.draft.spec.read import read_spec, read_tables
from tiler.draft.strip import loop
from tiler.errors import SpecError

SAME = (set(loop.KEYS), {"finished-width", "cut-width"})
AT_THE_TOP = {"title", "units", "version", "date", "copyright", "sizes", "paper", "fabrics"}


def toml_blocks(page: str) -> Iterator[Any]:
    return (block for block in refresh.blocks(TEXTS[page]) if block.language == "toml")


def whole(page: str) -> list[dict[str, Any]]:
    return [tables for block in toml_blocks(page) if "title" in (tables := tomllib.loads(block.text))]


def completed(fragment: dict[str, Any], spec: dict[str, Any]) -> dict[str, Any]:
    """Put a fragment into a spec, by the rule of this file."""
    spec = copy.deepcopy(spec)
    piece = spec["pieces"][0]
    for key, value in fragment.items():
        if key == "fabrics":
            spec["fabrics"] |= value
        elif key in AT_THE_TOP:
            spec[key] = value
        else:
            for same in SAME:
                if key in same:
                    for other in same & set(piece):
                        del piece[other]
            piece[key] = value
    return spec


SPECS = [(page, index) for page in TEXTS for index in range(len(whole(page)))]
FRAGMENTS = [
    pytest.param(page, block.text, id=f"{page}: {block.text.splitlines()[0]}")
    for page in TEXTS
    for block in toml_blocks(page)
    if "title" not in tomllib.loads(block.text) and not block.file
]


@long
@pytest.mark.parametrize(("page", "index"), SPECS)
def test_a_spec_that_is_shown_is_drafted(page: str, index: int, tmp_path: Path) -> None:
    text = [block.text for block in toml_blocks(page) if "title" in tomllib.loads(block.text)][index]
    (tmp_path / "examples").mkdir()
    for drawing in (ROOT / "examples").glob("*.svg"):
        shutil.copy(drawing, tmp_path / "examples")
    spec = tmp_path / "shown.toml"
    spec.write_text(text, encoding="utf-8")
    assert run(["draft", str(spec), "-o", str(tmp_path / "shown.pdf")]) == 0


@pytest.mark.parametrize(("page", "text"), FRAGMENTS)
def test_a_fragment_of_a_spec_has_its_place(page: str, text: str) -> None:
    figures = figure_job(read_tables(completed(tomllib.loads(text), whole(page)[0]), f"{page}:"))
    assert figures


def test_a_file_that_is_no_spec_is_taken_by_a_command() -> None:
    others = [
        (page, block.file) for page in TEXTS for block in toml_blocks(page) if block.file and "title" not in block.text
    ]
    assert others == [("one-piece.md", "answers.toml")]
    for page, name in others:
        assert f"--answers {name}" in TEXTS[page]


def test_a_fragment_with_a_word_that_does_not_belong_there_is_found() -> None:
    spec = whole("spec.md")[0]
    with pytest.raises(SpecError, match="opening"):
        read_tables(completed({"openings": {"must-pass": "22 in"}}, spec), "page:")
    assert "ratio" not in completed({"loop": "19 in"}, spec)["pieces"][0]


def test_the_first_spec_is_that_of_the_example() -> None:
    (shown,) = figure_job(read_tables(whole("spec.md")[0], "page:"))
    (example,) = figure_job(read_spec(ROOT / "examples" / "saltmarsh-crew.toml"))
    assert shown.to_json() == example.to_json()


def test_the_fragments_are_many() -> None:
    keys = {key for parameter in FRAGMENTS for key in tomllib.loads(parameter.values[1])}  # type: ignore[arg-type]
    assert {"fits", "corner", "replaces", "trials", "opening", "notches", "sizes", "paper", "fabrics"} <= keys
    assert keys <= {*piece_spec.KEYS, *AT_THE_TOP}
