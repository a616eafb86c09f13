"""At what humidity of the room each face becomes wet, for stated temperatures outdoors."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.heat.condensation_air import exchange_table, reading_in_calm
from sashwright.chapters.heat.condensation_cases import as_found
from sashwright.chapters.heat.condensation_faces import (
    Factors,
    Glazing,
    Still,
    room_faces,
    still_faces,
)
from sashwright.chapters.heat.condensation_weather import foot_of
from sashwright.chapters.seal.window import Sealed
from sashwright.physics.constants import STANDARD_PRESSURE
from sashwright.physics.psychrometrics import (
    humidity_ratio,
    saturation_pressure,
    vapour_pressure_from_ratio,
)
from sashwright.physics.vapour import face_ratio, humidity_at_start

Array = NDArray[np.float64]

OUTDOORS = np.arange(-20.0, 10.1, 5.0)
"""Of the curve [°C]."""
OUTDOOR_HUMIDITY = 0.80
"""Relative humidity outdoors in the cold, over water [-]; common practice."""


@dataclass(frozen=True, slots=True, eq=False)
class Start:
    """Relative humidity of the room from which a face is wet [-], 1 where no humidity wets it.

    Each of the shape of ``outdoors`` [°C], in a room of ``room`` [°C].
    """

    outdoors: Array
    room: float
    faces: Still
    alone: Mapping[str, Array]
    """By part of the prime sash without a storm."""
    behind: Mapping[str, Array]
    """Likewise behind a storm, and ``storm`` for its own inside face."""
    share: Array
    """Of the air behind the storm that comes from the room, in a calm [-]."""


def start_of(
    sealed: Sealed,
    glazing: Glazing,
    eaves: float,
    outdoors: Array,
    room: float,
    factors: tuple[Factors, Factors],
) -> Start:
    """Humidity at start for temperatures outdoors; ``factors`` without and behind a storm."""
    faces = still_faces(glazing, outdoors, room)
    alone = room_faces(faces.alone, factors[0], outdoors, room)
    behind = room_faces(faces.behind, factors[1], outdoors, room)
    share = _share(sealed, eaves, faces, room)
    start = {part: humidity_at_start(face, room) for part, face in behind.items()}
    start["storm"] = _storm_start(faces.storm, share, outdoors, room)
    return Start(
        outdoors,
        room,
        faces,
        {part: humidity_at_start(face, room) for part, face in alone.items()},
        start,
        share,
    )


def _share(sealed: Sealed, eaves: float, faces: Still, room: float) -> Array:
    """Room air behind the storm in a calm, as found; warmth alone drives it [-]."""
    table = exchange_table(sealed, [as_found(sealed)], float(np.mean(faces.warmth)))
    weights = reading_in_calm(room, faces.outdoors, foot_of(sealed.placed), eaves)
    warm, cold = (np.asarray(weights @ each)[:, 0] for each in table)
    total = warm + cold
    return np.asarray(np.divide(warm, total, out=np.zeros_like(total), where=total > 0))


def _storm_start(storm: Array, share: Array, outdoors: Array, room: float) -> Array:
    r"""Humidity of the room that makes what mixes behind the storm as moist as its face can stand.

    .. math:: W_i = W_o + (W_{sat} - W_o)/\varphi
    """
    pressure = np.full(len(outdoors), STANDARD_PRESSURE)
    outdoor_vapour: Array = OUTDOOR_HUMIDITY * saturation_pressure(outdoors)
    out = humidity_ratio(outdoor_vapour, pressure)
    room_for = face_ratio(storm, pressure) - out
    ratio = out + np.divide(room_for, share, out=np.full_like(share, np.inf), where=share > 0)
    finite: Array = np.where(np.isfinite(ratio), np.maximum(ratio, 0.0), 1.0)
    vapour = vapour_pressure_from_ratio(finite, pressure)
    return np.asarray(np.minimum(vapour / saturation_pressure(room), 1.0))
