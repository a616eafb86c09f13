r"""Wind that a pane of annealed glass withstands, held on four sides: the glass failure prediction model.

Glass breaks from flaws of its surface that wind stretches; how bad they are is a matter of chance
(Weibull). The risk adds up over the face in tension,

.. math:: P_b = 1 - e^{-B}, \qquad
   B = k \left(\frac{t_d}{60\ \mathrm s}\right)^{m/16} \int [c(x, y)\, s_1(x, y)]^m\, dA
     = k (E t^2)^m (ab)^{1-m} \left(\frac{t_d}{60}\right)^{m/16} e^{J(\hat q,\, a/b)}

with the stresses of von Kármán's plate (:mod:`sashwright.physics.plates`), simply supported and free to
slip. The model is that of ASTM E1300 and of Beason and Norville. E1300 rounds it off in charts; nothing
here is read from one.

For new glass, cleanly cut and glazed. Old glass is weathered and scratched: the model knows half-worn
surfaces, not the one at hand. Figures to screen with; the local code and a licensed professional decide.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import numpy as np
from numpy.polynomial.legendre import leggauss
from numpy.typing import ArrayLike, NDArray

from sashwright.physics.glass_table import INDEX, LOADS, RATIOS
from sashwright.physics.plates import Bent, small_deflection

Array = NDArray[np.float64]
Number = float | Array
Treatment = Literal["annealed", "heat-strengthened", "tempered"]

FLAW_SHAPE = 7.0
"""m, shape of the flaws' distribution [-]; ASTM E1300 and an open program after E1300-09a."""

FLAW_SCALE = 2.86e-53
"""k, for a load of 60 s [m^12/N^7]; same sources."""

MODULUS = 71.7e9
"""Young's modulus of glass [Pa]; same sources."""

POISSON = 0.22
"""Poisson's ratio of glass [-]; ASTM E1300 (from memory)."""

FATIGUE = 16.0
"""Strength falls with the 16th root of the load's duration [-]; same sources as ``FLAW_SHAPE``."""

REFERENCE_SECONDS = 60.0
"""Duration that ``FLAW_SCALE`` is for [s]."""

SHORT_SECONDS = 3.0
"""Of a gust in E1300's charts [s]."""

MINIMUM_MM: Mapping[float, float] = {
    2.5: 2.16,
    2.7: 2.59,
    3.0: 2.92,
    4.0: 3.78,
    5.0: 4.57,
    6.0: 5.56,
    8.0: 7.42,
    10.0: 9.02,
    12.0: 11.91,
    16.0: 15.09,
    19.0: 18.26,
    22.0: 21.44,
}
"""Least thickness by nominal thickness, both [mm]; ASTM C1036 and E1300, table 4. 2.5 mm is the trade's
single strength, 3 mm its double."""

TYPE_FACTORS: Mapping[Treatment, float] = {
    "annealed": 1.0,
    "heat-strengthened": 2.0,
    "tempered": 4.0,
}
"""Resistance over that of annealed glass under a short load, one sheet alone [-]; ASTM E1300, table 1."""

SEALED_FACTOR = 0.9
"""Type factor of each of two annealed sheets in a sealed unit, short load [-]; ASTM E1300, 2004 to 2012
(from memory)."""

# Points of the integral over directions in biaxial stress.
_DIRECTIONS = 24
# Below this load deflections are small, and the published polynomial is not for them; nor is it for panes
# of a greater ratio than this.
_SMALL_LOAD = 10.0
_POLYNOMIAL_RATIO = 5.0


def load_resistance(
    short_m: ArrayLike,
    long_m: ArrayLike,
    nominal_mm: ArrayLike,
    duration_s: float = SHORT_SECONDS,
    breaks_per_1000: float = 8.0,
) -> Number:
    """Pressure that a pane of new annealed glass withstands [Pa].

    Parameters
    ----------
    short_m, long_m : float or array
        Sides between the supports [m], in either order.
    nominal_mm : float or array
        One of the nominal thicknesses of ``MINIMUM_MM`` [mm]; the least thickness of its class counts.
    duration_s : float
        Of the load [s]: 3 for a gust.
    breaks_per_1000 : float
        Of a thousand such panes, how many may break when it first blows so; 8 in E1300.

    Notes
    -----
    Within 1 % of the plate solved directly for sides up to 8 to 1, 2.5 % beyond q̂ = 1000. A longer pane is
    one of 8 to 1 with more glass to break. E1300's charts end at 5 to 1 (from memory) and at 10 kPa, from
    2012 on at 15 kPa. Of two panes as long as each other the wider may be the stronger, by up to 9 % where
    single-strength glass is two to four times as long as wide: it starts to bear as a membrane.

    Examples
    --------
    1200 by 1500 mm of 6 mm, which E1300's example reads as 2.5 kPa:

    >>> round(load_resistance(1.2, 1.5, 6.0) / 1e3, 2)
    2.51
    """
    thickness = np.asarray(minimum_thickness(nominal_mm), dtype=np.float64)
    return load_resistance_measured(
        short_m, long_m, thickness, duration_s=duration_s, breaks_per_1000=breaks_per_1000
    )


