"""The page that shows how far a work is; a quick one is never seen there."""

from __future__ import annotations

from collections.abc import Callable
from contextlib import ExitStack
from pathlib import Path

from flask import Blueprint, Response, current_app, jsonify, make_response, redirect, render_template

from tiler.browser.progress.work import StoppedError, Works
from tiler.browser.said import said
from tiler.browser.uploads import own_name, uploaded
from tiler.errors import TilerError

WORKS, PATIENCE = "WORKS", "PATIENCE"
"""Keys of the app's settings: its works, and how long a request waits for one before it shows how far it is, s."""

USUAL_PATIENCE = 1.5


def long_work(do: Callable[[], str], back: str, kept: ExitStack | None = None) -> Response:
    """Do a work that returns where its result is shown, and lead there, or to the page that shows how far it is.

    ``kept`` holds what the work needs and ends with it; raises what a quick work raises.
    """
    app = current_app._get_current_object()  # type: ignore[attr-defined]  # of the proxy

    def within() -> str:
        with app.app_context():
            return do()

    key, work = _works().begin(within, back, kept.close if kept else lambda: None)
    if not work.done.wait(app.config[PATIENCE]):
        return make_response(redirect(f"/work/{key}", 303))
    if work.fault:
        raise work.fault
    return make_response(redirect(work.leads_to or back, 303))


def long_work_on(
    field: str,
    usual: str,
    do: Callable[[Path], str],
    back: str,
    refuse: Callable[[Path], None] = lambda _path: None,
) -> Response:
    """Do a :func:`long_work` on the file that was sent in a field, called ``usual`` where its own name is none.

    The file stays until the work ends; ``refuse`` raises before the work begins.
    """
    with ExitStack() as stack:
        path = stack.enter_context(uploaded(field, usual))
        refuse(path)
        later = stack.pop_all()

    def named() -> str:
        with own_name(path):
            return do(path)

    return long_work(named, back, later)


def work_pages() -> Blueprint:
    """Return the pages about works."""
    pages = Blueprint("work", __name__)

    @pages.get("/work/<key>")
    def far(key: str) -> Response:
        """Show how far a work is; lead to its result when it is done, and say what was in its way."""
        work = _works().get(key)
        if not work.done.is_set():
            return make_response(render_template("work.html", key=key, work=work))
        if isinstance(work.fault, StoppedError):
            return make_response(redirect(work.back, 303))
        if isinstance(work.fault, TilerError):
            return make_response(render_template("fault.html", sentence=said(str(work.fault)), back=work.back), 400)
        if work.fault:
            raise work.fault
        return make_response(redirect(work.leads_to or work.back, 303))

    @pages.get("/work/<key>/far")
    def told(key: str) -> Response:
        """Say how far a work is."""
        work = _works().get(key)
        return jsonify(told=work.told, step=work.step, steps=work.steps, done=work.done.is_set())

    @pages.post("/work/<key>/stop")
    def stop(key: str) -> Response:
        """Stop a work, and lead back."""
        work = _works().get(key)
        work.stop()
        # what draws in this process ends with its page
        work.done.wait(current_app.config[PATIENCE])
        return make_response(redirect(work.back, 303))

    return pages


def _works() -> Works:
    works = current_app.config[WORKS]
    assert isinstance(works, Works)
    return works
