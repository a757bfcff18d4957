"""How the sheets are to be drawn; lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from tiler.declaration import ALONE, Host
from tiler.draft.figures import Figures
from tiler.drawn import OUR_LAYERS, LayerNames
from tiler.paper import PaperChoice, Projected
from tiler.sheets.compensation import Compensation


@dataclass(frozen=True)
class Drawing:
    """On which paper and how the pieces are drawn, whatever they are.

    ``cover`` asks for a first page, ``nest`` draws the sizes of a piece within each other, with ``colour`` in
    colours as well; ``line_weight`` is that of the cut line, the other lines go with it; a ``compensation`` makes
    the file true on one printer alone.  Of pages that join a pattern, its ``host``, all that is printed counts the
    pages of the whole file, and its ``layers`` may switch our sizes too.  A file that is ``projected`` is shown on
    the table, and printed by nobody.
    """

    paper: PaperChoice
    cover: bool = True
    nest: bool = True
    line_weight: float | None = None
    compensation: Compensation | None = None
    colour: bool = False
    host: Host = ALONE
    layers: LayerNames = OUR_LAYERS
    projected: Projected | None = None
    bought: tuple[Figures, ...] = ()
    """What is listed on the first page, and not drawn."""

    @property
    def factors(self) -> tuple[float, float]:
        """How much larger all is drawn across and down the page."""
        return (self.compensation.across, self.compensation.down) if self.compensation else (1.0, 1.0)

    @property
    def only_for(self) -> str:
        """What every page says of the one printer that the file is for; empty where it is for all."""
        return self.compensation.words if self.compensation else ""
