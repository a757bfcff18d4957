"""Journeys of a person, from an empty page to a proved file."""

from __future__ import annotations

import signal
from pathlib import Path
from time import monotonic, sleep

import pikepdf
import pytest
from selenium.webdriver import ActionChains, Chrome, Keys
from selenium.webdriver.common.by import By
from selenium.webdriver.support.select import Select
from selenium.webdriver.support.ui import WebDriverWait

from tests.browser.chromium.window import PATIENCE, Served, Window
from tests.proof import faults
from tests.reading.files import labelled_square, pdf
from tiler.commands import run
from tiler.sheets.document import Document

CREW = {"front-half": "7 1/4 in", "back-half": "3 3/4 in", "width": "1/2 in", "stretch": "50 %"}
LONG = "9½ in (24.1 cm) long from the fold"
"""How long the crew's strip is cut, as ``tiler band`` says it."""

MOST_STOPS = 60
"""Tab stops from the top of the page to whatever is needed."""


def saved(folder: Path, pattern: str) -> Path:
    """Return a file that the browser has saved whole."""
    ends = monotonic() + 20
    while monotonic() < ends:
        if found := [path for path in folder.glob(pattern) if path.stat().st_size]:
            return found[0]
        sleep(0.05)
    raise AssertionError(f"nothing called {pattern} was saved")