def load_resistance_measured(
    short_m: ArrayLike,
    long_m: ArrayLike,
    thickness_m: ArrayLike,
    *,
    duration_s: float = SHORT_SECONDS,
    breaks_per_1000: float = 8.0,
) -> Number:
    """As :func:`load_resistance`, of glass whose least thickness is measured [m], such as old cylinder."""
    b, a, t = _pane(short_m, long_m, thickness_m)
    if not 0 < breaks_per_1000 < 1000:
        raise ValueError(
            f"found {breaks_per_1000:g} breaks of 1000, expected more than 0, below 1000"
        )
    if not duration_s > 0:
        raise ValueError(f"found a load of {duration_s:g} s, expected more than 0")
    risk = -np.log1p(-breaks_per_1000 / 1000)
    lasting = (duration_s / REFERENCE_SECONDS) ** (FLAW_SHAPE / FATIGUE)
    # Logarithms throughout: k alone is below what single precision holds.
    strength = np.log(FLAW_SCALE) + FLAW_SHAPE * np.log(MODULUS * t**2)
    # A longer pane bends no more than one of the greatest ratio, and there is only more of it to break.
    counted = np.minimum(a, RATIOS[-1] * b)
    risk, area = risk * counted / a, counted * b
    index = np.log(risk / lasting) - strength - (1 - FLAW_SHAPE) * np.log(area)
    return _plain(_load_of(index, counted / b) * MODULUS * t**4 / area**2)


def minimum_thickness(nominal_mm: ArrayLike) -> Number:
    """Least thickness of a nominal class [m].

    Raises
    ------
    ValueError
        When there is no such class.
    """
    nominal = np.asarray(nominal_mm, dtype=np.float64)
    classes = np.array(list(MINIMUM_MM))
    at = np.abs(nominal[..., None] - classes).argmin(axis=-1)
    if not np.allclose(classes[at], nominal, rtol=0, atol=1e-6):
        known = ", ".join(f"{each:g}" for each in classes)
        raise ValueError(f"found glass of nominal {nominal_mm!r} mm, expected one of {known}")
    return _plain(np.array(list(MINIMUM_MM.values()))[at] / 1000)


def load_share(thickness: ArrayLike, other: ArrayLike) -> Number:
    """Whole load over what this sheet of a sealed unit of two carries [-]: 1 + (t₂/t₁)³.

    ASTM E1300, short loads (from memory). Only of sealed units: a storm sash with vents does not share.
    """
    own, mate = np.asarray(thickness, dtype=np.float64), np.asarray(other, dtype=np.float64)
    return _plain(1 + (mate / own) ** 3)


def deflection(
    short_m: ArrayLike, long_m: ArrayLike, thickness_m: ArrayLike, pressure: ArrayLike
) -> Number:
    r"""Deflection of the middle of a pane under a pressure [m], by the polynomial of E1300's appendix.

    .. math:: w = t\, e^{r_0 + r_1 x + r_2 x^2}, \qquad x = \ln \ln \hat q

    Parameters
    ----------
    short_m, long_m, thickness_m : float or array
        Sides in either order and thickness [m].
    pressure : float or array
        [Pa], of either sign; the deflection is without one.

    Notes
    -----
    Form and a worked sheet were read, the coefficients are from memory; together they agree. Within 6 % of
    the plate solved directly for sides up to 1.5 to 1 and q̂ up to 1000, else within 10 %, mostly low.
    The polynomial has no meaning near q̂ = 1. So up to q̂ = 10 the deflection is that of small ones; beyond
    it is never more than that, nor less than at 10. Panes longer than 5 to 1 go by small ones throughout.

    Examples
    --------
    E1300's example, printed as 12.2 mm:

    >>> round(deflection(1.2, 1.5, 0.00556, 1800.0) * 1e3, 1)
    12.2
    """
    b, a, t = _pane(short_m, long_m, thickness_m)
    q = np.abs(np.asarray(pressure, dtype=np.float64))
    small = np.asarray(small_deflection(b, a, t, q, modulus=MODULUS, poisson=POISSON))
    load = q * (a * b) ** 2 / (MODULUS * t**4)
    least = small * _SMALL_LOAD / np.maximum(load, _SMALL_LOAD)
    bent = t * np.exp(_deflection_exponent(np.maximum(load, _SMALL_LOAD), a / b))
    large = np.clip(bent, least, small)
    plain = (load <= _SMALL_LOAD) | (a / b > _POLYNOMIAL_RATIO)
    return _plain(np.where(plain, small, large))


