r"""Bars, rails and stiles as beams on two supports: bending, sag, and what wood bears.

A pane passes its wind to its four edges. Lines at 45 degrees from its corners share it out: the long sides
carry trapezoids, the short ones triangles. Numbers and arrays alike; all SI.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]
Number = float | Array

DEFLECTION_RATIO = 175.0
"""Span over the most that a support of glass may sag [-]: ASTM E1300, IBC 2403.3, and classes CW and AW
of AAMA/WDMA/CSA 101/I.S.2/A440; classes R and LC measure and only report it."""

LONG_EDGE = 4.1148
"""Length of glass edge, 13 ft 6 in, beyond which IBC 2403.3 asks for span/240 + 1/4 in instead [m]."""

FIFTH_PERCENTILE = 1.645
"""Standard deviations below the mean of the 5 % weakest; a normal distribution's."""

BENDING_VARIATION = 0.16
"""Coefficient of variation of clear wood's modulus of rupture [-]; Wood Handbook, chapter 5 (from
memory)."""

BENDING_ADJUSTMENT = 2.1
"""From the 5 % weakest of clear pieces to allowable bending under normal loading, that is ten years, with
a factor of safety of 1.3 in it [-]; ASTM D245 (from memory)."""

SEASONING = 1.25
"""Allowable bending of wood at 19 % of moisture or less over that of green wood [-]; ASTM D245 (from
memory)."""

SEASONED_OF_DRY = 0.65
"""1.25 × green over 12 % modulus of rupture [-], for woods of which only the latter is known.

Judgement: 0.60 to 0.75 for the five pines of the Wood Handbook's table 5-3a whose two values were read.
"""

WIND_DURATION = 1.6
"""Allowable stress under a gust over that under ten years' load [-]; National Design Specification, load
duration factor for wind (from memory). Never on stiffness."""

CLEAR_GRAIN = 1.0
"""Strength ratio of clear, straight-grained stock, as sash is made of [-]; common practice. Lower it for
knots, sloping grain and mortises."""

# Places along the span at which loads are added up; odd, so that the middle is one of them.
_PLACES = 401


@dataclass(frozen=True, slots=True)
class Bending:
    """Of a beam: greatest ``moment`` [N m], ``deflection`` [m] and ``reaction`` of a support [N]."""

    moment: Number
    deflection: Number
    reaction: Number


# --- what a beam carries --------------------------------------------------------------


def tributary(pressure: ArrayLike, span: ArrayLike, reach: ArrayLike) -> tuple[Number, Number]:
    """Line load of one pane on one of its edges: its peak [N/m] and how far from the ends it rises [m].

    Parameters
    ----------
    pressure : float or array
        On the pane [Pa].
    span : float or array
        Length of the edge [m].
    reach : float or array
        The pane's other side, square to the edge [m].

    Notes
    -----
    The load rises at 45 degrees, p to the metre, up to p × min(reach, span) / 2. A bar between two panes
    carries both.

    Examples
    --------
    >>> tributary(1000.0, 0.9, 0.6)
    (300.0, 0.3)
    """
    p, L, h = _arrays(pressure, span, reach)
    corner = np.minimum(h, L) / 2
    return _plain(p * corner), _plain(corner)


def trapezoid(span: ArrayLike, peak: ArrayLike, corner: ArrayLike, stiffness: ArrayLike) -> Bending:
    r"""A load that rises evenly from nothing at both supports and is level between.

    .. math:: M = \frac{w (3 L^2 - 4 c^2)}{24}, \qquad
       \delta = \frac{w (5 L^2 - 4 c^2)^2}{1920\, E I}, \qquad R = \frac{w (L - c)}{2}

    Parameters
    ----------
    span : float or array
        L [m].
    peak : float or array
        w [N/m].
    corner : float or array
        c, length of each rising end [m]: 0 is an even load, half the span a triangle.
    stiffness : float or array
        E I [N m2].

    Examples
    --------
    >>> trapezoid(2.0, 100.0, 0.0, 1000.0).moment, trapezoid(2.0, 120.0, 1.0, 1000.0).moment
    (50.0, 40.0)
    """
    L, w, c, EI = _arrays(span, peak, corner, stiffness)
    if np.any((c < 0) | (c > L / 2 * (1 + 1e-9))):
        raise ValueError("found a rising end beyond the middle, expected 0 to half the span")
    return Bending(
        _plain(w * (3 * L**2 - 4 * c**2) / 24),
        _plain(w * (5 * L**2 - 4 * c**2) ** 2 / (1920 * EI)),
        _plain(w * (L - c) / 2),
    )


