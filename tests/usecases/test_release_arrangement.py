"""The letter and the A4 file of a release are taped in the same way."""

from __future__ import annotations

import tomllib

from tests.specs import piece, spec, straight
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.paper import Arrangement
from tiler.usecases.draft import Wishes, arrangement_for, draw_job

TEXT = spec(piece("Band", "3 cm", straight("29 cm"), cut="full-loop", ratio="usual"), units="cm")
"""A strip that is cut up on letter to need one page, and fits one page of A4 as it is."""


def test_letter_and_a4_take_the_arrangement_that_needs_fewest_pages_on_both() -> None:
    job = read_tables(tomllib.loads(TEXT), "spec.toml:")
    figures = figure_job(job)
    alone = {paper: draw_job(job, figures, Wishes(paper=paper)).plan for paper in ("letter", "a4")}
    assert {plan.taken for plan in alone.values() if plan} == {Arrangement.GRID, Arrangement.STACKED}
    for paper in alone:
        wishes = Wishes(paper=paper)
        assert arrangement_for(job, figures, wishes, list(alone)) == Arrangement.STACKED
        assert arrangement_for(job, figures, Wishes(paper=paper, arrange="grid"), list(alone)) == Arrangement.GRID
