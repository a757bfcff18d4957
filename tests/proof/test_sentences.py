"""The sentences of the checks: each gets the numbers that it speaks of, wherever a check is made with it."""

from __future__ import annotations

import ast
from collections.abc import Iterable
from pathlib import Path
from string import Formatter

import pytest

import tiler.proof
from tiler.box import Box
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says

PARTS = {"label", "axis", "measured", "nominal", "where", "effect"}
"""What a sentence takes from the fields of its check; all else stands among its numbers."""

FIELDS = {"label": "label", "axis": "axis", "where": "box"}
"""Parts that must be given by the name of their field."""


def spoken_of(says: Says) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(says) if name}


def written(scope: ast.AST, given: ast.expr) -> list[ast.expr]:
    """Give an expression, or for a name what the same function assigns to it."""
    if not isinstance(given, ast.Name):
        return [given]
    found: list[ast.expr] = []
    for node in ast.walk(scope):
        if not isinstance(node, ast.Assign):
            continue
        for target in node.targets:
            names, values = (one.elts if isinstance(one, ast.Tuple) else [one] for one in (target, node.value))
            pairs = zip(names, values, strict=False)
            found += [value for name, value in pairs if isinstance(name, ast.Name) and name.id == given.id]
    return found


def keys_of(tables: Iterable[ast.expr]) -> set[str]:
    nodes = (node for table in tables for node in ast.walk(table) if isinstance(node, ast.Dict))
    return {str(key.value) for node in nodes for key in node.keys if isinstance(key, ast.Constant)}


def lacking(source: str) -> list[str]:
    """Name the sentences of a module whose check does not give them what they speak of, with what is missing."""
    faults = []
    for scope in ast.walk(ast.parse(source)):
        if not isinstance(scope, ast.FunctionDef):
            continue
        for call in ast.walk(scope):
            if not (isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "Check"):
                continue
            given = {one.arg: one.value for one in call.keywords if one.arg}
            there = set(given) | (keys_of(written(scope, given["numbers"])) if "numbers" in given else set())
            for node in (node for says in call.args[2:3] for one in written(scope, says) for node in ast.walk(one)):
                if isinstance(node, ast.Attribute) and isinstance(node.value, ast.Name) and node.value.id == "Says":
                    needed = {FIELDS.get(part, part) for part in spoken_of(Says[node.attr])}
                    missing = needed - there - (PARTS - set(FIELDS))
                    faults += [f"{node.attr}: {part}" for part in sorted(missing)]
    return faults


@pytest.mark.parametrize("file", sorted(Path(tiler.proof.__path__[0]).rglob("*.py")), ids=lambda file: file.stem)
def test_every_check_gives_its_sentence_what_it_speaks_of(file: Path) -> None:
    assert lacking(file.read_text(encoding="utf-8")) == []


def test_a_number_that_is_missing_is_found() -> None:
    call = "def late():\n    return Check(CheckName.PAGES, Status.PASS, {}, numbers={})"
    assert lacking(call.format("Says.PAGES_ALL", '{"pages": 4}')) == []
    assert lacking(call.format("Says.PANES_ALL", '{"pages": 4}')) == ["PANES_ALL: windows"]
    assert lacking(call.format("Says.LEFT_OUT", "{}")) == ["LEFT_OUT: label"]


def test_what_a_file_calls_itself_is_never_taken_for_a_place_in_a_sentence() -> None:
    check = Check(CheckName.COVERAGE, Status.FAIL, Says.LEFT_OUT, label="{axis} {0} }{")
    assert check.detail.startswith("{axis} {0} }{: ")


def test_a_sentence_takes_its_sizes_and_its_place_from_its_check() -> None:
    lost = Check(
        CheckName.RULE, Status.FAIL, Says.FOUND, 1, 99.0, 100.0, label="10 cm", axis="down", box=Box(4, 5, 9, 9)
    )
    assert lost.detail.startswith("10 cm down, 4 mm from the left and 5 mm from the foot, −1.00 %")