def point(span: ArrayLike, force: ArrayLike, place: ArrayLike, stiffness: ArrayLike) -> Bending:
    r"""A force at one place, such as a bar's end on the bar that it meets.

    With b the lesser distance to a support,

    .. math:: M = \frac{P b (L - b)}{L}, \qquad
       \delta = \frac{P b (L^2 - b^2)^{3/2}}{9 \sqrt 3\, L\, E I}, \qquad R = \frac{P (L - b)}{L}

    Parameters
    ----------
    span, force, place, stiffness : float or array
        L [m], P [N], distance from a support [m], E I [N m2].
    """
    L, P, a, EI = _arrays(span, force, place, stiffness)
    if np.any((a < 0) | (a > L)):
        raise ValueError("found a force beyond the span, expected it between the supports")
    b = np.minimum(a, L - a)
    return Bending(
        _plain(P * b * (L - b) / L),
        _plain(P * b * (L**2 - b**2) ** 1.5 / (9 * np.sqrt(3) * L * EI)),
        _plain(P * (L - b) / L),
    )


def together(
    span: float,
    stiffness: float,
    *,
    trapezoids: Sequence[tuple[float, float]] = (),
    points: Sequence[tuple[float, float]] = (),
) -> Bending:
    """Several loads at once on one beam.

    Parameters
    ----------
    span, stiffness : float
        L [m] and E I [N m2].
    trapezoids : sequence of (peak, corner)
        As for :func:`trapezoid` [N/m, m].
    points : sequence of (force, place)
        As for :func:`point`, places from one and the same support [N, m].

    Notes
    -----
    Moments are exact at 401 places; the sag is their double integral by the trapezoid rule, good to 0.01 %.
    """
    x = np.linspace(0.0, span, _PLACES)
    moment, left, right = np.zeros_like(x), 0.0, 0.0
    for peak, corner in trapezoids:
        moment += _trapezoid_moment(x, span, peak, corner)
        left += peak * (span - corner) / 2
        right += peak * (span - corner) / 2
    for force, place in points:
        support = force * (span - place) / span
        moment += support * x - force * np.maximum(x - place, 0.0)
        left += support
        right += force - support
    sag = _sag(x, moment) / stiffness
    return Bending(
        float(np.abs(moment).max()), float(np.abs(sag).max()), max(abs(left), abs(right))
    )


def along(
    span: float,
    stiffness: float,
    *,
    stretches: Sequence[tuple[float, float, float, float]] = (),
    points: Sequence[tuple[float, float]] = (),
) -> Bending:
    """Loads that each lie on a stretch of a beam, such as those of the panes along a bar.

    Parameters
    ----------
    span, stiffness : float
        L [m] and E I [N m2].
    stretches : sequence of (start, length, peak, corner)
        As for :func:`trapezoid`, from ``start`` on [m, m, N/m, m].
    points : sequence of (force, place)
        As for :func:`together` [N, m].

    Notes
    -----
    Exact for each stretch at 401 places; good to 0.01 %.

    Examples
    --------
    >>> round(along(2.0, 1000.0, stretches=[(0.0, 2.0, 100.0, 0.0)]).moment, 6)
    50.0
    """
    x = np.linspace(0.0, span, _PLACES)
    moment, left, right = np.zeros_like(x), 0.0, 0.0
    for start, length, peak, corner in stretches:
        whole = peak * (length - corner)
        far = whole * (start + length / 2) / span
        within = np.clip(x - start, 0.0, length)
        # What a stretch would bend between supports of its own, and the straight line of its resultants.
        own = _trapezoid_moment(within, length, peak, corner)
        moment += own + _lever(x, span, start, length, whole)
        left += whole - far
        right += far
    for force, place in points:
        support = force * (span - place) / span
        moment += support * x - force * np.maximum(x - place, 0.0)
        left += support
        right += force - support
    sag = _sag(x, moment) / stiffness
    return Bending(
        float(np.abs(moment).max()), float(np.abs(sag).max()), max(abs(left), abs(right))
    )


