"""This checks which warnings an ordinary strip gets, against what the trade would say of it (common practice).

Each scenario states the checks that are not passed, in the order in which they are mended, and
how every other warning begins; nothing more may be said.  Where the judgement is ours, it says so.
"""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, NamedTuple

import pytest

from tests.specs import armhole, curved, neckline, piece, shaped, straight, table
from tiler.draft.compute import figure_job
from tiler.draft.spec.read import read_tables

BAND, FOLDED, DOUBLED, RAW = "folded-band", "double-fold-binding", "french-binding", "raw-edge-binding"
FABRICS = {
    "rib": {"stretch": "100 %"},
    "firm rib": {"stretch": "80 %"},
    "interlock": {"stretch": "60 %"},
    "spandex jersey": {"stretch": "50 %"},
    "single knit": {"stretch": "35 %"},
    "jersey": {"stretch": "30 %"},
    "ponte": {"stretch": "18 %"},
    "power knit": {"stretch": "120 %"},
    "swim knit": {"stretch": "70 %"},
    "broadcloth": {"stretch": "2 %"},
    "tired rib": {"stretch": "80 %", "recovery": "80 %"},
}
SEAM, TIGHT = "No plain straight stitch", "Tight: going over"


class Scenario(NamedTuple):
    """A strip, and what is said of it; ``finish``, ``width``, ``edge`` and other keys as in a spec, in cm."""

    finish: str
    width: float
    edge: dict[str, Any]
    fabric: str | None
    keys: Mapping[str, Any] = MappingProxyType({})
    failed: tuple[str, ...] = ()
    others: tuple[str, ...] = ()


def over(measure: str, garment: str) -> dict[str, Any]:
    return {"garment_fabric": garment, "opening": table(must_pass=measure)}


