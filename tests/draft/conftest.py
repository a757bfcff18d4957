"""A job of one piece whose keys a test changes one at a time."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from tests.specs import curved, piece, spec, table, written
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job, read_spec

FABRICS = {"rib": "60 %", "jersey": "30 %", "woven": "0 %", "half": "50 %", "tape": table(stretch="60 %", width="4 in")}
BAND = piece("Strip", edge=curved("22 in", "280 deg"))


@pytest.fixture
def read(tmp_path: Path) -> Callable[[str], Job]:
    """Give a reader of a whole spec's text."""

    def read_text(text: str) -> Job:
        return read_spec(written(text, tmp_path))

    return read_text


@pytest.fixture
def figure(read: Callable[[str], Job]) -> Callable[..., Figures]:
    """Give the figures of one band; keyword arguments are keys of the piece, ``None`` drops one."""

    def figure_band(units: str = "in", **keys: Any) -> Figures:
        gone = {key.replace("_", "-") for key, value in keys.items() if value is None}
        strip = {key: value for key, value in (BAND | table(**keys)).items() if key not in gone}
        return figure_job(read(spec(strip, units=units, fabrics=FABRICS)))[0]

    return figure_band
