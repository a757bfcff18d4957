"""Judging the readings of a test round."""

from __future__ import annotations

import random
import statistics
from dataclasses import replace

import pytest

from tests.chosen import over
from tiler.usecases.rounds.judging import Round, State, judge, judge_round, spread
from tiler.usecases.rounds.table import Reading

TRUE = Reading(2, "Ana", "Inkjet", "Reader", "A4", 200.0, 200.0, 200.0)


def reading(across: float, down: float | None = None, **changed: object) -> Reading:
    """Give a reading of a line of 200 mm, shares of nominal given."""
    return replace(TRUE, across=200 * across, down=200 * (across if down is None else down), **changed)  # type: ignore[arg-type]


def named(found: Round) -> list[tuple[str, str, str]]:
    return [(one.kind, one.name, one.axis) for one in found.stands_out]


def test_median_and_deviation_of_a_worked_example() -> None:
    # 1 1 2 2 4 6 9: median 2, distances 1 1 0 0 2 4 7, their median 1; worked by hand
    found = spread([4, 1, 9, 2, 1, 6, 2])
    assert (found.median, found.mad, found.least, found.greatest) == (2, 1, 1, 9)


def test_the_median_is_that_of_the_standard_library_and_one_stray_print_hardly_moves_the_spread() -> None:
    values = [random.Random(seed).gauss(1.0, 0.002) for seed in range(400)]
    assert spread(values).median == statistics.median(values)
    # 1.4826 × MAD estimates the standard deviation of normal values; 400 of them are good to about 7 %
    assert 1.4826 * spread(values).mad == pytest.approx(statistics.stdev(values), rel=0.15)
    assert spread([*values, 0.5]).mad == pytest.approx(spread(values).mad, rel=0.02)


@over(
    ("nominal", "measured", "state"),
    [
        # a ruler read to 0.5 mm: 49.5 on 50 is no fault of the printer, 49.4 is more than the ruler's
        (50.0, 49.9, State.AGREES),
        (50.0, 49.5, State.AGREES),
        (50.0, 50.5, State.AGREES),
        (50.0, 49.4, State.UNDECIDED),
        (50.0, 49.0, State.UNDECIDED),
        (50.0, 48.9, State.OFF),
        (200.0, 199.5, State.AGREES),
        (200.0, 197.5, State.UNDECIDED),
        (200.0, 197.4, State.OFF),
        (200.0, 202.6, State.OFF),
    ],
)
def test_the_reading_error_is_never_called_a_fault(nominal: float, measured: float, state: State) -> None:
    for across, down in ((measured, nominal), (nominal, measured)):
        assert judge(replace(TRUE, nominal=nominal, across=across, down=down)).state is state


def test_lengths_too_short_to_show_a_print_that_is_one_percent_off_are_named() -> None:
    # 99 % of 99 mm is 98.01; read 0.5 mm too long it is 98.51 and agrees. On 100 mm it is 99.5 at most: the edge.
    short, edge = (replace(TRUE, nominal=side, across=side, down=side) for side in (99.0, 100.0))
    assert [one.reading.nominal for one in judge_round([short, edge]).coarse] == [99.0]


@pytest.mark.parametrize(
    ("paper", "factor", "words"),
    [
        # the smaller quotient of sides, page less margins over page: ISO 216 and ANSI/ASME Y14.1 sizes
        ("A4", 2100 / 2159, "refitted from Letter to A4, without margins"),
        ("letter", 127 / 135, "refitted from A4 to Letter, without margins"),
        ("US Letter", 16 / 17, "shrunk on Letter, with 1/4 in margins"),
        ("", 0.970588, "shrunk on Letter, with 1/8 in margins"),
        ("letter", 0.960784, "shrunk on Letter, with 1/6 in (12 pt) margins"),
    ],
)
def test_fit_to_page_is_recognised_by_its_factor(paper: str, factor: float, words: str) -> None:
    causes = judge(reading(factor, paper=paper)).fit_to_page
    assert causes[0].words == words
    assert causes[0].factor == pytest.approx(factor, abs=1e-6)


def test_two_causes_with_almost_one_factor_are_both_named() -> None:
    # 94.07 and 94.12 %: both fit a reading of 94.1 % on a 20 cm line
    assert {cause.words for cause in judge(reading(0.941, paper="letter")).fit_to_page} == {
        "refitted from A4 to Letter, without margins",
        "shrunk on Letter, with 1/4 in margins",
    }


@pytest.mark.parametrize(
    "shares", [(1.0, 1.0), (0.9975, 0.9975), (0.941, 1.0), (1.0, 0.985), (0.985, 0.985), (0.978, 0.978)]
)
def test_other_prints_are_not_called_fit_to_page(shares: tuple[float, float]) -> None:
    assert judge(reading(*shares)).fit_to_page == ()


