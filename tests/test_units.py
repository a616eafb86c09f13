"""Reading and writing quantities: what a shop writes, exactly, and nothing that can be misread."""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sashwright import units
from sashwright.units import UnitsError

INCH = 0.0254


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("34 3/8", Fraction(275, 8)),
        ('34-3/8"', Fraction(275, 8)),
        ("34 3/8 in", Fraction(275, 8)),
        ("34.375", Fraction(275, 8)),
        ("3/8", Fraction(3, 8)),
        ("2'-10 3/8\"", Fraction(275, 8)),
        ("2' 10.375\"", Fraction(275, 8)),
        ("2 ft 10 in", Fraction(34)),
        ("2 ft. 10 in.", Fraction(34)),
        ("2'", Fraction(24)),
        ("2'10", Fraction(34)),
        ("2.5 ft", Fraction(30)),
        ("2′-10 ⅜″", Fraction(275, 8)),
        ("2’ 10 3/8”", Fraction(275, 8)),
        ("34½", Fraction(69, 2)),
        ("½", Fraction(1, 2)),
        ("¾ in", Fraction(3, 4)),
        ("34 3\N{FRACTION SLASH}8", Fraction(275, 8)),
        ("34 3/8''", Fraction(275, 8)),
        ("  34   3/8  ", Fraction(275, 8)),
        (".5", Fraction(1, 2)),
        ("0", Fraction(0)),
    ],
)
def test_lengths_as_shops_write_them(text: str, inches: Fraction) -> None:
    assert units.parse_length(text) == float(inches * Fraction(254, 10000))


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("873 mm", 0.873),
        ("87.3cm", 0.873),
        ("0.873 m", 0.873),
        ("87,3 cm", 0.873),
        ("0,873 m", 0.873),
        ("1,234 m", 1.234),
        ("873", 0.873),
        ("34 3/8 in", 0.873125),
    ],
)
def test_metric_lengths(text: str, metres: float) -> None:
    assert units.parse_length(text, "metric") == metres


def test_bare_numbers_follow_the_system() -> None:
    assert units.parse_length(34.4) == 0.87376
    assert units.parse_length(873, "metric") == 0.873
    assert units.parse_mass(18) == 8.16466266
    assert units.parse_mass("8,35", "metric") == 8.35


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("13/8", "two ways"),
        ("1 13/8", "two ways"),
        ("1,234 mm", "thousands"),
        ("34,375", "decimal comma"),
        ("2' 14\"", "less than 12"),
        ("2.5' 3\"", "whole"),
        ("3/0", "over zero"),
        ("-3", "less than zero"),
        ("1e400", "too large"),
        ("", "nothing written"),
        ("9" * 70, "too long"),
        ("2 10", ""),
        ("34.5 3/8", ""),
        ("1/2/3", ""),
        ("34 3/8 lb", ""),
        ("3 in 12", ""),
        ("2' 10 mm", ""),
        ("--3", ""),
        ("nan", ""),
        ("inf", ""),
        ("٣٤", ""),
        ("about 34", ""),
        (math.nan, ""),
        (math.inf, ""),
        (-1.0, "less than zero"),
        (10**400, "too large"),
        (True, ""),
        (None, ""),
    ],
)
def test_refused_in_one_sentence(text: Any, reason: str) -> None:
    with pytest.raises(UnitsError) as refusal:
        units.parse_length(text)
    message = str(refusal.value)
    assert message.startswith("Found ")
    assert reason in message
    assert "expected a length such as 34 3/8" in message
    assert "\n" not in message


def test_negative_only_where_it_makes_sense() -> None:
    assert units.parse_length("-3/8", allow_negative=True) == -0.009525
    assert units.parse_length("−10 mm", allow_negative=True) == -0.01
    assert units.parse_temperature("-4 F") == -20.0


@pytest.mark.parametrize(
    ("text", "pounds"),
    [
        ("18 lb 6 oz", Fraction(147, 8)),
        ("18 lb 6", Fraction(147, 8)),
        ("18lb6oz", Fraction(147, 8)),
        ("18 lbs 6 1/2 oz", Fraction(589, 32)),
        ("18.4 lb", Fraction(92, 5)),
        ("9 1/2 lb", Fraction(19, 2)),
        ("12 oz", Fraction(3, 4)),
    ],
)
def test_pounds_and_ounces(text: str, pounds: Fraction) -> None:
    assert units.parse_mass(text) == float(pounds * Fraction(45359237, 100000000))


def test_other_masses() -> None:
    assert units.parse_mass("8.35 kg") == units.parse_mass("8350 g") == 8.35
    with pytest.raises(UnitsError, match="less than 16"):
        units.parse_mass("18 lb 17 oz")
    with pytest.raises(UnitsError, match="a mass such as"):
        units.parse_mass("18 in")


