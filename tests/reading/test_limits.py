"""Bounds for the files of strangers: time and memory are given up with one sentence, and set back afterwards."""

from __future__ import annotations

import resource
import signal

import pytest

from tiler.errors import ExitCode, UnreadableError
from tiler.reading.limits import bounded


def test_a_file_that_takes_for_ever_is_given_up() -> None:
    before = signal.getsignal(signal.SIGALRM)
    with pytest.raises(UnreadableError, match="1 seconds") as caught, bounded(seconds=1):
        signal.pause()
    assert caught.value.code is ExitCode.UNREADABLE
    assert signal.getsignal(signal.SIGALRM) is before


def test_a_file_that_needs_too_much_memory_is_given_up() -> None:
    before = resource.getrlimit(resource.RLIMIT_AS)
    with pytest.raises(UnreadableError, match="memory"), bounded(memory=64 * 2**20):
        bytearray(128 * 2**20)
    assert resource.getrlimit(resource.RLIMIT_AS) == before
    assert len(bytearray(128 * 2**20)) == 128 * 2**20
