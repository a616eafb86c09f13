"""The knife of a turning cutterhead: how much deeper than its cut it has to be ground."""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


def ground_depth(cut: Array | float, circle: float, hook: float) -> Array:
    """Depth along the face of a knife, back from its tip, that cuts so deep back from its deepest cut [m].

    A knife face that is not radial runs past the axis at a fixed distance, so a point of it that is
    farther in by ``cut`` on the radius is farther in by more along the face.

    Parameters
    ----------
    cut
        Distance back from the deepest cut [m].
    circle
        Radius of the circle that the tip cuts [m].
    hook
        Angle between the knife's face and the radius to its tip [degrees].

    Raises ``ValueError`` where the cut reaches into the head so far that no face is left.

    Notes
    -----
    Plane geometry: with the face at distance ``e = R sin(hook)`` from the axis, a point at radius r is
    ``sqrt(r² - e²)`` along it.
    """
    depth = np.asarray(cut, dtype=float)
    if not 0 <= hook < 90 or circle <= 0:
        raise ValueError(
            f"found a hook of {hook:g} degrees on a circle of {circle:g} m, expected 0 to 90 degrees and a "
            "radius above 0"
        )
    aside = circle * math.sin(math.radians(hook))
    if np.any(circle - depth <= aside):
        raise ValueError(
            f"found a cut {float(depth.max()) * 1000:.4g} mm deep on a circle of {circle * 1000:.4g} mm, "
            f"expected less than {(circle - aside) * 1000:.4g} mm at a hook of {hook:g} degrees"
        )
    return np.asarray(math.sqrt(circle**2 - aside**2) - np.sqrt((circle - depth) ** 2 - aside**2))
