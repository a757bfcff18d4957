"""Signs that steer a terminal or turn its direction of writing are shown and never sent.

C0 and C1 controls: ECMA-48; direction signs: Unicode Standard Annex 9, 2.
"""

from __future__ import annotations

import ast
import json
from pathlib import Path
from unicodedata import category

import pytest

from tests.chosen import over
from tests.reading.files import labelled_square, pdf, saved
from tests.specs import piece, spec, straight, written
from tiler.commands import run
from tiler.commands.output.terminal import say, say_json
from tiler.files import shown, visible

COMMANDS = Path(__file__).parents[2] / "tiler" / "commands"

STEERING = [
    *(chr(code) for code in (*range(0x20), *range(0x7F, 0xA0))),
    *"\u200e\u200f\u061c\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\u2028\u2029\ufeff",
]
NAME = "a\x1b[2J\u202efdp\u2066\x9b1m\u2028\r\n\x07b"
WRITTEN = r"a\x1b[2J\u202efdp\u2066\x9b1m\u2028\r\n\x07b"


def steers(text: str) -> set[str]:
    return {sign for sign in text if sign != "\n" and category(sign) in ("Cc", "Cf", "Zl", "Zp", "Cs")}


@over("sign", STEERING, ids=ascii)
def test_each_sign_is_written_out(sign: str) -> None:
    assert visible(f"a{sign}b") == "a" + sign.encode("unicode_escape").decode() + "b"
    assert len(visible(sign)) >= 2


def test_all_other_signs_stay() -> None:
    for text in ("½ in × 5 ″", "裁断 3\u3000cm", "שרוול", "a\u00a0b", "Größe, naïve – “so” 🧵"):
        assert visible(text) == text


def test_a_name_from_a_drawing_is_shown_short_and_whole() -> None:
    assert shown("neck\x1b") == r"neck\x1b"
    assert len(shown("x\x1b" * 60)) == 60


@pytest.mark.parametrize("err", [True, False])
def test_a_line_stays_one_line(err: bool, capsys: pytest.CaptureFixture[str]) -> None:
    say(NAME, err=err, bold=True)
    assert capsys.readouterr()[err] == f"{WRITTEN}\n"


@pytest.mark.parametrize("indent", [None, 2])
@pytest.mark.parametrize("plain", [True, False])
def test_json_keeps_its_meaning(indent: int | None, plain: bool, capsys: pytest.CaptureFixture[str]) -> None:
    tree = {NAME: ["".join(STEERING), "\U000e0001", "½ in"]}
    say_json(json.dumps(tree, indent=indent, ensure_ascii=plain))
    told = capsys.readouterr().out
    assert json.loads(told) == tree
    assert not steers(told)


@pytest.mark.usefixtures("forked")
@pytest.mark.parametrize(
    "words",
    [["verify"], ["figures"], ["edge"], ["preview", "-o", "out"], ["readings"], ["draft", "-o", "out.pdf"], []],
    ids=lambda words: "-".join(words) or "command",
)
def test_no_name_of_a_file_or_of_a_command_steers_the_terminal(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    for more in ([], ["--json"]) if words in (["verify"], ["figures"], ["edge"]) else ([],):
        assert run([*words[:1], NAME, *words[1:], *more]) in (2, 5)
        told = "".join(capsys.readouterr())
        assert told.count("\n") == 1
        assert not steers(told)
        assert NAME in json.loads(told)["error"]["message"] if more else WRITTEN in told


@pytest.mark.usefixtures("forked")
def test_no_label_of_a_pdf_and_no_word_of_a_spec_steers_the_terminal(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = saved(tmp_path, "label.pdf", pdf(labelled_square(140.0, "2 in \x1b\x07\x9b")))
    assert run(["verify", str(file)]) in (3, 4)
    path = written(spec(piece("Hem", "1 in", straight("10 in"), cut="f\u202eull")), tmp_path, "spec.toml")
    assert run(["figures", str(path)]) == 2
    assert not steers("".join(capsys.readouterr()))


def writers(file: Path) -> set[str]:
    """Name what in a module writes to a standard stream."""
    called = {ast.unparse(node.func) for node in ast.walk(ast.parse(file.read_text())) if isinstance(node, ast.Call)}
    return called & {"print", "click.echo", "click.secho", "sys.stdout.write", "sys.stderr.write"}


def test_every_line_goes_through_one_place() -> None:
    found = {file.relative_to(COMMANDS).as_posix() for file in COMMANDS.rglob("*.py") if writers(file)}
    assert found == {"output/terminal.py"}
