"""The file of answers of ``tiler start``: TOML, a line for each answer under the key of its question.

The file that keeps the answers of a dialogue and the file that ``--answers`` takes are one format.
"""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from tiler.commands.interview.path import QUESTIONS
from tiler.commands.interview.question import Answers
from tiler.draft.spec.table import kind_of, nearest
from tiler.draft.spec.toml import read_toml
from tiler.draft.spec.write import Comments, spec_text
from tiler.errors import SpecError
from tiler.sentence import Place
from tiler.usecases.files.replace import write_file

LARGEST_FILE = 100_000
"""A larger file, in bytes, is not a file of answers."""

_IN_A_SPEC = {"kind": "place", "whole": "edge", "finished-width": "width"}
"""Keys that a spec has for what is asked under another name."""

_FOR_INSTANCE = 'write one answer a line, for instance front-half = "18 cm"'

_HEADING = "Answers to tiler start, one a line, kept so that none is lost."


def kept_beside(spec: Path) -> Path:
    """Return the file in which the answers are kept while the spec is not there yet."""
    return spec.with_name(f"{spec.stem}.answers.toml")


def load_answers(path: Path) -> dict[str, str]:
    """Read a file of answers, unjudged but for its keys.

    Raises :class:`SpecError` for a file that cannot be read and for a key that belongs to no question.
    """
    keys = [question.key for question in QUESTIONS]
    answers = {}
    for key, value in read_toml(path, LARGEST_FILE, "file of answers", _FOR_INSTANCE).items():
        place = Place(path.name, (key,))
        if key not in keys:
            meant = f"did you mean {_IN_A_SPEC[key]}?" if key in _IN_A_SPEC else nearest(key, keys)
            raise SpecError(f"is not a question; {meant}", place)
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            raise SpecError(f'must be a text or a number, not {kind_of(value)}; write {key} = "…"', place)
        answers[key] = str(value)
    return answers


def save_answers(path: Path, answers: Answers) -> None:
    """Keep the answers in one step: a file that was there is whole until the new one is.

    Raises :class:`tiler.errors.CannotWriteError`.
    """
    asks: Comments = {(question.key,): question.asks for question in QUESTIONS}
    ordered = {question.key: answers[question.key] for question in QUESTIONS if question.key in answers}
    write_file(path, spec_text(ordered, asks, _HEADING).encode("utf-8"), force=True)


def remove_answers(path: Path) -> None:
    """Remove the kept answers, once spec and PDF stand in place."""
    with suppress(FileNotFoundError):
        path.unlink()
