"""Jobs for the tests of the drawn file."""

from __future__ import annotations

from pathlib import Path

from tiler.draft.compute import figure_job
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes, draw_job
from tiler.usecases.job import read_job

EXAMPLES = Path(__file__).parents[2] / "examples"

MIXED = """
title = "Mixed pieces"
version = "2.1"
date = "2026-10-04"
units = "in"
[fabrics.rib]
stretch = "60 %"
[[pieces]]
name = "Neckband"
finish = "folded-band"
finished-width = "1/2 in"
fabric = "rib"
ratio = "flat"
edge = { kind = "neckline", front-half = "7 1/4 in", back-half = "3 3/4 in" }
cut = "on-fold"
[[pieces]]
name = "Armhole"
finish = "double-fold-binding"
finished-width = "1/4 in"
fabric = "rib"
cut = "full-loop"
edge = { kind = "armhole", front = "9 in", back = "9 1/2 in" }
[[pieces]]
name = "Hem"
finish = "french-binding"
finished-width = "3/8 in"
cut = "full-loop"
edge = { kind = "straight", whole = "40 in" }
[[pieces]]
name = "Leg"
finish = "raw-edge-binding"
finished-width = "3/8 in"
cut = "on-fold"
edge = { kind = "curved", whole = "22 in", turning = "300" }
[[pieces]]
name = "Wide hem band"
finish = "folded-band"
finished-width = "5 3/4 in"
cut = "full-loop"
edge = { kind = "straight", whole = "30 in" }
"""


def drawn(text_or_path: str | Path, folder: Path, wishes: Wishes | None = None) -> Document:
    """Draw a spec in memory, without its proof."""
    path = text_or_path
    if isinstance(path, str):
        path = folder / "spec.toml"
        path.write_text(text_or_path, encoding="utf-8")
    job = read_job(path)
    return draw_job(job, figure_job(job), wishes or Wishes())