@pytest.mark.parametrize("text", ["68 F", "20 C", "20°C", "20 °C", "293.15 K", "68", "68 deg F"])
def test_temperatures(text: str) -> None:
    assert units.parse_temperature(text) == 20.0


def test_temperature_limits() -> None:
    assert units.parse_temperature("20,5", "metric") == 20.5
    with pytest.raises(UnitsError, match="absolute zero"):
        units.parse_temperature("-1 K")
    with pytest.raises(UnitsError, match="a temperature such as"):
        units.parse_temperature("20 mm")


def test_pressures_and_flows() -> None:
    # lbf/ft2 and lbf/in2: NIST SP 811 (2008), appendix B.8.
    assert units.parse_pressure("1 psf") == pytest.approx(47.88026, abs=5e-6)
    assert units.parse_pressure("1 psi") == pytest.approx(6894.757, abs=5e-4)
    assert units.parse_pressure("1 inH2O") == 249.0889
    assert units.parse_pressure("1.44 kPa") == units.parse_pressure("1440", "metric") == 1440.0
    assert units.parse_pressure("-10 psf", allow_negative=True) < 0
    assert units.parse_flow("1 cfm") == pytest.approx(4.719474e-4, abs=5e-11)
    assert units.parse_volume("1 ft3") == 0.028316846592
    assert units.parse_volume("340 m³") == units.parse_volume(340, "metric") == 340.0
    # Square foot and square inch: 0.3048 m and 0.0254 m, exactly, squared.
    assert units.parse_area("1 ft2") == units.parse_area("144 sq in") == 0.09290304
    assert units.parse_area("250 cm²") == units.parse_area(0.025, "metric") == 0.025
    assert units.parse_flow("36 m³/h") == units.parse_flow("10 L/s") == 0.01


def test_speeds() -> None:
    # International mile of 1609.344 m.
    assert units.parse_speed("100 mph") == units.parse_speed(100) == 44.704
    assert units.parse_speed("90 km/h") == units.parse_speed("25", "metric") == 25.0
    assert units.parse_speed("18 kn") == pytest.approx(9.26)


def test_angles_and_slopes() -> None:
    assert units.parse_angle("14") == units.parse_angle("14°") == units.parse_angle("14 deg") == 14
    quarter = math.degrees(math.atan(0.25))
    for text in ("3 in 12", "1:4", "1 in 4", "3 : 12"):
        assert units.parse_angle(text) == pytest.approx(quarter, abs=1e-12)
    with pytest.raises(UnitsError, match="over nothing"):
        units.parse_angle("1:0")
    with pytest.raises(UnitsError, match="full turn"):
        units.parse_angle("400")


@pytest.mark.parametrize(
    ("metres", "options", "text"),
    [
        (0.873125, {}, '34 3/8"'),
        (0.873125, {"marks": False}, "34 3/8"),
        (0.873125, {"feet": True}, "2'-10 3/8\""),
        (0.873125, {"feet": True, "marks": False}, "2 ft 10 3/8 in"),
        (0.2540, {"feet": True}, '10"'),
        (0.3048, {"feet": True}, "1'-0\""),
        (0.3047, {"feet": True}, "1'-0\""),
        (1.5 / 32 * INCH, {"nearest": 32}, '1/16"'),
        (1 / 64 * INCH, {"nearest": 64}, '1/64"'),
        (0.0, {}, '0"'),
        (-0.0095, {}, '-3/8"'),
        (0.8731, {"system": "metric"}, "873 mm"),
        (0.8731, {"system": "metric", "nearest": 0.1}, "873.1 mm"),
        (0.8731, {"system": "metric", "nearest": 5, "marks": False}, "875"),
        (0.0, {"system": "metric"}, "0 mm"),
    ],
)
def test_lengths_for_people(metres: float, options: dict[str, Any], text: str) -> None:
    assert units.format_length(metres, **options) == text


def test_masses_for_people() -> None:
    sash = units.parse_mass("18 lb 6 oz")
    assert units.format_mass(sash) == "18 lb 6 oz"
    assert units.format_mass(sash, "metric") == "8.33 kg"
    assert units.format_mass(units.parse_mass("6 1/4 oz"), nearest=4) == "6 1/4 oz"
    assert units.format_mass(units.parse_mass("17 lb 15.9 oz")) == "18 lb"


def test_the_rest_for_people() -> None:
    assert units.format_temperature(20) == "68 °F"
    assert units.format_temperature(-0.2, "metric") == "0 °C"
    assert units.format_pressure(1440) == "30.1 psf"
    assert units.format_pressure(1440, "metric") == "1440 Pa"
    assert units.format_flow(0.01) == "21.2 cfm"
    assert units.format_flow(0.01, "metric") == "36.0 m³/h"
    assert units.format_force(20) == "4.5 lbf"
    assert units.format_speed(51.4) == "115 mph"
    assert units.format_speed(51.4, "metric") == "51.4 m/s"


