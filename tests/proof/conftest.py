"""Files of ours for the tests of the proof: two pieces over several tiles, on letter and on A4."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from tests.sheets.jobs import drawn
from tiler.proof import Report, prove
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes

SPEC = """
title = "Proof sample"
units = "cm"
[fabrics.rib]
stretch = "60 %"
[[pieces]]
name = "Hem band"
finish = "folded-band"
finished-width = "10 cm"
seam-allowance = "1 cm"
cut = "on-fold"
fabric = "rib"
ratio = 0.8
edge = { kind = "straight", whole = "84 cm" }
[[pieces]]
name = "Neckband"
finish = "folded-band"
finished-width = "1.5 cm"
seam-allowance = "0.7 cm"
cut = "on-fold"
fabric = "rib"
ratio = "flat"
edge = { kind = "neckline", front-half = "10 cm", back-half = "6 cm" }
"""


@pytest.fixture(scope="session")
def letter(tmp_path_factory: pytest.TempPathFactory) -> Document:
    return drawn(SPEC, tmp_path_factory.mktemp("proof"), Wishes(paper="letter", arrange="grid"))


@pytest.fixture(scope="session")
def a4(tmp_path_factory: pytest.TempPathFactory) -> Document:
    return drawn(SPEC, tmp_path_factory.mktemp("proof"), Wishes(paper="a4", arrange="grid"))


@pytest.fixture(params=["letter", "a4"])
def ours(request: pytest.FixtureRequest) -> Document:
    document: Document = request.getfixturevalue(request.param)
    return document


def changed(document: Document, change: Callable[[pikepdf.Pdf], None]) -> bytes:
    """Give the file after one change."""
    out = BytesIO()
    with pikepdf.open(BytesIO(document.data)) as pdf:
        change(pdf)
        pdf.save(out)
    return out.getvalue()


def proved(document: Document, change: Callable[[pikepdf.Pdf], None]) -> Report:
    return prove(changed(document, change))


def spec_file(folder: Path) -> Path:
    path = folder / "spec.toml"
    path.write_text(SPEC, encoding="utf-8")
    return path
