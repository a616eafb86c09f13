"""Temperatures of the faces that may sweat: glass from the balance of glazing, frame parts by factors."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.heat.condensation_weather import Weather
from sashwright.chapters.heat.glass import Stack
from sashwright.physics.cavity import wind_convection
from sashwright.physics.glazing import (
    NFRC_WINTER,
    Balance,
    Conditions,
    Gap,
    Pane,
    detailed_balance,
    diffuse,
)
from sashwright.physics.vapour import face_ratio, face_temperature
from sashwright.window.spec import Wall

Array = NDArray[np.float64]

Part = Literal["glass", "glass edge", "muntin", "sash corner"]
"""What faces the room."""
PARTS: tuple[Part, ...] = ("glass", "glass edge", "muntin", "sash corner")
WORDS: Mapping[str, str] = {
    "glass": "the middle of the glass",
    "glass edge": "the edge of the glass",
    "muntin": "the muntins",
    "sash corner": "the corners of the sash",
    "storm": "the inside of the storm",
}
Factors = Mapping[str, float]
"""Temperature factor of a part, 0 as outdoors, 1 as the room; parts not named are left out."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """Glazing at its centre, from outdoors to the room.

    ``absorbs`` is the share of the sun on the wall that each pane takes up [-], none where empty;
    ``height`` of the glass [m].
    """

    panes: tuple[Pane, ...]
    gaps: tuple[Gap, ...] = ()
    height: float = 0.6
    absorbs: tuple[float, ...] = ()


def sheets_of(stack: Stack, height: float) -> Sheets:
    """A stack of glass with what each pane takes up of light from all sides alike; ``height`` [m]."""
    sun = diffuse([layer.solar for layer in stack.layers])
    absorbs = tuple(float(share) for share in sun.absorptances)
    return Sheets(tuple(stack.panes), tuple(stack.gaps), height, absorbs)


@dataclass(frozen=True, slots=True)
class Glazing:
    """The prime sash by itself, and behind a storm, which is the first pane of ``storm``."""

    prime: Sheets
    storm: Sheets

    def __post_init__(self) -> None:
        if len(self.storm.panes) <= len(self.prime.panes):
            raise ValueError(
                f"glazing: found {len(self.storm.panes)} panes with the storm, expected more than the "
                f"{len(self.prime.panes)} of the prime sash"
            )


@dataclass(frozen=True, slots=True, eq=False)
class Faces:
    """Of the glass in all hours of a year, each of shape (8760,)."""

    alone: Array
    """Room face of the prime sash without a storm [°C]."""
    behind: Array
    """The same behind the storm [°C]."""
    storm: Array
    """Inside face of the storm [°C]."""
    saturated: Array
    """Humidity ratio of air in balance with it [kg/kg]."""
    warmth: float
    """Of the air behind the storm, usually: 0 as outdoors, 1 as the room."""


_Known = dict[tuple[Glazing, float], Faces]


class Shared:
    """Faces found so far: windows of one glazing on one wall have them in common."""

    def __init__(self, weather: Weather) -> None:
        self.weather = weather
        self._known: _Known = {}

    def faces(self, glazing: Glazing, wall: Wall) -> Faces:
        key = (glazing, wall.faces)
        if key not in self._known:
            self._known[key] = faces_of(glazing, self.weather, wall)
        return self._known[key]


def faces_of(glazing: Glazing, weather: Weather, wall: Wall) -> Faces:
    """Glass hour by hour: wind, sun, sky and room of the year."""
    year, indoor = weather.year, weather.indoor
    conditions = Conditions(
        year.temperature,
        indoor.temperature,
        wind_convection(weather.wind),
        outdoor_radiant=weather.radiant(),
    )
    sun = weather.sun(wall)
    alone = _balance(glazing.prime, conditions, sun)
    both = _balance(glazing.storm, conditions, sun)
    storm = both.faces[1]
    return Faces(
        alone.faces[-1],
        both.faces[-1],
        storm,
        face_ratio(storm, year.pressure),
        _warmth(both, weather),
    )


def _balance(sheets: Sheets, conditions: Conditions, sun: Array) -> Balance:
    absorbed = [share * sun for share in sheets.absorbs] if sheets.absorbs else None
    return detailed_balance(
        sheets.panes, sheets.gaps, conditions, height=sheets.height, absorbed=absorbed
    )


def _warmth(both: Balance, weather: Weather) -> float:
    """Middle of the hours with at least 5 K between room and outdoors; half where there are none."""
    cold = weather.difference > 5
    if not cold.any():
        return 0.5
    air = (both.faces[1] + both.faces[2]) / 2 - weather.year.temperature
    return float(np.clip(np.median(air[cold] / weather.difference[cold]), 0.0, 1.0))


@dataclass(frozen=True, slots=True, eq=False)
class Still:
    """Glass at stated temperatures outdoors, by night, in the wind of the rating's winter."""

    outdoors: Array
    alone: Array
    behind: Array
    storm: Array
    warmth: Array


def still_faces(glazing: Glazing, outdoors: Array, room: float) -> Still:
    """Faces for a curve over the temperature outdoors [°C]; films of NFRC 100."""
    conditions = Conditions(outdoors, room, NFRC_WINTER.outside_convection)
    none = np.zeros(len(outdoors))
    alone = _balance(glazing.prime, conditions, none)
    both = _balance(glazing.storm, conditions, none)
    air = (both.faces[1] + both.faces[2]) / 2
    return Still(
        outdoors,
        alone.faces[-1],
        both.faces[-1],
        both.faces[1],
        (air - outdoors) / np.where(room == outdoors, np.inf, room - outdoors),
    )


def room_faces(
    glass: Array, factors: Factors, outdoors: Array, room: Array | float
) -> dict[str, Array]:
    """Temperature of every part that is known [°C]; the glass from its balance, the others by factor."""
    unknown = set(factors) - set(PARTS)
    if unknown:
        raise ValueError(
            f"factors: found {', '.join(sorted(unknown))}, expected some of {', '.join(PARTS)}"
        )
    faces = {"glass": glass}
    for part in PARTS[1:]:
        if part in factors:
            faces[part] = face_temperature(factors[part], outdoors, room)
    return faces
