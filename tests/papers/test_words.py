"""How quantities and dates are written on paper."""

from __future__ import annotations

import datetime

import pytest

from sashwright.papers.words import Words, count, date, listed, shortened

US, METRIC = Words("us"), Words("metric")
INCH = 25.4


@pytest.mark.parametrize(
    ("written", "expected"),
    [
        (US.size(27.875 * INCH), "27 7/8"),
        (US.size(29.03125 * INCH), "29 1/32"),
        (METRIC.size(708.025), "708.0"),
        (US.glass(7.65 * INCH), "7 5/8"),
        (METRIC.glass(298.4), "298"),
        (US.opening(34.375 * INCH), "34 3/8"),
        (METRIC.opening(873.125), "873"),
        (US.weight_length(14.52 * INCH), '14 1/2"'),
        (METRIC.weight_length(368.8), "369 mm"),
        (US.section("round", 38.1), 'round 1 1/2"'),
        (METRIC.section("square", 38.1), "square 38 mm"),
        (US.cord(47 * INCH), "3'-11\""),
        (METRIC.cord(1193.8), "1195 mm"),
        (US.mass(8.3348), "18 lb 6 oz"),
        (METRIC.mass(8.3348), "8.33 kg"),
        (METRIC.force(5.4), "5.4 N"),
    ],
)
def test_each_kind_has_its_rounding(written: str, expected: str) -> None:
    assert written == expected


@pytest.mark.parametrize(
    ("mm", "us", "metric"),
    [
        (0.0, "0 ft", "0.0 m"),
        (304.8, "1 ft", "0.4 m"),
        (304.9, "2 ft", "0.4 m"),
        (1000.0, "4 ft", "1.0 m"),
    ],
)
def test_what_is_bought_is_never_too_short(mm: float, us: str, metric: str) -> None:
    assert (US.run(mm), METRIC.run(mm)) == (us, metric)


def test_dates_read_alike_everywhere() -> None:
    assert date(datetime.date(2026, 3, 4)) == "4 March 2026"


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("short", "short"),
        ("two\nlines\tof  it", "two lines of it"),
        ("the lower sash sticks in August", "the lower sash…"),
        ("x" * 40, "x" * 19 + "…"),
        ("", ""),
    ],
)
def test_long_remarks_are_cut_at_a_word(text: str, expected: str) -> None:
    assert shortened(text, 20) == expected


def test_counting_and_listing() -> None:
    assert count(1, "window") == "1 window"
    assert count(0, "family", "families") == "0 families"
    assert [listed(list("abc"[:n])) for n in range(4)] == ["", "a", "a and b", "a, b and c"]
