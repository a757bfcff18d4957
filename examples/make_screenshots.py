"""Make the pictures of the page in the browser that the guide shows: ``python examples/make_screenshots.py``.

It needs Debian's chromium and chromium-driver, and the extra ``browser-test``.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Callable
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING

from PIL import Image

EXAMPLES = Path(__file__).parent
PICTURES = EXAMPLES / "pictures"
COLOURS = 48
"""Enough for a page of few colours, and small to keep."""

if TYPE_CHECKING:
    from tests.browser.chromium.window import Window

CREW = {"front-half": "7 5/8 in", "back-half": "3 7/8 in", "stretch": "60 %", "width": "5/8 in"}


def answers(window: Window) -> None:
    """Fill in a neckband."""
    window.go("/strip")
    window.fill(CREW)
    window.wait("from the fold", "#beside")
    window.driver.execute_script("scrollTo(0, 0)")


def answers_narrow(window: Window) -> None:
    """Go on to its numbers in a narrow window."""
    window.follow("To the numbers")


def drawing(window: Window) -> None:
    """Let a curve be picked."""
    window.go("/strip")
    window.at("drawing").send_keys(str(EXAMPLES / "saltmarsh-necks.svg"))
    window.press("Show its curves")
    window.wait("Which curve is it?")


def checked(window: Window) -> None:
    """Measure a PDF."""
    window.go("/strip")
    window.fill(CREW)
    window.press("Make the PDF")
    window.wait("True to scale")
    made = Path(tempfile.gettempdir()) / "neckband.pdf"
    window.save("Save the PDF", made)
    window.go("/check")
    window.at("pdf").send_keys(str(made))
    window.press("Measure it")
    window.wait("True to scale")
    made.unlink()


SHOWN: dict[str, tuple[tuple[int, int], Callable[[Window], None]]] = {
    "browser-strip.png": ((1200, 860), answers),
    "browser-strip-narrow.png": ((400, 860), answers_narrow),
    "browser-drawing.png": ((1200, 700), drawing),
    "browser-check.png": ((1200, 700), checked),
    "browser-check-narrow.png": ((400, 860), lambda _: None),
}
"""The pictures by their names: how large the window is, and what is done in it after that of the one before."""


def main() -> None:
    """Do what is shown, and keep the pictures."""
    # the window is that of the tests, and a script finds only what lies beside it
    sys.path.insert(0, str(EXAMPLES.parent))
    from tests.browser.chromium.window import Served, Window, browser

    with tempfile.TemporaryDirectory() as name, Served(Path(name)) as served, browser(Path(name)) as driver:
        window = Window(driver, served)
        for target, (size, do) in SHOWN.items():
            window.size(size)
            do(window)
            with Image.open(BytesIO(driver.get_screenshot_as_png())) as picture:
                picture.convert("RGB").quantize(COLOURS).save(PICTURES / target, optimize=True)


if __name__ == "__main__":
    main()