def test_a_viewer_that_shrinks_stands_out_and_the_others_do_not() -> None:
    good = [reading(1.0, printer=f"P{n}", line=n) for n in range(2, 6)]
    bad = [reading(0.97, printer=f"P{n}", viewer="Browser", line=n) for n in (6, 7)]
    found = judge_round([*good, *bad])
    assert [one for one in named(found) if one[0] == "viewer"] == [
        ("viewer", "Browser", "across"),
        ("viewer", "Browser", "down"),
    ]
    assert found.stands_out[0].lines == (6, 7)
    assert found.stands_out[0].median - found.stands_out[0].others == pytest.approx(-0.03)


def test_who_prints_true_does_not_stand_out_among_those_who_shrink() -> None:
    good = [reading(1.0, printer=f"P{n}", line=n) for n in range(2, 6)]
    bad = [reading(0.97, printer=f"P{n}", viewer="Browser", line=n) for n in range(6, 10)]
    assert {name for kind, name, _ in named(judge_round([*good, *bad])) if kind == "viewer"} == {"Browser"}


def test_a_printer_that_feeds_short_stands_out_down_the_page_only() -> None:
    good = [reading(1.0, printer=f"P{n}", line=n) for n in range(2, 6)]
    assert named(judge_round([*good, reading(1.0, 0.985, printer="Slow", line=7)])) == [("printer", "Slow", "down")]


def test_a_viewer_and_a_printer_of_the_same_readings_are_not_told_apart() -> None:
    good = [reading(1.0, printer=f"P{n}", line=n) for n in range(2, 6)]
    found = judge_round([*good, reading(0.97, printer="New", viewer="Browser", line=7)])
    assert {one.same_as for one in found.stands_out} == {"printer New", "viewer Browser"}


@pytest.mark.parametrize("share", [0.9951, 1.0049])
def test_what_two_rulers_may_misread_makes_nobody_stand_out(share: float) -> None:
    # both medians are read to 0.5 mm on 200 mm: together 0.5 %
    others = [reading(1.0, printer=f"P{n}", line=n) for n in range(2, 8)]
    assert named(judge_round([*others, reading(share, printer="X", viewer="Y", line=9)])) == []


def test_a_wide_spread_of_the_others_makes_nobody_stand_out() -> None:
    others = [reading(share, printer="P", line=n) for n, share in enumerate((0.97, 0.98, 0.99, 1.0, 1.01))]
    # their median is 0.99, their MAD 0.01: 3 × 1.4826 × 0.01 is 4.4 %
    assert named(judge_round([*others, reading(0.955, printer="X", line=9)])) == []
    assert ("printer", "X", "across") in named(judge_round([*others, reading(0.94, printer="X", line=9)]))


def test_fit_to_page_is_never_claimed_of_what_the_ruler_may_have_misread() -> None:
    """This test ensures that 98 % across alone, and 99 % of 5 cm, are not called a shrunk page."""
    assert judge(reading(0.9727, 0.9985, paper="A4")).fit_to_page == ()
    small = replace(TRUE, nominal=50.0, across=49.4, down=49.4, paper="letter")
    assert judge(small).fit_to_page == ()


def test_a_line_of_nearly_the_same_length_is_named() -> None:
    """6 in are 1.6 % more than 15 cm (NIST SP 811, App. B)."""
    found = judge(replace(TRUE, nominal=150.0, across=152.4, down=152.5))
    assert (found.state, found.slip) == (State.OFF, "6 in")
    assert judge(replace(TRUE, nominal=150.0, across=150.2, down=150.0)).slip == ""


def test_an_axis_that_was_not_read_says_nothing() -> None:
    found = judge_round([replace(TRUE, down=None), replace(TRUE, tester="Bo", across=None, down=190.0, line=3)])
    assert (found.testers[0].down, found.testers[1].across) == (None, None)
    assert [one.state for one in found.overall.judged] == [State.AGREES, State.OFF]
    assert found.overall.down is not None
    assert found.overall.down.median == pytest.approx(0.95)


def test_of_two_readings_nobody_stands_out() -> None:
    assert named(judge_round([TRUE, reading(0.9, printer="X", viewer="Y")])) == []


def test_testers_and_remarks_are_gathered_whatever_their_case() -> None:
    lines = [
        reading(1.0, tester="Ana", size="S", fit="Gapes"),
        reading(0.99, tester="ana", size="s", fit="gapes"),
        reading(1.0, tester="Bo", size="S", fit="lies flat"),
        reading(1.0, tester="Bo", fit="tight"),
    ]
    found = judge_round(lines)
    assert [(one.name, len(one.judged), one.across.median) for one in found.testers] == [
        ("Ana", 2, pytest.approx(0.995)),
        ("Bo", 2, 1.0),
    ]
    # one vote a tester, however many lines say it
    assert [(one.size, one.remarks) for one in found.sizes] == [
        ("S", (("Gapes", 1), ("lies flat", 1))),
        ("", (("tight", 1),)),
    ]