def _lever(x: Array, span: float, start: float, length: float, whole: float) -> Array:
    """Moment of half of a load at each end of its stretch."""
    moment = np.zeros_like(x)
    for place in (start, start + length):
        support = whole / 2 * (span - place) / span
        moment += support * x - whole / 2 * np.maximum(x - place, 0.0)
    return moment


def _trapezoid_moment(x: Array, span: float, peak: float, corner: float) -> Array:
    """Moment along the span, counted from the nearer support."""
    near = np.minimum(x, span - x)
    # Up to the corner the load is w x / c, and its moment w x³ / 6c; beyond it the level part goes on.
    share = np.divide(near, corner, out=np.ones_like(near), where=near < corner)
    rising = near**2 * share / 6
    level = (3 * near * (near - corner) + corner**2) / 6
    support = peak * (span - corner) / 2
    moment: Array = support * near - peak * np.where(near < corner, rising, level)
    return moment


def _sag(x: Array, moment: Array) -> Array:
    """Double integral of a moment that vanishes at both supports [N m3]."""
    step = x[1] - x[0]

    def sums(values: Array) -> Array:
        return np.concatenate([[0.0], np.cumsum((values[1:] + values[:-1]) / 2 * step)])

    twice = sums(sums(moment))
    sag: Array = twice[-1] * x / x[-1] - twice
    return sag


# --- what a bar bears -----------------------------------------------------------------


def rectangle_inertia(width: ArrayLike, depth: ArrayLike) -> Number:
    """Second moment of a rectangle, ``depth`` being the way the wind blows: b d³/12 [m4]."""
    b, d = _arrays(width, depth)
    return _plain(b * d**3 / 12)


def rectangle_modulus(width: ArrayLike, depth: ArrayLike) -> Number:
    """Section modulus of a rectangle: b d²/6 [m3]. Take the width net of the glazing rabbet."""
    b, d = _arrays(width, depth)
    return _plain(b * d**2 / 6)


def shear_stress(reaction: ArrayLike, width: ArrayLike, depth: ArrayLike) -> Number:
    """Greatest shear stress of a rectangle: 1.5 R / (b d) [Pa]."""
    R, b, d = _arrays(reaction, width, depth)
    return _plain(1.5 * R / (b * d))


def allowable_bending(
    green_rupture: ArrayLike,
    *,
    variation: float = BENDING_VARIATION,
    seasoning: float = SEASONING,
    grain: float = CLEAR_GRAIN,
    duration: float = WIND_DURATION,
) -> Number:
    r"""Bending stress that clear wood may bear under a gust [Pa].

    .. math:: f = \frac{\bar R\, (1 - 1.645\, v)}{2.1} \times \text{seasoning} \times \text{grain}
       \times \text{duration}

    Parameters
    ----------
    green_rupture : float or array
        Mean modulus of rupture of green wood [Pa]. Of a wood known at 12 % only, take that value times
        ``SEASONED_OF_DRY`` and a seasoning of 1.
    variation, seasoning, grain, duration : float
        See the constants [-].

    Notes
    -----
    ASTM D2555 and D245, for sash stock is thinner than the lumber that graded values are for. Old,
    decayed or repaired wood is a matter for the eye, not for this.

    Examples
    --------
    Lodgepole pine, mean 5490 and standard deviation 878 psi:

    >>> round(allowable_bending(5490.0, variation=878 / 5490))
    3853
    """
    R = np.asarray(green_rupture, dtype=np.float64)
    weakest = R * (1 - FIFTH_PERCENTILE * variation)
    return _plain(weakest / BENDING_ADJUSTMENT * seasoning * grain * duration)


def deflection_limit(span: ArrayLike) -> Number:
    """Most that a support of a glass edge may sag under the design pressure [m].

    A 175th of the span; beyond 13 ft 6 in a 240th and a quarter inch. Source: IBC 2403.3.
    """
    L = np.asarray(span, dtype=np.float64)
    return _plain(np.where(L <= LONG_EDGE, L / DEFLECTION_RATIO, L / 240 + 0.00635))


def _arrays(*values: ArrayLike) -> list[Array]:
    return [np.asarray(value, dtype=np.float64) for value in values]


def _plain(value: ArrayLike) -> Number:
    """A plain float where there is one number only."""
    array = np.asarray(value, dtype=np.float64)
    return float(array) if array.ndim == 0 else array
