"""How deeply keys are nested is found before a parser meets them (TOML 1.0, keys, tables, inline tables, arrays)."""

from __future__ import annotations

import resource
import tomllib
from pathlib import Path

import pytest

from tiler.commands.interview.answers import load_answers
from tiler.draft.spec.nesting import DEEPEST, too_deep
from tiler.draft.spec.read import read_spec
from tiler.errors import SpecError


def dotted(count: int) -> str:
    return ".".join(["a"] * count)


def inline(count: int) -> str:
    return "a = " + "{ a = " * (count - 1) + "1" + " }" * (count - 1)


NESTED = {
    "a dotted key": lambda n: f"{dotted(n)} = 1",
    "a header": lambda n: f"[{dotted(n)}]\n",
    "a header of a list": lambda n: f"[[{dotted(n)}]]\n",
    "a key below a header": lambda n: f"[{dotted(n - 2)}]\nb.c = 1",
    "tables within tables": inline,
    "dotted keys within a table": lambda n: f"b = {{ c = 1, {dotted(n - 1)} = 1 }}",
    "lists within lists": lambda n: f"b = {'[' * (n - 1)}{']' * (n - 1)}",
    "a table within lists": lambda n: f"b = {'[' * (n - 3)}{{ c = [] }}{']' * (n - 3)}",
    "keys in quotes": lambda n: ".".join(['"a.b"'] * n) + " = 1",
}


@pytest.mark.parametrize("nested", NESTED.values(), ids=NESTED)
def test_what_is_nested_as_deeply_as_it_may_be_is_read_and_one_level_more_is_not(nested: object) -> None:
    before = "# a.a\nx.y = [1.5, 2.5] # [[[\n"
    allowed, refused = before + nested(DEEPEST), before + nested(DEEPEST + 1)  # type: ignore[operator]
    assert tomllib.loads(allowed)
    assert tomllib.loads(refused)
    assert too_deep(allowed) is None
    assert too_deep(refused) == len(refused.splitlines())


DOTS = ".".join("a" * 40)
BRACKETS = "[" * 40

HARMLESS = {
    "strings": f"a = \"{DOTS} {BRACKETS}\"\nb = '{DOTS} {BRACKETS}'\n",
    "escaped quotes": f'a = "\\"{DOTS} \\\\" # {DOTS} = {BRACKETS}\n',
    "long strings": f'a = """\n{DOTS} = {BRACKETS}\n "" \\""" "" {BRACKETS}"""""\nb = \'\'\'{BRACKETS} \'\'\n{DOTS}\'\'\'\n',
    "empty strings": f"a = \"\"\"\"\"\"\nb = ''''''\nc = \"\"\nd = '' # {BRACKETS}\n",
    "a key in quotes": f'"{DOTS}" = 1\n["b {DOTS}"]\n\'{DOTS}\' = 2\n',
    "many lists": "a = [" + "[1.0, 2.0],\n" * 200 + "]\nb = [" + "{ c.d = 1.5, e = [1] }, " * 200 + "]\n",
    "many tables": "[[a]]\n[a.b.c]\nd.e = { f = 1.5 }\n" * 100,
    "dates and numbers": "a = 1979-05-27T07:32:00.999-07:00\nb = [" + "3.14, " * 99 + "]\n",
}


@pytest.mark.parametrize("text", HARMLESS.values(), ids=HARMLESS)
def test_strings_comments_and_what_stands_side_by_side_do_not_nest(text: str) -> None:
    assert tomllib.loads(text)
    assert too_deep(text) is None


def test_a_list_that_is_not_closed_is_left_to_the_parser_which_says_so(tmp_path: Path) -> None:
    path = tmp_path / "open.toml"
    path.write_text("a = [1\n" + "[[pieces]]\nname = 1\n" * 20)
    with pytest.raises(SpecError, match=r"is not TOML: Unclosed array"):
        read_spec(path)


def test_forty_kilobytes_of_dots_are_refused_at_once_and_in_little_memory(tmp_path: Path) -> None:
    path = tmp_path / "dots.toml"
    path.write_text(f"title = '…'\n{dotted(20_000)} = 1\n")
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    with pytest.raises(SpecError) as refused:
        read_spec(path)
    assert str(refused.value) == (
        "dots.toml: line 2 is nested too deeply to be a spec, in more than 16 keys; check the dots and brackets"
    )
    with pytest.raises(SpecError, match=r"dots\.toml: line 2 is nested too deeply to be a file of answers"):
        load_answers(path)
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 64 * 1024


def test_a_spec_of_more_than_a_mebibyte_is_refused_before_it_is_parsed(tmp_path: Path) -> None:
    path = tmp_path / "long.toml"
    path.write_bytes(b"=" * (2**20 + 1))
    with pytest.raises(SpecError, match=r"long\.toml: is larger than 1 MB and therefore not a spec"):
        read_spec(path)
