"""Small PDFs that are written by hand, so that every byte of their pages is known."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf

LETTER = (0, 0, 612, 792)


def pdf(
    *contents: str, media: Sequence[float] = LETTER, forms: Mapping[str, tuple[str, str]] | None = None, **keys: Any
) -> bytes:
    """Give a PDF with one page for each content stream.

    ``forms`` are form XObjects by name, each with its matrix and content, in which
    the others can be painted; ``keys`` go into every page.
    """
    file = pikepdf.new()
    painted = pikepdf.Dictionary()
    for name, (matrix, content) in (forms or {}).items():
        form = file.make_stream(content.encode())
        form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
        form.BBox, form.Matrix = (
            pikepdf.Array([-5000, -5000, 5000, 5000]),
            pikepdf.Array([float(n) for n in matrix.split()]),
        )
        form.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(dict(painted.items())))
        painted[f"/{name}"] = form
    font = pikepdf.Dictionary(Type=pikepdf.Name.Font, Subtype=pikepdf.Name.Type1, BaseFont=pikepdf.Name.Helvetica)
    for content in contents:
        page = file.add_blank_page(page_size=(612, 792))
        page.obj.MediaBox = pikepdf.Array(list(media))
        page.obj.Contents = file.make_stream(content.encode())
        page.obj.Resources = pikepdf.Dictionary(XObject=painted, Font=pikepdf.Dictionary(F1=font))
        for key, value in keys.items():
            page.obj[f"/{key}"] = value
    written = BytesIO()
    file.save(written)
    return written.getvalue()


def saved(folder: Path, name: str, data: bytes) -> Path:
    """Write a file and give its path."""
    path = folder / name
    path.write_bytes(data)
    return path


def labelled_square(
    side: float, label: str = "2 in", at: tuple[float, float] = (400.0, 600.0), down: float | None = None
) -> str:
    """Give the drawing of a test square with its label, in PDF units."""
    x, y = at
    return f"1 w {x} {y} {side} {down or side} re S BT /F1 12 Tf {x + 20} {y + 40} Td ({label}) Tj ET"
