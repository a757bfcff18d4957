"""Jobs for the tests of the drawn file."""

from __future__ import annotations

import tomllib
from dataclasses import replace
from functools import lru_cache
from pathlib import Path

from tests.specs import armhole, curved, neckline, piece, spec, straight, written
from tiler.declaration import Host
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes, draw_job
from tiler.usecases.job import read_job

EXAMPLES = Path(__file__).parents[2] / "examples"

MIXED = spec(
    piece("Neckband", "1/2 in", neckline("7 1/4 in", "3 3/4 in"), fabric="rib", ratio="flat", cut="on-fold"),
    piece(
        "Armhole", "1/4 in", armhole("9 in", "9 1/2 in"), finish="double-fold-binding", fabric="rib", cut="full-loop"
    ),
    piece("Hem", "3/8 in", straight("40 in"), finish="french-binding", cut="full-loop"),
    piece("Leg", "3/8 in", curved("22 in", "300"), finish="raw-edge-binding", cut="on-fold"),
    piece("Wide hem band", "5 3/4 in", straight("30 in"), cut="full-loop"),
    title="Mixed pieces",
    version="2.1",
    date="2026-10-04",
    fabrics={"rib": "60 %"},
)


HEM = piece("Hem band", "10 cm", straight("84 cm"), seam_allowance="1 cm", fabric="rib", ratio=0.8)
NECK = piece("Neckband", "1.5 cm", neckline("10 cm", "6 cm"), seam_allowance="0.7 cm", fabric="rib", ratio="flat")

SAMPLE = spec(HEM, title="Proof sample", units="cm", fabrics={"rib": "60 %"})
"""One piece over two tiles, with a part of every kind, for tests that change or read a finished file."""

PAIR = spec(HEM, NECK, title="Proof sample", units="cm", fabrics={"rib": "60 %"})
"""Two pieces over several tiles."""

ONE_BAND = spec(piece("Hem band", "4 cm", straight("30 cm"), cut="full-loop"), title="Heron edges", units="cm")
"""One piece, for tests that join it to the pages of somebody else."""


def drawn_once(text: str, wishes: Wishes | None = None) -> Document:
    """Draw a spec, once for all tests that only look at the file."""
    return _drawn_once(text, wishes or Wishes())


@lru_cache(80)
def _drawn_once(text: str, wishes: Wishes) -> Document:
    # not all of them are kept: the larger a process, the longer it takes to fork it
    job = read_tables(tomllib.loads(text), "spec.toml:")
    document = draw_job(job, figure_job(job, wishes.sizes), wishes)
    # what it was drawn of; a document is frozen, and has no place for it of its own
    vars(document)[DRAWN_OF] = text, wishes
    return document


DRAWN_OF = "drawn_of"


def drawn_in(document: Document, host: Host) -> Document:
    """Return a document of :func:`drawn_once` as it is drawn where its pages join a pattern; any other as it is."""
    if DRAWN_OF not in vars(document):
        return document
    text, wishes = vars(document)[DRAWN_OF]
    return drawn_once(text, replace(wishes, host=host))


def drawn(text_or_path: str | Path, folder: Path, wishes: Wishes | None = None) -> Document:
    """Draw a spec in memory, without its proof."""
    path = text_or_path
    if isinstance(path, str):
        path = written(path, folder)
    job = read_job(path)
    return draw_job(job, figure_job(job), wishes or Wishes())