def test_a_first_band_from_nothing(window: Window, downloads: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert window.driver.title == "Make a strip"
    for name, value in CREW.items():
        window.fill({name: value})
    window.wait(LONG, "#beside")
    window.wait_for_pictures()
    window.press("Make the PDF")
    window.wait("True to scale: 1 page, 2 test squares")
    window.wait_for_pictures()
    window.follow("Save the PDF")
    assert run(["verify", str(saved(downloads, "band-for-a-neckline.pdf"))]) == 0
    assert "True to scale" in capsys.readouterr().out
    window.follow("Back to the answers")
    assert window.value("front-half") == CREW["front-half"]
    # the browser's own way back asks nothing to be sent again
    window.driver.back()
    window.wait("True to scale: 1 page")
    window.driver.back()
    window.wait(LONG, "#beside")
    assert window.value("width") == CREW["width"]


def test_a_mistake_and_its_mending(window: Window) -> None:
    window.fill({**CREW, "width": "wide"})
    window.wait("is not a length", "#note-width")
    assert window.at("width").get_attribute("aria-invalid") == "true"
    window.fill({"width": "1/2 in"})
    window.wait(LONG, "#beside")
    assert window.text("#note-width") == ""
    assert window.at("width").get_attribute("aria-invalid") is None


SIZES = Path(__file__).parents[3] / "examples" / "saltmarsh-sizes.toml"


def test_a_spec_with_sizes_is_gone_on_with(window: Window, downloads: Path) -> None:
    window.at("spec").send_keys(str(SIZES))
    window.press("Go on with it")
    window.wait("Saltmarsh pattern top", "h1")
    cell = "at/pieces/0/edge/front-half/XL"
    assert window.value(cell) == "8 in"
    window.fill({cell: "8 1/8 ins"})
    window.wait("has the unit ins", "#note-at\\/pieces\\/0\\/edge\\/front-half")
    window.fill({cell: "8 1/16 in"})
    window.wait("25⅛ in (63.7 cm)", "#beside")
    # it stands in the address, and so outlasts a reload
    window.driver.refresh()
    assert window.value(cell) == "8 1/16 in"
    window.press("Make the PDF")
    window.wait("True to scale")
    window.follow("Save the spec")
    text = saved(downloads, "saltmarsh-pattern-top.toml").read_text(encoding="utf-8")
    assert text == SIZES.read_text(encoding="utf-8").replace('XL = "8 in", 2XL', 'XL = "8 1/16 in", 2XL')


def test_the_fields_follow_the_edge_and_the_finish(window: Window) -> None:
    assert window.at("front-half").is_displayed()
    Select(window.at("kind")).select_by_value("armhole")
    window.until(lambda: not window.at("front-half").is_displayed())
    assert window.at("front").is_displayed()
    Select(window.at("finish")).select_by_value("double-fold-binding")
    window.until(lambda: not window.at("seam-allowance").is_displayed())
    window.fill({"front": "21 cm", "back": "22,5 cm", "width": "1"})
    window.wait("22.5 cm; whole armhole 43.5 cm", "#note-back")
    window.wait("Armhole binding", "#numbers")


NECKS = Path(__file__).parents[3] / "examples" / "saltmarsh-necks.svg"
DROP = """
const taken = new DataTransfer();
taken.items.add(new File([arguments[1]], arguments[0]));
document.body.dispatchEvent(new DragEvent("drop", { bubbles: true, cancelable: true, dataTransfer: taken }));
"""
"""Drops a file as a hand does, as far as the page can tell."""


def test_a_drawing_is_dropped_and_its_curves_picked_with_keys_and_mouse(window: Window) -> None:
    window.fill({"width": "15 mm", "stretch": "50 %"})
    window.wait("is missing", "#beside")
    window.driver.execute_script(DROP, "necks.svg", NECKS.read_text(encoding="utf-8"))
    window.wait("Which curve is it?")
    window.wait_for_pictures()
    # the longest that bends is marked; from there the arrows go on to the others and back
    tab_to(window, "pick-0")
    for key, marked in ((Keys.ARROW_DOWN, "pick-1"), (Keys.ARROW_UP, "pick-0")):
        ActionChains(window.driver).send_keys(key).perform()
        assert window.at(marked).is_selected()
    ActionChains(window.driver).send_keys(Keys.ENTER).perform()
    window.wait("front-neck: 12.7 cm")
    window.driver.execute_script(DROP, "necks.svg", NECKS.read_text(encoding="utf-8"))
    window.wait("Which curve is it?")
    window.driver.find_element(By.XPATH, "//label[contains(., 'back-neck')]").click()
    Select(window.at("drawn-part")).select_by_visible_text("Back half")
    window.press("Take this curve")
    window.wait("from the fold", "#beside")
    assert window.value("width") == "15 mm"
    window.driver.refresh()
    window.wait("from the fold", "#beside")
    # a curve goes with its tick
    window.at("drawn-back-half").click()
    window.wait("is missing", "#beside")
    # of what is dropped the form takes it whose kind it is
    spec = NECKS.with_name("saltmarsh-sizes.toml")
    window.driver.execute_script(DROP, spec.name, spec.read_text(encoding="utf-8"))
    WebDriverWait(window.driver, PATIENCE).until(lambda driver: "/spec?" in driver.current_url)


def test_a_file_that_is_far_too_large_is_told_before_it_is_sent(window: Window, tmp_path: Path) -> None:
    with (tmp_path / "large.pdf").open("wb") as file:
        file.truncate(65 * 2**20)
    window.follow("Check a PDF")
    window.at("pdf").send_keys(str(tmp_path / "large.pdf"))
    assert "larger than 64 MB" in window.at("pdf").get_property("validationMessage")
    window.press("Measure it")
    assert window.driver.current_url.endswith("/check")
    assert window.at("pdf").get_property("files")


def test_a_pdf_that_is_off(window: Window, one_band: Document, tmp_path: Path, downloads: Path) -> None:
    (tmp_path / "piece.pdf").write_bytes(one_band.data)
    with pikepdf.open(tmp_path / "piece.pdf") as file:
        faults.whole_pages(faults.scaled(0.97, 0.97))(file)
        file.save(tmp_path / "off.pdf")
    window.follow("Check a PDF")
    window.at("pdf").send_keys(str(tmp_path / "off.pdf"))
    window.press("Measure it")
    window.wait("off.pdf", "h2")
    assert "wrong" in (window.driver.find_element(By.CSS_SELECTOR, ".verdict").get_attribute("class") or "")
    assert "97" in window.text(".verdict")
    window.wait_for_pictures()
    window.follow("Save the report")
    assert saved(downloads, "report*.pdf").read_bytes()[:5] == b"%PDF-"


def test_a_reload_goes_on_with_the_answers(window: Window) -> None:
    window.fill(CREW)
    window.wait(LONG, "#beside")
    # the address takes an answer once typing stops, and the length is there before the last of them
    window.until(lambda: all(f"{name}=" in window.driver.current_url for name in CREW))
    window.driver.refresh()
    assert {name: window.value(name) for name in CREW} == CREW
    window.wait(LONG, "#beside")


def test_two_windows_do_not_mix(window: Window) -> None:
    window.fill(CREW)
    window.wait(LONG, "#beside")
    first = window.driver.current_window_handle
    window.driver.switch_to.new_window("tab")
    window.go("/strip")
    assert window.value("front-half") == ""
    window.fill({**CREW, "front-half": "8 in"})
    window.wait("long from the fold", "#beside")
    assert LONG not in window.text("#beside")
    window.driver.switch_to.window(first)
    window.driver.refresh()
    window.wait(LONG, "#beside")


def tab_to(window: Window, reached: str) -> None:
    """Go from stop to stop until the element that has the focus is, or says, this; each stop must be seen."""
    for _ in range(MOST_STOPS):
        ActionChains(window.driver).send_keys(Keys.TAB).perform()
        focus = window.driver.switch_to.active_element
        assert focus.tag_name != "body", f"the last stop came before {reached}"
        if reached in (focus.get_attribute("id"), focus.text.strip()):
            assert focus.is_displayed()
            assert focus.value_of_css_property("outline-style") != "none"
            return
    raise AssertionError(f"{reached} is not among {MOST_STOPS} stops")


def test_a_band_with_the_keyboard_alone(window: Window) -> None:
    tab_to(window, "To the content")
    window.driver.switch_to.active_element.send_keys(Keys.ENTER)
    for name in ("front-half", "back-half", "stretch", "width"):
        tab_to(window, name)
        window.driver.switch_to.active_element.send_keys(CREW[name])
    window.wait(LONG, "#beside")
    tab_to(window, "Make the PDF")
    window.driver.switch_to.active_element.send_keys(Keys.ENTER)
    window.wait("True to scale: 1 page")


def test_all_of_it_without_scripts(window: Window, one_band: Document, tmp_path: Path) -> None:
    window.scripts(False)
    window.go("/strip")
    window.fill(CREW)
    window.press("Show the numbers")
    window.wait(LONG, "#beside")
    window.press("Make the PDF")
    window.wait("True to scale: 1 page")
    window.follow("Make a strip")
    window.at("drawing").send_keys(str(NECKS))
    window.press("Show its curves")
    window.wait("Which curve is it?")
    window.press("Take this curve")
    window.wait("front-neck: 12.7 cm")
    (tmp_path / "piece.pdf").write_bytes(one_band.data)
    window.follow("Check a PDF")
    window.at("pdf").send_keys(str(tmp_path / "piece.pdf"))
    window.press("Measure it")
    window.wait("True to scale", ".verdict")
    window.follow("My printer")
    window.fill({"name": "attic", "across": "14.9 cm", "down": "19.8 cm"})
    window.press("Keep it")
    window.wait("99.33 %")
    window.press("Remove attic")
    window.until_gone("99.33 %")


def test_long_work_shows_how_far_it_is_and_is_stopped(driver: Chrome, window: Window, tmp_path: Path) -> None:
    (tmp_path / "many.pdf").write_bytes(pdf(*[labelled_square(144.0, "2 in")] * 400))
    with Served(tmp_path / "printers") as served:
        own = Window(driver, served)
        for stops in (True, False):
            own.follow("Check a PDF")
            own.at("pdf").send_keys(str(tmp_path / "many.pdf"))
            own.press("Measure it")
            own.wait("At work")
            own.wait("Measuring: page")
            own.wait("of 400")
            (child,) = served.children
            if stops:
                own.press("Stop")
                own.wait("What it shows")
                assert served.children == []
            else:
                served.end()
            # what has ended stands there until its parent, or the first process of all, takes note
            state = Path(f"/proc/{child}/stat")
            assert not state.exists() or state.read_text().split()[2] == "Z"


def test_a_server_that_is_gone_is_told_and_the_answers_go_on(driver: Chrome, window: Window, tmp_path: Path) -> None:
    with Served(tmp_path / "printers") as first:
        own = Window(driver, first)
        own.fill(CREW)
        own.wait(LONG, "#beside")
        first.end(signal.SIGKILL)
        own.fill({"width": "5/8 in"})
        own.wait("does not answer any more", "#beside")
        # the address follows shortly after the last key
        WebDriverWait(driver, PATIENCE).until(lambda driver: "5%2F8" in driver.current_url)
        address = driver.current_url
        assert own.value("front-half") == CREW["front-half"]
    with Served(tmp_path / "printers", first.port) as again:
        Window(driver, again)
        driver.get(address)
        assert own.value("width") == "5/8 in"
        own.wait("long from the fold", "#beside")