CREW, LOW = shaped("scoop", 18, 9, 2), neckline(18, 10)
SCENARIOS = {
    # children: a neck seam of 34 cm opens to 51 cm in a jersey of 50 %, which the head just passes
    "baby's crew": Scenario(BAND, 1, neckline(10, 7), "rib", over("head, 12 months", "spandex jersey"), (), (TIGHT, TIGHT, SEAM)),
    "toddler's crew in jersey": Scenario(BAND, 1, neckline(10.5, 6.5), "rib", over("head, 36 months", "jersey"), ("opening", "opening"), (SEAM,)),
    "child's crew of itself": Scenario(BAND, 1.5, neckline(12, 8), "spandex jersey", over("head, 60 months", "spandex jersey"), ("opening",), (SEAM,)),
    # grown-ups' crews
    "woman's crew, rib": Scenario(BAND, 1.5, shaped("scoop", 17, 8, 2), "rib", over("head, woman", "spandex jersey"), (), (TIGHT, SEAM)),
    "woman's crew of itself": Scenario(BAND, 1.3, CREW, "spandex jersey", over("head, woman", "spandex jersey"), ("opening",), (SEAM,)),
    "man's crew, rib": Scenario(BAND, 2, CREW, "firm rib", over("head, man", "spandex jersey"), (), (TIGHT, SEAM)),
    "man's crew, an inch wide": Scenario(BAND, 2.5, shaped("scoop", 17, 8.5, 1.5), "firm rib", {}, (), ("Bends too much between CF and the shoulder",)),
    "crew in a jersey of 30 %": Scenario(BAND, 1.5, CREW, "jersey", {}, ("no-good-length",)),
    "crew in a jersey of 30 %, narrow": Scenario(BAND, 1, CREW, "jersey"),
    "crew in ponte": Scenario(BAND, 2, CREW, "ponte", {}, ("no-good-length",)),
    "wide band that is not shaped": Scenario(BAND, 4, shaped("scoop", 20, 10, 2), "rib", {}, ("no-good-length",), ("Bends too much",)),
    # scoops and other shapes
    "deep scoop, bound": Scenario(DOUBLED, 0.6, shaped("scoop", 20, 16, 3), "spandex jersey"),
    "deep scoop, band": Scenario(BAND, 1.2, shaped("scoop", 20, 18, 4), "interlock"),
    "boat, band": Scenario(BAND, 1, shaped("scoop", 26, 4, 2.5), "spandex jersey", {}, (), ("Bends too much at the shoulder",)),
    "deep U, band": Scenario(BAND, 1.5, shaped("scoop", 16, 22, 2), "rib", {}, (), ("Bends too much at CF",)),
    "vee, run round": Scenario(BAND, 1.2, shaped("vee", 17, 16, 2), "interlock", {}, ("bend",)),
    "vee, mitred": Scenario(BAND, 1, shaped("vee", 17, 16, 3), "interlock", {"corner": "mitre"}),
    "vee, lapped": Scenario(BAND, 1, shaped("vee", 16, 18, 3), "firm rib", {"corner": "lapped"}),
    "square, wide band run round": Scenario(BAND, 2.5, shaped("square", 18, 12, 2), "rib", {}, ("bend",)),
    "square, narrow binding run round": Scenario(FOLDED, 0.6, shaped("square", 18, 12, 2), "single knit", {}, (), ("Bends too much",)),
    # stated lengths
    "usual ratio, narrow band": Scenario(BAND, 1.3, neckline(17, 9.5), "spandex jersey", {"ratio": "usual"}),
    "usual ratio, wide band": Scenario(BAND, 2.5, LOW, "rib", {"ratio": "usual"}, ("length",)),
    "hardly shorter than the edge": Scenario(BAND, 1.5, LOW, "rib", {"ratio": "95 %"}, ("length",)),
    "70 % in a jersey of 50 %": Scenario(BAND, 1.3, LOW, "spandex jersey", {"ratio": "70 %"}, ("length",), ("May pucker",)),
    "60 % in a jersey of 30 %": Scenario(BAND, 1.3, LOW, "jersey", {"ratio": "60 %"}, ("length",), ("May pucker",)),
    "half the edge": Scenario(BAND, 1.3, LOW, "power knit", {"ratio": "50 %"}, ("length",), ("The strip has 50 % of the edge", "May pucker")),
    "flat in a jersey of 50 %": Scenario(BAND, 1.3, LOW, "spandex jersey", {"ratio": "flat"}),
    "no fabric": Scenario(BAND, 1.3, LOW, None, {}, (), ("No fabric is named",)),
    "woven": Scenario(FOLDED, 1, LOW, "broadcloth", {}, ("no-good-length",), ("broadcloth stretches by 2 %",)),
    # armholes: a binding starts near 0.9, a band is shorter
    "armhole, raw-edge binding": Scenario(RAW, 1, armhole(21, 22.5), "single knit"),
    "armhole, turned under": Scenario(FOLDED, 0.6, armhole(22, 23), "spandex jersey"),
    "armhole, usual ratio": Scenario(FOLDED, 0.6, armhole(22, 23), "spandex jersey", {"ratio": "usual"}),
    "armhole, rib": Scenario(BAND, 1.5, armhole(21, 22), "firm rib"),
    "armhole, wide band of jersey": Scenario(BAND, 3, armhole(21, 22), "jersey", {}, ("no-good-length",)),
    "armhole on fold, halves unlike": Scenario(FOLDED, 0.6, armhole(21, 24), "spandex jersey", {"cut": "on-fold"}, (), ("Cut on fold",)),
    # straight and gently curved edges
    "cuff, rib": Scenario(BAND, 6, straight(24), "rib", {"ratio": "80 %", **over("hand, woman", "spandex jersey")}),
    "cuff, gathered": Scenario(BAND, 6, straight(24), "rib", {"ratio": "70 %"}, (), ("May pucker",)),
    "cuff of ponte, too small": Scenario(BAND, 6, straight(18), "ponte", {"ratio": "85 %", **over("hand, man", "ponte")}, ("opening", "opening", "length"), (SEAM,)),
    "waistband, rib": Scenario(BAND, 5, straight(80), "rib", {"ratio": "85 %"}),
    "hem band, one to one": Scenario(BAND, 5, straight(100), "spandex jersey", {"ratio": "100 %"}),
    "hem band, longer": Scenario(BAND, 5, straight(100), "spandex jersey", {"ratio": "103 %"}, (), ("The strip is longer",)),
    "leg opening": Scenario(RAW, 0.8, curved(58, 60), "swim knit"),
    # slips and small faults
    "wholes given as halves": Scenario(BAND, 1.5, neckline(36, 20), "rib", {}, (), ("The neckline is 112.0 cm",)),
    "front and back exchanged": Scenario(BAND, 1.5, neckline(9, 18), "rib", {}, (), ("The front half of 9.0 cm",)),
    "cut edge taken for the seam line": Scenario(BAND, 1.5, neckline(18, 10, garment_allowance=1), "rib", {"seam_allowance": 1}, (), ("The edge is taken",)),
    "sewn at another allowance": Scenario(BAND, 1.5, neckline(18, 10, garment_allowance=1, measured_on="cut-edge"), "rib", {"seam_allowance": 0.6}, (), ("The strip is sewn at",)),
    "3 mm wide": Scenario(FOLDED, 0.3, LOW, "spandex jersey", {}, (), ("The finished width",)),
    "weak recovery": Scenario(BAND, 1.5, LOW, "tired rib", {}, (), ("tired rib recovers only",)),
}  # fmt: skip


def figured(one: Scenario):
    strip = piece("Strip", one.width, one.edge, one.finish, fabric=one.fabric, **one.keys)
    tables = {"title": "Scenario", "units": "cm", "fabrics": FABRICS, "pieces": [strip]}
    return figure_job(read_tables(tables, "scenario"))[0]


def test_there_are_forty_at_least():
    assert len(SCENARIOS) >= 40


@pytest.mark.parametrize("name", SCENARIOS)
def test_what_is_said_is_what_the_trade_would_say(name):
    one = SCENARIOS[name]
    strip = figured(one)
    assert tuple(failed.check for failed in strip.failed) == one.failed
    told = strip.warnings[len(strip.failed) :]
    assert len(told) == len(one.others), told
    for text, start in zip(told, one.others, strict=True):
        assert text.startswith(start)


@pytest.mark.parametrize("name", [name for name, one in SCENARIOS.items() if "ratio" not in one.keys])
def test_the_advised_length_keeps_its_own_checks(name):
    # what is advised is never too short or too long; where nothing is good, that is said
    assert "length" not in [failed.check for failed in figured(SCENARIOS[name]).failed]
