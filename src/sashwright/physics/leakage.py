r"""Air through cracks: the power law, leakage areas, paths side by side and one behind another.

The law is :math:`Q = C\,\Delta p^n` with the flow Q [m3/s], the pressure difference Δp [Pa], the flow
coefficient C [m3/(s Pa^n)] and the exponent n, from 0.5 (an orifice, fully turbulent) to 1 (a long thin
crack, laminar); measured windows and houses lie near 0.65. Numbers and arrays alike.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Values = TypeVar("Values", float, Array)

AIR_DENSITY = 1.2
"""Density of air that leakage areas are reckoned with [kg/m3]; the usual reference, near 20 °C."""

REFERENCE_PRESSURE = 4.0
"""At which effective leakage areas are stated [Pa]: what wind and warmth cause on a usual day."""

# Most steps of Newton's method; five to ten are the rule, as slopes differ by a factor of 2 at most.
_TURNS = 60
# A step of the logarithm that changes nothing any more.
_CLOSE = 1e-14


def power_law_flow(
    coefficient: ArrayLike, exponent: ArrayLike, pressure_pa: ArrayLike
) -> float | Array:
    """Flow through a path [m3/s]; it follows the sign of the pressure difference.

    Parameters
    ----------
    coefficient : float or array
        C [m3/(s Pa^n)].
    exponent : float or array
        n [-].
    pressure_pa : float or array
        Difference across the path [Pa].

    Examples
    --------
    >>> round(power_law_flow(0.1048614e-3, 0.65, 75.0) * 1000, 5)
    1.73542
    """
    C, n, p = _arrays(coefficient, exponent, pressure_pa)
    return _plain(np.sign(p) * C * np.abs(p) ** n)


def effective_leakage_area(
    coefficient: ArrayLike,
    exponent: ArrayLike,
    reference_pa: ArrayLike = REFERENCE_PRESSURE,
    *,
    discharge_coefficient: float = 1.0,
    density: float = AIR_DENSITY,
) -> float | Array:
    r"""Area of the orifice that passes the same flow at a reference pressure [m2].

    .. math:: A = \frac{C\,\Delta p_r^{\,n}}{C_d \sqrt{2 \Delta p_r / \rho}}

    Parameters
    ----------
    coefficient, exponent : float or array
        C [m3/(s Pa^n)] and n [-] of the path.
    reference_pa : float or array
        Δp_r [Pa]: 4 for the American effective leakage area, 10 for the Canadian equivalent one.
    discharge_coefficient : float
        C_d [-]: 1 for the effective area; with 0.611 the equivalent area of a sharp-edged hole.
    density : float
        Of the air [kg/m3].

    Notes
    -----
    ASHRAE Handbook of Fundamentals, chapter on ventilation and infiltration. Holds for air only, and
    depends on the reference because a crack is no orifice: state both.

    Examples
    --------
    >>> round(effective_leakage_area(3.37364e-3, 0.662233, 4.0) * 1e4, 4)
    32.7226
    """
    C, n, p = (
        np.asarray(value, dtype=np.float64) for value in (coefficient, exponent, reference_pa)
    )
    speed = np.sqrt(2 * p / density)
    return _plain(C * p**n / (discharge_coefficient * speed))


def coefficient_from_area(
    area: ArrayLike,
    exponent: ArrayLike,
    reference_pa: ArrayLike = REFERENCE_PRESSURE,
    *,
    discharge_coefficient: float = 1.0,
    density: float = AIR_DENSITY,
) -> float | Array:
    r"""Flow coefficient of a leakage area [m3/(s Pa^n)]: the inverse of ``effective_leakage_area``.

    .. math:: C = A\,C_d \sqrt{2/\rho}\; \Delta p_r^{\,1/2 - n}
    """
    A, n, p = _arrays(area, exponent, reference_pa)
    return _plain(A * discharge_coefficient * np.sqrt(2 / density) * p ** (0.5 - n))


def convert_area(
    area: Values,
    exponent: float,
    *,
    from_pa: float,
    to_pa: float,
    from_discharge: float = 1.0,
    to_discharge: float = 1.0,
) -> Values:
    r"""A leakage area at another reference pressure and discharge coefficient [m2].

    .. math:: A_2 = A_1 \frac{C_{d1}}{C_{d2}} \left(\frac{\Delta p_2}{\Delta p_1}\right)^{n - 1/2}
    """
    factor: float = from_discharge / to_discharge * (to_pa / from_pa) ** (exponent - 0.5)
    return area * factor


def power_law_from_tests(
    flow_1: float, pressure_1: float, flow_2: float, pressure_2: float
) -> tuple[float, float]:
    r"""Coefficient [m3/(s Pa^n)] and exponent [-] from flows at two pressures.

    .. math:: n = \frac{\ln(Q_1/Q_2)}{\ln(\Delta p_1/\Delta p_2)}, \qquad C = Q_1 / \Delta p_1^{\,n}

    Raises
    ------
    ValueError
        When a flow or pressure is not above zero, or both pressures are one.
    """
    if min(flow_1, flow_2, pressure_1, pressure_2) <= 0:
        raise ValueError("found a flow or pressure of zero or less, expected all above zero")
    if pressure_1 == pressure_2:
        raise ValueError(f"found both tests at {pressure_1:g} Pa, expected two pressures")
    n = float(np.log(flow_1 / flow_2) / np.log(pressure_1 / pressure_2))
    return float(flow_1 / pressure_1**n), n


def series_flow(
    coefficients: ArrayLike, exponents: ArrayLike, pressure_pa: ArrayLike
) -> float | Array:
    r"""Flow through paths one behind another, such as a window and its storm sash [m3/s].

    The pressures of the paths add up and every path passes the same flow:

    .. math:: \sum_i (Q / C_i)^{1/n_i} = \Delta p

    Parameters
    ----------
    coefficients : array
        C of the paths along the first axis [m3/(s Pa^n)]; further axes broadcast with the pressure.
        A coefficient of 0 closes the way.
    exponents : array
        n of the paths, likewise, or one for all [-].
    pressure_pa : float or array
        Across all of them together [Pa]; the flow follows its sign.

    Notes
    -----
    Exact to rounding. In the logarithms of flow and pressure the left side is smooth and rises with
    a slope between 1/n of the largest and of the smallest exponent, so Newton's method cannot stray;
    for equal exponents its first step is the closed form
    :math:`C = (\sum_i C_i^{-1/n})^{-n}`.

    Examples
    --------
    A window of 1 and a storm sash of 0.5, of different exponents:

    >>> round(series_flow([1.0, 0.5], [0.65, 0.55], 75.0), 6)
    4.901815
    """
    C, n = _paths(coefficients, exponents)
    stages = [(C[path : path + 1], n[path : path + 1]) for path in range(len(C))]
    return stages_flow(stages, pressure_pa)


def stages_flow(
    stages: Sequence[tuple[ArrayLike, ArrayLike]], pressure_pa: ArrayLike
) -> float | Array:
    r"""Flow through stages one behind another, each of paths side by side [m3/s].

    .. math:: \sum_i p_i(Q) = \Delta p, \qquad \sum_j C_{ij}\, p_i^{\,n_{ij}} = Q

    Parameters
    ----------
    stages : sequence of (coefficients, exponents)
        Of the paths of each stage, along their first axis, as for :func:`series_flow`.
    pressure_pa : float or array
        Across all stages together [Pa].
    """
    pressure = np.asarray(pressure_pa, dtype=np.float64)
    ways = [_paths(C, n) for C, n in stages]
    shape = np.broadcast_shapes(pressure.shape, *(C.shape[1:] for C, _ in ways))
    total = np.broadcast_to(np.abs(pressure), shape)
    # No stage passes more than it would alone under the whole pressure.
    alone = [np.broadcast_to(parallel_flow(C, n, total), shape) for C, n in ways]
    most = np.minimum.reduce(alone)
    flow = np.zeros(shape)
    open_ = (most > 0) & (total > 0)
    flow[open_] = _through(
        [(_pick(C, shape, open_), _pick(n, shape, open_)) for C, n in ways],
        total[open_],
        most[open_],
    )
    return _plain(np.sign(pressure) * flow)


def parallel_flow(
    coefficients: ArrayLike, exponents: ArrayLike, pressure_pa: ArrayLike
) -> float | Array:
    """Flow through paths side by side [m3/s]: the sum along their first axis."""
    C, n = _paths(coefficients, exponents)
    p = np.asarray(pressure_pa, dtype=np.float64)
    return _plain(np.sign(p) * (C * np.abs(p) ** n).sum(axis=0))


def _arrays(*values: ArrayLike) -> list[Array]:
    return [np.asarray(value, dtype=np.float64) for value in values]


def _paths(coefficients: ArrayLike, exponents: ArrayLike) -> tuple[Array, Array]:
    """Both with the paths along the first axis."""
    C = np.atleast_1d(np.asarray(coefficients, dtype=np.float64))
    n = np.asarray(exponents, dtype=np.float64)
    if not np.all((C >= 0) & np.isfinite(C)):
        raise ValueError(f"found a flow coefficient of {C.min():g}, expected 0 or more, finite")
    if np.any((n < 0.5) | (n > 1)):
        worst = n.ravel()[np.argmax(np.abs(n - 0.75))]
        raise ValueError(f"found an exponent of {worst:g}, expected 0.5 to 1")
    if n.ndim < C.ndim:
        n = n.reshape(n.shape + (1,) * (C.ndim - n.ndim))
    both = np.broadcast_arrays(C, n)
    return both[0], both[1]


def _pick(values: Array, shape: tuple[int, ...], where: NDArray[np.bool_]) -> Array:
    """Paths along the first axis, and the chosen places of ``shape`` along the second."""
    aligned = values.reshape(
        values.shape[:1] + (1,) * (len(shape) - values.ndim + 1) + values.shape[1:]
    )
    return np.broadcast_to(aligned, (len(values), *shape))[:, where]


def _through(ways: Sequence[tuple[Array, Array]], total: Array, most: Array) -> Array:
    """The flow at which the stages' pressures make up ``total``; all of one length."""
    x, aim = np.log(most), np.log(total)
    for _ in range(_TURNS):
        pressures, slopes = zip(*(_pressure(C, n, x) for C, n in ways), strict=True)
        together = np.sum(pressures, axis=0)
        slope = np.sum([p * s for p, s in zip(pressures, slopes, strict=True)], axis=0) / together
        step = (np.log(together) - aim) / slope
        x = np.minimum(x - step, np.log(most))
        if np.all(np.abs(step) < _CLOSE):
            break
    flow: Array = np.minimum(np.exp(x), most)
    return flow


def _pressure(C: Array, n: Array, x: Array) -> tuple[Array, Array]:
    """Pressure that drives the flow exp(x) through paths side by side, and d ln p / d ln Q."""
    with np.errstate(divide="ignore"):
        logs = np.log(C)
    # As if the path that takes least pressure carried it all: never below the root, and the root
    # itself where there is one path only.
    y = np.min((x - logs) / n, axis=0)
    for _ in range(_TURNS):
        terms = np.exp(logs + n * y - x)
        carried = terms.sum(axis=0)
        share = (terms * n).sum(axis=0) / carried
        step = np.log(carried) / share
        y = y - step
        if np.all(np.abs(step) < _CLOSE):
            break
    return np.exp(y), 1 / share


def _plain(value: ArrayLike) -> float | Array:
    """A plain float where there is one number only."""
    array = np.asarray(value, dtype=np.float64)
    return float(array) if array.ndim == 0 else array
