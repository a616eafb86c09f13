"""What stands on both sides of glazing, and the sets of it that standards name."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Conditions:
    """Both sides of the glazing. Each value is a number or an array; they are broadcast together.

    ``outdoor``, ``indoor`` air temperature [°C]; ``outside_convection`` [W/(m2 K)], see
    :func:`sashwright.physics.cavity.wind_convection`; ``inside_convection`` [W/(m2 K)], natural
    convection along the pane where it is None; ``outdoor_radiant``, ``indoor_radiant``, the black
    surroundings that the faces see [°C], the air's where None.
    """

    outdoor: Array | float
    indoor: Array | float
    outside_convection: Array | float
    inside_convection: Array | float | None = None
    outdoor_radiant: Array | float | None = None
    indoor_radiant: Array | float | None = None


NFRC_WINTER = Conditions(-18.0, 21.0, 26.0)
"""For the U-factor: NFRC 100, wind of 5.5 m/s (from memory; it gives the handbook's U-factors)."""
NFRC_SUMMER = Conditions(32.0, 24.0, 15.0)
"""For the solar heat gain coefficient: NFRC 200, wind of 2.75 m/s, with ``NFRC_SUN`` (from memory)."""
NFRC_SUN = 783.0
"""[W/m2]; NFRC 200 (from memory)."""
ISO_WINTER = Conditions(0.0, 20.0, 20.0, 3.6)
"""European practice: ISO 15099:2003, 8.2, and the films of EN 673 (from memory)."""
ISO_SUMMER = Conditions(30.0, 25.0, 8.0, 2.5)
"""ISO 15099:2003, 8.2, with ``ISO_SUMMER_SUN`` (from memory)."""
ISO_SUMMER_SUN = 500.0
"""[W/m2]; ISO 15099:2003, 8.2 (from memory)."""
