"""A window of the sheet on its page: the pieces that it shows, its frame and its marks; page mm."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from tiler.box import Box, Subpath
from tiler.declaration import Mark, Page, Tag
from tiler.paper import MARK_SIZE
from tiler.sheets.canvas import Canvas
from tiler.sheets.layout.placed import Placed
from tiler.sheets.layout.sheet import Sheet
from tiler.sheets.page.free_places import ON_TEXT, Obstacle


@dataclass(frozen=True)
class Window:
    """What a window shows: its frame, how far the sheet is moved to get there, the pieces, and what they occupy."""

    frame: Box
    moved: tuple[float, float]
    shown: Sequence[Placed]
    obstacles: Sequence[Obstacle]


def draw_window(canvas: Canvas, sheet: Sheet, page: Page) -> Window:
    """Paint what the window of a tile or pane shows, then its frame."""
    assert page.window is not None
    assert page.frame is not None
    window, frame = page.window, page.frame
    dx, dy = frame.x0 - window.x0, frame.y0 - window.y0
    painted = [place for place in sheet.painted if place.bounds.overlaps(window)]
    for place in painted:
        declared = place.declared
        canvas.place(declared.id, frame, (declared.at[0] + dx, declared.at[1] + dy), declared.turned)
    _draw_frame(canvas, frame)
    obstacles = [
        Obstacle(obstacle.box.moved(dx, dy), obstacle.cost)
        for place in painted
        for obstacle in place.obstacles
        if obstacle.box.overlaps(window)
    ]
    shown = [place for place in sheet.pieces if place.bounds.overlaps(window)]
    return Window(frame, (dx, dy), shown, obstacles)


def draw_marks(canvas: Canvas, window: Window, marks: Iterable[Mark]) -> list[Obstacle]:
    """Draw the register marks that a window shares, and return the places that belong to them."""
    places = []
    for mark in marks:
        x, y = mark.at[0] + window.moved[0], mark.at[1] + window.moved[1]
        canvas.register_mark((x, y), MARK_SIZE)
        places.append(Obstacle(Box(x, y, x, y).grown(MARK_SIZE / 2).grown(1.0), ON_TEXT))
    return places


def _draw_frame(canvas: Canvas, frame: Box) -> None:
    """Draw the window's edge, the line to trim along."""
    corners: Subpath = (
        (frame.x0, frame.y0),
        (frame.x1, frame.y0),
        (frame.x1, frame.y1),
        (frame.x0, frame.y1),
        (frame.x0, frame.y0),
    )
    canvas.stroke_part(Tag.PAGE_FRAME, [corners])
