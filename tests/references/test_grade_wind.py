"""American wind pressures on walls against the printed tables of the building codes."""

from __future__ import annotations

import numpy as np
import pytest

from sashwright.physics.wind import (
    ALLOWABLE,
    HILLS,
    Exposure,
    Hill,
    Site,
    Zone,
    effective_area,
    elevation_factor,
    exposure_coefficient,
    low_rise_wall_pressure,
    topographic_factor,
    velocity_pressure,
    wall_coefficients,
)

FOOT = 0.3048
SQUARE_FOOT = FOOT**2
MPH = 0.44704
PSF = 47.880259

# International Residential Code 2021 and 2024, table R301.2.1(1) (2015 and 2018: R301.2(2)): walls, mean
# roof height 30 ft, exposure B, allowable stress, psf, by effective area of 10, 20, 50 and 100 ft2.
PRINTED: dict[tuple[int, Zone], list[tuple[float, float]]] = {
    (95, 4): [(9.7, -10.6), (9.3, -10.1), (8.7, -9.5), (8.3, -9.1)],
    (95, 5): [(9.7, -13.0), (9.3, -12.2), (8.7, -11.0), (8.3, -10.1)],
    (110, 4): [(13.1, -14.2), (12.5, -13.6), (11.7, -12.8), (11.1, -12.2)],
    # At 50 ft2 the 2021 edition's -14.7; that of 2024 prints -14.8.
    (110, 5): [(13.1, -17.5), (12.5, -16.3), (11.7, -14.7), (11.1, -13.6)],
    (115, 4): [(14.3, -15.5), (13.6, -14.8), (12.8, -14.0), (12.1, -13.3)],
    (115, 5): [(14.3, -19.1), (13.6, -17.8), (12.8, -16.1), (12.1, -14.8)],
    (130, 4): [(18.2, -19.8), (17.4, -19.0), (16.3, -17.9), (15.5, -17.1)],
    (130, 5): [(18.2, -24.4), (17.4, -22.8), (16.3, -20.6), (15.5, -19.0)],
    (150, 4): [(24.3, -26.3), (23.2, -25.3), (21.7, -23.8), (20.7, -22.7)],
    (150, 5): [(24.3, -32.5), (23.2, -30.3), (21.7, -27.4), (20.7, -25.2)],
}
AREAS = np.array([10.0, 20.0, 50.0, 100.0]) * SQUARE_FOOT
# Half a unit of the last digit, and a little for the code's K_z of 0.70 and 0.00256 in place of 0.613.
ROUNDED = 0.05
CONSTANTS = 0.003


def house(mph: float, exposure: Exposure, feet: float) -> Site:
    return Site(wind_speed=mph * MPH, exposure=exposure, roof_height=feet * FOOT, edition="7-16")


@pytest.mark.parametrize(("mph", "zone"), PRINTED)
def test_the_residential_code(mph: int, zone: Zone) -> None:
    ours = low_rise_wall_pressure(site=house(mph, "B", 30), area=AREAS, zone=zone, least=False)
    printed = np.array(PRINTED[mph, zone])
    for found, wanted in ((ours.inward, printed[:, 0]), (ours.outward, printed[:, 1])):
        assert np.all(np.abs(found / PSF - wanted) < ROUNDED + CONSTANTS * np.abs(wanted))


def test_large_areas() -> None:
    """The 2021 edition's rows of 500 ft2, zone 5."""
    for mph, printed in ((115, (10.6, -11.9)), (130, (13.6, -15.1))):
        ours = low_rise_wall_pressure(
            site=house(mph, "B", 30), area=500 * SQUARE_FOOT, zone=5, least=False
        )
        for found, wanted in zip((ours.inward, ours.outward), printed, strict=True):
            assert found / PSF == pytest.approx(wanted, abs=ROUNDED + CONSTANTS * abs(wanted))


# IRC table R301.2.1(2): height and exposure factor, over 30 ft in exposure B. Exposure B above 30 ft is
# left out: there the 2021 code follows the rounded table of ASCE 7-22.
FACTORS = {
    "B": [(15, 0.82), (30, 1.00)],
    "C": [(15, 1.21), (25, 1.35), (30, 1.40), (40, 1.49), (50, 1.56)],
    "D": [(15, 1.47), (25, 1.61), (30, 1.66), (40, 1.74), (50, 1.81)],
}


@pytest.mark.parametrize("exposure", FACTORS)
def test_height_and_exposure(exposure: Exposure) -> None:
    for feet, printed in FACTORS[exposure]:
        ours = exposure_coefficient(feet * FOOT, exposure, "7-16") / 0.70
        assert ours == pytest.approx(printed, abs=0.006)


# ASCE 7-22, table 26.10-1, as read in a copy of chapter 26.
KZ_22 = {
    "B": [(15, 0.57), (25, 0.66), (40, 0.74), (60, 0.83), (80, 0.90), (100, 0.95)],
    "C": [(15, 0.85), (25, 0.94), (30, 0.98), (40, 1.04), (60, 1.13), (80, 1.21), (100, 1.26)],
    "D": [(15, 1.03), (25, 1.12), (30, 1.16), (40, 1.22), (60, 1.31), (80, 1.38), (100, 1.43)],
}


@pytest.mark.parametrize("exposure", KZ_22)
def test_exposure_coefficients_of_2022(exposure: Exposure) -> None:
    for feet, printed in KZ_22[exposure]:
        ours = exposure_coefficient(feet * FOOT, exposure, "7-22")
        # The last digit, and what the printed figures stray from their own formula: C at 80 ft and D at
        # 25 ft by 1.0 %.
        assert abs(ours - printed) < 0.005 + 0.007 * printed


