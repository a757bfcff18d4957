"""The bound on memory: what asks for more is refused, and the bound is set back afterwards."""

from __future__ import annotations

import resource

import pytest

from tiler.reading.limits import bounded_memory


def test_what_asks_for_too_much_memory_is_refused_and_later_it_is_not() -> None:
    before = resource.getrlimit(resource.RLIMIT_AS)
    with pytest.raises(MemoryError), bounded_memory(64 * 2**20):
        bytearray(128 * 2**20)
    assert resource.getrlimit(resource.RLIMIT_AS) == before
    assert len(bytearray(128 * 2**20)) == 128 * 2**20
