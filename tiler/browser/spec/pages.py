"""The pages of a spec to go on with: it is chosen or dropped, shown as fields, and drawn in all its sizes."""

from __future__ import annotations

from urllib.parse import urlencode

from flask import Blueprint, Response, make_response, redirect, render_template, request

from tiler.browser.answers.wishes import known_printers
from tiler.browser.form import Given, one_of
from tiler.browser.kept import Kept
from tiler.browser.making import Made, make
from tiler.browser.progress.pages import long_work
from tiler.browser.said import said
from tiler.browser.spec.address import packed
from tiler.browser.spec.beside import BesideSpec, beside_spec, refused_spec
from tiler.browser.spec.drawings import CURVE, curves_in
from tiler.browser.spec.taken_up import answers_of, is_ours
from tiler.browser.spec.whole import SPEC, Text, kept_fields, text_of, whole_spec
from tiler.browser.uploads import own_name, uploaded_together
from tiler.draft.spec.toml import LARGEST_SPEC, read_toml
from tiler.errors import SpecError, TilerError
from tiler.files import read_file
from tiler.paper import PAPER_NAMES
from tiler.sentence import Place

MOST_OPEN = 3
"""So many pieces are unfolded from the start."""


def spec_pages(kept: Kept[Made]) -> Blueprint:
    """Return the pages; what is made of a spec is kept with what is made of a form."""
    pages = Blueprint("spec", __name__)

    @pages.get("/spec")
    def form() -> Response:
        """Show the spec that the address holds, or ask for one."""
        if not one_of(request.args, SPEC):
            return make_response(render_template("spec_asked.html", here="/strip"))
        try:
            text = text_of(request.args)
        except TilerError as fault:
            return _asked(fault)
        return make_response(_page(request.args, text, beside_spec(request.args, text)))

    @pages.get("/spec/figures")
    def figures() -> str:
        """Show what stands beside the spec alone, for values that were changed."""
        try:
            text = text_of(request.args)
        except TilerError as fault:
            return f'<p class="fault" data-field="">{said(str(fault))}</p>'
        return render_template("spec_beside.html", beside=beside_spec(request.args, text))

    @pages.post("/spec/open")
    def opened() -> Response:
        """Take up the spec that was sent: as answers of the form where that loses nothing, else as it is."""
        try:
            with uploaded_together(SPEC) as files:
                path = next((file for file in files.values() if file.suffix == ".toml"), next(iter(files.values())))
                with own_name(path):
                    tables = read_toml(path, LARGEST_SPEC, "spec")
                    text = read_file(path, "spec", LARGEST_SPEC, SpecError).decode("utf-8-sig")
                curves = curves_in(tables, files)
            answers = answers_of(tables)
            if answers and is_ours(text, tables, answers):
                return make_response(redirect(f"/strip?{urlencode(answers)}", 303))
            led = [(SPEC, packed(text)), *((CURVE, word) for word in curves)]
            return make_response(redirect(f"/spec?{urlencode(led)}", 303))
        except TilerError as fault:
            return _asked(fault)

    @pages.post("/spec/files")
    def files() -> Response:
        """Make the files of the spec, and lead to the page that shows them."""
        try:
            text = text_of(request.form)
        except TilerError as fault:
            return _asked(fault)
        back = urlencode(kept_fields(request.form, text))
        try:
            spec = whole_spec(request.form, text)
            return long_work(lambda: f"/made/{kept.put(make(spec))}?{back}", f"/spec?{back}")
        except TilerError as fault:
            return make_response(_page(request.form, text, refused_spec(request.form, text, fault)), 400)

    return pages


def _asked(fault: TilerError) -> Response:
    told = said(str(fault if fault.place else fault.at(Place(f"--{SPEC}"))))
    return make_response(render_template("spec_asked.html", here="/strip", fault=told), 400)


def _page(form: Given, text: Text, beside: BesideSpec) -> str:
    answers = answers_of(text.tables)
    return render_template(
        "spec.html",
        here="/strip",
        form=form,
        text=text,
        beside=beside,
        papers=PAPER_NAMES,
        printers=known_printers(),
        pieces_open=sum(sheet.is_piece for sheet in text.sheets) <= MOST_OPEN,
        as_answers=urlencode(answers) if answers else "",
    )
