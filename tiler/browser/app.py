"""The app: its pages, its gate, and one boundary for whatever goes wrong."""

from __future__ import annotations

import secrets
from pathlib import Path

from flask import Flask, Response, make_response, redirect, render_template, request, send_file

from tiler.browser.answers.wishes import KEPT
from tiler.browser.check_pages import check_pages
from tiler.browser.drawn.choosing import polyline
from tiler.browser.drawn.pages import drawing_pages
from tiler.browser.gate import FIRST, Gate
from tiler.browser.kept import Kept
from tiler.browser.making import Made
from tiler.browser.pictures.measuring import drawing
from tiler.browser.presence import Presence
from tiler.browser.printer_pages import printer_pages
from tiler.browser.progress.pages import PATIENCE, USUAL_PATIENCE, WORKS, work_pages
from tiler.browser.progress.work import Works
from tiler.browser.refusal import GoneError, RefusedError
from tiler.browser.said import label, said
from tiler.browser.spec.pages import spec_pages
from tiler.browser.strip_pages import strip_pages
from tiler.browser.uploads import LARGEST, WORK
from tiler.commands import explained
from tiler.errors import TilerError
from tiler.fonts import font_file

LONGEST_WINDOW = 40
STATUS = {
    404: "There is no such page; go on with one of those above.",
    405: "There is no such page; go on with one of those above.",
    413: "The file is larger than 64 MB; nothing of it was read.",
}


def make_app(gate: Gate, presence: Presence, printers: Path, work: Path, patience: float = USUAL_PATIENCE) -> Flask:
    """Return the app behind its gate; ``work`` is the folder for what lasts no longer than its work.

    A request waits for a work as long as ``patience``, s, before it shows how far it is.
    """
    app = Flask("tiler.browser")
    app.config["MAX_CONTENT_LENGTH"] = LARGEST
    app.config[WORK], app.config[KEPT] = work, printers
    app.config[WORKS], app.config[PATIENCE] = Works(), patience
    app.jinja_env.trim_blocks = app.jinja_env.lstrip_blocks = True
    app.jinja_env.filters.update(said=said, label=label, drawing=drawing, polyline=polyline)
    gate.guard(app)
    made = Kept[Made]()
    for pages in (strip_pages(made), spec_pages(made), drawing_pages(), check_pages(), printer_pages(printers)):
        app.register_blueprint(pages)
    app.register_blueprint(work_pages())
    app.register_error_handler(Exception, _fault)
    app.add_url_rule("/", "first", lambda: redirect(FIRST, 303))
    app.add_url_rule("/font/<weight>.ttf", "font", _font)

    def window() -> str:
        name = secrets.token_urlsafe(12)
        presence.shown(name)
        return name

    app.jinja_env.globals["window"] = window

    @app.post("/here")
    def here() -> Response:
        presence.beats(request.get_data(as_text=True)[:LONGEST_WINDOW])
        return Response(status=204)

    @app.post("/closed")
    def closed() -> Response:
        presence.closed(request.get_data(as_text=True)[:LONGEST_WINDOW])
        return Response(status=204)

    return app


def _font(weight: str) -> Response:
    if weight not in ("regular", "bold"):
        raise GoneError(STATUS[404])
    return send_file(font_file(weight == "bold"), mimetype="font/ttf", max_age=3600)


def _fault(fault: Exception) -> Response:
    """Answer what went wrong with its sentence; never with where in the program."""
    if isinstance(fault, RefusedError):
        return _told(str(fault), fault.status)
    status = getattr(fault, "code", None)
    if hasattr(fault, "get_response") and isinstance(status, int):
        return _told(STATUS.get(status, "This request is not understood."), status)
    return _told(said(explained(fault)[1]), 400 if isinstance(fault, TilerError) else 500)


def _told(sentence: str, status: int) -> Response:
    # who is not let in gets no page that would count as a window
    page = "refused.html" if status == 403 else "fault.html"
    return make_response(render_template(page, sentence=sentence), status)
