"""This checks lengths against NIST SP 811 App. B (1 in = 25.4 mm) and exact fractions."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.chosen import over
from tiler.errors import LengthError
from tiler.lengths import both, parse_angle, parse_length, parse_percent, percent, tape
from tiler.sentence import Place

IN = Fraction(254, 10)  # NIST SP 811, App. B: exactly
STEP = {"in": IN / 16, "cm": Fraction(1)}
"""The graduation that a length is rounded to, mm."""
NOISE = Fraction(1, 10**5)
"""A millionth of a step is not rounded on."""

UNITS = st.sampled_from(["in", "cm"])
LENGTHS = st.fractions(-3000, 3000, max_denominator=1000) | st.floats(-3000, 3000).map(Fraction)


def length(value, unit="in", **allowed):
    return parse_length(value, unit, Place("key"), **allowed)


@over(
    ("text", "inches"),
    [
        ("21 1/4 in", Fraction(85, 4)),
        ('21-1/4"', Fraction(85, 4)),
        ("21¼ in", Fraction(85, 4)),
        ("21 ¼ in", Fraction(85, 4)),
        ("21-¼ in", Fraction(85, 4)),
        ("3/8 in", Fraction(3, 8)),
        ("⅜ in", Fraction(3, 8)),
        ("⅜in", Fraction(3, 8)),
        ("3⁄8 in", Fraction(3, 8)),
        ("1 3⁄8 in", Fraction(11, 8)),
        ("3 / 8 in", Fraction(3, 8)),
        ("7 2/3 in", Fraction(23, 3)),
        ("7⅔ in", Fraction(23, 3)),
        ("1½ in", Fraction(3, 2)),
        ("1 1/2 in", Fraction(3, 2)),
        ("1.5in", Fraction(3, 2)),
        (".5 in", Fraction(1, 2)),
        ("18 inches", Fraction(18)),
        ("18 INCHES", Fraction(18)),
        ("18 Inch", Fraction(18)),
        ("18 in.", Fraction(18)),
        ("18″", Fraction(18)),
        ("18”", Fraction(18)),
        ("18“", Fraction(18)),
        ("18 ''", Fraction(18)),
        ("1′", Fraction(12)),
        ("1'", Fraction(12)),
        ("1′ 6½″", Fraction(37, 2)),
        ("2 ft 0 1/2 in", Fraction(49, 2)),
        ("0 ft 6 in", Fraction(6)),
        ("1 yd", Fraction(36)),
        ("7/8 in", Fraction(7, 8)),
        ("  5\u00a01/2\tin ", Fraction(11, 2)),
        ("5 1/2", Fraction(11, 2)),
        ("5", Fraction(5)),
        (5, Fraction(5)),
        (5.1, Fraction(51, 10)),
        (0.1, Fraction(1, 10)),
    ],
)
def test_a_text_is_exactly_so_many_inches(text, inches):
    assert length(text) == inches * IN


@over(
    ("text", "millimetres"),
    [
        ("54 cm", 540),
        ("54CM", 540),
        ("540 mm", 540),
        ("540 Millimetres", 540),
        ("54 centimeters", 540),
        ("0.54 m", 540),
        ("1/2 cm", 5),
        ("2 metres", 2000),
        ("14", 140),
        (14, 140),
    ],
)
def test_a_text_is_exactly_so_many_millimetres(text, millimetres):
    assert length(text, "cm") == millimetres


def test_mixed_thirds_convert_exactly():
    # 7 2/3 in x 2.54 cm/in = 2921/150 cm
    assert length("7 2/3 in") == Fraction(2921, 150) * 10


@pytest.mark.parametrize(
    ("value", "hint"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("-1 in", "negative"),
        ("−1 in", "negative"),
        (-1, "negative"),
        (-0.5, "negative"),
        ("0", "zero"),
        ("0 cm", "zero"),
        (0, "zero"),
        (0.0, "zero"),
        ("nan", "not a length"),
        ("inf", "not a length"),
        ("-inf", "not a length"),
        ("infinity", "not a length"),
        (float("nan"), "not a length"),
        (float("inf"), "far too large"),
        ("1,5 cm", "write 1.5 cm"),
        ("1,5", "write 1.5"),
        ("1,250 mm", "write 1.250 mm or 1250 mm"),
        ("1,5 1/2 cm", "not a length"),
        ("10 pt", "in, cm or mm"),
        ("2 kg", "in, cm or mm"),
        ("3 px", "in, cm or mm"),
        ("5 π", "not a length"),
        ("9**9", "not a length"),
        ("9**9**9 in", "not a length"),
        ("1e3 mm", "not a length"),
        ("1 in; 2", "not a length"),
        ("1 in 2", "not a length"),
        ("1 in 2 cm", "not a length"),
        ("5 in 3 in", "not a length"),
        ("6 in 1 ft", "not a length"),
        ("1 1/2 1/2 in", "not a length"),
        ("1½½ in", "not a length"),
        ("1.5 1/2 in", "not a length"),
        ("1.5¼ in", "not a length"),
        ("1 - 1/2 in", "not a length"),
        ("1/0 in", "fraction"),
        ("1 0/0 in", "fraction"),
        ("1 3/2 in", "fraction"),
        ("73/8 in", "over 1: 7 3/8? Then write it so"),
        ("115/16", "over 1: 1 15/16 or 11 5/16? Then write it so"),
        ("3/2 in", "over 1: 1 1/2? Then write it so"),
        ("10/8 in", "over 1: 1 1/4? Then write it so"),
        ("8/8 in", "over 1: 1? Then write it so"),
        ("5/ in", "not a length"),
        (".", "not a length"),
        ("in", "not a length"),
        ('"', "not a length"),
        ("20 deg", "angle"),
        ("20°", "angle"),
        ("20 degrees", "angle"),
        ("1 rad", "angle"),
        ("5 %", "percentage"),
        ("٣ cm", "not a length"),
        ("３ cm", "not a length"),
        ("10²", "not a length"),
        ("__import__('os')", "not a length"),
        ("101 m", "100 m"),
        ("999999999 in", "100 m"),
        (10**8, "100 m"),
        pytest.param(10**400, "far too large", id="large"),
        pytest.param(1 << 100_000, "far too large", id="huge"),
        (1e300, "far too large"),
        (float("-inf"), "far too large"),
        pytest.param("9" * 5000, "not a length", id="long"),
        (True, "not a length"),
        (False, "not a length"),
        ([], "not a length"),
        (["5 in"], "not a length"),
        ({"s": "5 in"}, "not a length"),
    ],
)
def test_a_text_that_is_no_length_is_refused_with_value_and_key(value, hint):
    with pytest.raises(LengthError) as caught:
        length(value)
    message = str(caught.value)
    if isinstance(value, str):
        assert message.startswith(f"key: {repr(value)[:50]}")
    assert message.startswith("key: ")
    assert hint in message
    assert "\n" not in message
    assert len(message) < 200


def test_a_length_needs_a_unit_where_none_is_given():
    assert length("10 mm", None) == 10
    for value in ("10", 10, "5 1/2"):
        with pytest.raises(LengthError, match="has no unit"):
            length(value, None)


def test_zero_and_negative_lengths_are_taken_where_they_make_sense():
    assert length(0, zero_ok=True) == 0
    assert length("0 cm", zero_ok=True) == 0
    assert length("-1/2 in", negative_ok=True) == -IN / 2
    with pytest.raises(LengthError, match="negative"):
        length("-1 in", zero_ok=True)


def test_every_sixteenth_survives_being_written_and_read_again():
    for sixteenths in range(1, 1700):
        exact = sixteenths * IN / 16
        assert length(tape(exact)) == exact


def test_every_millimetre_survives_being_written_and_read_again():
    for millimetres in range(1, 1700):
        assert length(tape(millimetres, "cm")) == millimetres


@pytest.mark.parametrize("unit", ["in", "cm", "mm", "ft", "yd", "m"])
def test_fractions_decimals_and_signs_agree(unit):
    signs = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 8): "⅛", Fraction(7, 8): "⅞"}
    for whole in (1, 3, 12):
        for part, sign in signs.items():
            texts = (f"{whole} {part}", f"{whole}-{part}", f"{whole}{sign}", str(float(whole + part)))
            assert len({length(f"{text} {unit}") for text in texts}) == 1


@over(
    ("mm", "written"),
    [
        # decimal inches of the fractions: exact arithmetic
        (Fraction(25, 32) * IN, "13/16 in"),
        (6.35, "¼ in"),
        (3.175, "⅛ in"),
        (9.525, "⅜ in"),
        (15.875, "⅝ in"),
        (1.5875, "1/16 in"),
        (25.4, "1 in"),
        (247.65, "9¾ in"),
        (247.65 + 1.5875, "9 13/16 in"),
        (0, "0 in"),
        (25.39, "1 in"),
        (-6.35, "−¼ in"),
    ],
)
def test_inches_are_written_in_sixteenths_of_the_tape(mm, written):
    assert tape(mm) == written


def test_rounding_goes_where_it_is_told():
    mm = float(IN) + 0.4
    assert [tape(mm), tape(mm, up=True), tape(mm, down=True)] == ["1 in", "1 1/16 in", "1 in"]
    assert [tape(12.4, "cm"), tape(12.4, "cm", up=True), tape(12.6, "cm", down=True)] == [
        "1.2 cm",
        "1.3 cm",
        "1.2 cm",
    ]


def test_float_noise_does_not_round_a_whole_step_on():
    noisy = 0.1 + 0.2 + 29.7  # 30.000000000000004 or so
    assert tape(noisy, "cm", up=True) == "3.0 cm"
    assert tape(2.9999999999999996e1, "cm", down=True) == "3.0 cm"
    assert tape(3 * 25.4 * (1 + 1e-15), up=True) == "3 in"


def test_a_full_length_is_twice_the_rounded_half():
    half = 9.7753 * 25.4
    assert both(half, "in", times=2) == "19½ in (49.6 cm)"
    assert both(2 * half, "in") == "19 9/16 in (49.7 cm)"


def test_both_units_stand_with_the_first_one_first():
    assert both(247.65, "in") == "9¾ in (24.8 cm)"
    assert both(247.65, "cm") == "24.8 cm (9¾ in)"


@pytest.mark.parametrize(
    ("value", "degrees"),
    [(20, 20), ("20", 20), ("20 deg", 20), ("20°", 20), ("22 1/2 degrees", 22.5), (-16.37, -16.37)],
)
def test_an_angle_is_in_degrees(value, degrees):
    assert parse_angle(value, Place("key"), least=-90, most=90) == pytest.approx(degrees)


@over(
    ("value", "hint"),
    [
        ("20 in", "not an angle"),
        ("20 cm", "not an angle"),
        ('20"', "not an angle"),
        ("20 %", "not an angle"),
        ("20 rad", "unknown unit"),
        ("", "empty"),
        (91, "out of range"),
        (float("nan"), "not an angle"),
        (True, "not an angle"),
        ([20], "not an angle"),
        ("1 ft 2 in", "not an angle"),
    ],
)
def test_what_is_no_angle_is_refused(value, hint):
    with pytest.raises(LengthError, match=hint):
        parse_angle(value, Place("key"), least=-90, most=90)


@pytest.mark.parametrize(
    ("value", "share"),
    [("60 %", 0.6), ("60%", 0.6), (0.6, 0.6), ("0.6", 0.6), (1, 1), ("12.5 %", 0.125), ("2/3", 2 / 3)],
)
def test_a_percentage_is_a_share(value, share):
    assert parse_percent(value, Place("key"), most=4) == pytest.approx(share)


@over(
    ("value", "hint"),
    [
        (60, "60 %"),
        ("60", "60 %"),
        ("900 %", "out of range"),
        ("-2 %", "out of range"),
        ("60 in", "not a percentage"),
        ("60 deg", "not a percentage"),
        ("", "empty"),
        ("1,5 %", "write 1.5 %"),
        (True, "not a percentage"),
        (float("inf"), "far too large"),
        ({}, "not a percentage"),
    ],
)
def test_what_is_no_percentage_is_refused(value, hint):
    with pytest.raises(LengthError, match=hint):
        parse_percent(value, Place("key"), most=4)


def test_a_percentage_may_be_negative_where_it_makes_sense():
    assert parse_percent("-2 %", Place("key"), least=-0.5, most=0.5) == pytest.approx(-0.02)


def test_a_share_is_written_to_a_tenth_of_a_percent():
    assert [percent(0.6), percent(0.2141), percent(0.983), percent(-0.02)] == ["60 %", "21.4 %", "98.3 %", "−2 %"]
    assert [percent(0.9001, up=True), percent(0.9009, down=True)] == ["90.1 %", "90 %"]


# What is written is read back


def read_back(text: str) -> Fraction:
    return parse_length(text, None, "key", zero_ok=True, negative_ok=True)


@given(LENGTHS, UNITS)
def test_what_is_written_is_read_back_to_half_a_graduation(mm: Fraction, units: str) -> None:
    read, step = read_back(tape(mm, units)), STEP[units]
    assert read % step == 0
    assert abs(read - mm) <= step / 2 + NOISE


@given(LENGTHS, UNITS)
def test_what_is_rounded_up_or_down_lies_within_a_graduation_on_that_side(mm: Fraction, units: str) -> None:
    up, down = (read_back(tape(mm, units, **{way: True})) for way in ("up", "down"))
    assert down - NOISE <= mm <= up + NOISE
    assert up - mm < STEP[units]
    assert mm - down < STEP[units]


@given(LENGTHS, UNITS, st.integers(1, 4))
def test_a_length_in_both_units_is_the_same_length_twice(mm: Fraction, units: str, times: int) -> None:
    first, second = both(mm, units, times=times).removesuffix(")").split(" (")
    assert first == tape(mm, units, times=times)
    assert read_back(first) == times * read_back(tape(mm, units))
    assert abs(read_back(first) - read_back(second)) <= times * (STEP["in"] + STEP["cm"]) / 2 + NOISE


@given(st.integers(0, 999), st.integers(1, 998), st.integers(2, 999), st.sampled_from(["in", "cm", "mm"]))
def test_a_fraction_is_read_exactly_in_every_spelling(whole: int, top: int, bottom: int, unit: str) -> None:
    top %= bottom
    exactly = (whole + Fraction(top, bottom)) * {"in": IN, "cm": Fraction(10), "mm": Fraction(1)}[unit]
    for text in (
        f"{whole} {top}/{bottom} {unit}",
        f"{whole}-{top}\u2044{bottom}{unit.upper()}",
        f"{whole} {top} / {bottom}",
    ):
        assert parse_length(text, unit, "key", zero_ok=True) == exactly


@given(st.integers(0, 10**7), st.integers(0, 6))
def test_a_decimal_is_read_exactly_as_a_text_and_as_a_number(digits: int, places: int) -> None:
    exactly = Fraction(digits, 10**places)
    text = f"{digits:0{places + 1}d}"
    text = f"{text[: len(text) - places]}.{text[len(text) - places :]}" if places else text
    if exactly <= 100_000:
        assert parse_length(f"{text} mm", None, "key", zero_ok=True) == exactly
    if exactly <= 10_000:
        assert parse_length(float(text), "cm", "key", zero_ok=True) == 10 * exactly


@given(st.fractions(-4, 4, max_denominator=10**6))
def test_a_share_is_read_back_to_half_a_tenth_of_a_percent(share: Fraction) -> None:
    assert parse_percent(percent(share), "key", least=-5, most=5) == pytest.approx(float(share), abs=0.000501)


@pytest.mark.parametrize(("text", "share"), [("120 %", 1.2), ("40 %", 0.4), ("41 %", 0.41)])
def test_both_ends_of_a_range_of_percentages_go(text: str, share: float) -> None:
    assert parse_percent(text, Place("elastic.ratio"), least=0.4, most=1.2) == share
    with pytest.raises(LengthError, match="is out of range; here it is 40 % to 120 %"):
        parse_percent("121 %", Place("elastic.ratio"), least=0.4, most=1.2)
