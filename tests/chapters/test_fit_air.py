"""The fit chapter: air on the faces of the wood, by hand, and what its paint lets through."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.chapters.fit import air, course
from sashwright.chapters.fit.air import Air, Case, air_of, storm_days
from sashwright.physics.daily import DailyClimate
from sashwright.window.boards import BARE, Coat, Stands
from tests.chapters.houses import KNOWLEDGE


def winter(sun: float = 0.0) -> DailyClimate:
    """-5 °C and 80 % outside, 20 °C and 30 % inside, all the year."""
    year = (np.full(365, v) for v in (-5.0, 0.80, 20.0, 0.30))
    return DailyClimate(*year, "by hand", np.full((8, 365), sun))


def on(stands: Stands, storm: air.Storm = "none", weather: str = "usual", sun: float = 0.0) -> Air:
    return air_of([Case(stands, 90.0, weather, storm, 0.30)], winter(sun))


# Saturation pressure by the tables of ASHRAE Fundamentals, ch. 1, -5 °C over water and 20 °C [Pa].
AT_MINUS_5, AT_20 = 421.8, 2338.8


def test_a_sash_is_warm_from_one_side() -> None:
    """Resistances 0.04 + 0.30 + 0.13: the room face is at 20 - 25 x 0.13 / 0.47 °C."""
    found = on("in the opening")
    outer, inner, edge = found.temperature[:, 0, 0]
    assert outer == pytest.approx(-5 + 25 * 0.04 / 0.47)
    assert inner == pytest.approx(20 - 25 * 0.13 / 0.47)
    assert edge == pytest.approx((outer + inner) / 2)
    # Room air of 702 Pa on a face of 13.1 °C: 1506 Pa saturated, so 47 %, where the room has 30 %.
    assert found.humidity[1, 0, 0] == pytest.approx(0.30 * AT_20 / 1506, abs=0.003)
    # Outdoor air of 337 Pa on a face of -2.9 °C (495 Pa): 68 %, and wet in 5 of 100 hours.
    assert found.humidity[0, 0, 0] == pytest.approx(0.68 + 0.05 * 0.32, abs=0.005)


def test_sun_warms_the_weather_face_by_its_share() -> None:
    """100 W/m2 x 0.5 x 0.04 m2 K/W is like 2 K of warmer air."""
    dark, sunny = on("in the opening"), on("in the opening", sun=100.0)
    warmer = (sunny.temperature - dark.temperature)[:, 0, 0]
    assert warmer[0] == pytest.approx(2 * (1 - 0.04 / 0.47))
    assert sunny.humidity[0, 0, 0] < dark.humidity[0, 0, 0]


def test_a_storm_sash_warms_keeps_dry_and_brings_some_of_the_rooms_moisture() -> None:
    bare, stormy = on("in the opening"), on("in the opening", "all year")
    assert stormy.temperature[0, 0, 0] == pytest.approx(-5 + 25 * 0.22 / 0.65)
    vapour = 0.80 * AT_MINUS_5 + 0.3 * (0.30 * AT_20 - 0.80 * AT_MINUS_5)
    saturated = 421.8 * np.exp(0.0745 * (stormy.temperature[0, 0, 0] + 5))  # between -5 and 5 °C
    assert stormy.humidity[0, 0, 0] == pytest.approx(vapour / saturated, rel=0.02)
    assert stormy.temperature[1, 0, 0] > bare.temperature[1, 0, 0]


def test_frames_stand_halfway_and_stops_in_the_room() -> None:
    between, stop = on("between"), on("in the room")
    assert between.temperature[:, 0, 0] == pytest.approx([7.5] * 3)
    # Half of 337 and 702 Pa over 1036 Pa at 7.5 °C.
    assert between.humidity[0, 0, 0] == pytest.approx((337.4 + 701.6) / 2 / 1036, abs=0.003)
    assert stop.temperature[1, 0, 0] == pytest.approx(15.0)
    assert stop.humidity[1, 0, 0] == pytest.approx(701.6 / 1705, abs=0.003)


def test_faces_never_stand_in_fog() -> None:
    damp = DailyClimate(*(np.full(365, v) for v in (-20.0, 1.0, 25.0, 0.9)), "damp")
    found = air_of([Case("in the opening", 0.0, "driving rain", "none", 0.1)], damp)
    assert found.humidity.max() <= air.DAMPEST
    assert found.settled.max() < 0.30


def test_storms_hang_from_november_to_mid_april() -> None:
    up = storm_days("winter")
    assert up[[0, 103, 304, 364]].tolist() == [1, 1, 1, 1]
    assert up[[104, 200, 303]].tolist() == [0, 0, 0]
    assert storm_days("none").sum() == 0
    assert storm_days("all year").sum() == 365


def test_many_cases_at_once_are_as_each_alone() -> None:
    cases = [
        Case("in the opening", 90.0, "usual", "none", 0.3),
        Case("between", 0.0, "sheltered", "winter", 0.0),
        Case("in the room", 0.0, "sheltered", "none", 0.0),
        Case("in the opening", 200.0, "driving rain", "winter", 0.2),
    ]
    together = air_of(cases, winter(60.0))
    for column, case in enumerate(cases):
        alone = air_of([case], winter(60.0))
        assert together.temperature[:, :, column] == pytest.approx(alone.temperature[:, :, 0])
        assert together.humidity[:, :, column] == pytest.approx(alone.humidity[:, :, 0])


# --- paint --------------------------------------------------------------------------


def oil(state: str, coats: int = 3) -> Coat:
    return Coat("oil-paint", coats, state)  # type: ignore[arg-type]


def test_resistance_counts_coats() -> None:
    one = KNOWLEDGE.coating["oil-paint"].vapour_resistance
    assert course.coat_resistance(oil("painted"), KNOWLEDGE) == 3 * one
    assert course.coat_resistance(oil("primed"), KNOWLEDGE) == one
    assert course.coat_resistance(oil("primed", 0), KNOWLEDGE) == 0
    assert course.coat_resistance(oil("bare"), KNOWLEDGE) == 0
    assert course.coat_resistance(BARE, KNOWLEDGE) == 0


def test_permeances_rise_from_low_to_high_and_from_paint_to_bare_wood() -> None:
    painted, primed, failed, bare = (
        course.permeances(oil(state), KNOWLEDGE)
        for state in ("painted", "primed", "failed", "bare")
    )
    for band in (painted, primed, failed):
        assert list(band) == sorted(band)
    assert painted[1] < primed[1] < failed[1] < bare[1]
    assert bare == pytest.approx((1 / course.STILL_AIR,) * 3)
    assert painted[2] / painted[0] == pytest.approx(4, rel=0.02)
    assert course.permeances(None, KNOWLEDGE) == (0, 0, 0)


def test_still_air_by_lewis() -> None:
    """h / (rho c R T): 3 W/m2K, 1.2 kg/m3, 1006 J/kgK, 461.5 J/kgK, 293 K."""
    assert pytest.approx(1.2 * 1006 * 461.5 * 293 / 3, rel=0.02) == course.STILL_AIR


def test_the_chord_of_service() -> None:
    """Wood Handbook table 4-2, 70 °F: 6.2 % at 30 % and 20.5 % at 90 % humidity."""
    assert course.sorption_chord() == pytest.approx((0.205 - 0.062) / 0.6, rel=0.005)
