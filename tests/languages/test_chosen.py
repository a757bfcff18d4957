"""Which languages may be asked for, in a spec and on the command line, and how an unknown one is refused."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests.chosen import over
from tests.specs import piece, spec
from tiler.commands import run
from tiler.declaration import Declaration, DeclarationError
from tiler.draft.spec.read import read_spec
from tiler.errors import SpecError
from tiler.languages.catalogue import LANGUAGES
from tiler.languages.chosen import chosen
from tiler.sentence import Place


@pytest.mark.parametrize(
    ("value", "languages"),
    [("de", ("de",)), ("en,de", ("en", "de")), ("en, de", ("en", "de")), (["fr", "nl"], ("fr", "nl"))],
)
def test_one_language_or_two_are_taken(value: object, languages: tuple[str, ...]) -> None:
    assert chosen(value, Place("spec")) == languages


@over(
    ("value", "why"),
    [
        ("xx", '"xx" is not known; there are en (English), de (German), fr (French), es (Spanish), nl (Dutch)'),
        ("German", "did you mean de?"),
        ("EN", "did you mean en?"),
        (["de", "de"], "twice"),
        (["de", "fr", "nl"], "at most 2"),
        (7, "must be a language"),
        ([], "must be a language"),
        ([7], "must be a language"),
        ("", "is not known"),
    ],
)
def test_any_other_is_refused_in_a_sentence(value: object, why: str) -> None:
    with pytest.raises(SpecError) as fault:
        chosen(value, Place("spec", ("language",)))
    assert why in str(fault.value)
    assert str(fault.value).startswith("spec: language: ")


def test_a_spec_states_its_language(tmp_path: Path) -> None:
    file = tmp_path / "spec.toml"
    for languages in (["en", "de"], "nl"):
        file.write_text(spec(piece(), language=languages), encoding="utf-8")
        assert read_spec(file).edition.languages == chosen(languages, Place(""))


@pytest.mark.parametrize("command", ["draft", "chart", "instructions"])
def test_an_unknown_language_ends_with_usage(command: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "spec.toml").write_text(spec(piece()), encoding="utf-8")
    code = run([command, str(tmp_path / "spec.toml"), "-o", str(tmp_path / "out.pdf"), "--language", "xx"])
    assert code == 2
    told = " ".join(capsys.readouterr().err.split())
    assert '--language: "xx" is not known' in told
    assert all(name in told for name in LANGUAGES.values())
    assert not (tmp_path / "out.pdf").exists()


def test_a_declaration_in_an_unknown_language_is_none(letter: object) -> None:
    tree = json.loads(letter.declaration.to_bytes())  # type: ignore[attr-defined]
    assert Declaration.from_bytes(json.dumps(tree).encode()).languages == ("en",)
    for languages in (["xx"], []):
        with pytest.raises(DeclarationError, match="language"):
            Declaration.from_bytes(json.dumps({**tree, "languages": languages}).encode())
    # what was drafted before there were languages is English
    del tree["languages"]
    assert Declaration.from_bytes(json.dumps(tree).encode()).languages == ("en",)
