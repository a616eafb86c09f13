r"""What one link passes at a pressure difference, and how fast that grows. Compiled.

Every flow is built on one smooth, rising function of the pressure difference Δ,

.. math:: f(\Delta) = \Delta\,(\Delta^2 + \varepsilon^2)^{(n - 1)/2},

which is the power law for :math:`|\Delta| \gg \varepsilon` and a straight line, laminar flow, below. Its
slope is finite and above zero everywhere, as Newton's method needs it. An opening has n = 1/2, and f
integrates over its height in closed form. All differences of nearly equal numbers are worked out by
hand, so that a level opening and a tall one, equal temperatures and unequal, are the same formula.
"""

from __future__ import annotations

from math import exp, log, sqrt

from sashwright.physics.compiled import compiled

CRACK_TRANSITION = 1e-3
"""ε of a crack [Pa]; ours. At 0.02 Pa a crack of n = 0.65 passes 0.04 % less than by the power law."""

OPENING_TRANSITION = 1e-5
"""ε of an opening [Pa]; ours. Small, as a door between rooms of nearly the same temperature has
some thousandths of a pascal from its middle to its top."""


@compiled
def crack_flow(difference: float, exponent: float) -> tuple[float, float]:
    """f of a crack, and its slope."""
    square = difference * difference
    small = CRACK_TRANSITION * CRACK_TRANSITION
    q = square + small
    power = exp(0.5 * (exponent - 1.0) * log(q))
    return difference * power, power * (exponent * square + small) / q


@compiled
def opening_flow(low: float, high: float, forth: float, back: float) -> tuple[float, float, float]:
    """Flow of an opening forth, its flow back, and the slope of the difference of both.

    ``low`` and ``high`` are the pressure differences at its bottom and top [Pa], between which they go
    straight; ``forth`` and ``back`` are the flows at 1 Pa either way.
    """
    if low >= 0.0 and high >= 0.0:
        mean, slope = _one_way(low, high)
        return forth * mean, 0.0, forth * slope
    if low <= 0.0 and high <= 0.0:
        mean, slope = _one_way(-low, -high)
        return 0.0, back * mean, back * slope
    # Both ways: each over its share of the height, from nothing at the neutral level.
    out, into = (high, -low) if high > 0.0 else (low, -high)
    span = out + into
    forward = forth * out / span * _from_nothing(out)
    backward = back * into / span * _from_nothing(into)
    return forward, backward, (forth * out / _root4(out) + back * into / _root4(into)) / span


@compiled
def _one_way(x: float, y: float) -> tuple[float, float]:
    """Mean of f between two differences of one sign [Pa], and the mean of its slope."""
    u, v = _root4(x), _root4(y)
    spread = (u + v) * (u * u + v * v)
    mean = 2.0 / 3.0 * (x + y) * (u * u + u * v + v * v) / spread
    return mean, 1.0 / u - y * (x + y) / (u * v * spread)


@compiled
def _from_nothing(x: float) -> float:
    """Mean of f between zero and a difference [Pa]."""
    u, v = _root4(x), sqrt(OPENING_TRANSITION)
    return 2.0 / 3.0 * x * (u * u + u * v + v * v) / ((u + v) * (u * u + v * v))


@compiled
def _root4(x: float) -> float:
    """Fourth root of Δ² + ε²."""
    return sqrt(sqrt(x * x + OPENING_TRANSITION * OPENING_TRANSITION))
