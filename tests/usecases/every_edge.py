"""One small strip of every kind of edge, as a spec, as options and as answers; in cm, of arithmetic that is easy to do.

Sewn lengths follow from ratios that are stated, so that each number that a surface shows can be reckoned by hand.
"""

from __future__ import annotations

import tomllib
from dataclasses import dataclass
from functools import cache
from typing import Any

from tests.specs import Table, armhole, neckline, piece, shaped, spec, straight, table
from tiler.draft.compute import figure_job
from tiler.draft.figures import Figures
from tiler.draft.spec.read import Job, read_tables

FABRICS = {
    "rib": table(stretch="60 %"),
    "narrow": table(stretch="60 %", width="26 cm"),
    "lawn": table(stretch="12 %"),
}


@dataclass(frozen=True)
class Kind:
    """A kind: its piece as a spec states it, and the same as options of ``band`` or ``binding``, by their names."""

    piece: Table
    options: dict[str, Any]
    fabric: str = "rib"
    finish: str = "folded-band"
    example: str = ""
    """The example that has one."""

    @property
    def words(self) -> list[str]:
        """The options as they are typed."""
        band = self.finish == "folded-band"
        typed = ["band"] if band else ["binding", "--finish", self.finish.removesuffix("-binding")]
        for name, value in self.options.items():
            if isinstance(value, list):
                for at in range(0, len(value), 2):
                    typed += [f"--{name}", *value[at : at + 2]]
            else:
                typed += [f"--{name}"] if value == "yes" else [f"--{name}", value]
        return typed

    @property
    def form(self) -> dict[str, Any]:
        """The fields of the page as they are filled in."""
        return {"finish": self.finish, **self.options}


def _kind(edge: Table, options: dict[str, Any], example: str, fabric: str = "rib", **keys: Any) -> Kind:
    own = {"seam_allowance": "0.6 cm", "width": "2 cm", "finish": "folded-band", "fabric": fabric} | keys
    of_fabric = {"cloth-width" if key == "width" else key: value for key, value in FABRICS[fabric].items()}
    band = own["finish"] == "folded-band"
    stated = {key: value for key, value in own.items() if band or key != "seam_allowance"}
    width = {} if own["width"] is None else {"width": own["width"]}
    more = ({"seam-allowance": "0.6 cm"} if band else {}) | width | {"fabric": fabric} | of_fabric
    name = {"name": "Strip"}
    return Kind(piece("Strip", edge=edge, **stated), {**name, **options, **more}, fabric, own["finish"], example)


PARTS = [("half back", "6 cm"), ("sleeve", "5 cm"), ("front", "20 cm, 140 deg, 90 %"), ("sleeve", "5 cm"), ("half back", "6 cm")]  # fmt: skip
STRAIGHT = {"kind": "straight", "edge": "20 cm"}
BUTTONS = {"buttons": "3", "first-button": "2 cm", "last-button": "2 cm", "button-width": "12 mm"}
ELASTIC = table(width="1 cm", ratio="80 %")

KINDS = {
    "parts": _kind(
        table(kind="neckline", parts=[
            table(name=name, length=length) if name != "front" else
            table(name="front", length="20 cm", turning="140 deg", ratio="90 %") for name, length in PARTS
        ]),
        {"kind": "neckline", "part": [word for one in PARTS for word in one], "ratio": "80 %"},
        "raglan",
        ratio="80 %",
    ),
    "stand-up": _kind(
        neckline("12 cm", "8 cm"),
        {"front-half": "12 cm", "back-half": "8 cm", "stands": "yes", "ratio": "90 %"},
        "collar",
        width="5 cm",
        stands=True,
        ratio="90 %",
    ),
    "turned-over": _kind(
        neckline("12 cm", "8 cm"),
        {"front-half": "12 cm", "back-half": "8 cm", "stands": "yes", "turned-over": "yes", "ratio": "90 %"},
        "collar",
        width="5 cm",
        stands=True,
        turned_over=True,
        ratio="90 %",
    ),
    "open": _kind(
        straight("20 cm"),
        {**STRAIGHT, "ends": "caught", "ends-allowance": "1 cm"},
        "cardigan",
        closed=False,
        ends="caught",
        end_allowance="1 cm",
    ),
    "buttons": _kind(
        straight("20 cm"),
        {**STRAIGHT, "ends": "turned", **BUTTONS},
        "cardigan",
        closed=False,
        ends="turned",
        buttons=table(count=3, first="2 cm", last="2 cm", diameter="12 mm"),
    ),
    "running on": _kind(
        straight("15 cm", before="3 cm", after="4 cm"),
        {"kind": "straight", "edge": "15 cm", "free-before": "3 cm", "free-after": "4 cm", "ends": "turned"},
        "halter",
        width="1 cm",
        finish="double-fold-binding",
        closed=False,
        ends="turned",
    ),
    "contour": _kind(
        shaped("scoop", "22 cm", "16 cm", "10 cm"),
        {"shape": "scoop", "neck-width": "22 cm", "front-depth": "16 cm", "back-depth": "10 cm", "form": "contour"},
        "skirt",
        form="contour",
    ),
    "sections": _kind(
        neckline("15 cm", "9 cm"),
        {"front-half": "15 cm", "back-half": "9 cm", "section": "shoulders", "ratio": "80 %"},
        "remnant",
        "narrow",
        section="shoulders",
        ratio="80 %",
    ),
    "leg": _kind(
        table(kind="leg", front="10 cm", back="12 cm", turning="60 deg", front_ratio="95 %", back_ratio="85 %"),
        {"kind": "leg", "front": "10 cm", "back": "12 cm", "turning": "60 deg", "front-ratio": "95 %",
         "back-ratio": "85 %"},
        "swim",
        width="1 cm",
        finish="raw-edge-binding",
    ),
    "casing": _kind(
        straight("20 cm"),
        {**STRAIGHT, "elastic": "1 cm", "elastic-ratio": "80 %", "elastic-overlap": "2 cm"},
        "swim",
        width=None,
        elastic=ELASTIC | {"overlap": "2 cm"},
    ),
    "fold-over elastic": _kind(
        armhole("11 cm", "12 cm"),
        {"front": "11 cm", "back": "12 cm", "ratio": "90 %"},
        "swim",
        width="1 cm",
        finish="fold-over-elastic",
        ratio="90 %",
    ),
    "bias": _kind(
        straight("14 cm"),
        {"kind": "straight", "edge": "14 cm", "cut-on": "bias", "ratio": "100 %"},
        "shell",
        "lawn",
        width="1 cm",
        finish="double-fold-binding",
        cut_on="bias",
        ratio="100 %",
    ),
}  # fmt: skip


def text_of(kind: str) -> str:
    """Return the spec of one kind."""
    one = KINDS[kind]
    return spec(one.piece, units="cm", fabrics={one.fabric: FABRICS[one.fabric]})


@cache
def job_of(kind: str) -> Job:
    return read_tables(tomllib.loads(text_of(kind)), "spec:")


@cache
def figures_of(kind: str) -> Figures:
    (one,) = figure_job(job_of(kind))
    return one
