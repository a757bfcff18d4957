"""From a strip to its files: PDF, drawing, spec and instructions, proved, with pictures of the pages.

Nothing is written where it would stay: the files grow in a folder that ends with the work,
and are then held in memory.
"""

from __future__ import annotations

from contextlib import AbstractContextManager
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Protocol

from tiler.browser.pictures.strip import DRAWING
from tiler.browser.progress.work import current
from tiler.browser.uploads import folder, safe_name
from tiler.commands.draft import CHECK_SQUARES, PRINT_PAGE_1
from tiler.draft.figures import Figures
from tiler.draft.judged import not_passed
from tiler.draft.spec.read import Job
from tiler.paper import ONE_SHEET
from tiler.proof.report.wording import sentence
from tiler.reading.limits import MOST_MEMORY, MOST_SECONDS
from tiler.usecases.draft import Watch, Wishes, draft_job
from tiler.usecases.files.replace import admitted
from tiler.usecases.instructions import instructions_of
from tiler.usecases.preview.apart import pictures_apart

MOST_PICTURES = 30
"""Pages that are shown as pictures."""

PDF, SVG, SPEC, STEPS = "PDF", "drawing (SVG)", "spec", "instructions"


@dataclass(frozen=True)
class File:
    """A file to download: its name, what it is, and what it holds."""

    name: str
    kind: str
    type: str
    data: bytes


@dataclass(frozen=True)
class Made:
    """What was made of a strip: what is said of it, its files, and the pictures of its pages (PNG)."""

    title: str
    proof: str
    advice: str
    although: tuple[str, ...]
    files: tuple[File, ...]
    pages: int
    pictures: tuple[bytes, ...]
    assembled: bytes | None


class Drawable(Protocol):
    """What can be drawn: pieces of a job, how they are wished for, and the spec that says the same."""

    @property
    def job(self) -> Job:
        """The job that they are of."""

    @property
    def pieces(self) -> tuple[Figures, ...]:
        """What is drawn."""

    @property
    def wishes(self) -> Wishes:
        """How it is drawn."""

    def in_own_words(self) -> AbstractContextManager[None]:
        """Put what drafting raises into the words of whoever stated the pieces."""

    def spec_text(self, spec: Path, pdf: Path) -> str:
        """Return the spec that is saved as ``spec`` beside ``pdf``."""


def make(strip: Drawable) -> Made:
    """Draw, prove and picture what is stated.

    Raises what drafting raises, in the words of the options.
    """
    paper, on_a_plane = strip.wishes.paper or strip.job.paper.name, replace(strip.wishes, paper=None, printer=None)
    stem = safe_name(f"{strip.job.edition.title}.pdf", "strip.pdf").removesuffix(".pdf").replace(" ", "-").lower()
    with folder() as here:
        pdf, svg, spec, steps = (here / f"{stem}{end}" for end in (".pdf", ".svg", ".toml", "-instructions.pdf"))
        with DRAWING, strip.in_own_words():
            watch = Watch(current("Drawing"), current("Measuring"))
            proved = draft_job(strip.job, strip.pieces, admitted(pdf, False, (), ".pdf"), strip.wishes, watch)
            draft_job(strip.job, strip.pieces, admitted(svg, False, (), ".svg"), on_a_plane)
            spec.write_text(strip.spec_text(spec, pdf), encoding="utf-8", newline="")
            steps.write_bytes(instructions_of(strip.job, strip.pieces, paper)[0])
        with pictures_apart(pdf, MOST_SECONDS, MOST_MEMORY) as pictures:
            pages, told = [], current("Making pictures")
            for number, picture in zip(range(1, MOST_PICTURES + 1), pictures.pages(), strict=False):
                pages.append(picture)
                told(number, min(pictures.page_count, MOST_PICTURES))
            assembled = pictures.assembled() if pictures.tile_count else None
        files = tuple(
            File(path.name, kind, mime, path.read_bytes())
            for path, kind, mime in (
                (pdf, PDF, "application/pdf"),
                (svg, SVG, "image/svg+xml"),
                (spec, SPEC, "application/toml"),
                (steps, STEPS, "application/pdf"),
            )
        )
    return Made(
        strip.job.edition.title,
        str(sentence(proved.report)),
        CHECK_SQUARES if paper == ONE_SHEET else PRINT_PAGE_1,
        (
            *(failed.text for failed in not_passed(proved.figures)),
            *dict.fromkeys(one.free_ends for one in proved.figures if one.free_ends),
        ),
        files,
        proved.report.pages,
        tuple(pages),
        assembled,
    )
