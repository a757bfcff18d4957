"""Which way up a page of ours lies, told from its words alone.

A viewer may be asked to turn a page, another program may have turned all that is drawn on it,
or both.  Lengths are the same either way, so the page is measured as its words are read.
"""

from __future__ import annotations

from collections import Counter

from tiler.declaration import Tag
from tiler.reading.pdf.document import PageRead

SLIGHT = 0.5
"""Words that are turned by no more than this beside a quarter turn count as turned by that, degrees."""

MOST = 0.9
"""Share of the words that must be turned as the page is: what goes with a turned piece is turned a quarter more."""


def turn_of(page: PageRead) -> int:
    """Return by how many quarters counterclockwise a page is turned as it is shown, from 0 to 3."""
    turns: Counter[int] = Counter()
    code = None
    for text in page.texts:
        quarters = round(text.turn / 90)
        if text.mirrored or abs(text.turn - 90 * quarters) > SLIGHT:
            continue
        turns[quarters % 4] += 1
        if code is None and text.tag == Tag.TILE_CODE:
            code = quarters % 4
    if not turns:
        return 0
    way = turns.most_common(1)[0][0] if code is None else code
    return way if turns[way] + turns[(way + 1) % 4] >= MOST * len(page.texts) else 0
