"""Who may ask: one window of this computer, by a secret; no web page of others, under whatever name it comes.

A page of another site that is open in the same browser can send requests here too, and a
name can be made to lead here.  So a request needs the cookie that only the opening
address sets, the host that was listened on, and, where it says where it comes from, this
very place.
"""

from __future__ import annotations

import secrets
from hmac import compare_digest

from flask import Flask, Response, redirect, request

from tiler.browser.refusal import RefusedError

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self'",
        "style-src 'self'",
        "font-src 'self'",
        "img-src 'self' data:",
        "connect-src 'self'",
        "form-action 'self'",
        "frame-ancestors 'none'",
        "base-uri 'none'",
    )
)
"""What a page may load: nothing from elsewhere, and no script or style within its text."""

HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Cross-Origin-Opener-Policy": "same-origin",
}

OPENING = "/open"
FIRST = "/strip"
FROM_HERE = ("same-origin", "none")
"""Where a browser may say that a request comes from: this place, or the person."""


class Gate:
    """The place that is listened on, its secret for whoever opens it, and that of the cookie."""

    def __init__(self, port: int) -> None:
        """Make both secrets."""
        self.host = f"127.0.0.1:{port}"
        self.origin = f"http://{self.host}"
        # a cookie belongs to a computer and not to a port, so that each start has a name of its own
        self.cookie = f"tiler-{port}"
        self._secret, self._pass = secrets.token_urlsafe(24), secrets.token_urlsafe(24)

    @property
    def address(self) -> str:
        """The address that opens the page."""
        return f"{self.origin}{OPENING}?secret={self._secret}"

    def guard(self, app: Flask) -> None:
        """Let an app answer only who may ask."""
        app.before_request(self._refuse)
        app.after_request(_head)
        app.add_url_rule(OPENING, "open", self._open)

    def _refuse(self) -> None:
        """Raise :class:`RefusedError` for a request that is not from a window of this page."""
        if request.headers.getlist("Host") != [self.host]:
            raise RefusedError("This page answers under its own address only.")
        origin = request.headers.get("Origin")
        elsewhere = request.headers.get("Sec-Fetch-Site", "none") not in FROM_HERE
        if elsewhere or origin not in (None, self.origin) or (origin is None and request.method not in ("GET", "HEAD")):
            raise RefusedError("This page answers no request of another page.")
        if request.path != OPENING and not _same(request.cookies.get(self.cookie, ""), self._pass):
            raise RefusedError("Open this page by the address that the terminal shows; it changes with every start.")

    def _open(self) -> Response:
        if not _same(request.args.get("secret", ""), self._secret):
            raise RefusedError("This is not the address of this start; take the one that the terminal shows now.")
        led = redirect(FIRST, 303)
        led.set_cookie(self.cookie, self._pass, httponly=True, samesite="Strict")
        assert isinstance(led, Response)
        return led


def _same(given: str, wanted: str) -> bool:
    return compare_digest(given.encode(), wanted.encode())


def _head(response: Response) -> Response:
    response.headers.update(HEADERS)
    # what is shown belongs to one start; a file without an answer in it says itself that it may be held
    response.headers.setdefault("Cache-Control", "no-store")
    return response