@pytest.mark.parametrize("value", [math.nan, math.inf])
@pytest.mark.parametrize("show", [units.format_length, units.exact_length, units.exact_mass])
def test_what_is_no_number_is_not_shown(show: Callable[[float], str], value: float) -> None:
    with pytest.raises(UnitsError, match="finite"):
        show(value)


@pytest.mark.parametrize(
    ("metres", "system", "text"),
    [
        (0.873125, "us", "34 3/8 in"),
        (0.873125, "metric", "873.125 mm"),
        (0.8731, "us", "873.1 mm"),
        (0.635, "us", "25 in"),
        (0.635, "metric", "635 mm"),
        (0.87376, "us", "34.4 in"),
        (0.1 * 3, "us", "0.30000000000000004 m"),
        (0.0, "us", "0 in"),
        (-0.009525, "us", "-3/8 in"),
    ],
)
def test_lengths_for_files(metres: float, system: units.System, text: str) -> None:
    assert units.exact_length(metres, system) == text


def test_roundings_that_make_no_sense() -> None:
    with pytest.raises(UnitsError, match="whole number such as 16"):
        units.format_length(1, nearest=0.5)
    with pytest.raises(UnitsError, match="above zero"):
        units.format_length(1, "metric", nearest=0)


NUMBERS = st.floats(allow_nan=False, allow_infinity=False)
WINDOW_SIZES = st.floats(-10, 10)
SYSTEMS: st.SearchStrategy[units.System] = st.sampled_from(["us", "metric"])


@given(NUMBERS | WINDOW_SIZES, SYSTEMS, SYSTEMS)
def test_any_length_comes_back_from_a_file(
    metres: float, prefer: units.System, system: units.System
) -> None:
    text = units.exact_length(metres, prefer)
    assert units.parse_length(text, system, allow_negative=True) == metres


@given(NUMBERS | WINDOW_SIZES, SYSTEMS, SYSTEMS)
def test_any_mass_comes_back_from_a_file(
    kilograms: float, prefer: units.System, system: units.System
) -> None:
    text = units.exact_mass(kilograms, prefer)
    assert units.parse_mass(text, system, allow_negative=True) == kilograms


@given(st.integers(0, 64 * 400))
def test_tape_fractions_stay_tape_fractions(sixty_fourths: int) -> None:
    metres = float(Fraction(sixty_fourths, 64) * Fraction(254, 10000))
    text = units.exact_length(metres)
    assert text.endswith(" in")
    assert "." not in text
    assert units.parse_length(units.format_length(metres, nearest=64)) == metres
    assert units.parse_length(units.format_length(metres, nearest=64, feet=True)) == metres


@given(st.integers(0, 100_000), st.integers(0, 3))
def test_millimetres_stay_millimetres(count: int, decimals: int) -> None:
    metres = units.parse_length(f"{count / 10**decimals:.{decimals}f} mm")
    assert units.exact_length(metres, "metric").endswith(" mm")


@given(st.integers(0, 16 * 4 * 200))
def test_ounces_stay_ounces(quarters: int) -> None:
    kilograms = float(Fraction(quarters, 64) * Fraction(45359237, 100000000))
    text = units.exact_mass(kilograms)
    assert not text.endswith("kg")
    assert units.parse_mass(text) == kilograms


READERS = [
    units.parse_length,
    units.parse_mass,
    units.parse_temperature,
    units.parse_pressure,
    units.parse_flow,
    units.parse_volume,
    units.parse_area,
    units.parse_speed,
    units.parse_angle,
]
SCRAPS = st.lists(
    st.sampled_from(
        ["1", "34", "3/8", " ", "'", '"', "-", ",", ".", "/", "½", "ft", "in", "mm", "lb", "oz",
         "e", "°", "F", ":", "0", "psf", "m3/h", "²"]
    ),
    max_size=12,
).map("".join)  # fmt: skip


@given(st.text(max_size=80) | SCRAPS, SYSTEMS, st.sampled_from(READERS))
def test_garbage_raises_nothing_else(
    text: str, system: units.System, read: Callable[..., float]
) -> None:
    try:
        value = read(text, system)
    except UnitsError:
        return
    assert math.isfinite(value)


@given(WINDOW_SIZES, st.sampled_from([16, 32, 64]))
def test_shown_lengths_are_within_half_a_step(metres: float, nearest: int) -> None:
    text = units.format_length(metres, nearest=nearest)
    shown = units.parse_length(text, allow_negative=True)
    # The hair on top is the nudge that keeps ties ties.
    assert abs(shown - metres) <= INCH / nearest / 2 * (1 + 1e-6)
