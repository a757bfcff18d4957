"""Who is let in: the window that came by the opening address, and nobody else."""

from __future__ import annotations

import pytest
from flask.testing import FlaskClient

from tests.browser.conftest import PORT, Window
from tiler.browser.gate import Gate

PAGES = [
    "/",
    "/strip",
    "/strip/figures",
    "/check",
    "/printers",
    "/made/x",
    "/check/x",
    "/work/x",
    "/strip/drawing",
    "/spec",
    "/static/page.css",
    "/nowhere",
]


def test_the_opening_address_leads_to_make_a_strip_with_a_cookie_that_no_script_reads(
    stranger: FlaskClient, gate: Gate
) -> None:
    led = stranger.get(gate.address)
    assert (led.status_code, led.location) == (303, "/strip")
    cookie = led.headers["Set-Cookie"]
    assert cookie.startswith(f"tiler-{PORT}=")
    assert {"HttpOnly", "SameSite=Strict", "Path=/"} <= {part.strip() for part in cookie.split(";")}
    # the secret of the address is not what the cookie holds
    assert gate.address.partition("secret=")[2] not in cookie
    assert stranger.get("/strip", base_url=gate.origin).status_code == 200


@pytest.mark.parametrize("path", [*PAGES, "/open", "/open?secret=", "/open?secret=x"])
def test_nothing_is_shown_without_the_secret(stranger: FlaskClient, gate: Gate, path: str) -> None:
    refused = stranger.get(path, base_url=gate.origin)
    assert refused.status_code == 403
    assert "terminal" in refused.text
    assert "<form" not in refused.text


@pytest.mark.parametrize(
    "host", ["localhost:8123", "127.0.0.1", "127.0.0.1:80", "evil.example:8123", "evil.example", ""]
)
def test_another_host_is_refused(window: Window, host: str) -> None:
    """This test ensures that a name that somebody makes lead here shows nothing."""
    assert window.get("/strip").status_code == 200
    assert window.get("/strip", headers={"Host": host}).status_code == 403
    assert window.get(window.gate.address.removeprefix(window.gate.origin), headers={"Host": host}).status_code == 403


@pytest.mark.parametrize("origin", ["null", "http://evil.example", "http://127.0.0.1:9999", "https://127.0.0.1:8123"])
def test_another_origin_is_refused(window: Window, origin: str) -> None:
    assert window.post("/printers", headers={"Origin": origin}).status_code == 403
    assert window.get("/strip", headers={"Origin": origin}).status_code == 403


def test_what_is_sent_without_an_origin_is_refused(window: Window) -> None:
    assert window.client.post("/printers", base_url=window.gate.origin).status_code == 403


@pytest.mark.parametrize(
    ("site", "status"), [("same-origin", 200), ("none", 200), ("same-site", 403), ("cross-site", 403)]
)
def test_a_page_of_another_site_or_port_is_refused(window: Window, site: str, status: int) -> None:
    assert window.get("/strip", headers={"Sec-Fetch-Site": site}).status_code == status


@pytest.mark.parametrize("path", PAGES)
def test_every_answer_forbids_what_comes_from_elsewhere(window: Window, path: str) -> None:
    headers = window.get(path).headers
    policy = headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "script-src 'self';" in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"


@pytest.mark.parametrize("path", ["/strip", "/check", "/printers", "/nowhere"])
def test_a_page_holds_no_script_and_no_style_of_its_own_and_asks_nobody_else(window: Window, path: str) -> None:
    page = window.get(path).text
    assert page.count("<script") == page.count('<script src="/static/live.js" defer></script>') == 1
    assert "style=" not in page
    assert "<style" not in page
    assert " on" not in {part[:3] for part in page.split('"')[::2] if part.endswith("=")}
    assert "http:" not in page
    assert "https:" not in page


def test_each_start_has_a_secret_of_its_own() -> None:
    assert Gate(PORT).address != Gate(PORT).address


def test_a_page_that_is_not_there_and_a_fault_are_a_sentence(window: Window) -> None:
    assert window.get("/nowhere").status_code == 404
    assert "There is no such page" in window.get("/nowhere").text
    assert window.post("/strip").status_code == 405


def test_a_fault_of_its_own_is_a_sentence_and_no_trace(window: Window) -> None:
    def broken() -> str:
        raise ZeroDivisionError("secret place")

    window.client.application.view_functions["strip.form"] = broken
    told = window.get("/strip")
    assert told.status_code == 500
    assert "stopped by a fault of its own (ZeroDivisionError" in told.text
    assert "Traceback" not in told.text
    assert ".py" not in told.text


def test_the_fonts_come_with_the_page(window: Window) -> None:
    for weight in ("regular", "bold"):
        assert window.get(f"/font/{weight}.ttf").data[:4] == b"\0\1\0\0"
    assert window.get("/font/other.ttf").status_code == 404