def stress_index(bent: Bent) -> float:
    """J: logarithm of the mean of (c ŝ₁)^m over the face in tension, of a plate bent so [-]."""
    pulled = bent.major > 0
    major = np.where(pulled, bent.major, 1.0)
    terms = np.where(pulled, major, 0.0) ** FLAW_SHAPE * biaxial(bent.minor / major)
    return float(np.log((bent.weight * terms).sum()))


def biaxial(ratio: Array) -> Array:
    r"""c^m for principal stresses of a ratio n = s₂/s₁, at most 1 [-]; the greater in tension.

    .. math:: c^m = \frac2\pi \int_0^{\bar\theta} (\cos^2\theta + n \sin^2\theta)^m d\theta

    Flaws lie in all directions and each feels the stress across it; those in compression do not open.
    """
    n = np.minimum(np.asarray(ratio, dtype=np.float64), 1.0)
    closed = np.arctan(1 / np.sqrt(np.where(n < 0, -n, 1.0)))
    end = np.where(n < 0, closed, np.pi / 2)
    at, weight = leggauss(_DIRECTIONS)
    turn = end[..., None] * (at + 1) / 2
    felt = (np.cos(turn) ** 2 + n[..., None] * np.sin(turn) ** 2) ** FLAW_SHAPE
    value: Array = felt @ weight * end / np.pi
    return value


def _load_of(index: Array, ratio: Array) -> Array:
    """q̂ at which a plate of sides a/b has a J; beyond the table with its seventh root."""
    J, r = np.broadcast_arrays(index, ratio)
    logs = np.log(LOADS)
    rows = np.stack([_inverse(J, row, logs) for row in INDEX])
    at = np.clip(np.searchsorted(RATIOS, r, side="right") - 1, 0, len(RATIOS) - 2)
    share = (r - RATIOS[at]) / (RATIOS[at + 1] - RATIOS[at])
    low = np.take_along_axis(rows, at[None], axis=0)[0]
    high = np.take_along_axis(rows, at[None] + 1, axis=0)[0]
    load: Array = np.exp(low + share * (high - low))
    return load


def _inverse(J: Array, row: Array, logs: Array) -> Array:
    # While deflections are small, stress is in proportion to load; far beyond the table it rises slower,
    # so that the seventh root is on the safe side there.
    inside = np.interp(J, row, logs)
    beyond = np.minimum(J - row[0], 0.0) + np.maximum(J - row[-1], 0.0)
    value: Array = inside + beyond / FLAW_SHAPE
    return value


def _deflection_exponent(load: Array, ratio: Array) -> Array:
    x = np.log(np.log(load))
    r = np.minimum(ratio, _POLYNOMIAL_RATIO)
    r0 = 0.553 - 3.83 * r + 1.11 * r**2 - 0.0969 * r**3
    r1 = -2.29 + 5.83 * r - 2.17 * r**2 + 0.2067 * r**3
    r2 = 1.485 - 1.908 * r + 0.815 * r**2 - 0.0822 * r**3
    exponent: Array = r0 + r1 * x + r2 * x**2
    return exponent


def _pane(short: ArrayLike, long: ArrayLike, thickness: ArrayLike) -> tuple[Array, Array, Array]:
    """Lesser side, greater side and thickness."""
    one, other = np.asarray(short, dtype=np.float64), np.asarray(long, dtype=np.float64)
    t = np.asarray(thickness, dtype=np.float64)
    if not (np.all(one > 0) and np.all(other > 0) and np.all(t > 0)):
        raise ValueError("found a side or thickness of zero or less, expected all above zero")
    return np.minimum(one, other), np.maximum(one, other), t


def _plain(value: ArrayLike) -> Number:
    """A plain float where there is one number only."""
    array = np.asarray(value, dtype=np.float64)
    return float(array) if array.ndim == 0 else array
