"""Heads of pages to read, with the publisher's logo at their right; mm."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.printed import Logo
from tiler.sheets.flow import ALL, Flowable, table
from tiler.sheets.logo import paint_logo
from tiler.sheets.typesetting import MM

LOGO_OFF = 5.0
"""White between a head and the logo at its right, mm."""


class _Logo(Flowable):  # type: ignore[misc]  # reportlab has no types
    """A publisher's logo among the words."""

    def __init__(self, logo: Logo) -> None:
        """Take what is painted."""
        super().__init__()
        self._logo, self.width, self.height = logo, logo.width * MM, logo.height * MM

    def draw(self) -> None:
        """Paint it with its lower left corner in the origin."""
        paint_logo(self.canv, self._logo, (0.0, 0.0))


def headed(logo: Logo | None, heads: Sequence[Flowable], width: float) -> list[Flowable]:
    """Return the heads of a page, with a logo at the right of them where there is one."""
    if logo is None:
        return list(heads)
    widths = (width - logo.width - LOGO_OFF, logo.width + LOGO_OFF)
    look = (("VALIGN", *ALL, "TOP"), ("LEFTPADDING", (1, 0), (1, 0), LOGO_OFF))
    return [table([[list(heads), _Logo(logo)]], widths, *look)]
