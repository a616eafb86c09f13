"""What stands on both sides of the windows of one wall, hour by hour, for condensation."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.constants import GRAVITY, KELVIN
from sashwright.physics.facing import wall_coefficient
from sashwright.physics.hourly_year import BASE_65F, DAYS, HOURS, HourlyYear, daily_means
from sashwright.physics.indoor import IndoorClimate
from sashwright.physics.infiltration import SHELTER, wind_at
from sashwright.physics.leakage import AIR_DENSITY
from sashwright.physics.psychrometrics import (
    humidity_ratio,
    saturation_pressure,
    vapour_pressure_from_ratio,
)
from sashwright.physics.sun import daily_extraterrestrial
from sashwright.physics.sunlight import Sky, on_plane, sky_of
from sashwright.physics.vapour import wetting_temperature
from sashwright.window.heights import FOUNDATION_RISE, STOREY, eaves_of
from sashwright.window.resolve import Placed
from sashwright.window.spec import House, Wall

Array = NDArray[np.float64]
Hours = NDArray[np.bool_]

INSIDE = -0.2
"""Pressure coefficient inside a house whose leaks lie all round [-]; common practice."""
NEUTRAL = 0.5
"""Height of no draught by warmth, as a share of the height of the eaves [-]; leaks spread evenly."""
GUSTS = 0.3
"""Standard deviation of the pressure coefficient of a wall in gusty wind [-]; judgement, from memory 0.1 to
0.3 on walls of low houses."""
SILL = 0.75
"""Height of a sill over the floor where nobody measured it [m]; common practice."""
SKY_SEEN = 0.354
"""Share of the colder sky in what an upright face sees, its half by the root of a half, the rest at the
air's temperature [-]; G. N. Walton, NBSIR 83-2655 (1983), from memory."""
CLEAREST = 0.75
"""Irradiance on a level under a clear sky over that outside the atmosphere, at sea level [-]; FAO
Irrigation and Drainage Paper 56, eq. 37."""
_STEEPER = 2e-5


@dataclass(frozen=True, slots=True, eq=False)
class Weather:
    """A house's air outside and inside, and the sky over it: once for all its windows."""

    year: HourlyYear
    indoor: IndoorClimate
    """8,760 hours."""
    sky: Sky
    sky_temperature: Array
    """[°C]"""
    wind: Array
    """At the eaves, as shelter leaves it [m/s]."""
    eaves: float
    """[m]"""
    outdoor_ratio: Array
    room_ratio: Array
    """Humidity ratios [kg/kg]."""

    wets_below: Array
    """A face in the room is wet, or frosted, when colder than this [°C]."""

    def wets_below_at(self, ratio: Array) -> Array:
        """The same with other air in the room, by its humidity ratio."""
        return wetting_temperature(vapour_pressure_from_ratio(ratio, self.year.pressure))

    shut: Hours
    """Hours of days with a mean below 65 °F; on warmer ones windows stand open and water is not counted."""

    @property
    def difference(self) -> Array:
        """Indoor less outdoor temperature [K]."""
        warm: Array = self.indoor.temperature - self.year.temperature
        return warm

    def radiant(self) -> Array:
        """What an upright outer face sees [°C]."""
        air, sky = (v + KELVIN for v in (self.year.temperature, self.sky_temperature))
        seen: Array = (SKY_SEEN * sky**4 + (1 - SKY_SEEN) * air**4) ** 0.25 - KELVIN
        return seen

    def sun(self, wall: Wall) -> Array:
        """Irradiance of a wall with nothing in the way [W/m2]."""
        return on_plane(self.sky, wall.faces).total

    def head(self) -> Array:
        """Of the wind at the eaves [Pa]."""
        head: Array = AIR_DENSITY / 2 * self.wind**2
        return head

    def pressure(self, wall: Wall, height: float) -> Array:
        """Mean pressure of the room less outdoors at a height above the ground [Pa]."""
        angle = self.year.wind_direction - wall.faces
        by_wind = (INSIDE - wall_coefficient(angle)) * self.head()
        room, outdoors = self.indoor.temperature, self.year.temperature
        return np.asarray(by_wind + warmth_pressure(room, outdoors, height, self.eaves))

    def gusts(self) -> Array:
        """Standard deviation of that pressure [Pa]."""
        return GUSTS * self.head()


def warmth_pressure(room: Array | float, outdoors: Array, height: float, eaves: float) -> Array:
    """Pressure of the room less outdoors at a height above the ground, without wind [Pa]."""
    over = height - NEUTRAL * eaves
    kelvin = (room + outdoors) / 2 + KELVIN
    return np.asarray(AIR_DENSITY * GRAVITY * over * (room - outdoors) / kelvin)


def weather_of(house: House, year: HourlyYear, indoor: IndoorClimate) -> Weather:
    """The surroundings of a house's windows; ``indoor`` in 8,760 hours or 365 days."""
    if len(indoor.temperature) not in (HOURS, DAYS):
        raise ValueError(
            f"indoor climate: found {len(indoor.temperature)} values, expected {HOURS} hours or "
            f"{DAYS} days"
        )
    if len(indoor.temperature) == DAYS:
        indoor = IndoorClimate(*(np.repeat(v, 24) for v in (indoor.temperature, indoor.humidity)))
    eaves = eaves_of(house)
    wind = wind_at(year.wind_speed, eaves, house.air.terrain) * SHELTER[house.air.shielding]
    room = indoor.humidity * saturation_pressure(indoor.temperature)
    return Weather(
        year,
        indoor,
        sky_of(year),
        sky_temperature(year),
        wind,
        eaves,
        humidity_ratio(saturation_pressure(year.dew_point), year.pressure),
        humidity_ratio(room, year.pressure),
        wetting_temperature(room),
        np.repeat(daily_means(year.temperature) < BASE_65F, 24),
    )


def sky_temperature(year: HourlyYear) -> Array:
    r"""Temperature of the black sky that sends down as much longwave radiation, shape (8760,) [°C].

    Notes
    -----
    Clear: emissivity 0.711 + 0.56 t + 0.73 t², t the dew point over 100 °C (P. Berdahl and M. Martin,
    *Solar Energy* 32 (1984) 663-664; from memory). Clouds take from what the sky lacks of a black one
    by the share 1.35 K/K_clear - 0.35 of the day's sunshine (FAO Irrigation and Drainage Paper 56, eq.
    39), held between 0.05 and 1 as there. Nights are taken to be as cloudy as their day.
    """
    outside = daily_extraterrestrial(year.latitude)
    clear = (CLEAREST + _STEEPER * year.elevation) * outside
    level = year.global_horizontal.reshape(DAYS, 24).mean(axis=1)
    bright = np.divide(level, clear, out=np.full(DAYS, 0.5), where=clear > 1)
    lacks = np.repeat(np.clip(1.35 * bright - 0.35, 0.05, 1.0), 24)
    t = year.dew_point / 100
    emissivity = 1 - (1 - (0.711 + 0.56 * t + 0.73 * t * t)) * lacks
    kelvin = year.temperature + KELVIN
    return np.asarray(emissivity**0.25 * kelvin - KELVIN)


def foot_of(placed: Placed) -> float:
    """Height of a window's sill above the ground, measured or by its storey [m]."""
    window = placed.window
    if window.sill_above_ground is not None:
        return float(window.sill_above_ground)
    above = SILL if window.sill_above_floor is None else window.sill_above_floor
    return float(FOUNDATION_RISE + STOREY * (window.storey - 1) + above)
