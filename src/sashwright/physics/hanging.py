"""A mass hung on cords over pulleys against counterweights: lengths, tensions, forces to move it."""

from __future__ import annotations

import math
from typing import Literal

import numpy as np
from numpy.typing import NDArray

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s2]; 3rd General Conference on Weights and Measures, 1901."""

Array = NDArray[np.float64]


def section_area(shape: Literal["round", "square"], size: float) -> float:
    """Area [m2] of a round bar of diameter, or a square one of side, ``size`` [m]."""
    return math.pi * size * size / 4 if shape == "round" else size * size


def bar_length(mass: float, density: float, area: float) -> float:
    """Length [m] of a plain bar of ``mass`` [kg], ``density`` [kg/m3] and section ``area`` [m2]."""
    return mass / (density * area)


def axle_loss(friction: float, axle_diameter: float, wheel_diameter: float) -> float:
    """Share of the two tensions' sum lost at a wheel's axle: friction x axle / wheel [-].

    Moments about the axle: (T1 - T2) D/2 = mu (T1 + T2) d/2, the axle bearing on one side with both
    tensions upon it. ``wheel_diameter`` is measured to the middle of the cord.
    """
    return friction * axle_diameter / wheel_diameter


def tension_ratio(loss: float) -> float:
    """Greater over lesser tension of a cord just moving over a wheel with this ``axle_loss`` [-]."""
    return (1 + loss) / (1 - loss)


def forces_to_move(
    mass: float,
    counterweight: Array | float,
    cord_mass: Array,
    counter_cord_mass: Array,
    ratio: float,
    drag: Array | float,
) -> tuple[Array, Array]:
    """Forces that just raise and just lower a mass on two cords, each with a counterweight [N].

    Parameters
    ----------
    mass : float
        The hung mass [kg].
    counterweight : float
        Each of the two counterweights [kg].
    cord_mass, counter_cord_mass : array
        Mass of cord hanging on the sash's side and on the weight's side of each wheel, at each
        position [kg].
    ratio : float
        ``tension_ratio`` of the wheels [-].
    drag : float or array
        Sliding friction, against either motion [N].

    Returns
    -------
    raise_force, lower_force : array
        Upward push to raise and downward push to lower [N]. Where both are positive the mass stays
        put; a negative one means that it runs by itself in that direction.
    """
    load = (mass / 2 + cord_mass) * STANDARD_GRAVITY
    pull = (counterweight + counter_cord_mass) * STANDARD_GRAVITY
    raise_force = 2 * (load - pull / ratio) + drag
    lower_force = 2 * (pull * ratio - load) + drag
    return raise_force, lower_force
