"""Pictures of a file: its pages, and its tiles put together by their own register marks.

Every tile is cut along its page frame out of its rendered page and laid where its
marks meet those of its neighbours, so what is wrong with the file shows.
"""

from __future__ import annotations

from collections.abc import Mapping
from io import BytesIO
from pathlib import Path

from PIL import Image, ImageChops

from tiler.box import Box, Point
from tiler.declaration import Declaration, DeclarationError
from tiler.proof.compare.pages import identify
from tiler.proof.compare.sheet import places_on_sheet
from tiler.proof.ink.rendering import DOTS_PER_INCH, MOST_PIXELS, Rendering
from tiler.proof.seen.page import PaneSeen, see, strip_and_part
from tiler.proof.seen.tiles import Assembly, assemble
from tiler.reading.pdf.document import Document

APART = 15.0
"""White between groups of tiles of which nobody says how they lie to each other, mm."""

PACKED = 3
"""How hard a PNG is packed: lines on white come out no larger than with 6, sooner."""


class Pictures:
    """The pictures of one file; use it as a context."""

    def __init__(self, source: str | Path | bytes) -> None:
        """Open and measure a file; raises :class:`UnreadableError` or :class:`EncryptedError`."""
        with Document(source) as document:
            self._pages = [see(page) for page in document.pages()]
            data = document.declaration()
        panes = [pane for page in self._pages for pane in page.panes]
        self._assembly = assemble(panes)
        self._places = _places(self._assembly, panes, data)
        self._rendering = Rendering(source)

    def __enter__(self) -> Pictures:
        """Return the pictures themselves."""
        return self

    def __exit__(self, *_: object) -> None:
        """Close the file."""
        self._rendering.__exit__()

    @property
    def page_count(self) -> int:
        """How many pages there are."""
        return len(self._pages)

    @property
    def tile_count(self) -> int:
        """How many tiles the assembled picture holds."""
        return len(self._places)

    @property
    def of_panes(self) -> bool:
        """Tell whether these are panes of strips that are cut up, of which a page shows several."""
        return any(strip_and_part(code) for code in self._places)

    def page(self, number: int) -> Image.Image:
        """Return the picture of a page; pages count from 1."""
        return self._rendering.image(number)

    def assembled(self) -> Image.Image:
        """Return the tiles put together; there must be some."""
        windows = {code: frame.moved(*self._places[code]) for code, frame in self._frames().items()}
        x0, y0 = min(box.x0 for box in windows.values()), min(box.y0 for box in windows.values())
        x1, y1 = max(box.x1 for box in windows.values()), max(box.y1 for box in windows.values())
        scale = min(DOTS_PER_INCH / 25.4, (MOST_PIXELS / ((x1 - x0) * (y1 - y0))) ** 0.5)
        whole = Image.new("RGB", (round((x1 - x0) * scale) or 1, round((y1 - y0) * scale) or 1), "white")
        for code, window in windows.items():
            left, top = round((window.x0 - x0) * scale), round((y1 - window.y1) * scale)
            size = (round(window.width * scale) or 1, round(window.height * scale) or 1)
            whole.paste(self._cut(self._assembly.tiles[code], size), (left, top))
        return whole

    def _frames(self) -> dict[str, Box]:
        tiles = self._assembly.tiles
        return {code: frame for code in self._places if (frame := tiles[code].frame)}

    def _cut(self, pane: PaneSeen, size: tuple[int, int]) -> Image.Image:
        picture = self._rendering.image(pane.number)
        shown, frame = self._pages[pane.number - 1].boxes.shown, pane.frame
        assert frame is not None
        kx, ky = picture.width / shown.width, picture.height / shown.height
        left, right = ((x - shown.x0) * kx for x in (frame.x0, frame.x1))
        top, foot = ((shown.y1 - y) * ky for y in (frame.y1, frame.y0))
        return picture.resize(size, Image.Resampling.LANCZOS, box=_within((left, top, right, foot), picture.size))


def png(picture: Image.Image) -> bytes:
    """Return a picture in colour as a PNG, in grey where it has no colours: this is packed in half the time."""
    red, green, blue = picture.split()
    grey = all(ImageChops.difference(red, other).getbbox() is None for other in (green, blue))
    data = BytesIO()
    (red if grey else picture).save(data, "PNG", dpi=(DOTS_PER_INCH, DOTS_PER_INCH), compress_level=PACKED)
    return data.getvalue()


def _within(box: tuple[float, float, float, float], size: tuple[int, int]) -> tuple[float, float, float, float]:
    return (max(0.0, box[0]), max(0.0, box[1]), min(float(size[0]), box[2]), min(float(size[1]), box[3]))


def _places(assembly: Assembly, panes: list[PaneSeen], data: bytes | None) -> Mapping[str, Point]:
    """Return the place of every tile on one plane: by the declared sheet, or group beside group."""
    if data is not None:
        try:
            pairs, *_ = identify(Declaration.from_bytes(data), [pane for pane in panes if pane.tagged])
        except DeclarationError:
            pairs = []
        places = places_on_sheet(pairs, assembly)
        if places:
            return places
    beside: dict[str, Point] = {}
    start = 0.0
    for group in assembly.groups:
        frames = {code: frame.moved(*place) for code, place in group.items() if (frame := assembly.tiles[code].frame)}
        shift = start - min(frame.x0 for frame in frames.values())
        beside |= {code: (x + shift, y) for code, (x, y) in group.items()}
        start += APART + max(frame.x1 for frame in frames.values()) - min(frame.x0 for frame in frames.values())
    return beside
