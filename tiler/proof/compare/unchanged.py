"""Whether our pages are as they were drafted, by their checksums; what they measure is judged either way."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from tiler.declaration import Declaration
from tiler.proof.compare.pages import Pairs, page_of
from tiler.proof.report.check import Check, CheckName, Status
from tiler.proof.report.sentences import Says


def compare_checksums(declaration: Declaration, pairs: Pairs, checksums: Mapping[int, str]) -> Iterator[Check]:
    """Compare the ``checksums`` of the pages of the file, by their numbers, with those that are declared."""
    found = page_of(pairs)
    same = all(
        number in found and checksums.get(found[number][0]) == declared
        for number, declared in enumerate(declaration.checksums, 1)
    )
    whole = same and len(declaration.checksums) == len(declaration.printed)
    yield Check(CheckName.UNCHANGED, Status.PASS, Says.UNCHANGED if whole else Says.CHANGED)
