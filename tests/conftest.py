"""What holds for every test."""

from __future__ import annotations

import gc
import os
import signal
import subprocess
import sys
import tempfile
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis.configuration import set_hypothesis_home_dir

from tests.chosen import tries
from tests.declared_once import remember
from tests.forked import Processes
from tests.sheets.jobs import ONE_BAND, SAMPLE, drawn_once
from tiler.sheets.document import Document
from tiler.usecases.draft import Wishes
from tiler.usecases.processes import apart

# Tests start the command line many times; without its bytecode each start would compile the package anew.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
sys.dont_write_bytecode = False

# The same examples in every run, and nothing is kept of them.
settings.register_profile("steady", derandomize=True, database=None, deadline=None, max_examples=tries(40))
settings.load_profile("steady")
set_hypothesis_home_dir(Path(tempfile.gettempdir()) / "tiler-hypothesis")

# A shell lets what it starts in the background ignore Ctrl-C, and the commands that tests start would inherit that.
if signal.getsignal(signal.SIGINT) is signal.SIG_IGN:
    signal.signal(signal.SIGINT, signal.default_int_handler)


remember()


def pytest_collection_finish() -> None:
    """Look less often for objects that nothing holds; what is loaded by now stays to the end."""
    gc.collect()
    gc.freeze()
    gc.set_threshold(500_000, 20, 20)


def pytest_sessionfinish() -> None:
    """Do not look again and again through all that the tests have drawn, only to end."""
    gc.freeze()


@pytest.fixture
def forked(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fork the process that reads for another one, where the system can, instead of starting it anew."""
    if hasattr(os, "fork"):
        monkeypatch.setattr(apart, "subprocess", Processes(subprocess.__name__))


@pytest.fixture(scope="session")
def letter() -> Document:
    return drawn_once(SAMPLE, Wishes(paper="letter", arrange="grid"))


@pytest.fixture(scope="session")
def tiles() -> Document:
    """Give the sample without a first page of its own, which takes half as long to read."""
    return drawn_once(SAMPLE, Wishes(paper="letter", arrange="grid", cover=False))


@pytest.fixture(scope="session")
def a4() -> Document:
    return drawn_once(SAMPLE, Wishes(paper="a4", arrange="grid"))


@pytest.fixture(scope="session")
def sample() -> Document:
    """Give the sample as it is drawn where nothing is wished for."""
    return drawn_once(SAMPLE)


@pytest.fixture(scope="session")
def band_tiles() -> Document:
    """Give the one band without a first page of its own."""
    return drawn_once(ONE_BAND, Wishes(paper="letter", arrange="grid", cover=False))


@pytest.fixture(scope="session")
def one_band() -> Document:
    return drawn_once(ONE_BAND, Wishes(paper="letter", arrange="grid"))
