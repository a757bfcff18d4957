"""Joining with the proof before and after: a base off scale, and a joined file that is not what it should be."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import BinaryIO

import pytest

from tests.catalog import bases
from tests.chosen import long
from tests.sheets.jobs import drawn_in
from tiler.catalog.base.join import Base
from tiler.declaration import Declaration
from tiler.errors import EncryptedError, FailedProofError, OffScaleError, SpecError
from tiler.proof import Report
from tiler.sheets.document import Document
from tiler.usecases.bundle import joined as release
from tiler.usecases.bundle.joined import Weighed, join_proved, weigh


@pytest.fixture(scope="module")
def ours(one_band: Document) -> Document:
    return one_band


def joined_to(weighed: Weighed, ours: Document) -> Report:
    there = drawn_in(ours, weighed.base.host)
    with TemporaryDirectory() as folder:
        target = Path(folder) / "ours.pdf"
        target.write_bytes(there.data)
        try:
            return join_proved(target, weighed, there.declaration)
        except FailedProofError:
            assert target.read_bytes() == there.data
            assert [*Path(folder).iterdir()] == [target]
            raise


@long
def test_a_true_base_is_joined_and_proved(ours: Document) -> None:
    base = bases.full()
    weighed = weigh(base, 2)
    assert (weighed.doubts, weighed.base.forecast.losses) == ((), ())
    report = joined_to(weighed, ours)
    assert report.verdict == "true-to-scale"


def test_a_base_off_scale_is_refused_with_its_numbers() -> None:
    """This test ensures that a 2 in square drawn as 49.4 mm (140 pt) is named as that."""
    with pytest.raises(OffScaleError, match=r"the 2 in square on page 1 measures 49.39 mm across instead of 50.80 mm"):
        weigh(bases.plain(side=140))


@long
def test_a_base_off_scale_is_joined_when_that_is_accepted(ours: Document) -> None:
    base = bases.plain(side=140)
    weighed = weigh(base, 0, accept=("off-scale",))
    assert "off scale, and accepted so" in weighed.doubts[0]
    report = joined_to(weighed, ours)
    assert report.verdict == "off-scale"
    assert {check.page for check in report.failed} == {len(ours.declaration.pages) + 1}


@long
def test_a_base_without_a_square_is_joined_with_a_doubt(ours: Document) -> None:
    base = bases.plain(side=0)
    weighed = weigh(base)
    assert "no test square" in weighed.doubts[0]
    assert joined_to(weighed, ours).verdict == "true-to-scale"


def test_what_is_refused_is_refused_before_it_is_measured() -> None:
    import pikepdf

    with pytest.raises(SpecError, match="signed"):
        weigh(bases.edited(bases.plain(side=140), bases.signed))
    with pytest.raises(EncryptedError):
        weigh(bases.edited(bases.plain(), deterministic_id=False, encryption=pikepdf.Encryption(owner="x", user="")))


@long
def test_a_joined_file_that_lost_a_page_is_not_handed_out(ours: Document, monkeypatch: pytest.MonkeyPatch) -> None:
    base = bases.plain()

    def faulty(base: Base, ours: bytes, declaration: Declaration, out: BinaryIO, hidden: Collection[str]) -> None:
        out.write(bases.edited(bases.joined_bytes(base, ours, declaration), lambda pdf: pdf.pages.__delitem__(7)))

    monkeypatch.setattr(release, "join", faulty)
    with pytest.raises(FailedProofError, match=r"page A\d+ is missing"):
        joined_to(weigh(base), ours)


@long
def test_a_square_of_the_base_that_changed_is_not_handed_out(ours: Document, monkeypatch: pytest.MonkeyPatch) -> None:
    """This test ensures that even a change within the tolerance of a foreign square is seen."""
    from tests.proof import faults

    base = bases.plain()

    def faulty(base: Base, ours: bytes, declaration: Declaration, out: BinaryIO, hidden: Collection[str]) -> None:
        change = faults.whole_pages(faults.scaled(0.999), [1])
        out.write(bases.edited(bases.joined_bytes(base, ours, declaration), change))

    monkeypatch.setattr(release, "join", faulty)
    with pytest.raises(FailedProofError, match="measures differently"):
        joined_to(weigh(base), ours)
