"""Strokes and ink become a verdict.

The proof measures before it believes. From the pages alone it finds squares, ruler lines,
frames and marks, and puts the tiles together by their codes and register marks (``seen``);
only then does it compare them with the declaration (``compare``). Lines come through
pdfplumber, ink through PDFium (``ink``), page by page so that memory stays flat. Both are
needed: a reader of lines also sees what is clipped, covered or white, and a rendering is
only good to a pixel. In the rendering everything that is printed must be declared, and
everything that is declared must be printed. A file without declaration or tags is judged as any PDF (``foreign``).
A drawing for vector editors is read back and held against the same record (``svg``).
The proof imports nothing of the writer and shares with it only the declaration.

A change to a file that the proof does not know about is a fault in the proof: add it to
``tests/proof/faults.py``, see it missed, then mend.

``prove`` and ``Expected`` load both engines, and only when they are asked for: a command
that words a report, which another process has made, needs neither.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

from tiler.proof.report.check import Check
from tiler.proof.report.verdict import Report

if TYPE_CHECKING:
    from tiler.proof.foreign.any_pdf import Expected
    from tiler.proof.proving import Progress, prove

__all__ = ["Check", "Expected", "Progress", "Report", "prove"]


def __getattr__(name: str) -> Any:
    if name not in __all__:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return getattr(import_module("tiler.proof.proving"), name)
