"""What is laid out on the sheet: an extent along the strip and across it, with what no cut may cross; mm."""

from __future__ import annotations

from dataclasses import dataclass
from math import inf

from tiler.box import Box
from tiler.paper import PageSize
from tiler.sheets.layout.joints import TINY


@dataclass(frozen=True)
class Item:
    """What is laid out: the extent of a piece's bounds along the strip and across it, and the size it belongs to.

    Inside them, from their lower left corner: its words and notches, and the least
    and greatest height of the strip itself, which is as wide as the bounds unless it is
    given; ``border`` is white that stands round all.  ``lane`` is the most that lies between
    two of its long lines; ``run`` is from where to where the strip goes along the bounds,
    in a nest the longest one; ``stops`` is where the shorter ones end.
    """

    name: str
    length: float
    width: float
    size: str | None = None
    words: tuple[Box, ...] = ()
    notches: tuple[Box, ...] = ()
    strip: tuple[float, float] | None = None
    border: float = 0.0
    lane: float = inf
    run: tuple[float, float] | None = None
    stops: tuple[float, ...] = ()

    @property
    def ends(self) -> tuple[float, float]:
        """From where to where the strip goes along the bounds."""
        return self.run or (0.0, self.length)

    @property
    def body(self) -> tuple[float, float]:
        """From where to where the strip goes across the bounds."""
        return self.strip or (0.0, self.width)

    @property
    def tags(self) -> tuple[float, float] | None:
        """From where to where the words below the strip stand, from the top of the bounds down."""
        below = [word for word in self.words if word.y1 <= self.body[0]]
        return (
            (self.width - max(word.y1 for word in below), self.width - min(word.y0 for word in below))
            if below
            else None
        )

    @property
    def lettered(self) -> tuple[float, float] | None:
        """From where to where all words stand, from the top of the bounds down."""
        if not self.words:
            return None
        return self.width - max(word.y1 for word in self.words), self.width - min(word.y0 for word in self.words)


def fits(item: Item, page: PageSize) -> bool:
    """Tell whether an item fits one page, one way or the other."""
    short, long = sorted((item.length, item.width))
    low, high = sorted((page.window_width, page.window_height))
    return short <= low + TINY and long <= high + TINY
