"""The bare script that ``tiler draft`` is measured against: ``python floor.py PDF PAGES``.

It imports the same libraries, writes as many plain pages, reads the PDF with
pdfplumber and renders it with PDFium at 100 dpi.  No pattern is computed and
nothing is judged, so this is about the least that drawing and proving can take.
"""

from __future__ import annotations

import sys
from io import BytesIO

import click
import pdfplumber
import pint
import pypdf
import pypdfium2
from reportlab.pdfgen.canvas import Canvas

LIBRARIES = (click, pint, pypdf)
"""Imported for their time alone."""


def write(pages: int) -> int:
    out = BytesIO()
    canvas = Canvas(out)
    for number in range(pages):
        canvas.drawString(72, 72, f"page {number + 1}")
        canvas.showPage()
    canvas.save()
    return out.tell()


def read(path: str) -> int:
    found = 0
    with pdfplumber.open(path) as pdf:
        for page in pdf.pages:
            found += sum(len(group) for group in page.objects.values())
            page.close()
    return found


def render(path: str) -> int:
    rendered = 0
    pdf = pypdfium2.PdfDocument(path)
    for page in pdf:
        bitmap = page.render(scale=100 / 72, grayscale=True)
        rendered += len(bytes(bitmap.buffer))
        bitmap.close()
        page.close()
    pdf.close()
    return rendered


if __name__ == "__main__":
    print(write(int(sys.argv[2])), read(sys.argv[1]), render(sys.argv[1]))
