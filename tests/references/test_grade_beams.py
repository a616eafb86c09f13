"""Bars and rails against closed forms, a fine numerical beam, and published allowable stresses."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.integrate import solve_bvp

from sashwright.physics.beams import (
    SEASONED_OF_DRY,
    SEASONING,
    allowable_bending,
    deflection_limit,
    point,
    rectangle_inertia,
    rectangle_modulus,
    shear_stress,
    together,
    trapezoid,
    tributary,
)
from sashwright.physics.water import held_pressure, sill_upstand, water_head

INCH, PSI, PSF = 0.0254, 6894.757, 47.880259


def test_usual_cases() -> None:
    """Even, triangular and central loads: wL2/8, wL2/12, PL/4; 5wL4/384EI, wL4/120EI, PL3/48EI."""
    L, w, P, EI = 0.9, 320.0, 85.0, 410.0
    even = trapezoid(L, w, 0.0, EI)
    assert even.moment == pytest.approx(w * L**2 / 8)
    assert even.deflection == pytest.approx(5 * w * L**4 / (384 * EI))
    assert even.reaction == pytest.approx(w * L / 2)
    peak = trapezoid(L, w, L / 2, EI)
    assert peak.moment == pytest.approx(w * L**2 / 12)
    assert peak.deflection == pytest.approx(w * L**4 / (120 * EI))
    assert peak.reaction == pytest.approx(w * L / 4)
    middle = point(L, P, L / 2, EI)
    assert middle.moment == pytest.approx(P * L / 4)
    assert middle.deflection == pytest.approx(P * L**3 / (48 * EI))


@pytest.mark.parametrize(
    ("psf", "span", "reach", "width", "depth", "modulus", "stress", "sag"),
    # Rails worked out by hand in inches and pounds: f_b [psi], deflection [in].
    [
        (25, 36, 30, 1.25, 1.375, 1.20e6, 823, 0.1300),
        (35, 36, 30, 1.00, 1.375, 1.24e6, 1440, 0.2201),
        (40, 44, 34, 1.25, 1.75, 1.24e6, 1435, 0.2581),
        (20, 40, 24, 1.125, 1.375, 1.29e6, 827, 0.1522),
    ],
)
def test_rails(
    psf: float,
    span: float,
    reach: float,
    width: float,
    depth: float,
    modulus: float,
    stress: float,
    sag: float,
) -> None:
    b, d, L = width * INCH, depth * INCH, span * INCH
    peak, corner = tributary(psf * PSF, L, reach * INCH)
    bent = trapezoid(L, peak, corner, modulus * PSI * rectangle_inertia(b, d))
    assert bent.moment / rectangle_modulus(b, d) / PSI == pytest.approx(stress, rel=1e-3)
    assert bent.deflection / INCH == pytest.approx(sag, rel=1e-3)


def test_a_numerical_beam() -> None:
    """A trapezoid by a general solver of boundary value problems: E I w'''' = q."""
    L, w, c, EI = 1.1, 250.0, 0.3, 500.0

    def slopes(x: np.ndarray, y: np.ndarray) -> np.ndarray:
        load = w * np.minimum(1.0, np.minimum(x, L - x) / c)
        return np.vstack([y[1], y[2], y[3], load / EI])

    def ends(a: np.ndarray, b: np.ndarray) -> np.ndarray:
        return np.array([a[0], a[2], b[0], b[2]])

    x = np.linspace(0, L, 441)
    found = solve_bvp(slopes, ends, x, np.zeros((4, len(x))), tol=1e-9)
    assert found.success
    ours = trapezoid(L, w, c, EI)
    assert ours.deflection == pytest.approx(np.abs(found.sol(x)[0]).max(), rel=1e-5)
    assert ours.moment == pytest.approx(np.abs(found.sol(x)[2]).max() * EI, rel=1e-5)
    assert ours.reaction == pytest.approx(abs(found.sol(0.0)[3]) * EI, rel=1e-4)


def test_loads_together() -> None:
    """Third points: PL/3 and 23 PL3/648EI; and each single load as its own formula has it."""
    L, P, EI = 0.8, 60.0, 300.0
    both = together(L, EI, points=[(P, L / 3), (P, 2 * L / 3)])
    assert both.moment == pytest.approx(P * L / 3, rel=1e-4)
    assert both.deflection == pytest.approx(23 * P * L**3 / (648 * EI), rel=1e-4)
    assert both.reaction == pytest.approx(P)
    # 0.2 of the span falls on one of the places.
    for one, alone in (
        (together(L, EI, points=[(P, 0.2 * L)]), point(L, P, 0.2 * L, EI)),
        (together(L, EI, trapezoids=[(90.0, 0.25)]), trapezoid(L, 90.0, 0.25, EI)),
        (together(L, EI, trapezoids=[(90.0, 0.0)]), trapezoid(L, 90.0, 0.0, EI)),
    ):
        assert one.moment == pytest.approx(alone.moment, rel=1e-4)
        assert one.deflection == pytest.approx(alone.deflection, rel=1e-4)
        assert one.reaction == pytest.approx(alone.reaction, rel=1e-9)


def test_allowable_stress() -> None:
    """ASTM D2555's lodgepole pine, green, 5490 psi with a deviation of 878: by D245 1926.5 and 2408."""
    plain = allowable_bending(5490.0, variation=878 / 5490, seasoning=1.0, duration=1.0)
    assert plain == pytest.approx(1926.5, abs=0.5)
    dry = allowable_bending(5490.0, variation=878 / 5490, duration=1.0)
    assert dry == pytest.approx(2408, abs=1)


def test_dry_values_are_not_too_hopeful() -> None:
    """Wood Handbook, table 5-3a, modulus of rupture green and at 12 % [MPa]: four of five bear more."""
    pines = {
        "ponderosa": (35.0, 65.0),
        "sugar": (34.0, 57.0),
        "western white": (32.0, 67.0),
        "red": (40.0, 76.0),
        "shortleaf": (51.0, 90.0),
    }
    shares = [SEASONING * green / dry for green, dry in pines.values()]
    assert sum(share > SEASONED_OF_DRY for share in shares) == 4
    assert np.mean(shares) == pytest.approx(SEASONED_OF_DRY, rel=0.05)


def test_sag_limit() -> None:
    """IBC 2403.3: L/175; beyond 13 ft 6 in L/240 + 1/4 in."""
    assert deflection_limit(36 * INCH) / INCH == pytest.approx(0.2057, abs=5e-5)
    assert deflection_limit(15 * 12 * INCH) / INCH == pytest.approx(180 / 240 + 0.25)


def test_shear() -> None:
    assert shear_stress(100.0, 0.03, 0.035) == pytest.approx(1.5 * 100 / (0.03 * 0.035))


def test_water() -> None:
    # An inch of water is 249.1 Pa at 4 °C (unit tables), 5.202 psf.
    assert held_pressure(INCH) == pytest.approx(249.09, abs=0.05)
    assert water_head(5.202 * PSF) / INCH == pytest.approx(1.0, rel=1e-3)
    # British Columbia Building Code, appendix C: a tenth of the pressure in pascals, as millimetres.
    for pascals, millimetres in ((160.0, 16.0), (220.0, 22.0)):
        assert water_head(pascals) * 1e3 == pytest.approx(millimetres, rel=0.021)
    # A sill of 3 in 12 over 4 in rises by 1 in.
    slope = math.degrees(math.atan(3 / 12))
    assert sill_upstand(4 * INCH, slope=slope, lip=0.005) == pytest.approx(INCH + 0.005)
