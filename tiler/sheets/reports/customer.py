"""The page that goes to customers with a release: which file is for whom, how to print it, what is new; page mm."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from tiler.box import Box
from tiler.catalog import finish_leaflet
from tiler.draft.edition import Edition
from tiler.languages.catalogue import noted
from tiler.languages.words import in_each, say, told
from tiler.paper import HOME, PAPERS
from tiler.sheets.cover.words import CAUTIONS
from tiler.sheets.flow import ALL, Flowable, height, paragraph, table
from tiler.sheets.heads import headed
from tiler.sheets.pagination import flowed, foot_height
from tiler.sheets.style import HAIR, HEADING, SMALL, TITLE
from tiler.sheets.typesetting import refuse_missing_characters

MARGIN = 12.0
FILE_SHARE = 0.48
"""Of the width, so much is for the names of files."""

STEPS = (
    noted("Choose one file by your paper: your size alone, or all sizes within each other."),
    noted(
        "Print the page that the list names alone first, at 100 % or “actual size”, one side only. Never “fit”, "
        "“shrink”, “scale to printable area” or “borderless”. Phones often shrink: print from a computer."
    ),
    noted(
        "Hold a ruler to both squares on it. A square is right to half a millimetre (1/64 in). If it is not, change "
        "the setting and print the page again."
    ),
    noted("Then print the other pages in the same way. That page shows what is taped and what is cut."),
)


@dataclass(frozen=True)
class FileUse:
    """A file of a release, or the first and last of several alike, a line each, and what it is for."""

    names: Sequence[str]
    use: str


def customer_pdf(edition: Edition, files: Sequence[FileUse], for_child: bool) -> bytes:
    """Return the page, in all languages of the edition where they have room on it, else one in each.

    Raises :class:`SpecError` for a character that the font lacks.
    """
    for key, text in edition.texts:
        refuse_missing_characters(text, key)
    page = Box(0.0, 0.0, *PAPERS[HOME].size)
    room = page.grown(-MARGIN)

    def title() -> str:
        return say("{title}: read this first", title=edition.title)

    def foot() -> str:
        return edition.imprint or edition.title

    def story() -> list[Flowable]:
        return _story(edition, files, for_child, room.width)

    apart = height(story(), room.width) > room.height - foot_height(foot(), room.width)
    data = flowed(page, room, lambda _: story(), foot=foot, apart=apart)
    return finish_leaflet(data.file, title(), data.outline(title() for _ in in_each()))


def _story(edition: Edition, files: Sequence[FileUse], for_child: bool, width: float) -> list[Flowable]:
    story = headed(edition.logo, [paragraph((edition.title, TITLE, True))], width)
    story.append(_heading(" / ".join(say("Which file is for you") for _ in in_each())))
    rows = [
        [
            [paragraph((told(name), SMALL, True)) for name in file.names],
            [paragraph(told(file.use)) for _ in in_each()],
        ]
        for file in files
    ]
    look = (("VALIGN", *ALL, "TOP"), ("LINEBELOW", *ALL, HAIR), ("TOPPADDING", *ALL, 0.8), ("BOTTOMPADDING", *ALL, 0.8))
    story.append(table(rows, (width * FILE_SHARE, width * (1 - FILE_SHARE)), *look))
    for _ in in_each():
        story += _told(edition, for_child)
    if edition.publisher and (edition.publisher.web or edition.publisher.contact):
        story.append(_heading(" / ".join(dict.fromkeys(say("Questions") for _ in in_each()))))
        story.append(paragraph(edition.publisher.line))
    return story


def _told(edition: Edition, for_child: bool) -> Iterator[Flowable]:
    """Yield how to print, what is new and what to beware of, in the language that is spoken."""
    yield _heading(say("How to print it"))
    yield from (paragraph(say(step), bullet=f"{number}", leftIndent=4.0) for number, step in enumerate(STEPS, 1))
    if edition.changes:
        of_version = say("New in version {version}", version=edition.version or "")
        yield _heading(of_version if edition.version else say("New in this version"))
        yield from (paragraph(change, bullet="·", leftIndent=4.0) for change in edition.changes)
    yield _heading(say("Cautions"))
    cautions = CAUTIONS if for_child else CAUTIONS[:1]
    yield from (paragraph(say(caution), bullet="·", leftIndent=4.0) for caution in cautions)


def _heading(text: str) -> Flowable:
    return paragraph((text, HEADING, True), spaceBefore=4.0, spaceAfter=1.0)
