"""The sizes of a spec, and which of them a command is asked for."""

from __future__ import annotations

from collections.abc import Sequence

from tiler.draft.spec.table import Table, kind_of, nearest
from tiler.errors import SpecError
from tiler.sentence import Key, Place

MOST_SIZES = 60
"""A spec with more sizes is taken for a mistake."""

LONGEST_SIZE = 16
"""A size of more characters fits into no column."""


def read_sizes(table: Table) -> tuple[str, ...]:
    """Read ``sizes``, smallest to largest; none where the spec has none.

    Raises :class:`SpecError` for one that cannot be told from another.
    """
    if not table.has("sizes"):
        return ()
    hint = Key("sizes", '["XS", "S", "M"]')
    value = table.raw("sizes", hint)
    if not isinstance(value, list):
        table.refuse("sizes", f"must be a list of texts, not {kind_of(value)}; write ", hint)
    if not value:
        table.refuse("sizes", "is empty; write ", hint, ", or leave it out")
    if len(value) > MOST_SIZES:
        table.refuse("sizes", f"has {len(value)} sizes; at most {MOST_SIZES} are taken")
    sizes = tuple(_name(item, table.where.at("sizes", index)) for index, item in enumerate(value))
    for index, size in enumerate(sizes):
        first = sizes.index(size)
        if first < index:
            raise SpecError(f'"{size}" is also sizes[{first}]; give each its own', table.where.at("sizes", index))
    return sizes


def _name(value: object, where: Place) -> str:
    # sizes such as 8, 10, 12 are as often written without quotes
    if isinstance(value, int) and not isinstance(value, bool):
        value = str(value)
    if not isinstance(value, str):
        raise SpecError(f"must be a text in quotes, not {kind_of(value)}", where)
    name = value.strip()
    if not name or not name.isprintable() or len(name) > LONGEST_SIZE:
        raise SpecError(f"must be a name of 1 to {LONGEST_SIZE} characters that print", where)
    if "," in name:
        raise SpecError(f'"{name}" has a comma, which parts the sizes in --sizes; write it another way', where)
    return name


def picked(wish: str | None, sizes: Sequence[str]) -> tuple[str, ...]:
    """Return the sizes that ``wish``, such as "S,M", names, in the order of the spec; all of them without a wish.

    Raises :class:`SpecError` for a size that the spec does not have.
    """
    if wish is None:
        return tuple(sizes)
    option = Place("--sizes")
    if not sizes:
        raise SpecError('the spec has no sizes; leave it out, or write sizes = ["XS", "S", "M"] at its top', option)
    wanted = [name.strip() for name in wish.split(",") if name.strip()]
    if not wanted:
        raise SpecError(f"names no size; known are {', '.join(sizes)}", option)
    for name in wanted:
        if name not in sizes:
            shown = name if name.isprintable() else ascii(name)
            raise SpecError(f'"{shown[:40]}" is not a size of the spec; {nearest(name, sizes)}', option)
    return tuple(size for size in sizes if size in wanted)
