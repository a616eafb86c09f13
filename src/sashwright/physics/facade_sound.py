"""Sound from outdoors through what stands open in a wall.

ISO 12354-3 (from memory): the standardised difference of levels is D2m,nT = R' + 10 lg(V / (6 T0 S)), with
T0 = 0.5 s. An opening lets all sound pass that meets it, so that R' = 10 lg(S / open) while the shut parts of
the wall pass little beside it. Levels outdoors are those of the sound that comes in, as noise is stated; 2 m
before a wall that throws it back they are 3 dB higher.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

REVERBERATION = 0.5
"""Of a furnished room, to which levels are standardised [s]; ISO 12354-3."""
REFLECTED = 3.0
"""What a wall adds to the level before it [dB]; ISO 12354-3."""


def level_difference(volume: ArrayLike, open_area: ArrayLike) -> Array:
    """Level outdoors less that in a room of ``volume`` [m3], through ``open_area`` [m2]; [dB]."""
    size, gap = _sizes(volume, open_area)
    return np.asarray(10 * np.log10(size / (6 * REVERBERATION * gap)) - REFLECTED)


def open_area(volume: ArrayLike, difference: ArrayLike) -> Array:
    """What may stand open in a room of ``volume`` [m3] for a ``difference`` of levels [dB]; [m2]."""
    size = np.asarray(volume, dtype=np.float64)
    wanted = np.asarray(difference, dtype=np.float64) + REFLECTED
    return np.asarray(size / (6 * REVERBERATION) * 10 ** (-wanted / 10))


def _sizes(volume: ArrayLike, area: ArrayLike) -> tuple[Array, Array]:
    size, gap = (np.asarray(each, dtype=np.float64) for each in (volume, area))
    if (size <= 0).any() or (gap <= 0).any():
        raise ValueError("sound through an opening: found a size of 0 or less, expected more")
    return size, gap
