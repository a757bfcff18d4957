"""Views of a garment: the ways in which it is made up, such as a round neck and a vee, each with pieces of its own.

A piece that names no view belongs to all of them.
"""

from __future__ import annotations

from collections.abc import Sequence

from tiler.draft.figures import Figures
from tiler.languages.catalogue import noted
from tiler.languages.words import Words

ONE, SEVERAL = noted("view {views}"), noted("views {views}")


def told_views(views: Sequence[str]) -> str:
    """Name the views of a piece; nothing where it belongs to all."""
    return Words(SEVERAL if len(views) > 1 else ONE, views=", ".join(views)) if views else ""


def in_views(name: str, views: Sequence[str]) -> str:
    """Return the name of a piece with its views."""
    return Words("{piece}, {views}", piece=name, views=told_views(views)) if views else name


def by_view(pieces: Sequence[Figures]) -> dict[str, tuple[Figures, ...]]:
    """Return what is cut for each view, those that belong to all of them too; all under "" where there are none."""
    views = tuple(dict.fromkeys(view for piece in pieces for view in piece.views))
    return {view: tuple(one for one in pieces if not one.views or view in one.views) for view in views} or {
        "": tuple(pieces)
    }
