"""Outdoor moisture content of wood by month against the published table of American cities.

Wood Products Extension, North Carolina State University, "The equilibrium moisture content of wood in
exterior locations in the United States: an update" (2016): the table of FPL-RN-0268 (W. T. Simpson, 1998)
worked again from the NOAA normals of 1981 to 2010. Ours come from typical years: each month one real month
of about 1976 to 2005, at one station. A single month strays from the normal by 4 to 5 % of humidity, one
point of moisture content, and now and then by three times that; a whole year by far less.
"""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.chapters.weather import normals_of, outdoor_moisture
from sashwright.knowledge.climate_load import gazetteer

PLACES = gazetteer()

# Station, and moisture content [%] from January to December as published.
PUBLISHED = {
    "Miami FL": (13.5, 13.1, 12.7, 12.2, 12.5, 13.7, 13.4, 13.8, 14.4, 13.8, 13.6, 13.5),
    "New Orleans LA": (14.6, 14.3, 13.7, 13.9, 13.8, 14.4, 14.8, 15.0, 14.5, 13.8, 14.1, 14.7),
    "Houston TX": (14.3, 14.3, 13.9, 13.9, 14.1, 14.1, 14.0, 13.9, 14.2, 13.8, 14.3, 14.6),
    "Honolulu HI": (13.1, 12.7, 12.3, 11.7, 11.3, 11.1, 11.1, 11.0, 11.4, 12.0, 12.5, 13.0),
    "Atlanta GA": (13.3, 12.5, 12.2, 11.8, 12.3, 12.7, 13.4, 13.5, 13.5, 12.9, 12.8, 13.2),
    # Reagan National Airport.
    "724050": (11.9, 11.5, 11.2, 11.0, 11.6, 11.7, 11.7, 12.1, 12.6, 12.6, 12.2, 12.1),
    # Central Park: the published row is inland, Kennedy Airport lies by the sea.
    "725033": (12.2, 11.9, 11.4, 11.0, 11.5, 11.9, 11.8, 12.4, 12.7, 12.3, 12.5, 12.3),
    "Boston MA": (12.1, 11.7, 11.8, 11.5, 12.0, 12.0, 11.8, 12.4, 12.8, 12.6, 12.5, 12.2),
    "Chicago IL": (14.3, 14.1, 13.4, 12.4, 12.3, 12.3, 12.7, 13.3, 13.3, 13.2, 13.9, 15.1),
    "Minneapolis MN": (14.0, 13.8, 13.3, 11.8, 11.7, 12.3, 12.4, 13.1, 13.4, 13.1, 14.2, 14.9),
    "Anchorage AK": (14.7, 14.0, 12.2, 11.5, 10.7, 11.8, 13.1, 13.8, 14.2, 14.2, 15.0, 15.6),
    "Juneau AK": (17.3, 16.7, 14.9, 13.9, 13.4, 14.0, 15.6, 16.5, 18.4, 18.5, 18.1, 18.5),
    "Seattle WA": (16.3, 14.9, 14.4, 13.6, 12.9, 12.8, 12.0, 12.4, 13.4, 15.7, 16.6, 16.9),
    "Portland OR": (16.7, 14.9, 14.0, 13.2, 12.7, 12.1, 11.2, 11.4, 12.2, 14.6, 16.6, 17.2),
    "Phoenix AZ": (8.9, 8.3, 7.4, 6.0, 4.9, 4.4, 6.2, 6.8, 6.5, 6.9, 7.8, 9.0),
    "Las Vegas NV": (8.3, 7.6, 6.4, 5.3, 4.6, 3.7, 4.4, 5.0, 5.0, 5.7, 7.1, 8.2),
    "Albuquerque NM": (9.9, 8.8, 7.5, 6.5, 6.3, 6.0, 7.8, 8.5, 8.2, 8.3, 8.8, 10.1),
    "Denver CO": (10.1, 10.0, 8.8, 9.1, 9.2, 8.3, 8.0, 8.4, 8.4, 9.1, 9.6, 10.5),
}  # fmt: skip
# Left out: Los Angeles, where the published row (9.4 to 11.7) is downtown and our station stands on the
# coast, 3.5 points damper; San Francisco, whose published row jumps by 2 points from month to month.

# Cities with dry and damp seasons, which our months must follow.
SEASONS = (
    "Seattle WA",
    "Portland OR",
    "Phoenix AZ",
    "Las Vegas NV",
    "Albuquerque NM",
    "Anchorage AK",
)


def ours(city: str) -> np.ndarray:
    place = PLACES.find(city)
    if not city.isdigit():
        assert place.region == city[-2:]
    return 100 * outdoor_moisture(normals_of(place))


def difference(city: str) -> np.ndarray:
    return ours(city) - np.array(PUBLISHED[city])


@pytest.mark.parametrize("city", PUBLISHED)
def test_mean_of_the_year(city: str) -> None:
    # Twelve single months leave 0.3 points, another station and other years the rest; a point is 5 % of
    # humidity, so that a mistake in humidity or temperature would show.
    assert difference(city).mean() == pytest.approx(0, abs=1.15)


def test_no_bias() -> None:
    """Over 18 cities what chance does cancels: no slip in reading, unit or formula remains."""
    assert np.mean([difference(city).mean() for city in PUBLISHED]) == pytest.approx(0, abs=0.4)


def test_months() -> None:
    off = np.abs([difference(city) for city in PUBLISHED])
    # The middle month is off by less than the point that a single month's weather makes …
    assert np.median(off) < 0.8
    # … nine in ten by less than two, and the worst, a dry November of Juneau, by 4.7.
    assert np.quantile(off, 0.9) < 2.0
    assert off.max() < 5.0


@pytest.mark.parametrize("city", SEASONS)
def test_seasons(city: str) -> None:
    """Where the year has a dry and a damp end, ours has them in the same months."""
    assert np.corrcoef(ours(city), PUBLISHED[city])[0, 1] > 0.8


def test_cities_in_order() -> None:
    """From Las Vegas to Juneau: the ranking of the published yearly means."""
    published = [np.mean(row) for row in PUBLISHED.values()]
    found = [ours(city).mean() for city in PUBLISHED]
    assert np.corrcoef(published, found)[0, 1] > 0.97
