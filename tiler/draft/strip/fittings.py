"""Fittings: by how much the strip was changed after each, from the starting length to the last one.

Millimetres.  A change that is measured on the folded strip counts twice, since both
layers change; one on the whole loop counts once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import fsum

from tiler.draft.spec.table import Table
from tiler.languages.catalogue import noted
from tiler.languages.words import Words, listed
from tiler.lengths import both
from tiler.sentence import Key, Sentence, joined

KEYS = ("shorten", "lengthen", "on", "date", "note")
MOST_TOLD = 3
"""So many of the last fittings are told on paper."""

_HINT = '[{ shorten = "3/16 in", on = "fold" }]'


class ChangedOn(StrEnum):
    """What the change was measured on: the strip folded in two, or the whole loop."""

    FOLD = "fold"
    LOOP = "loop"


_CHANGES = {
    (True, ChangedOn.FOLD): noted("{length} shorter at the fold"),
    (False, ChangedOn.FOLD): noted("{length} longer at the fold"),
    (True, ChangedOn.LOOP): noted("{length} shorter round the loop"),
    (False, ChangedOn.LOOP): noted("{length} longer round the loop"),
}


@dataclass(frozen=True)
class Trial:
    """One fitting: the change as it was measured, mm, negative when shorter; on what; a note, and when."""

    measured_mm: float
    on: ChangedOn
    note: str | None
    date: str | None = None

    @property
    def change_mm(self) -> float:
        """What it changes in the sewn length."""
        return self.measured_mm * (2 if self.on is ChangedOn.FOLD else 1)


@dataclass(frozen=True)
class Fitting:
    """A trial with the sewn length that it led to, mm, and that length as a share of the edge."""

    trial: Trial
    loop_mm: float
    ratio: float


def read_trials(table: Table) -> tuple[Trial, ...]:
    """Read the ``trials`` of a piece."""
    if not table.has("trials"):
        return ()
    return tuple(_read_trial(entry) for entry in table.tables("trials", KEYS, _HINT))


def total_change(trials: Sequence[Trial]) -> float:
    """Return the change of the sewn length after all of them, mm."""
    return fsum(trial.change_mm for trial in trials)


def after_trials(trials: Sequence[Trial]) -> str:
    """Say how many fittings changed the length, to follow where it started."""
    match len(trials):
        case 0:
            return ""
        case 1:
            return "; then one fitting"
        case count:
            return f"; then {count} fittings"


def told_fittings(told: Sequence[Fitting], units: str) -> str:
    """Say of the last fittings when they were and what each changed; empty where there is none."""
    words = []
    for count, fitting in list(enumerate(told, 1))[-MOST_TOLD:]:
        trial = fitting.trial
        change = Words(_CHANGES[trial.measured_mm < 0, trial.on], length=both(abs(trial.measured_mm), units))
        parts = (Words("fitting {number}", number=count), trial.date, change)
        words.append(joined(", ", (part for part in parts if part)))
    return listed(words)


def fittings(trials: Sequence[Trial], start: float, edge: float) -> tuple[Fitting, ...]:
    """Tell the story from the starting length ``start`` on an edge of ``edge`` mm."""
    told = []
    for count, trial in enumerate(trials, 1):
        loop = start + total_change(trials[:count])
        told.append(Fitting(trial, loop, loop / edge))
    return tuple(told)


def _read_trial(entry: Table) -> Trial:
    key = entry.only_one("shorten", "lengthen")
    if key is None:
        entry.raw("shorten", Sentence(Key("shorten", '"3/16 in"'), ", or ", Key("lengthen")))
    amount = entry.length(key or "shorten", "")
    folded = " when it was measured on the folded strip, or "
    entry.raw("on", Sentence(Key("on", '"fold"'), folded, Key("on", '"loop"')))
    on = entry.word("on", ChangedOn)
    date = entry.optional_text("date", '"2031-05-01"')
    return Trial(-amount if key == "shorten" else amount, on, entry.optional_text("note", '"gapes at CF"'), date)
