"""One builder of specs: a test states the keys that it is about, and gets the text of the spec.

A key is written as in TOML with ``_`` for ``-``, and ``None`` leaves it out. Tests of
the reading of TOML itself keep their texts.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import tomlkit

Table = dict[str, Any]
Length = str | float | Table
"""A text with its unit, a number in the unit of the spec, a table of sizes, or a drawing of a part of an edge."""

FINISHES = ("folded-band", "double-fold-binding", "french-binding", "raw-edge-binding")
CUTS = ("on-fold", "full-loop")


def spec(
    *pieces: Table,
    title: str = "Invented top",
    units: str = "in",
    fabrics: Mapping[str, Any] | None = None,
    **keys: Any,
) -> str:
    """Return a spec; of a fabric that is a text alone, the text is its stretch."""
    woven = {name: {"stretch": one} if isinstance(one, str) else one for name, one in (fabrics or {}).items()}
    head = {"title": title, "units": units, **table(fabrics=woven or None, **keys)}
    return tomlkit.dumps({**head, "pieces": list(pieces)})


def piece(
    name: str = "Band",
    width: Length | None = "1/2 in",
    edge: Table | None = None,
    finish: str = "folded-band",
    **keys: Any,
) -> Table:
    """Return a piece: its name, its finished width, its edge (20 in straight on), and what else it states."""
    return table(name=name, finish=finish, finished_width=width, **keys, edge=edge or straight("20 in"))


def neckline(front: Length, back: Length, **keys: Any) -> Table:
    """Return a neckline by its halves."""
    return table(kind="neckline", front_half=front, back_half=back, **keys)


def shaped(shape: str, width: Length, front: Length, back: Length, **keys: Any) -> Table:
    """Return a neckline by its shape: its width and how deep it is in front and behind."""
    return table(kind="neckline", shape=shape, neck_width=width, front_depth=front, back_depth=back, **keys)


def armhole(front: Length, back: Length, **keys: Any) -> Table:
    return table(kind="armhole", front=front, back=back, **keys)


def straight(whole: Length, **keys: Any) -> Table:
    return table(kind="straight", whole=whole, **keys)


def curved(whole: Length, turning: str | float, **keys: Any) -> Table:
    return table(kind="curved", whole=whole, turning=turning, **keys)


def table(**keys: Any) -> Table:
    """Return a table of keys as TOML spells them."""
    return {key.replace("_", "-"): value for key, value in keys.items() if value is not None}


def written(text: str, folder: Path, name: str = "spec.toml") -> Path:
    """Write a spec to a file."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return path
