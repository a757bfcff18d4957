"""One browser for all, and a window of it for each journey."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from selenium.webdriver import Chrome

from tests.browser.chromium.window import WIDE, Served, Window, browser


@pytest.fixture(scope="session")
def downloads(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("downloads")


@pytest.fixture(scope="session")
def driver(downloads: Path) -> Iterator[Chrome]:
    with browser(downloads) as driver:
        yield driver


@pytest.fixture(scope="session")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    with Served(tmp_path_factory.mktemp("printers")) as served:
        yield served


@pytest.fixture
def window(driver: Chrome, served: Served) -> Iterator[Window]:
    first = driver.current_window_handle
    driver.switch_to.new_window("tab")
    window = Window(driver, served)
    window.size(WIDE)
    yield window
    for handle in driver.window_handles:
        if handle != first:
            driver.switch_to.window(handle)
            driver.close()
    driver.switch_to.window(first)
