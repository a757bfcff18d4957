"""What a base and our pages ask of viewers (ISO 32000-2, 12.2): the base decides, and what changes is told."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from pypdf.generic import ArrayObject, DictionaryObject, NumberObject

from tiler.catalog.trees import entry, resolved

WISHES = {"PrintScaling": ("/None",), "Duplex": ("/Simplex", "/None"), "PickTrayByPDFSize": ("True",)}
"""Our viewer preferences, and the values of a base that do not contradict them (ISO 32000-2, Table 147).

``Duplex`` ``None`` states nothing.
"""


def contradicted(preferences: Mapping[str, str]) -> tuple[str, ...]:
    """Name the viewer preferences of ours that a base has decided otherwise."""
    return tuple(key for key, fine in WISHES.items() if preferences.get(key, fine[0]) not in fine)


def added(preferences: Mapping[str, str]) -> Iterator[str]:
    """Name those of ours that a base has not, with what they ask for."""
    for key, fine in WISHES.items():
        if preferences.get(key) in (None, *fine[1:]):
            yield f"{key} {'true' if fine[0] == 'True' else fine[0].removeprefix('/')}"


def ranges(root: DictionaryObject) -> tuple[tuple[int, int], ...] | None:
    """Return the runs of pages that a catalog asks to print, None where that is no such list (Table 147)."""
    value = entry(root, "/ViewerPreferences", "/PrintPageRange")
    numbers = [resolved(one) for one in value] if isinstance(value, ArrayObject) else []
    if not numbers or len(numbers) % 2 or not all(isinstance(one, NumberObject) for one in numbers):
        return None
    runs = tuple((int(first), int(last)) for first, last in zip(numbers[::2], numbers[1::2], strict=True))
    return runs if all(1 <= first <= last for first, last in runs) else None


def renumbered(runs: Sequence[tuple[int, int]], after: int, count: int) -> ArrayObject:
    """Return the runs as they are counted with our ``count`` pages after page ``after``, and those among them."""
    parts = [(first, min(last, after)) for first, last in runs if first <= after]
    parts.append((after + 1, after + count))
    parts += [(max(first, after + 1) + count, last + count) for first, last in runs if last > after]
    merged: list[list[int]] = []
    for first, last in sorted(parts):
        if merged and first <= merged[-1][1] + 1:
            merged[-1][1] = max(merged[-1][1], last)
        else:
            merged.append([first, last])
    return ArrayObject(NumberObject(number) for run in merged for number in run)


def stated(root: DictionaryObject) -> dict[str, Any]:
    """Return the viewer preferences as they are written, by their names."""
    held = entry(root, "/ViewerPreferences")
    return {str(key)[1:]: str(resolved(value)) for key, value in held.items()} if held else {}
