"""A window of Chromium on a page that is served by a process of its own, as a person has it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Callable, Mapping
from pathlib import Path
from types import TracebackType
from urllib.request import Request, urlopen

from selenium.webdriver import Chrome, ChromeOptions, ChromeService
from selenium.webdriver.common.by import By
from selenium.webdriver.remote.webelement import WebElement
from selenium.webdriver.support.ui import WebDriverWait

CHROMIUM, DRIVER = "/usr/bin/chromium", "/usr/bin/chromedriver"
WIDE, NARROW = (1280, 900), (360, 740)
PATIENCE = 20
"""How long something may take to appear, s."""


def browser(downloads: Path) -> Chrome:
    """Start Chromium without a screen, which saves what it is given in a folder and asks nobody."""
    options = ChromeOptions()
    options.binary_location = CHROMIUM
    for word in ("--headless=new", "--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu", "--hide-scrollbars"):
        options.add_argument(word)
    options.add_experimental_option("prefs", {"download.default_directory": str(downloads)})
    return Chrome(options, ChromeService(DRIVER))


class Served:
    """The page as ``tiler browser`` serves it; use it as a context, which it never outlives."""

    def __init__(self, printers: Path, port: int | None = None) -> None:
        """Start it, and read its address."""
        words = ["--port", str(port)] if port else []
        self._process = subprocess.Popen(
            [sys.executable, "-m", "tiler", "browser", "--no-open", "--keep", *words],
            env=os.environ | {"TILER_PRINTERS": str(printers)},
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        assert self._process.stdout
        self.address = self._process.stdout.readline().strip()
        self.origin = self.address.partition("/open")[0]
        self.port = int(self.origin.rpartition(":")[2])

    def __enter__(self) -> Served:
        """Give it."""
        return self

    def __exit__(self, kind: type[BaseException] | None, fault: BaseException | None, at: TracebackType | None) -> None:
        """End it."""
        self.end()

    @property
    def children(self) -> list[int]:
        """The processes that it has begun and that still run."""
        place = Path(f"/proc/{self._process.pid}/task")
        return [int(pid) for one in place.glob("*/children") for pid in one.read_text().split()]

    def end(self, how: signal.Signals = signal.SIGINT) -> None:
        """End it, as Ctrl-C does or as a crash does."""
        self._process.send_signal(how)
        self._process.__exit__(None, None, None)


class Window:
    """What a person sees and does in a window."""

    def __init__(self, driver: Chrome, served: Served) -> None:
        """Come by the opening address."""
        self.driver, self.served = driver, served
        driver.get(served.address)

    def go(self, path: str) -> None:
        """Go to a page."""
        self.driver.get(f"{self.served.origin}{path}")

    def follow(self, text: str) -> None:
        """Press a link."""
        self.driver.find_element(By.LINK_TEXT, text).click()

    def press(self, text: str) -> None:
        """Press a button."""
        self.driver.find_element(By.XPATH, f"//button[normalize-space()='{text}']").click()

    def at(self, name: str) -> WebElement:
        """Return the element of an id."""
        return self.driver.find_element(By.ID, name)

    def fill(self, answers: Mapping[str, str]) -> None:
        """Type into fields, in the place of what stands there; unfold what hides them."""
        for name, value in answers.items():
            field = self.at(name)
            for group in field.find_elements(By.XPATH, "ancestor::details[not(@open)]"):
                group.find_element(By.TAG_NAME, "summary").click()
            field.clear()
            field.send_keys(value)

    def text(self, css: str = "main") -> str:
        """Return what a part of the page says."""
        return self.driver.find_element(By.CSS_SELECTOR, css).text

    def wait(self, text: str, css: str = "main") -> None:
        """Wait until a part of the page says something."""
        told = WebDriverWait(self.driver, PATIENCE, 0.05, ignored_exceptions=[Exception])
        told.until(lambda _: text in self.text(css), f"{text!r} did not appear")

    def until(self, is_so: Callable[[], bool]) -> None:
        """Wait until something is so."""
        WebDriverWait(self.driver, PATIENCE, 0.05).until(lambda _: is_so())

    def until_gone(self, text: str, css: str = "main") -> None:
        """Wait until a part of the page says something no more."""
        told = WebDriverWait(self.driver, PATIENCE, 0.05, ignored_exceptions=[Exception])
        told.until(lambda _: text not in self.text(css), f"{text!r} did not go")

    def value(self, name: str) -> str:
        """Return what stands in a field."""
        return self.at(name).get_property("value")

    def size(self, size: tuple[int, int]) -> None:
        """Give the window a size, in px of the page."""
        told = {"width": size[0], "height": size[1], "deviceScaleFactor": 1, "mobile": False}
        self.driver.execute_cdp_cmd("Emulation.setDeviceMetricsOverride", told)

    def dark(self, dark: bool) -> None:
        """Wish for a dark or a light page."""
        feature = {"name": "prefers-color-scheme", "value": "dark" if dark else "light"}
        self.driver.execute_cdp_cmd("Emulation.setEmulatedMedia", {"features": [feature]})

    def scripts(self, allowed: bool) -> None:
        """Let pages run scripts, or not."""
        self.driver.execute_cdp_cmd("Emulation.setScriptExecutionDisabled", {"value": not allowed})

    def save(self, text: str, target: Path) -> None:
        """Save what a link leads to, without the window."""
        link = self.driver.find_element(By.LINK_TEXT, text).get_attribute("href")
        cookies = "; ".join(f"{one['name']}={one['value']}" for one in self.driver.get_cookies())
        with urlopen(Request(str(link), headers={"Cookie": cookies})) as answer:
            target.write_bytes(answer.read())

    def wait_for_pictures(self, least: int = 1) -> None:
        """Wait until so many pictures are there, and each of them could be shown."""
        shown = "return [...document.images].map((one) => one.complete && one.naturalWidth > 0)"

        def all_shown(driver: Chrome) -> bool:
            found = driver.execute_script(shown)
            return len(found) >= least and all(found)

        WebDriverWait(self.driver, PATIENCE, 0.05).until(all_shown, "a picture cannot be shown")
