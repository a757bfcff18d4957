"""What becomes of an existing PDF when our pages join it, said before anything is written.

A base is refused when its pages or its promises would not outlive joining.  Everything
else is either kept or named as a loss.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from tiler.catalog.base.preferences import added, contradicted
from tiler.catalog.base.survey import Survey
from tiler.errors import SpecError

SIGNED = "signed"
"""What a caller accepts by this word: that the signatures of the base are taken out."""


@dataclass(frozen=True)
class Forecast:
    """What becomes of a base.

    ``after`` is its page that ours follow, 0 for none; then what is kept, each loss and what is
    changed, in words, and whether its signatures are taken out.
    """

    after: int
    kept: tuple[str, ...]
    losses: tuple[str, ...]
    changed: tuple[str, ...]
    unsigned: bool

    @property
    def told(self) -> Iterator[str]:
        """All of it, a line each."""
        for how, what in (("kept", self.kept), ("changed", self.changed), ("lost", self.losses)):
            yield from (f"{how}: {one}" for one in what)


def foresee(base: Survey, after: int | None = None, accept: Collection[str] = ()) -> Forecast:
    """Say what joining pages after a page of the base keeps and loses; None stands for its last page.

    Raises :class:`SpecError` when the base is refused: it holds pages of tiler, is
    compensated for a printer, is signed (unless ``accept`` holds :data:`SIGNED`), draws
    its pages itself, or has no such page.
    """
    _refuse(base, accept)
    count = len(base.pages)
    if after is not None and not 0 <= after <= count:
        raise SpecError(f"there is no page {after} in the base, which has {count}; choose 0 (in front) to {count}")
    place = count if after is None else after
    return Forecast(place, tuple(_kept(base)), tuple(_losses(base, place)), tuple(_changed(base)), SIGNED in accept)


def _refuse(base: Survey, accept: Collection[str]) -> None:
    if base.printer is not None:
        raise SpecError(
            f"the base is compensated for the printer {base.printer!r} and true on no other; "
            "join to the file without compensation"
        )
    if base.of_tiler:
        raise SpecError("the base holds pages of tiler already; join to the pattern as it was before they were added")
    if base.draws_itself:
        raise SpecError(
            "the base is a form whose viewer draws the pages itself and would leave ours out; "
            "print it to a PDF without forms and join to that"
        )
    if base.signatures and SIGNED not in accept:
        raise SpecError(
            f"the base is signed ({', '.join(base.signatures)}), and a signature does not outlive a change; join "
            f"to the file before it was signed, or accept that the signature is taken out (--accept {SIGNED})"
        )


def _kept(base: Survey) -> Iterator[str]:
    for count, one, many in (
        (len(base.pages), "page", "pages"),
        (base.outline, "outline entry", "outline entries"),
        (len(base.layers), "layer", "layers"),
        (base.links, "link", "links"),
        (base.destinations, "named destination", "named destinations"),
        (base.fields, "form field", "form fields"),
        (len(base.attachments), "attachment", "attachments"),
    ):
        if count:
            yield f"{count} {one if count == 1 else many}"
    for there, what in (
        (base.labelled, "page labels"),
        (base.information, "document information"),
        (base.xmp, "XMP metadata"),
        (base.language, f"language {base.language}"),
        (base.preferences, "viewer preferences"),
        (base.javascript, "JavaScript"),
    ):
        if there:
            yield what


def _changed(base: Survey) -> Iterator[str]:
    asked = ", ".join(added(base.preferences))
    if asked:
        yield f"viewers are asked for {asked}"
    if base.printed_runs is not None:
        yield "PrintPageRange is counted anew, and prints our pages too"
    if base.parts:
        yield "our pages belong to the document part of the page that they follow"


def _losses(base: Survey, after: int) -> Iterator[str]:
    for name in base.signatures:
        yield f"the signature {name!r} is taken out, since it cannot hold for a changed file"
    for standard in base.conformance:
        yield f"the file still says that it keeps to {standard}, which nobody has checked for our pages"
    if base.tagged:
        yield "the tagged structure covers the base's own pages only; a program that reads aloud may pass over ours"
    if base.linearised:
        yield "the file is no longer laid out for showing its first page while it loads (linearised)"
    if base.revisions > 1:
        yield f"of {base.revisions} states that the file keeps of itself only the latest stays"
    if base.portfolio:
        yield "the base is a portfolio: viewers may show its list of files in place of any pages"
    if base.xfa:
        yield "the form has a second description (XFA); viewers that follow it may leave our pages out"
    if base.javascript and after < len(base.pages):
        yield f"scripts of the base that count pages do not know that those after page {after} have moved"
    if "PrintPageRange" in base.preferences and base.printed_runs is None:
        yield "the base's PrintPageRange is taken out, since it is no list of first and last pages"
    for key in contradicted(base.preferences):
        yield f"the base's {key} {base.preferences[key].removeprefix('/')} stays in place of the one our pages ask for"
