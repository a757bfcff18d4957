"""Count the pages of 200 random jobs: ``python tests/bench/arrangements.py``.

Each job is figured, drawn and lettered as a spec would be, and laid out in a grid and as
``fewest`` does.  The pages are held against the least that the area of the strips fills;
first pages are not counted.  Planning is what comes after the lettering.
"""

from __future__ import annotations

import random
import tempfile
import time
from collections.abc import Iterator, Sequence
from pathlib import Path
from statistics import mean, quantiles

from tiler.draft.compute import figure_job
from tiler.draft.outline import draw_piece
from tiler.draft.spec.read import read_spec
from tiler.paper import Arrangement, PaperChoice, page_size
from tiler.sheets.layout.choose import Plan, arrange_as
from tiler.sheets.layout.item import Item
from tiler.sheets.layout.items import group_items

JOBS, SEED = 200, 20260
RUNS = 3
"""The quickest of these counts, so that a pause of the machine does not."""

PAPERS = ("letter", "a4")
FINISHES = (
    ("folded-band", 10, 40),
    ("folded-band", 10, 90),
    ("double-fold-binding", 5, 10),
    ("french-binding", 5, 12),
    ("raw-edge-binding", 6, 14),
)


def spec(chance: random.Random) -> str:
    """Give the text of a job of one to twelve strips, from a cuff to a hem, narrow bindings and wide bands."""
    text = 'title = "Random job"\nunits = "cm"\n[fabrics.rib]\nstretch = "60 %"\n'
    for number in range(chance.randint(1, 12)):
        finish, low, high = chance.choice(FINISHES)
        text += f"""
[[pieces]]
name = "Strip {number + 1}"
finish = "{finish}"
finished-width = "{chance.uniform(low, high):.1f} mm"
cut = "{chance.choice(("on-fold", "full-loop"))}"
fabric = "rib"
edge = {{ kind = "straight", whole = "{chance.uniform(200, 1100):.0f} mm" }}
"""
    return text


def jobs(folder: Path) -> Iterator[Sequence[Item]]:
    chance = random.Random(SEED)
    path = folder / "job.toml"
    for _ in range(JOBS):
        path.write_text(spec(chance), encoding="utf-8")
        job = read_spec(path)
        pieces = [draw_piece(one, number, job.edition) for number, one in enumerate(figure_job(job), 1)]
        yield group_items(pieces).items


def main() -> None:
    with tempfile.TemporaryDirectory() as name:
        all_items = list(jobs(Path(name)))
    for paper in PAPERS:
        page = page_size(PaperChoice(paper))
        plans: list[tuple[Plan, int, float]] = []
        for items in all_items:
            grid = arrange_as(items, page, Arrangement.GRID).plan
            runs = []
            for _ in range(RUNS):
                start = time.process_time()
                plan = arrange_as(items, page, Arrangement.FEWEST).plan
                runs.append(time.process_time() - start)
            assert plan is not None
            assert grid is not None
            assert grid.grid is not None
            plans.append((plan, grid.grid, min(runs)))
        report(paper, plans)


def report(paper: str, plans: Sequence[tuple[Plan, int, float]]) -> None:
    taken = [min(pages for pages in (plan.grid, plan.stacked) if pages is not None) for plan, _, _ in plans]
    ratios = [pages / plan.least for pages, (plan, _, _) in zip(taken, plans, strict=True)]
    in_grid = [grid / plan.least for plan, grid, _ in plans]
    more = sum(pages > grid for pages, (_, grid, _) in zip(taken, plans, strict=True))
    times = [1000 * seconds for _, _, seconds in plans]
    print(f"{paper}, {len(plans)} jobs, {sum(taken)} pages")
    print(f"  pages / least by area, fewest   mean {mean(ratios):.3f}   target 1.35, worst {max(ratios):.2f}")
    print(f"  pages / least by area, grid     mean {mean(in_grid):.3f}")
    print(f"  jobs with more pages than grid  {more}   target 0")
    print(
        f"  planning, ms a job              mean {mean(times):.1f}, 95 of 100 below {quantiles(times, n=20)[-1]:.1f}, "
        f"worst {max(times):.1f}   target 50"
    )


if __name__ == "__main__":
    main()
