"""The drawings that a spec names: they are sent with it, and the curves that it takes from them stay in the address."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import ExitStack
from pathlib import Path, PurePosixPath
from typing import Any

from tiler.browser.drawn.answer import Drawn, drawn_of, word_of
from tiler.browser.form import Given
from tiler.browser.uploads import own_name
from tiler.curves import Curve
from tiler.draft.edge.from_drawing import FindCurve, Source
from tiler.draft.spec.read import read_tables
from tiler.errors import SpecError, TilerError
from tiler.sentence import Place
from tiler.usecases.drawings.apart import FetchCurve, curves_apart

CURVE = "curve-of"
"""The field that holds a curve; there is one for each."""


def curves_in(tables: dict[str, Any], files: Mapping[str, Path]) -> list[str]:
    """Return the curves that a spec takes from drawings, as the words of their fields; ``files`` are those sent.

    What is wrong with the spec is told where it is shown.  Raises :class:`SpecError` for a drawing that cannot be used.
    """
    found: dict[Source, Curve] = {}
    failed: list[TilerError] = []
    with ExitStack() as stack:
        fetches: list[FetchCurve] = []

        def find(source: Source) -> Curve:
            file = files.get(PurePosixPath(source.file).name)
            if file is None:
                raise _not_sent(source)
            if not fetches:
                fetches.append(stack.enter_context(curves_apart()))
            try:
                with own_name(file):
                    return found.setdefault(source, fetches[0](file, source))
            except TilerError as fault:
                failed.append(fault)
                raise

        try:
            read_tables(tables, "", find)
        except TilerError:
            if failed:
                raise SpecError(str(failed[0]), Place("--spec")) from failed[0]
    return [word_of(Drawn(_table(source), curve)) for source, curve in found.items()]


def finder_of(form: Given) -> FindCurve:
    """Return what finds the curves of a form for the reader of specs."""
    drawn = [drawn_of(word, in_folders=True) for word in form.getlist(CURVE)]
    curves = {one.named: one.curve for one in drawn}

    def find(source: Source) -> Curve:
        if source not in curves:
            raise _not_sent(source)
        return curves[source]

    return find


def _not_sent(source: Source) -> SpecError:
    return SpecError(f"{source.file} is a drawing that was not chosen; choose it together with the spec")


def _table(source: Source) -> dict[str, Any]:
    """Return a source as a spec names it."""
    table: dict[str, Any] = {"pdf" if source.page is not None else "svg": source.file}
    stated = {"id": source.ids, "curve": source.curves}
    table |= {key: values[0] if len(values) == 1 else list(values) for key, values in stated.items() if values}
    if source.page is not None:
        table["page"] = source.page
    return table | ({"scale-from-square": True} if source.scale_from_square else {})
