"""U and solar gain of glazing from the detailed balance against handbook tables.

ASHRAE Handbook Fundamentals (SI) 2009, chapter 15, table 4 (U-factors, centre of glass) and table 10
(solar heat gain coefficients), as transcribed in public. Its glass: 3 mm, 1.0 W/(m K), emissivity 0.84.
"""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from sashwright.physics.cavity import upright_nusselt
from sashwright.physics.gases import GasName
from sashwright.physics.glazing import (
    NFRC_SUMMER,
    NFRC_SUN,
    NFRC_WINTER,
    Gap,
    Pane,
    Through,
    at_angle,
    detailed_balance,
    diffuse,
    plain_from_normal,
    solar_heat_gain,
)
from sashwright.physics.glazing.optics import Optics, through

Array = NDArray[np.float64]

CLEAR = plain_from_normal(0.834, 0.075)
"""Clear 3 mm float: the solar transmittance and reflectance at normal incidence that are in common use."""


def pane(outside: float = 0.84, inside: float = 0.84) -> Pane:
    return Pane(0.003, 1.0, outside, inside)


@pytest.mark.parametrize(
    ("width", "gas", "emissivity", "published"),
    [
        (6.4, "air", 0.84, 3.12),  # ID 4
        (12.7, "air", 0.84, 2.73),  # ID 5
        (12.7, "argon", 0.84, 2.56),  # ID 7
        (12.7, "air", 0.20, 1.99),  # ID 17
        (12.7, "air", 0.10, 1.82),  # ID 21
        (12.7, "air", 0.05, 1.70),  # ID 25
        (12.7, "argon", 0.05, 1.42),  # ID 27
    ],
)
def test_winter_u(width: float, gas: GasName, emissivity: float, published: float) -> None:
    ours = detailed_balance([pane(), pane(emissivity)], [Gap(width / 1000, gas)], NFRC_WINTER).u
    # The table is of inch-pound values with two decimals, 0.057 apart; half of that.
    assert float(ours) == pytest.approx(published, abs=0.029)


def test_single_pane() -> None:
    """ID 1: 5.91 in the table; the rest worked out from the correlations apart from the program."""
    balance = detailed_balance([pane()], [], NFRC_WINTER)
    assert float(balance.u) == pytest.approx(5.91, abs=0.029)
    assert float(balance.u) == pytest.approx(5.914, abs=0.001)
    assert balance.faces == pytest.approx([-10.13, -9.44], abs=0.01)
    assert 1 / balance.resistances[[0, -1]] == pytest.approx([29.314, 7.578], abs=0.002)


@pytest.mark.parametrize(
    ("emissivity", "width", "u", "faces"),
    # Two panes with a storm's space between, worked out apart from the program, height 1 m.
    [
        (0.84, 0.075, 2.801, (-14.26, -13.93, 5.81, 6.14)),
        (0.84, 0.040, 2.801, (-14.26, -13.93, 5.81, 6.14)),
        (0.15, 0.075, 2.022, (-15.30, -15.06, 9.85, 10.09)),
        (0.15, 0.120, 2.022, (-15.30, -15.06, 9.85, 10.09)),
    ],
)
def test_storm(emissivity: float, width: float, u: float, faces: tuple[float, ...]) -> None:
    balance = detailed_balance([pane(), pane(emissivity)], [Gap(width)], NFRC_WINTER)
    # Another value of the Stefan-Boltzmann constant, 1e-4 off.
    assert float(balance.u) == pytest.approx(u, abs=0.001)
    assert balance.faces == pytest.approx(faces, abs=0.01)


def test_storm_against_the_old_handbook() -> None:
    """Single glass with a storm 1 to 4 in. away, winter: 0.50 Btu/(h ft2 °F); from memory."""
    ours = detailed_balance([pane(), pane()], [Gap(0.075)], NFRC_WINTER).u
    # Two decimals of an inch-pound value, half a step: 0.005 x 5.678.
    assert float(ours) == pytest.approx(0.50 * 5.678, rel=0.03)


@pytest.mark.parametrize(
    ("Ra", "aspect", "worked"),
    [
        (5e3, 40, 1.0559),
        (2e4, 80, 1.6888),
        (1e5, 20, 3.1277),
        (1e6, 13.333, 6.7384),
        (1e4, 80, 1.2750),
    ],
)
def test_cavity(Ra: float, aspect: float, worked: float) -> None:
    assert float(upright_nusselt(Ra, aspect)) == pytest.approx(worked, abs=0.6e-4)


@pytest.mark.parametrize(
    ("Ra", "aspect", "other"),
    # Nusselt number of a tall enclosure by another correlation (Thess, in the VDI Heat Atlas), as the
    # library ht gives it. Two fits to different measurements.
    [(1e5, 20, 3.517), (1e6, 13.3, 6.922)],
)
def test_cavity_by_another_correlation(Ra: float, aspect: float, other: float) -> None:
    assert float(upright_nusselt(Ra, aspect)) == pytest.approx(other, rel=0.13)


# --- sun ----------------------------------------------------------------------------

ANGLES = np.radians([0.0, 40, 50, 60, 70, 80])


def gains(count: int, sun: list[Through]) -> list[float]:
    panes, gaps = [pane()] * count, [Gap(0.0127)] * (count - 1)
    return [float(solar_heat_gain(panes, gaps, NFRC_SUMMER, one, NFRC_SUN)) for one in sun]


def test_gain_of_single_glass() -> None:
    """ID 1a at 0, 40 … 80 degrees, and diffuse."""
    ours = gains(1, [*(at_angle([CLEAR], a) for a in ANGLES), diffuse([CLEAR])])
    # Two decimals, and a pane of the trade is a mean of many spectra.
    assert ours == pytest.approx([0.86, 0.84, 0.82, 0.78, 0.67, 0.42, 0.78], abs=0.01)


HANDBOOK_DOUBLE = (0.76, 0.74, 0.71, 0.64, 0.50, 0.26)
"""ID 5a."""


def averaged(angle: float) -> Through:
    """Two panes, of each the mean over the polarisations taken first."""
    both = CLEAR.at(angle)
    mean = Optics(*(v.mean(axis=0) for v in (both.transmittance, both.front, both.back)))
    return through([mean, mean])


def test_gain_of_double_glass_as_the_handbook_multiplies() -> None:
    ours = gains(2, [averaged(a) for a in ANGLES])
    assert ours == pytest.approx(HANDBOOK_DOUBLE, abs=0.012)


def test_gain_of_double_glass() -> None:
    """The second pane gets light that the first has polarised, and passes more of it at a slant.

    The handbook multiplies means; the test above shows that this is the whole difference.
    """
    ours = gains(2, [at_angle([CLEAR, CLEAR], a) for a in ANGLES])
    assert ours[:2] == pytest.approx(HANDBOOK_DOUBLE[:2], abs=0.01)
    assert ours == pytest.approx(HANDBOOK_DOUBLE, abs=0.035)
    assert all(one > other for one, other in zip(ours[3:], HANDBOOK_DOUBLE[3:], strict=True))
