"""The air on each face of a window's members, day by day.

Sash stand between outdoors and room and are warm on one side; frame and beads beside them stand in what
leaks through, half of each; the inside stop stands in the room. Everything is worked out for many cases
at once: arrays are of shape (365, cases).
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.daily import DailyClimate
from sashwright.physics.moisture import equilibrium_moisture_content
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.window.boards import Stands

Array = NDArray[np.float64]

FILM_INSIDE = 0.13
"""Thermal resistance of still air on the room face [m2 K/W]; EN ISO 6946, table 7 (from memory)."""
FILM_OUTSIDE = 0.04
"""The same on the weather face [m2 K/W]; EN ISO 6946, table 7 (from memory)."""
STORM_LAYER = 0.18
"""Thermal resistance of the air behind a storm sash [m2 K/W]; EN ISO 6946, table 8, unventilated layer
of 25 mm and more (from memory). Weep holes take a little off."""
STORM_GLASS = 0.85
"""Share of sun that a storm sash lets through [-]; common practice for one clear pane."""
CAVITY_SHARE = 0.3
"""How far the moisture of the air behind a storm sash stands from that outdoors toward that of the room
[-]; judgement: a tight prime window and a vented storm keep it low."""
ABSORPTANCE = 0.5
"""Share of sun that the paint takes up [-]; common practice: white 0.25, mid tones 0.5, dark 0.9."""
WET_SHARE = {"sheltered": 0.01, "usual": 0.05, "driving rain": 0.15}
"""Share of the time that a weather face is wet [-]; judgement: it rains in 5 to 10 of 100 hours in most
of the eastern states (from memory), and walls get and stay wet by their exposure."""
DAMPEST = 0.98
"""Humidity above which a face is not taken [-]: beyond it water runs off or freezes."""
STOP_WARMTH = 0.2
"""How far the inside stop is from the room's temperature toward outdoors [-]; judgement."""
STORMS_UP, STORMS_DOWN = 304, 104
"""Days of the year, counted from 0, that storm sash go up (1 November) and come down (15 April);
common practice in the northern states."""

Storm = Literal["none", "winter", "all year"]


@dataclass(frozen=True, slots=True)
class Case:
    """One stand of wood in one place: ``insulation`` is the wood's own thermal resistance [m2 K/W]."""

    stands: Stands
    faces: float
    weather: str
    storm: Storm
    insulation: float


@dataclass(frozen=True, slots=True)
class Air:
    """At the outer face, the inner face and the edge of each case, shape (3, 365, cases).

    ``temperature`` of the wood there [°C], ``humidity`` of the air in touch with it [-].
    """

    temperature: Array
    humidity: Array

    @property
    def settled(self) -> Array:
        """Moisture content that ordinary wood would settle at there [-]."""
        return equilibrium_moisture_content(self.temperature, self.humidity)


def storm_days(storm: Storm) -> Array:
    """1 on days that the storm sash hangs, else 0, shape (365,)."""
    days = np.arange(365)
    if storm == "winter":
        up: Array = ((days >= STORMS_UP) | (days < STORMS_DOWN)).astype(np.float64)
        return up
    return np.full(365, 1.0 if storm == "all year" else 0.0)


def air_of(cases: Sequence[Case], climate: DailyClimate) -> Air:
    """The air that each case stands in."""
    weather = _Weather(cases, climate)
    stands = np.array([case.stands for case in cases])
    sash = _sash(weather, np.array([case.insulation for case in cases]))
    between, room = _between(weather), _room(weather)
    pick = [stands == "in the opening", stands == "between"]
    return Air(
        np.select(pick, [sash.temperature, between.temperature], room.temperature),
        np.select(pick, [sash.humidity, between.humidity], room.humidity),
    )


class _Weather:
    """What stands outside and inside of each case: temperatures, vapour pressures, sun and storms."""

    def __init__(self, cases: Sequence[Case], climate: DailyClimate) -> None:
        self.room = climate.indoor_temperature[:, None]
        self.outdoors = outdoors = climate.outdoor_temperature[:, None]
        self.room_vapour = climate.indoor_humidity[:, None] * saturation_pressure(self.room)
        vapour = climate.outdoor_humidity[:, None] * saturation_pressure(outdoors)
        self.storm = np.stack([storm_days(case.storm) for case in cases], axis=1)
        sun = np.stack([climate.sun_on(case.faces) for case in cases], axis=1)
        let_in = 1 - self.storm * (1 - STORM_GLASS)
        # Sun on the face counts as so much warmer air.
        self.outside = outdoors + ABSORPTANCE * sun * let_in * FILM_OUTSIDE
        wet = np.array([WET_SHARE[case.weather] for case in cases])
        self.wet = wet * (1 - self.storm)
        self.vapour = vapour + self.storm * CAVITY_SHARE * (self.room_vapour - vapour)
        self.film = FILM_OUTSIDE + self.storm * STORM_LAYER


def _humidity(vapour: Array, temperature: Array) -> Array:
    humidity: Array = np.minimum(vapour / saturation_pressure(temperature), DAMPEST)
    return humidity


def _sash(weather: _Weather, insulation: Array) -> Air:
    """Warm from the room, cold from outside; the edge halfway, in what leaks past it."""
    drop = (weather.room - weather.outside) / (FILM_INSIDE + insulation + weather.film)
    outer = weather.outside + drop * weather.film
    inner = weather.room - drop * FILM_INSIDE
    edge = (outer + inner) / 2
    dry = _humidity(weather.vapour, outer)
    rained = np.minimum(dry + weather.wet * (1 - dry), DAMPEST)
    leaking = (weather.vapour + weather.room_vapour) / 2
    return Air(
        np.stack([outer, inner, edge]),
        np.stack([rained, _humidity(weather.room_vapour, inner), _humidity(leaking, edge)]),
    )


def _between(weather: _Weather) -> Air:
    """Halfway between room and what is outside of the sash, out of sun and rain."""
    share = weather.film / (2 * weather.film + FILM_INSIDE)
    outer = weather.outdoors + (weather.room - weather.outdoors) * share * weather.storm
    middle = (weather.room + outer) / 2
    humidity = _humidity((weather.vapour + weather.room_vapour) / 2, middle)
    return Air(np.stack([middle] * 3), np.stack([humidity] * 3))


def _room(weather: _Weather) -> Air:
    warm = weather.room + STOP_WARMTH * (weather.outdoors - weather.room)
    warm = np.broadcast_to(warm, weather.film.shape)
    humidity = _humidity(np.broadcast_to(weather.room_vapour, warm.shape), warm)
    return Air(np.stack([warm] * 3), np.stack([humidity] * 3))
