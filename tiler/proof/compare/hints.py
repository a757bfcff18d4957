"""What a file asks of viewers and carries along: hints that help the print, warnings when they are gone.

ISO 32000-2, Table 147 (PrintScaling, Enforce, Duplex, PickTrayByPDFSize); Enforce
belongs to PDF 2.0 or to a 1.7 file that declares level 3 of the ADBE extensions.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from tiler.declaration import Declaration
from tiler.languages.words import Words, listed
from tiler.paper import NO_TRAY
from tiler.proof.compare.pages import Pairs
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says
from tiler.proof.seen.page import PageSeen
from tiler.reading.pdf.facts import Facts
from tiler.sentence import joined


def compare_hints(facts: Facts, declaration: Declaration, pairs: Pairs) -> Iterator[Check]:
    """Check viewer preferences, page labels, outline, title and language; the last two are a host's own."""
    preferences, in_host = facts.preferences, declaration.host is not None
    for what in _against(preferences, pairs, in_host):
        yield Check(CheckName.PREFERENCES, Status.FAIL, Says.PREFERENCES_AGAINST, label=what)
    gone: list[str] = []
    if preferences.get("PrintScaling") != "None":
        gone.append(Words("it does not ask viewers to print at 100 %"))
    elif "PrintScaling" not in (preferences.get("Enforce") or ()):
        gone.append(Words("it does not insist on 100 %"))
    elif facts.version < (2, 0) and facts.extension_level < 3:
        gone.append(Words("it insists on 100 % without naming the extension that this belongs to"))
    if preferences.get("Duplex") in (None, "None") or (in_host and preferences["Duplex"] != "Simplex"):
        gone.append(Words("it does not ask for one-sided pages"))
    if declaration.paper not in NO_TRAY and preferences.get("PickTrayByPDFSize") is not True:
        gone.append(Words("it does not ask for the paper tray of its own size"))
    yield _hint(CheckName.PREFERENCES, Says.PREFERENCES_KEPT, Says.PREFERENCES_LOST, listed(gone))
    lost: list[str] = []
    labels, wanted = dict(enumerate(facts.page_labels, 1)), dict(enumerate(declaration.page_labels(), 1))
    if not all(
        seen.number in labels and wanted.get(page.number) in (None, labels[seen.number]) for page, seen in pairs
    ):
        lost.append(Words("page labels"))
    lost += [
        what
        for what, there in (
            (Words("outline"), facts.has_outline),
            (Words("title"), facts.title or in_host),
            (Words("language"), facts.language or in_host),
        )
        if not there
    ]
    yield _hint(CheckName.DOCUMENT, Says.DOCUMENT_KEPT, Says.DOCUMENT_LOST, joined(", ", lost))


def _against(preferences: Mapping[str, Any], pairs: Pairs, in_host: bool) -> Iterator[str]:
    """Name what takes a part of ours out of the print, or prints it otherwise; a pattern asks for its own pages."""
    wanted = preferences.get("PrintPageRange")
    if isinstance(wanted, list):
        ends = zip(wanted[::2], wanted[1::2], strict=False)
        whole = [(first, last) for first, last in ends if isinstance(first, int) and isinstance(last, int)]
        if not all(any(first <= seen.number <= last for first, last in whole) for _, seen in pairs):
            yield Words("some pages only (PrintPageRange)")
    if in_host:
        return
    for key in ("ViewArea", "ViewClip", "PrintArea", "PrintClip"):
        if preferences.get(key) not in (None, "CropBox", "MediaBox"):
            yield Words("a part of the page ({key})", key=key)
    copies = preferences.get("NumCopies")
    if copies is not None and copies != 1:
        yield Words("{count} copies (NumCopies)", count=copies)
    if preferences.get("Duplex") not in (None, "None", "Simplex"):
        yield Words("both sides of the paper (Duplex)")


def compare_fonts(pages: Sequence[PageSeen]) -> Iterator[Check]:
    """Check that every font is carried along."""
    missing = dict.fromkeys(name for page in pages for name in page.unembedded)
    yield _hint(CheckName.FONTS, Says.FONTS_KEPT, Says.FONTS_LOST, ", ".join(missing))


def _hint(name: CheckName, kept: Says, gone: Says, lost: str) -> Check:
    if lost:
        return Check(name, Status.WARN, gone, numbers={"lost": lost})
    return Check(name, Status.PASS, kept)
