"""The page that tells what a proof found: verdict, sizes, pictures of the squares, remarks; page mm.

It is 210 mm × 11 in large, so that it prints on either paper, and goes on to another page
only where there are many remarks.  It knows nothing of how the sizes were measured:
whoever did that hands over the words.
"""

from __future__ import annotations

from dataclasses import dataclass

from tiler.box import Box
from tiler.languages.catalogue import noted
from tiler.languages.words import say
from tiler.sheets.flow import ALL, Flowable, KeepTogether, gap, paragraph, picture, table
from tiler.sheets.pagination import flowed
from tiler.sheets.style import HEADING, HEAVY, MEDIUM, SMALL, TITLE
from tiler.sheets.typesetting import broken, printable

PAGE = Box(0.0, 0.0, 210.0, 279.4)
ROOM = PAGE.grown(-15.0)
COLUMNS = 3
BETWEEN = 6.0
"""White between two pictures, mm."""

COLUMN = (ROOM.width + BETWEEN) / COLUMNS - BETWEEN

PICTURE_HEIGHT, LARGE_HEIGHT = 38.0, 60.0
"""The most that a picture is high, in two rows and in a single one, mm."""

MOST_ROWS, FEWER_ROWS = 14, 8
"""Rows of sizes, above one row of pictures or none, and above two; what is wrong is always shown, and first."""

MOST_PICTURES = 6
COLUMN_WIDTHS = (10.0, 37.0, 25.0, 38.0, 35.0, 35.0)
HEADS = (
    noted("page"),
    noted("what"),
    noted("from left, foot"),
    noted("should be"),
    noted("across, off by"),
    noted("down, off by"),
)
NUMBERS = 3
"""The first column of those whose words end below each other."""


@dataclass(frozen=True)
class SizeRow:
    """A row of the table; ``wrong`` sets it in bold."""

    cells: tuple[str, ...]
    wrong: bool


@dataclass(frozen=True)
class SquarePicture:
    """A picture (PNG) with what is written under it."""

    png: bytes
    width: int
    height: int
    caption: tuple[str, ...]


@dataclass(frozen=True)
class ProofPage:
    """All that the page says."""

    file: str
    facts: str
    verdict: str
    rows: tuple[SizeRow, ...]
    pictures: tuple[SquarePicture, ...]
    remarks: tuple[str, ...]
    made_by: str


def proof_page(page: ProofPage) -> bytes:
    """Set the page and return the PDF."""
    return flowed(
        PAGE,
        ROOM,
        lambda _: [
            paragraph(page.facts),
            gap(4.5),
            _verdict(page.verdict),
            *_sizes(page),
            *_pictures(page),
            *_remarks(page),
        ],
        lambda: [
            paragraph((say("Proof of scale"), TITLE, True)),
            gap(1.2),
            *(
                paragraph((line, HEADING, True))
                for line in broken(printable(page.file), ROOM.width, HEADING, bold=True)
            ),
            gap(1.4),
        ],
        lambda: page.made_by,
        title=say("Proof of scale: {file}", file=page.file),
        creator=page.made_by,
    ).file.getvalue()


def _verdict(words: str) -> Flowable:
    beside = (("LEFTPADDING", *ALL, 4.0), ("RIGHTPADDING", *ALL, 4.0))
    above = (("TOPPADDING", *ALL, 2.4), ("BOTTOMPADDING", *ALL, 2.4))
    return table([[paragraph((words, HEADING, True))]], [ROOM.width], ("BOX", *ALL, HEAVY), *beside, *above)


def _sizes(page: ProofPage) -> list[Flowable]:
    if not page.rows:
        return []
    rows = sorted(page.rows, key=lambda row: not row.wrong)
    most = MOST_ROWS if len(page.pictures) <= COLUMNS else FEWER_ROWS
    most = max(most, sum(row.wrong for row in rows))
    shown = [SizeRow(tuple(map(say, HEADS)), True), *rows[:most]]
    if len(rows) == most + 1:
        # the row takes no more room than the words that it is left out
        shown.append(rows[most])
    elif len(rows) > most:
        shown.append(SizeRow(("", say("and {count} more, all right", count=len(rows) - most)), False))
    cells = [
        [paragraph((text, SMALL, row.wrong), right=column >= NUMBERS) for column, text in enumerate(row.cells)]
        for row in shown
    ]
    look = (
        ("RIGHTPADDING", *ALL, 2.0),
        ("TOPPADDING", *ALL, 1.0),
        ("BOTTOMPADDING", (0, 0), (-1, 0), 0.6),
        ("VALIGN", *ALL, "TOP"),
        ("LINEBELOW", (0, 0), (-1, 0), MEDIUM),
    )
    return [gap(3.5), table(cells, COLUMN_WIDTHS, *look, repeatRows=1)]


def _pictures(page: ProofPage) -> list[Flowable]:
    """Return the pictures row by row, the heading together with the first."""
    pictures = page.pictures[:MOST_PICTURES]
    most = LARGE_HEIGHT if len(pictures) <= COLUMNS else PICTURE_HEIGHT
    look = (("TOPPADDING", *ALL, 2.0), ("RIGHTPADDING", *ALL, BETWEEN), ("VALIGN", *ALL, "TOP"))
    rows = [
        table([[_picture(one, most) for one in pictures[start : start + COLUMNS]]], [COLUMN + BETWEEN] * COLUMNS, *look)
        for start in range(0, len(pictures), COLUMNS)
    ]
    heading = paragraph((say("The squares as they print (not at true size)"), HEADING, True), spaceBefore=4.5)
    return [KeepTogether([heading, rows[0]]), *rows[1:]] if rows else []


def _picture(one: SquarePicture, most: float) -> list[Flowable]:
    """Return a picture as large as there is room, with its caption below."""
    scale = min(COLUMN / one.width, most / one.height)
    return [picture(one.png, one.width * scale, one.height * scale), gap(0.8), *map(paragraph, one.caption)]


def _remarks(page: ProofPage) -> list[Flowable]:
    return [gap(2.0), *(paragraph(remark, spaceBefore=2.0) for remark in page.remarks)]
