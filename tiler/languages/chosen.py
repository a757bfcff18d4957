"""The languages that are asked for: in a spec, or as an option."""

from __future__ import annotations

from difflib import get_close_matches

from tiler.errors import SpecError
from tiler.languages.catalogue import LANGUAGES
from tiler.sentence import Place

MOST = 2
"""More languages than two find no room beside each other."""


def chosen(value: object, where: Place) -> tuple[str, ...]:
    """Return the languages that a code, codes with commas between, or a list of codes names, the leading one first.

    Raises :class:`SpecError`.
    """
    codes = [one.strip() for one in value.split(",")] if isinstance(value, str) else value
    if not isinstance(codes, list) or not codes or not all(isinstance(code, str) for code in codes):
        raise SpecError('must be a language, or a list of two; write "de" or ["en", "de"]', where)
    for code in codes:
        if code not in LANGUAGES:
            raise SpecError(f'"{code[:60]}" is not known; {_known(code)}', where)
    if len(set(codes)) != len(codes):
        raise SpecError("names a language twice; leave one of them out", where)
    if len(codes) > MOST:
        raise SpecError(f"names {len(codes)} languages; at most {MOST} have room beside each other", where)
    return tuple(codes)


def _known(code: str) -> str:
    """List the known languages; one that is meant is asked for by its code."""
    by_name = {name.casefold(): known for known, name in LANGUAGES.items()}
    close = get_close_matches(code.casefold()[:60], [*LANGUAGES, *by_name], 1)
    meant = f"did you mean {by_name.get(close[0], close[0])}? " if close else ""
    listed = ", ".join(f"{known} ({name})" for known, name in LANGUAGES.items())
    return f"{meant}{'There' if meant else 'there'} are {listed}"
