"""Indoor climate against what wood inside American houses is known to settle at.

Wood Handbook (FPL-GTR-282, 2021), figure 13-1: recommended average moisture content of interior wood, 8 % in
most of the United States, 6 % in the dry southwest, 11 % on the damp warm coast. It averages over the year
and over houses; read at second hand.
"""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.chapters.weather import year_of
from sashwright.knowledge.climate_load import gazetteer
from sashwright.physics.hourly_year import monthly_means
from sashwright.physics.indoor import Household, IndoorClimate, indoor_climate
from sashwright.physics.moisture import equilibrium_moisture_content
from sashwright.physics.psychrometrics import saturation_pressure

PLACES = gazetteer()


def inside(city: str, cooling: float | None) -> IndoorClimate:
    year = year_of(PLACES.find(city))
    return indoor_climate(
        year.temperature, saturation_pressure(year.dew_point), Household(cooling=cooling)
    )


@pytest.mark.parametrize(
    ("city", "cooling", "percent"),
    [
        ("Minneapolis MN", None, 8.0),
        ("Chicago IL", None, 8.0),
        ("Boston MA", None, 8.0),
        ("Baltimore MD", 25.0, 8.0),
        ("Seattle WA", None, 8.0),
        ("Phoenix AZ", 26.0, 6.0),
        ("Las Vegas NV", 26.0, 6.0),
        ("Albuquerque NM", None, 6.0),
        ("Miami FL", 25.0, 11.0),
        ("New Orleans LA", 25.0, 11.0),
    ],
)
def test_moisture_content_of_interior_wood(
    city: str, cooling: float | None, percent: float
) -> None:
    air = inside(city, cooling)
    content = 100 * equilibrium_moisture_content(air.temperature, air.humidity)
    # The map has three whole figures, 2 to 3 points apart: half of that.
    assert content.mean() == pytest.approx(percent, abs=1.25)


def test_heated_houses_are_driest_in_january_and_dampest_in_late_summer() -> None:
    """Trade map of yearly extremes: 4 to 10 % in the cold states (Lignomat USA, zones)."""
    air = inside("Minneapolis MN", None)
    by_month = monthly_means(100 * equilibrium_moisture_content(air.temperature, air.humidity))
    assert by_month.argmin() == 0
    assert by_month.argmax() in {6, 7, 8}
    assert by_month.min() == pytest.approx(4, abs=1)
    assert by_month.max() == pytest.approx(10, abs=1.6)


def test_winter_air_in_heated_houses() -> None:
    """Swedish wood guidance: 10 to 25 % of humidity inside in winter, 45 to 60 % in summer.

    Minneapolis is as cold as central Sweden in January and warmer in July.
    """
    by_month = monthly_means(inside("Minneapolis MN", None).humidity)
    assert 0.10 <= by_month[0] <= 0.25
    assert np.all((by_month[5:8] > 0.45) & (by_month[5:8] < 0.65))
