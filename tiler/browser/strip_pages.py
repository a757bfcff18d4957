"""The pages of Make a strip: the form and what stands beside it, and what was made of it."""

from __future__ import annotations

from urllib.parse import urlencode

from flask import Blueprint, Response, make_response, render_template, request

from tiler.browser.answers.fields import groups, left_out
from tiler.browser.drawn.answer import shown_in
from tiler.browser.form import Given, filled, one_of, sent
from tiler.browser.kept import Kept
from tiler.browser.making import Made, make
from tiler.browser.progress.pages import long_work
from tiler.browser.refusal import GoneError
from tiler.browser.spec.whole import SPEC
from tiler.browser.strip import Shown, in_pairs, refused, shown, strip_of
from tiler.browser.uploads import sent as sent_file
from tiler.errors import TilerError

NO_PICTURE = "There is no such picture or file."


def strip_pages(kept: Kept[Made]) -> Blueprint:
    """Return the pages; what was made is kept for a while."""
    pages = Blueprint("strip", __name__)

    @pages.get("/strip")
    def form() -> str:
        """Show the form; the answers stand in the address, so that a reload and a bookmark keep them."""
        answers = sent(request.args)
        return _page(answers, shown(answers) if filled(answers) else Shown())

    @pages.get("/strip/figures")
    def figures() -> str:
        """Show what stands beside the form alone, for a form that was changed."""
        answers = sent(request.args)
        beside = shown(answers) if filled(answers) else Shown()
        hidden = left_out(groups(answers, _ties(beside)))
        return render_template("beside.html", beside=beside, rows=_rows(beside), hidden=hidden)

    @pages.post("/strip/files")
    def files() -> Response:
        """Make the files, and lead to the page that shows them; what is in the way is told at the form."""
        answers = sent(request.form)
        back = urlencode(filled(answers))
        try:
            strip = strip_of(answers)
            return long_work(lambda: f"/made/{kept.put(make(strip))}?{back}", f"/strip?{back}")
        except TilerError as fault:
            return make_response(_page(answers, refused(answers, fault)), 400)

    @pages.get("/made/<key>")
    def made(key: str) -> str:
        """Show what was made."""
        back = urlencode(filled(request.args))
        to = f"/strip?{back}" if back else "/strip"
        if one_of(request.args, SPEC):
            to = f"/spec?{urlencode(list(request.args.items(multi=True)))}"
        return render_template("made.html", made=kept.get(key), key=key, back=to)

    @pages.get("/made/<key>/page-<int:number>.png")
    def picture(key: str, number: int) -> Response:
        """Send the picture of a page, or of all pages put together, which is number 0."""
        one = kept.get(key)
        if not 0 <= number <= len(one.pictures) or (number == 0 and one.assembled is None):
            raise GoneError(NO_PICTURE)
        return Response(one.pictures[number - 1] if number else one.assembled, mimetype="image/png")

    @pages.get("/made/<key>/file-<int:number>/<name>")
    def download(key: str, number: int, name: str) -> Response:
        """Send a file to be saved under its name."""
        one = kept.get(key)
        if not 0 <= number < len(one.files) or one.files[number].name != name:
            raise GoneError(NO_PICTURE)
        file = one.files[number]
        return sent_file(file.data, file.name, file.type)

    return pages


def _page(form: Given, beside: Shown) -> str:
    own = groups(form, _ties(beside))
    return render_template(
        "strip.html",
        here="/strip",
        groups=own,
        beside=beside,
        rows=_rows(beside),
        hidden=left_out(own),
        drawn=shown_in(form),
        back=urlencode(filled(form)),
    )


def _ties(beside: Shown) -> bool:
    return beside.strip is not None and beside.strip.ties


def _rows(beside: Shown) -> list[tuple[str, list[object]]]:
    return [(kind, list(rows)) for kind, rows in in_pairs(beside.strip.rows)] if beside.strip else []
