"""Specs as text: a job of one piece whose keys a test changes one at a time."""

from collections.abc import Callable
from pathlib import Path

import pytest

from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job, read_spec

HEAD = """
title = "Invented top"
units = "{units}"
[fabrics]
rib = {{ stretch = "60 %" }}
jersey = {{ stretch = "30 %" }}
woven = {{ stretch = "0 %" }}
tape = {{ stretch = "60 %", width = "4 in" }}
[[pieces]]
name = "Strip"
"""

BAND = {
    "finish": '"folded-band"',
    "finished-width": '"1/2 in"',
    "edge": '{ kind = "curved", whole = "22 in", turning = "280 deg" }',
}


@pytest.fixture
def read(tmp_path: Path) -> Callable[[str], Job]:
    """Give a reader of a whole spec's text."""

    def read_text(text: str) -> Job:
        path = tmp_path / "spec.toml"
        path.write_text(text, encoding="utf-8")
        return read_spec(path)

    return read_text


@pytest.fixture
def figure(read: Callable[[str], Job]) -> Callable[..., Figures]:
    """Give the figures of one band; keyword arguments are TOML values, ``None`` drops a key."""

    def figure_band(units: str = "in", **keys: str | None) -> Figures:
        piece = BAND | {key.replace("_", "-"): value for key, value in keys.items()}
        lines = [f"{key} = {value}" for key, value in piece.items() if value is not None]
        return figure_job(read(HEAD.format(units=units) + "\n".join(lines) + "\n"))[0]

    return figure_band
