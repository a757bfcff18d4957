"""Scripts that cannot be set letter by letter are refused in a title or a name, as a letter is that the font lacks."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.specs import piece, spec
from tiler.commands import run
from tiler.languages.scripts import is_shaped
from tiler.sheets.typesetting import printable

WORDS = {"Arabic": "قميص", "Hebrew": "חולצה", "Hindi": "कमीज", "Tamil": "சட்டை", "Thai": "เสื้อ", "override": "a\u202eb"}


@pytest.mark.parametrize("text", WORDS.values(), ids=WORDS)
@pytest.mark.parametrize("key", ["title", "name"])
def test_a_script_that_is_shaped_is_refused_like_a_missing_letter(
    text: str, key: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "spec.toml"
    file.write_text(spec(piece(text if key == "name" else "Band"), title=text if key == "title" else "Top"), "utf-8")
    assert run(["draft", str(file), "-o", str(tmp_path / "out.pdf")]) == 2
    said = capsys.readouterr().err
    assert said.count("\n") <= 3
    assert not (tmp_path / "out.pdf").exists()
    if text != WORDS["override"]:
        assert "write it in another script" in " ".join(said.split())


@pytest.mark.parametrize("text", ["Ärmel ß €", "œuvre ñandú", "Рубашка", "Πουκάμισο", "Łódź", "žalůdek", "½ × ° “ ”"])
def test_scripts_that_are_set_letter_by_letter_are_taken(text: str) -> None:
    assert not any(map(is_shaped, text))
    assert printable(text) == text


def test_words_of_strangers_get_a_question_mark_instead() -> None:
    assert printable("Band חו") == "Band ??"
