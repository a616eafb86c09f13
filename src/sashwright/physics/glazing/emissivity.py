"""Emissivity of a face to all sides from that straight on, which is what is measured."""

from __future__ import annotations

import numpy as np

NORMAL = (0.03, 0.05, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6, 0.7, 0.8, 0.89)
RATIO = (1.22, 1.18, 1.14, 1.10, 1.06, 1.03, 1.00, 0.98, 0.96, 0.95, 0.94)
"""To all sides over straight on [-]; EN 12898:2001, table 2 (from memory)."""


def corrected_emissivity(normal: float) -> float:
    """Emissivity to all sides of a glass face, coated or bare, from that straight on [-].

    EN 12898 (from memory): by lines between the ratios of its table; the outermost ratios are held.

    Raises
    ------
    ValueError
        If the emissivity is not within 0 to 1.

    Examples
    --------
    >>> round(corrected_emissivity(0.05), 3), round(corrected_emissivity(0.89), 3)
    (0.059, 0.837)
    """
    if not 0 <= normal <= 1:
        raise ValueError(f"found an emissivity of {normal}, expected 0 to 1")
    return normal * float(np.interp(normal, NORMAL, RATIO))
