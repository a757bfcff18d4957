"""Pages of others that a file has in common with one that was measured before.

A pattern that pages of ours join stands in as many files as there are sizes.  A page of it on
which there was nothing to measure has nothing to measure in any of them, as long as all that it
is made of is the same, byte for byte where it is drawn.  Pages with a square or a ruler line, or
with what is stuck on them, are measured in every file.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from tiler.proof.foreign.any_pdf import Noted
from tiler.reading.pdf.document import Document, PageRead


@dataclass
class Alike:
    """What was noted of pages without anything to measure, by the checksum of all that they are made of."""

    noted: dict[str, Noted] = field(default_factory=dict)
    keeps: bool = True

    def pages(self, document: Document) -> Iterator[tuple[int, PageRead | Noted]]:
        """Yield each page by its number, read, or as it was noted when it was read in another file."""
        for number in range(1, document.page_count + 1):
            known = self.noted.get(document.whole_checksum(number) or "") if self.noted else None
            yield (number, known) if known else next((number, page) for page in document.pages(number))

    def keep(self, document: Document, number: int, noted: Noted | None) -> None:
        """Keep what was noted of a page; None where something on it is measured."""
        if self.keeps and noted and (whole := document.whole_checksum(number)):
            self.noted[whole] = noted
