"""The sample of ours on both papers, and one change to a finished file."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO

import pikepdf
import pytest

from tiler.proof import Report, prove
from tiler.sheets.document import Document


@pytest.fixture(params=["letter", "a4"])
def ours(request: pytest.FixtureRequest) -> Document:
    document: Document = request.getfixturevalue(request.param)
    return document


def changed(document: Document, change: Callable[[pikepdf.Pdf], None]) -> bytes:
    """Give the file after one change."""
    out = BytesIO()
    with pikepdf.open(BytesIO(document.data)) as pdf:
        change(pdf)
        pdf.save(out, compress_streams=False)
    return out.getvalue()


def proved(document: Document, change: Callable[[pikepdf.Pdf], None]) -> Report:
    return prove(changed(document, change))
