"""What wood settles at in air, against the Wood Handbook and figures from elsewhere.

Forest Products Laboratory: Wood Handbook, FPL-GTR-190 (2010), chapter 4; FPL-GTR-282 (2021) has the
same formula.
"""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.physics import moisture

HUMIDITIES = np.arange(5, 100, 5) / 100

# Table 4-2, p. 4-4: equilibrium moisture content [%] at 5, 10 … 95 % relative humidity.
TABLE_4_2 = {
    30: (1.4, 2.6, 3.7, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5,
         10.4, 11.3, 12.4, 13.5, 14.9, 16.5, 18.5, 21.0, 24.3),
    50: (1.4, 2.6, 3.6, 4.6, 5.5, 6.3, 7.1, 7.9, 8.7, 9.5,
         10.3, 11.2, 12.3, 13.4, 14.8, 16.4, 18.4, 20.9, 24.3),
    70: (1.3, 2.5, 3.5, 4.5, 5.4, 6.2, 6.9, 7.7, 8.5, 9.2,
         10.1, 11.0, 12.0, 13.1, 14.4, 16.0, 17.9, 20.5, 23.9),
    90: (1.2, 2.3, 3.4, 4.3, 5.1, 5.9, 6.7, 7.4, 8.1, 8.9,
         9.7, 10.5, 11.5, 12.6, 13.9, 15.4, 17.3, 19.8, 23.3),
}  # fmt: skip
# Printed to 0.1 point, and in places cut off rather than rounded: 90 °F and 90 % prints 19.8 where
# the handbook's own formula gives 19.86.
TABLE_4_2_STEP = 0.1


@pytest.mark.parametrize("fahrenheit", TABLE_4_2)
def test_equilibrium_moisture_content(fahrenheit: int) -> None:
    ours = 100 * moisture.equilibrium_moisture_content((fahrenheit - 32) / 1.8, HUMIDITIES)
    assert np.abs(ours - TABLE_4_2[fahrenheit]).max() < TABLE_4_2_STEP


def fahrenheit_form(T: float, h: float) -> float:
    """Eq. 4-5 with its second set of coefficients, for °F: the handbook against itself."""
    W = 330 + 0.452 * T + 0.00415 * T**2
    K = 0.791 + 0.000463 * T - 0.000000844 * T**2
    K1 = 6.34 + 0.000775 * T - 0.0000935 * T**2
    K2 = 1.09 + 0.0284 * T - 0.0000904 * T**2
    x = K * h
    return 1800 / W * (x / (1 - x) + (K1 * x + 2 * K1 * K2 * x**2) / (1 + K1 * x + K1 * K2 * x**2))


@pytest.mark.parametrize("celsius", [-20, 0, 21.1, 40, 60])
@pytest.mark.parametrize("humidity", [0.01, 0.3, 0.65, 0.9, 1.0])
def test_both_sets_of_coefficients_agree(celsius: float, humidity: float) -> None:
    ours = 100 * moisture.equilibrium_moisture_content(celsius, humidity)
    # The two rounded sets differ by up to 0.016 point over -20 to 60 °C.
    assert ours == pytest.approx(fahrenheit_form(celsius * 1.8 + 32, humidity), abs=0.02)


def test_humidity_in_percent_is_refused() -> None:
    with pytest.raises(ValueError, match="between 0 and 1, found 65"):
        moisture.equilibrium_moisture_content(temperature_c=20, relative_humidity=65)


# Eq. 4-5 worked out by others: a public data library for conservators (20 °C, 50 %), a Swedish
# engineering page (the rest) [%].
@pytest.mark.parametrize(
    ("celsius", "percent", "theirs"),
    [(20, 50, 9.271), (20, 75, 14.45), (20, 85, 18.00), (5, 85, 18.47), (2, 83, 17.66)],
)
def test_values_worked_out_by_others(celsius: float, percent: float, theirs: float) -> None:
    ours = 100 * moisture.equilibrium_moisture_content(celsius, percent / 100)
    assert ours == pytest.approx(theirs, abs=0.006)  # to their last digit


# European data sheets, 20 °C: Norway spruce, Scots pine [%].
@pytest.mark.parametrize(
    ("percent", "spruce", "pine"),
    [(37, 7.0, 7.0), (83, 16.4, 15.3)],
)
def test_european_softwoods(percent: float, spruce: float, pine: float) -> None:
    ours = 100 * moisture.equilibrium_moisture_content(20, percent / 100)
    # One formula stands for all species; the handbook itself warns of the spread in damp air, and
    # these two woods are 1.1 points apart there.
    assert spruce <= ours == pytest.approx(spruce, abs=0.8)
    assert ours == pytest.approx(pine, abs=1.9)


@pytest.mark.parametrize(
    ("percent", "humidity"),
    # Eq. 4-5 solved for the humidity by bisection, 20 °C [%].
    [(8, 41.8), (12, 65.0), (16, 79.9), (20, 89.1)],
)
def test_the_way_back(percent: float, humidity: float) -> None:
    ours = 100 * moisture.equilibrium_humidity(20.0, percent / 100)
    assert ours == pytest.approx(humidity, abs=0.05)


@pytest.mark.parametrize("celsius", [-20.0, 0.0, 20.0, 40.0])
def test_the_way_back_undoes_the_way_there(celsius: float) -> None:
    humidity = np.linspace(0.02, 1.0, 50)
    settled = moisture.equilibrium_moisture_content(celsius, humidity)
    assert np.abs(moisture.equilibrium_humidity(celsius, settled) - humidity).max() < 1e-9


def test_slope_is_the_derivative() -> None:
    humidity, step = np.linspace(0.05, 0.98, 40), 1e-6
    above = moisture.equilibrium_moisture_content(10.0, humidity + step)
    below = moisture.equilibrium_moisture_content(10.0, humidity - step)
    # A central difference of a smooth function with this step is good to 1e-7.
    slope = moisture.sorption_slope(10.0, humidity)
    assert slope == pytest.approx((above - below) / (2 * step), rel=1e-6)


def test_arrays_and_numbers_agree() -> None:
    year = moisture.equilibrium_moisture_content(np.array([0.0, 20.0]), np.array([0.9, 0.5]))
    assert year[1] == moisture.equilibrium_moisture_content(20.0, 0.5)
