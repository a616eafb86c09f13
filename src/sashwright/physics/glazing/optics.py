"""Sun and daylight through one pane and through several, by angle of incidence.

Plain panes: Snell's law, Fresnel's reflections and Bouguer's absorption, summed over all passes to and fro
(any textbook on solar energy; the same in ISO 9050 and ISO 15099). One wave band at a time: what is put
in for the sun gives the sun's, what is put in for the eye gives the visible.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

GLASS_INDEX = 1.526
"""Refractive index of soda-lime glass in sunlight [-]; the common textbook value."""


@dataclass(frozen=True, slots=True)
class Optics:
    """A pane in one wave band: fractions of what falls on it.

    ``transmittance``, and reflectance of the face towards outdoors (``front``) and of that towards the
    room (``back``). All of one shape; where the first axis is 2 long and named so by the maker, it is
    the two polarisations.
    """

    transmittance: Array
    front: Array
    back: Array


@dataclass(frozen=True, slots=True)
class PlainPane:
    """A pane without coating: refractive ``index`` [-] and ``depth``, absorption x thickness [-]."""

    index: float
    depth: float

    def __post_init__(self) -> None:
        if self.index <= 1 or self.depth < 0:
            raise ValueError(
                f"found an index of {self.index} and a depth of {self.depth}, "
                "expected more than 1 and at least 0"
            )

    def at(self, angle: Array | float) -> Optics:
        return plain_pane(self.index, self.depth, angle)


@dataclass(frozen=True, slots=True)
class CoatedPane:
    """A pane known by what it lets through and throws back at normal incidence [-]."""

    transmittance: float
    front: float
    back: float

    def __post_init__(self) -> None:
        values = self.transmittance, self.front, self.back
        if min(values) < 0 or self.transmittance + max(self.front, self.back) > 1:
            raise ValueError(
                f"found transmittance {values[0]} with reflectances {values[1]} and {values[2]}, "
                "expected none below 0 and no more than 1 together"
            )

    def at(self, angle: Array | float) -> Optics:
        return coated_pane(self, angle)


AnyPane = PlainPane | CoatedPane


@dataclass(frozen=True, slots=True)
class Through:
    """Through several panes: ``transmittance``, ``reflectance`` to outdoors, ``absorptances`` of each pane.

    Fractions of what falls on the outermost; absorptances have a first axis of panes.
    """

    transmittance: Array
    reflectance: Array
    absorptances: Array


def plain_pane(index: float, depth: float, angle: Array | float) -> Optics:
    r"""A pane without coating, each polarisation by itself: shape (2, ...).

    .. math::
        \tau = \frac{a (1 - r)^2}{1 - r^2 a^2},\quad \rho = r (1 + a \tau),\quad
        a = e^{-K L / \cos\theta_2}

    Parameters
    ----------
    index : float
        Of refraction [-].
    depth : float
        Absorption coefficient times thickness, K L [-].
    angle : float or array
        Of incidence [rad], 0 to pi/2.
    """
    theta = np.asarray(angle, dtype=np.float64)
    # Along the glass itself nothing passes, but the formulas would divide nothing by nothing.
    outer = np.maximum(np.cos(theta), 1e-12)
    inner = np.sqrt(1 - (np.sin(theta) / index) ** 2)
    # In this form normal incidence needs no case of its own.
    r = np.stack(
        [
            ((outer - index * inner) / (outer + index * inner)) ** 2,
            ((inner - index * outer) / (inner + index * outer)) ** 2,
        ]
    )
    a = np.exp(-depth / inner)
    transmittance = a * (1 - r) ** 2 / (1 - (r * a) ** 2)
    reflectance = r * (1 + a * transmittance)
    return Optics(transmittance, reflectance, reflectance)


def plain_from_normal(transmittance: float, reflectance: float) -> PlainPane:
    """The uncoated pane with these values at normal incidence [-]: the two formulas above, solved.

    Raises
    ------
    ValueError
        If no uncoated pane has such values.
    """
    t, p = transmittance, reflectance
    beta = t * t - p * p + 2 * p + 1
    inside = beta * beta - 4 * (2 - p) * p
    if not (0 < t < 1 and 0 < p < 1 and t + p <= 1 and inside >= 0):
        raise ValueError(f"found transmittance {t} with reflectance {p}, expected those of a pane")
    r = (beta - inside**0.5) / (2 * (2 - p))
    passing = (p - r) / (r * t)
    root = r**0.5
    return PlainPane((1 + root) / (1 - root), max(0.0, -float(np.log(passing))))


def coated_pane(normal: CoatedPane, angle: Array | float) -> Optics:
    """A pane with given values at normal incidence, both polarisations alike: shape (2, ...).

    The shape over the angle is that of clear glass that absorbs nothing: transmittance and absorptance
    fall in its proportion, and reflectance takes up the rest. An approximation (common practice for
    coatings without published angular values): up to some 0.03 off for low-emissivity coatings, from memory.
    """
    straight = plain_pane(GLASS_INDEX, 0.0, 0.0).transmittance.mean(axis=0)
    share = plain_pane(GLASS_INDEX, 0.0, angle).transmittance.mean(axis=0) / straight
    share = np.stack([share, share])
    return Optics(
        normal.transmittance * share,
        1 - (1 - normal.front) * share,
        1 - (1 - normal.back) * share,
    )


def through(panes: Sequence[Optics]) -> Through:
    """All passes to and fro between panes, from outdoors to a black room; no mean over polarisations.

    Worked from the room outward: what lies behind each pane throws back a known share. Layers of a
    shape ``...`` give values of that shape.
    """
    if not panes:
        raise ValueError("found no panes, expected at least one")
    behind = [np.zeros_like(panes[-1].front)]
    for pane in reversed(panes):
        back = pane.transmittance**2 * behind[0] / (1 - pane.back * behind[0])
        behind.insert(0, pane.front + back)
    inward = np.ones_like(behind[0])
    absorptances = []
    for pane, beyond in zip(panes, behind[1:], strict=True):
        passed = pane.transmittance * inward / (1 - pane.back * beyond)
        from_front = inward * (1 - pane.transmittance - pane.front)
        from_back = passed * beyond * (1 - pane.transmittance - pane.back)
        absorptances.append(from_front + from_back)
        inward = passed
    return Through(inward, behind[0], np.stack(absorptances))


def at_angle(panes: Sequence[AnyPane], angle: Array | float) -> Through:
    """Unpolarised beam at an angle [rad] through panes from outdoors to the room; the angle's shape."""
    both = through([pane.at(angle) for pane in panes])
    return Through(
        both.transmittance.mean(axis=0),
        both.reflectance.mean(axis=0),
        both.absorptances.mean(axis=1),
    )


def diffuse(panes: Sequence[AnyPane]) -> Through:
    r"""The same for light from all sides alike: :math:`2 \int f \sin\theta \cos\theta\, d\theta`."""
    nodes, weights = np.polynomial.legendre.leggauss(40)
    angle = (nodes + 1) * np.pi / 4
    share = weights * np.pi / 4 * np.sin(2 * angle)
    beam = at_angle(panes, angle)
    return Through(beam.transmittance @ share, beam.reflectance @ share, beam.absorptances @ share)
