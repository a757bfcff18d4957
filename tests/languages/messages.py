"""All templates of the source, and the catalogues brought up to them: ``python -m tests.languages.messages``.

A template that is new gets an empty translation, one that is gone is left out.
"""

from __future__ import annotations

import ast
from collections.abc import Iterator, Mapping
from io import BytesIO
from pathlib import Path
from string import Formatter

from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from tiler.languages.catalogue import ENGLISH, LANGUAGES, catalogue_file

ROOT = Path(__file__).parent.parent.parent
SAYING = ("noted", "say", "Words")
"""What takes a template as its first argument, and may take the one for many as its second."""

MOST_SHOWN = 10
LEFT_OUT = tuple(
    f'"{name}:'
    for name in (
        "Project-Id-Version",
        "Report-Msgid-Bugs-To",
        "POT-Creation-Date",
        "PO-Revision-Date",
        "Last-Translator",
        "Language-Team",
        "Generated-By",
    )
)
"""Begin the lines of a head that tell who wrote a catalogue when."""

Key = str | tuple[str, str]
"""A template, or one with that for many."""


def templates(root: Path = ROOT) -> dict[Key, list[str]]:
    """Return every template of the source with the files that it stands in."""
    found: dict[Key, list[str]] = {}
    commands = root / "tiler" / "commands"
    for file in sorted((root / "tiler").rglob("*.py")):
        # the terminal stays English, and what is said there is another matter
        for key in () if commands in file.parents else _in_file(file):
            found.setdefault(key, []).append(file.relative_to(root).as_posix())
    return found


def _in_file(file: Path) -> Iterator[Key]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SAYING:
            texts = [one.value for one in node.args[:2] if isinstance(one, ast.Constant) and isinstance(one.value, str)]
            if texts and texts[0]:
                yield (texts[0], texts[1]) if len(texts) > 1 and texts[1] else texts[0]


def catalogue(language: str) -> Catalog:
    """Return a catalogue as it stands."""
    with catalogue_file(language).open("rb") as file:
        return read_po(file, locale=language)


def brought_up(language: str, found: Mapping[Key, list[str]]) -> Catalog:
    """Return a catalogue with just these templates, and the translations that it has for them."""
    old = catalogue(language) if catalogue_file(language).exists() else Catalog(locale=language)
    new = Catalog(locale=language, project="tiler", fuzzy=False)
    for key, files in found.items():
        known = old.get(key if isinstance(key, str) else key[0])
        text = known.string if known and isinstance(known.string, str) is isinstance(key, str) else None
        locations = [(file, 0) for file in dict.fromkeys(files)]
        new.add(key, text, locations, user_comments=known.user_comments if known else ())
    return new


def written(made: Catalog, language: str) -> str:
    """Return a catalogue as text, with the lines of its head that gettext needs."""
    out = BytesIO()
    made.header_comment = f"# What is printed, in {LANGUAGES[language]}.  The words of the trade stand in glossary.md."
    write_po(out, made, width=100, include_lineno=False)
    lines = out.getvalue().decode("utf-8").splitlines(keepends=True)
    return "".join(line for line in lines if not line.startswith(LEFT_OUT))


def faults(language: str, made: Catalog, found: Mapping[Key, object]) -> Iterator[str]:
    """Yield what a catalogue lacks, has too much, or says with other fields than the template."""
    stated: dict[Key, tuple[str, ...]] = {}
    for one in made:
        if one.id:
            key = (one.id[0], one.id[1]) if isinstance(one.id, tuple | list) else one.id
            stated[key] = tuple(one.string) if isinstance(one.string, tuple | list) else (one.string,)
            if one.fuzzy:
                yield f"{language}: {key} is marked as fuzzy"
    yield from (f"{language}: {key} is no template" for key in stated if key not in found)
    for key in found:
        said = stated.get(key, ())
        if not said or not all(said):
            yield f"{language}: {key} has no translation"
        elif len(said) != (1 if isinstance(key, str) else made.num_plurals):
            yield f"{language}: {key} has {len(said)} forms"
        else:
            wanted = _fields(key if isinstance(key, str) else key[1])
            yield from (f"{language}: {text!r} has other fields than {key}" for text in said if _fields(text) != wanted)


def _fields(text: str) -> set[tuple[str, str]]:
    try:
        return {(name, form or "") for _, name, form, _ in Formatter().parse(text) if name is not None}
    except ValueError:
        return {("no field", text)}


def main() -> None:
    found = templates()
    for language in LANGUAGES:
        if language != ENGLISH:
            made = brought_up(language, found)
            catalogue_file(language).write_text(written(made, language), encoding="utf-8")
            wrong = list(faults(language, made, found))
            print(f"{language}: {len(found)} templates, {len(wrong)} faults", *wrong[:MOST_SHOWN], sep="\n  ")


if __name__ == "__main__":
    main()
