"""Files of ours whose declaration was altered along with the pages, so that each agrees with the other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from io import BytesIO
from typing import Any

import pikepdf

from tests.proof import faults as f
from tiler.declaration import FILE_NAME, Declaration

Forge = Callable[[bytes], bytes]

KEPT = {"grey", "factor_across", "factor_down", "page_width_mm", "page_height_mm"}
"""Numbers that are no lengths of the drawing."""


def forged(restate: Callable[[Declaration], Declaration], *changes: f.Change) -> Forge:
    """Change the pages and what is declared of them."""

    def forge(data: bytes) -> bytes:
        out = BytesIO()
        with pikepdf.open(BytesIO(data)) as pdf:
            declared = Declaration.from_bytes(pdf.attachments[FILE_NAME].get_file().read_bytes())
            for change in changes:
                change(pdf)
            pdf.attachments[FILE_NAME] = restate(declared).to_bytes()
            pdf.save(out)
        return out.getvalue()

    return forge


def shrunk(value: Any, factor: float, name: str = "") -> Any:
    """Return a record with every length in it multiplied."""
    if isinstance(value, float) and name not in KEPT:
        return value * factor
    if isinstance(value, tuple):
        return tuple(shrunk(one, factor, name) for one in value)
    if is_dataclass(value) and not isinstance(value, type):
        return replace(value, **{one.name: shrunk(getattr(value, one.name), factor, one.name) for one in fields(value)})
    return value


def smaller(factor: float) -> Forge:
    """Shrink a whole file with all that it declares; the words stay what they are."""
    return forged(lambda declared: shrunk(declared, factor), f.whole_pages(f.scaled(factor)))


def restated(**changes: Any) -> Forge:
    return forged(lambda declared: replace(declared, **changes))


def first(key: str, **changes: Any) -> Forge:
    """Declare something else of the first of some records."""
    return forged(
        lambda declared: replace(
            declared, **{key: (replace(getattr(declared, key)[0], **changes), *getattr(declared, key)[1:])}
        )
    )


def without(key: str) -> Forge:
    return forged(lambda declared: replace(declared, **{key: getattr(declared, key)[1:]}))


FORGED: dict[str, Forge] = {
    "all at 95 %": smaller(0.95),
    "all at 97 %": smaller(0.97),
    "all at 99.5 %": smaller(0.995),
    "all at 103 %": smaller(1.03),
    "a square is declared smaller": first("squares", nominal_mm=48.26),
    "a ruler line is declared shorter": first("rules", nominal_mm=193.04),
    "a piece is declared shorter": first("pieces", cut_length_mm=325.0),
    "a piece is declared to be cut twice": first("pieces", quantity=2),
    "a piece is declared under another name": first("pieces", name="Cuff"),
    "a piece is declared for a size": first("pieces", size="M"),
    "a piece is not declared": without("pieces"),
    "a square is not declared": without("squares"),
    "a ruler line is not declared": without("rules"),
    "register marks are not declared": restated(marks=()),
    "a page is not declared": without("pages"),
    "a printer is declared": restated(printer="den"),
    "a factor is declared": restated(printer="den", factor_across=0.95, factor_down=0.95),
    "another paper is declared": restated(page_width_mm=210.0, page_height_mm=297.0),
    "another title is declared": restated(title="Another"),
    "nothing is declared to be printed": restated(printed=()),
}
