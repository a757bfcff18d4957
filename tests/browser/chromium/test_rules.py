"""Rules of accessibility on every page, light and dark, wide and narrow (WCAG 2.2, as axe-core tries it)."""

from __future__ import annotations

import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from selenium.webdriver import Chrome

from tests.browser.chromium.test_journeys import CREW, NECKS, SIZES
from tests.browser.chromium.window import NARROW, WIDE, Served, Window
from tiler.sheets.document import Document

REFUSED = ("serious", "critical")
OF_COLOURS = ("color-contrast", "link-in-text-block")
"""The rules that a dark page may break where the light one does not."""


@pytest.fixture(scope="module")
def rules() -> str:
    """Give the script of axe-core, which ``.ci/run`` fetches."""
    return Path(os.environ["AXE"]).read_text(encoding="utf-8")


def findings(driver: Chrome, rules: str, *only: str) -> list[str]:
    """Name each finding with its first place; of all rules, or of some."""
    driver.execute_script(f"if (!window.axe) {{ {rules} }}")
    wanted = {"resultTypes": ["violations"]} | ({"runOnly": only} if only else {})
    told = driver.execute_async_script("axe.run(document, arguments[0]).then(arguments[1])", wanted)
    assert told["passes"]
    return [f"{one['id']}: {one['nodes'][0]['html'][:120]}" for one in told["violations"] if one["impact"] in REFUSED]


def pages(window: Window, one_band: Document, folder: Path) -> Iterator[str]:
    """Go from page to page, and name each."""
    yield "an empty form"
    window.fill({**CREW, "width": "wide"})
    window.wait("is not a length", "#note-width")
    yield "a mistake"
    window.fill({"width": "1/2 in", "must-pass": "40 in"})
    window.wait("opens to only")
    yield "a doubt"
    window.at("drawing").send_keys(str(NECKS))
    window.press("Show its curves")
    window.wait("Which curve is it?")
    yield "curves to pick"
    window.press("Take this curve")
    window.fill({"must-pass": ""})
    window.press("Make the PDF")
    window.wait("True to scale")
    yield "what was made"
    window.go("/spec")
    yield "a spec to choose"
    window.at("spec").send_keys(str(SIZES))
    window.press("Go on with it")
    window.wait("Armhole binding", "#beside")
    yield "a spec with sizes"
    window.fill({"at/pieces/0/finished-width": "wide"})
    window.wait("is not a length", "#beside")
    yield "a wrong value of a spec"
    window.follow("Check a PDF")
    yield "a file to check"
    (folder / "piece.pdf").write_bytes(one_band.data)
    window.at("pdf").send_keys(str(folder / "piece.pdf"))
    window.press("Measure it")
    window.wait("True to scale")
    yield "what was checked"
    window.follow("My printer")
    window.fill({"name": "kitchen", "across": "3 mm", "down": "19.8 cm"})
    window.press("Keep it")
    yield "a reading that is refused"
    window.fill({"across": "14.98 cm"})
    window.press("Keep it")
    window.wait("kitchen", "h2")
    yield "a printer"
    window.press("Remove kitchen")
    window.go("/nowhere")
    yield "no page"


def test_no_page_has_a_serious_finding_and_each_fits_a_narrow_window(
    window: Window, rules: str, one_band: Document, tmp_path: Path
) -> None:
    found: dict[str, Any] = {}
    for name in pages(window, one_band, tmp_path):
        for dark in (False, True):
            window.dark(dark)
            if told := findings(window.driver, rules, *(OF_COLOURS if dark else ())):
                found[f"{name}, {'dark' if dark else 'light'}"] = told
        window.dark(False)
        for size in (NARROW, WIDE):
            window.size(size)
            # reflow, WCAG 1.4.10: nothing is to be scrolled sideways but tables of their own
            wide = window.driver.execute_script("return document.documentElement.scrollWidth")
            if wide > size[0]:
                found[f"{name}, {size[0]} px"] = f"is {wide} px wide"
    assert found == {}


def test_a_fault_is_found(driver: Chrome, served: Served, rules: str) -> None:
    """This test ensures that the rules are tried at all."""
    window = Window(driver, served)
    driver.execute_script("document.querySelector('label').remove(); document.querySelector('nav a').textContent = ''")
    assert {"select-name", "link-name"} <= {one.split(":")[0] for one in findings(window.driver, rules)}
