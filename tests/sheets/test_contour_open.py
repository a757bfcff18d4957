"""The pages of contour bands that are no rings: words clear of lines, ends that are told, steps, chart and cloth."""

from __future__ import annotations

import tomllib
from io import BytesIO

import pytest
from pypdf import PdfReader

from tests.chosen import long
from tests.look.test_pages import faults
from tests.sheets.jobs import drawn_once
from tests.specs import curved, piece, shaped, spec, table
from tiler.draft.compute import figure_job
from tiler.draft.outline import draw_pieces
from tiler.draft.spec.read import Job, read_tables
from tiler.languages.words import speaking
from tiler.proof import prove
from tiler.proof.svg.proving import prove_svg
from tiler.sheets.pieces.lettering import letter
from tiler.sheets.reports.chart import chart_pdf
from tiler.sheets.sewing.finishes import FinishSteps, finishes_of
from tiler.sheets.sewing.folds import sections
from tiler.sheets.sewing.pages import instruction_pdf
from tiler.sheets.sewing.words import steps
from tiler.usecases.draft import Wishes, draw_plane

SIDES = [table(name=name, length="19 cm", turning="16") for name in ("back", "front", "front", "back")]
WAIST = piece(
    "Waistband", "5 cm", table(kind="curved", parts=SIDES, after="3 cm"), form="contour", closed=False, fabric="rib"
) | table(end_allowance="15 mm")
HEM = piece("Hem", "3 cm", curved("52 cm", "-70"), form="contour", closed=False, ends="raw", fabric="rib")
NECK = piece("Neck", "3 cm", shaped("scoop", "21 cm", "12 cm", "5 cm"), form="contour", closed=False, ends="caught")
RIB = {"rib": table(stretch="60 %", width="80 cm")}
OPEN = spec(WAIST, HEM, NECK, title="Open bands", units="cm", fabrics=RIB)
WIDE = spec(WAIST, HEM, title="Open bands", units="cm", fabrics=RIB)
"""Those with room for all words."""


def job_of(text: str) -> Job:
    return read_tables(tomllib.loads(text), "spec.toml:")


def text_of(data: bytes) -> str:
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(BytesIO(data)).pages)


@long
@pytest.mark.parametrize(
    "wishes",
    [Wishes(), Wishes(paper="a4", arrange="grid"), Wishes(margin=45.0, arrange="grid")],
    ids=["letter", "a4", "small"],
)
def test_open_bands_are_true_and_no_word_is_cut_or_crossed(wishes: Wishes) -> None:
    document = drawn_once(WIDE, wishes)
    report = prove(document.data)
    assert report.verdict == "true-to-scale", report.first_failure()
    assert faults(document) == []


@long
def test_page_1_tells_the_pieces_and_their_cloth() -> None:
    said = text_of(drawn_once(OPEN, Wishes()).data)
    for words in (
        "Waistband, back, 3.0 cm (",
        "Cloth: rib 80.0 cm (31½ in) wide, at most",
        "in two layers: sew them together along the finished edge",
        "leaves the edge",
        "runs on by 3.0 cm",
        "turned end",
        "raw end",
        "end caught in a seam",
    ):
        assert words in said, words


def test_a_drawing_of_open_bands_is_proved() -> None:
    job = job_of(OPEN)
    drawn = draw_plane(job, figure_job(job), Wishes())
    report = prove_svg(drawn.data, drawn.declaration)
    assert report.verdict == "true-to-scale", report.first_failure()


def pages() -> tuple[FinishSteps, ...]:
    job = job_of(OPEN)
    return finishes_of(figure_job(job), job.edition)


def test_steps_tell_what_becomes_of_the_ends() -> None:
    told = {page.ends_are: [step.text for step in steps(page)] for page in pages()}
    assert [len(told[ends]) for ends in ("turned", "raw", "caught")] == [7, 6, 7]
    for page in pages():
        drawn = sections(page.finish, False, ends=page.ends_are, shaped=True, joined=page.joined)
        assert len(drawn) == len(told[page.ends_are])
    assert "Sew across both ends too, 1.5 cm (9/16 in) from the ends." in told["turned"][1]
    assert "up to the notch where it leaves the edge" in told["turned"][1]
    # its pieces are joined with the seam allowance
    assert "sew 0.6 cm (¼ in) from the ends" in told["turned"][0]
    assert "Leave both ends open." in told["raw"][0]
    assert "Pin both ends to those of the edge." in told["caught"][3]


@long
@pytest.mark.parametrize("languages", [("en",), ("de",), ("fr", "nl")])
def test_chart_and_instructions_are_made_in_every_language(languages: tuple[str, ...]) -> None:
    job = job_of(OPEN)
    with speaking(*languages):
        chart = text_of(chart_pdf(figure_job(job), job.edition, "letter"))
        told = text_of(instruction_pdf(pages(), "letter").data)
    if languages == ("en",):
        for words in ("Each end 1.5 cm", "turned in", "left raw", "caught in a seam", "Cloth: rib 80.0 cm"):
            assert words in chart
        assert "open, ends turned in, with free lengths" in told
    else:
        assert "finished edge" not in chart
        assert "free length" not in told


def test_a_word_far_from_its_end_says_which_one_it_means() -> None:
    # its long ends are narrow, and the label takes what room there is
    edge = shaped("scoop", "16 cm", "6 cm", "5 cm", before="20 cm", after="20 cm")
    tie = piece("Tie", "2 cm", edge, form="contour", closed=False, ends="caught", fabric="rib")
    job = job_of(spec(tie, units="cm", fabrics=RIB))
    for one in map(letter, draw_pieces(figure_job(job), job.edition)):
        shape = one.piece.figures.shape
        assert shape
        ends = {
            word.text: end
            for word, end in zip(one.piece.end_words, shape.ends[-len(one.piece.end_words) :], strict=True)
        }
        told = [text for text in one.texts if any(name in text.printed for name in ends)]
        assert len(told) == len(ends)
        for text in told:
            name = next(name for name in ends if name in text.printed)
            near = min(text.box.away(point) for point in ends[name])
            assert near < 60 or text.printed in (f"left end: {name}", f"right end: {name}")