def test_one_cell_of_2022_is_printed_high() -> None:
    """Exposure B at 30 ft: the table has 0.70, its formula 0.689."""
    assert exposure_coefficient(30 * FOOT, "B", "7-22") == pytest.approx(0.689, abs=5e-4)


def test_elevation_factors() -> None:
    """ASCE 7, table 26.9-1: ground at 0 to 6000 ft."""
    printed = [1.00, 0.96, 0.93, 0.90, 0.86, 0.83, 0.80]
    ours = np.asarray(elevation_factor(np.arange(7) * 1000 * FOOT))
    # The last digit; 0.8652 at 4000 ft is printed 0.86.
    assert np.abs(ours - printed).max() < 0.0053


def test_velocity_pressure_in_two_systems() -> None:
    """0.00256 V2 [psf, mph]: 0.1 % from 0.613 V2 [N/m2, m/s]."""
    ours = velocity_pressure(house(115, "C", 33))
    by_hand = 0.00256 * 2.01 * (33 / 900) ** (2 / 9.5) * 0.85 * 115**2
    assert ours / PSF == pytest.approx(by_hand, rel=1e-3)


@pytest.mark.parametrize(
    ("feet", "zone", "printed"),
    # Ends and middle of figure 30.3-1 as an open research code read it; its straight lines between read
    # points stray by 0.02 from the figure's logarithm.
    [
        (10, 4, (1.0, -1.1)),
        (10, 5, (1.0, -1.4)),
        (20, 4, (0.95, -1.05)),
        (20, 5, (0.95, -1.30)),
        (50, 4, (0.875, -0.975)),
        (50, 5, (0.875, -1.15)),
        (500, 4, (0.7, -0.8)),
        (500, 5, (0.7, -0.8)),
    ],
)
def test_wall_coefficients(feet: float, zone: Zone, printed: tuple[float, float]) -> None:
    ours = wall_coefficients(feet * SQUARE_FOOT, zone)
    assert ours == pytest.approx(printed, abs=0.01)


def test_a_window_by_hand() -> None:
    """42 by 78 in, 150 mph, exposure D, 20 ft, zone 5: every step by hand in feet and pounds."""
    area = 42 * 78 / 144
    kz = 2.01 * (20 / 700) ** (2 / 11.5)
    q = 0.00256 * kz * 0.85 * 150**2
    push = 1.1766 - 0.1766 * np.log10(area)
    pull = -1.7532 + 0.3532 * np.log10(area)
    ours = low_rise_wall_pressure(
        site=house(150, "D", 20), area=effective_area(78 * 0.0254, 42 * 0.0254), zone=5
    )
    assert ours.inward / PSF == pytest.approx(0.6 * q * (push + 0.18), rel=2e-3)
    assert ours.outward / PSF == pytest.approx(0.6 * q * (pull - 0.18), rel=2e-3)
    # As worked out elsewhere: 35.54 and -46.26 psf.
    assert ours.inward / PSF == pytest.approx(35.54, rel=2e-3)
    assert ours.outward / PSF == pytest.approx(-46.26, rel=2e-3)


# ASCE 7, figure 26.8-1, exposure C: K1 by H/L_h, as tabulated in an open program.
STEEP = [0.2, 0.25, 0.3, 0.35, 0.4, 0.45, 0.5]
K1: dict[Hill, list[float]] = {
    "ridge": [0.29, 0.36, 0.43, 0.51, 0.58, 0.65, 0.72],
    "escarpment": [0.17, 0.21, 0.26, 0.30, 0.34, 0.38, 0.43],
    "hill": [0.21, 0.26, 0.32, 0.37, 0.42, 0.47, 0.53],
}


@pytest.mark.parametrize("kind", HILLS)
def test_hills(kind: Hill) -> None:
    """At the crest, on the ground, K_zt is (1 + K1)2."""
    for steep, printed in zip(STEEP, K1[kind], strict=True):
        ours = topographic_factor(
            kind, "C", rise=40 * steep, half_length=40, distance=0, height=0, downwind=False
        )
        assert np.sqrt(ours) - 1 == pytest.approx(printed, abs=0.0051)


@pytest.mark.parametrize(
    ("kind", "shares", "fades"),
    # K2 at x/L_h = 0.5, 1 and 1.5 downwind, K3 at z/L_h = 0.1, 0.5 and 1; same figure, from memory.
    [
        ("ridge", (0.67, 0.33, 0.0), (0.74, 0.22, 0.05)),
        ("escarpment", (0.88, 0.75, 0.63), (0.78, 0.29, 0.08)),
        ("hill", (0.67, 0.33, 0.0), (0.67, 0.14, 0.02)),
    ],
)
def test_beyond_the_crest(kind: Hill, shares: tuple[float, ...], fades: tuple[float, ...]) -> None:
    def effect(x: float, z: float) -> float:
        found = topographic_factor(
            kind, "C", rise=20, half_length=50, distance=x * 50, height=z * 50, downwind=True
        )
        return float(np.sqrt(found) - 1)

    for x, printed in zip((0.5, 1.0, 1.5), shares, strict=True):
        assert effect(x, 0) / effect(0, 0) == pytest.approx(printed, abs=0.006)
    for z, printed in zip((0.1, 0.5, 1.0), fades, strict=True):
        assert effect(0, z) / effect(0, 0) == pytest.approx(printed, abs=0.006)


def test_least_pressure() -> None:
    """16 psf at strength level, 9.6 at allowable stress."""
    ours = low_rise_wall_pressure(site=house(85, "B", 15), area=5.0, zone=4)
    assert (ours.inward, ours.outward) == pytest.approx((9.6 * PSF, -9.6 * PSF))
    assert pytest.approx(16 * ALLOWABLE) == 9.6
