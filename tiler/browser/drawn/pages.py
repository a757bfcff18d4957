"""The pages on which a curve of a drawing is picked; the answers so far come along in their address."""

from __future__ import annotations

from base64 import b64encode
from pathlib import Path
from urllib.parse import urlencode

from flask import Blueprint, Response, make_response, redirect, render_template, request

from tiler.browser.drawn.answer import PARTS, word_of
from tiler.browser.drawn.choosing import Choices, choices_of
from tiler.browser.form import Given, filled
from tiler.browser.kept import Kept
from tiler.browser.progress.pages import long_work_on
from tiler.browser.progress.work import current
from tiler.browser.said import field_of, said
from tiler.errors import SpecError, TilerError
from tiler.sentence import Place

FIELDS = ("drawing", "page-of-drawing", "scale-from-square", "pick", "drawn-part")
MOST_PAGE = 9999


def drawing_pages() -> Blueprint:
    """Return the pages, with a memory of their own for the drawings that were read."""
    pages, kept = Blueprint("drawn", __name__), Kept[Choices]()

    @pages.get("/strip/drawing")
    def ask() -> str:
        """Ask for a drawing."""
        return _asked()

    @pages.post("/strip/drawing")
    def read() -> Response:
        """Read the drawing that was sent, and show its curves."""
        try:
            page, corrected = _page(), bool(request.form.get("scale-from-square"))
            back = answers_of(request.args)

            def found(path: Path) -> str:
                key = kept.put(choices_of(path, page, corrected, current("Reading")))
                return f"/strip/drawing/{key}{'?' * bool(back)}{back}"

            return long_work_on("drawing", "drawing.svg", found, f"/strip{'?' * bool(back)}{back}")
        except TilerError as fault:
            return make_response(_asked(fault), 400)

    @pages.get("/strip/drawing/<key>")
    def pick(key: str) -> Response:
        """Show the curves; put the picked one among the answers, in the place of what was measured there."""
        choices = kept.get(key)
        if "drawn-part" not in request.args and "pick" not in request.args:
            return make_response(_chosen(choices, key))
        number, part = request.args.get("pick", ""), request.args.get("drawn-part", "")
        try:
            if not (number.isdecimal() and len(number) < 5 and int(number) < len(choices.curves)):
                raise SpecError("is missing; choose one of the curves", Place("--pick"))
            if part not in PARTS:
                raise SpecError("is missing; say which part of the edge the curve is", Place("--drawn-part"))
            word = word_of(choices.curves[int(number)].drawn())
        except TilerError as fault:
            return make_response(_chosen(choices, key, fault), 400)
        others = [(name, value) for name, value in filled(request.args) if name not in (part, f"drawn-{part}")]
        return make_response(redirect(f"/strip?{urlencode([*others, (f'drawn-{part}', word)])}", 303))

    return pages


def answers_of(form: Given) -> str:
    """Return the answers as they stand in an address."""
    return urlencode(filled(form))


def _page() -> int | None:
    text = request.form.get("page-of-drawing", "").strip()
    if text and not (text.isdecimal() and 1 <= int(text[:9]) <= MOST_PAGE):
        raise SpecError(f"{text[:20]!r} is no number of a page; write for instance 2", Place("--page-of-drawing"))
    return int(text) if text else None


def _asked(fault: TilerError | None = None) -> str:
    told, field = (said(str(fault)), field_of(fault, FIELDS) or "drawing") if fault else ("", "")
    return render_template(
        "drawing.html", here="/strip", choices=None, back=answers_of(request.args), fault=told, field=field
    )


def _chosen(choices: Choices, key: str, fault: TilerError | None = None) -> str:
    field = field_of(fault, FIELDS) if fault else ""
    return render_template(
        "drawing.html",
        here="/strip",
        choices=choices,
        key=key,
        parts=PARTS,
        picture=b64encode(choices.picture).decode("ascii"),
        answers=filled(request.args),
        back=answers_of(request.args),
        fault=said(str(fault)) if fault else "",
        field=field or "pick",
        picked=request.args.get("pick", str(choices.likely)),
        part=request.args.get("drawn-part", PARTS[0]),
    )
