"""Reading the drawings of a stranger, as the process that reads them does it."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from tiler.curves.record import curve_record
from tiler.files import read_file
from tiler.records import tree_of
from tiler.usecases.drawings.edges import edge_curve, list_curves, listed_curves


def answers(requests: Iterator[dict[str, Any]], tell: Callable[[Any], None]) -> Iterator[Any]:
    """Answer each request: with the curve or logo that a spec names, or with curves, and their picture if wanted."""
    for wanted in requests:
        file = Path(wanted["path"])
        if "logo" in wanted:
            # what reads pictures takes its time to load
            from tiler.reading.logo import LARGEST_FILE, read_logo

            yield tree_of(read_logo(read_file(file, "logo", LARGEST_FILE), str(file)))
        elif "source" in wanted:
            source = wanted["source"]
            curve = edge_curve(
                file,
                id=source["ids"] or None,
                page=source["page"],
                curve=source["curves"] or None,
                scale_from_square=source["scale_from_square"],
            )
            yield curve_record(curve)
        else:
            yield _listed(file, wanted, tell)


def _listed(file: Path, wanted: dict[str, Any], tell: Callable[[Any], None]) -> dict[str, Any]:
    listing = list_curves(
        file,
        wanted["page"],
        wanted["least"],
        scale_from_square=wanted["scale_from_square"],
        progress=lambda page, pages: tell({"page": page, "pages": pages}),
    )
    picture = None
    if wanted["picture"]:
        # what draws pictures takes its time to load
        from tiler.usecases.drawings.picture import drawn_picture

        png, page = drawn_picture(file, listing)
        picture = {"png": b64encode(png).decode("ascii"), "page": page}
    curves = [curve_record(curve) for curve in listed_curves(file, listing, wanted.get("curves", 0))]
    return {"listing": listing.to_record(), "picture": picture, "curves": curves}
