"""Made-up climates to draw years from."""

from __future__ import annotations

from typing import Any

import numpy as np

from sashwright.physics.normals import Known, Normals, complete_normals

SEASON = -np.cos(2 * np.pi * (np.arange(12) - 0.5) / 12)


def temperate(**changes: Any) -> Normals:
    """A mid-latitude climate with a cold winter and a west wind; any monthly figure may be changed."""
    shares = np.tile([0.05, 0.05, 0.08, 0.10, 0.14, 0.18, 0.22, 0.10], (12, 1))
    speeds = np.tile([3.0, 2.5, 2.5, 3.0, 4.0, 4.5, 5.0, 4.0], (12, 1))
    figures: dict[str, Any] = {
        "temperature": 9 + 12 * SEASON,
        "temperature_max": 14.5 + 12.5 * SEASON,
        "temperature_min": 4 + 11.5 * SEASON,
        "temperature_deviation": 4 - 1.2 * SEASON,
        "humidity": 0.70 - 0.05 * SEASON,
        "dew_point": 3.3 + 10.4 * SEASON,
        "pressure": np.full(12, 100_500.0),
        "wind_speed": (shares * speeds).sum(axis=1),
        "wind_deviation": np.full(12, 2.2),
        "wind_shares": shares,
        "wind_speeds": speeds,
        "global_horizontal": 160 + 90 * SEASON,
        "diffuse_horizontal": 75 + 35 * SEASON,
    }
    return complete_normals(Known(**(figures | changes)), 42.0, 50.0)
