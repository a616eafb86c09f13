"""Will it sweat? Water on the room side of a window and on the inside of its storm, through the year.

``condensation`` answers for one window; the heat chapter makes it part of its own answer. For a house:
``shared = Shared(weather_of(house, year, indoor))`` once, then one call for each window.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from sashwright.chapters.answer import Finding, Step
from sashwright.chapters.heat.condensation_cases import Option, Wet, Window, months, options
from sashwright.chapters.heat.condensation_faces import Factors, Glazing, Shared, Sheets, sheets_of
from sashwright.chapters.heat.condensation_findings import findings_of
from sashwright.chapters.heat.condensation_start import OUTDOORS, Start, start_of
from sashwright.chapters.heat.condensation_weather import Weather, weather_of
from sashwright.chapters.heat.condensation_working import steps_of
from sashwright.chapters.heat.subject import DESIGN_SHARE, RATING_COLD
from sashwright.chapters.seal.window import Sealed
from sashwright.chapters.words import Words
from sashwright.window.heights import eaves_of
from sashwright.window.spec import House

__all__ = [
    "Condensation",
    "Factors",
    "Glazing",
    "Shared",
    "Sheets",
    "Weather",
    "condensation",
    "sheets_of",
    "weather_of",
]


@dataclass(frozen=True, slots=True)
class Condensation:
    """What the heat chapter takes into a window's answer."""

    values: Mapping[str, Any]
    findings: Sequence[Finding] = ()
    steps: Sequence[Step] = ()


def condensation(
    sealed: Sealed,
    house: House,
    glazing: Glazing,
    shared: Shared | None = None,
    *,
    factors: Factors | None = None,
    storm_factors: Factors | None = None,
    design: float | None = None,
    words: Words | None = None,
) -> Condensation:
    """Condensation on one window, now and after each thing that can be done against it.

    Parameters
    ----------
    sealed : Sealed
        The window with its joints.
    house : House
        It stands in: walls, height, heating.
    glazing : Glazing
        Panes of the prime sash, and the same behind a storm (whether or not one hangs): see
        ``sheets_of``.
    shared : Shared, optional
        The year's weather and indoor air; without it only the humidities at which wetness starts.
    factors, storm_factors : mapping, optional
        Temperature factors of parts (``glass edge``, ``muntin``, ``sash corner``) without and behind a
        storm. There is no fallback: parts not given are not answered for.
    design : float, optional
        Temperature outdoors in hard cold [°C]; the year's coldest hundredth where not given.
    words : Words, optional
        Units of the sentences.

    Raises
    ------
    ValueError
        For a factor of an unknown part, or glazing that does not fit.
    """
    words = words or Words()
    both = (factors or {}, storm_factors or {})
    coldest = _design(design, shared)
    outdoors = np.append(OUTDOORS, coldest)
    start = start_of(sealed, glazing, eaves_of(house), outdoors, house.heated_to, both)
    values: dict[str, Any] = {
        "design_outdoor_c": coldest,
        "room_c": start.room,
        "storm": sealed.placed.family.storm,
        "starts": _starts(start),
        "year": None,
    }
    if shared is None:
        return Condensation(
            values,
            list(findings_of(sealed, start, None, words)),
            list(steps_of(start, sealed.placed.family.storm != "none", None)),
        )
    wall = house.walls[sealed.placed.window.wall]
    window = Window(sealed, wall, shared.weather, shared.faces(glazing, wall), *both)
    now, found = options(window)
    values["year"] = _year(window, now, found)
    return Condensation(
        values,
        list(findings_of(sealed, start, (now, found), words)),
        list(steps_of(start, window.hung, (window, now))),
    )


def _design(design: float | None, shared: Shared | None) -> float:
    if design is not None:
        return design
    if shared is None:
        return RATING_COLD
    return float(np.quantile(shared.weather.year.temperature, DESIGN_SHARE))


def _starts(start: Start) -> dict[str, Any]:
    """The curve, and the design temperature at its end by itself."""

    def rows(curve: Mapping[str, Any]) -> dict[str, list[float]]:
        return {part: values[:-1].tolist() for part, values in curve.items()}

    def coldest(curve: Mapping[str, Any]) -> dict[str, float]:
        return {part: float(values[-1]) for part, values in curve.items()}

    return {
        "outdoor_c": start.outdoors[:-1].tolist(),
        "humidity": rows(start.alone),
        "humidity_behind_storm": rows(start.behind),
        "at_design": coldest(start.alone),
        "at_design_behind_storm": coldest(start.behind),
        "glass_at_design_c": float(start.faces.alone[-1]),
        "glass_behind_storm_at_design_c": float(start.faces.behind[-1]),
        "storm_at_design_c": float(start.faces.storm[-1]),
        "room_air_share": start.share[:-1].tolist(),
    }


def _year(window: Window, now: Wet, found: Sequence[Option]) -> dict[str, Any]:
    indoor = window.weather.indoor
    return {
        "weather": window.weather.year.source,
        "storm_hung": window.hung,
        "wet_hours": now.total,
        "room_wet_hours": int(now.room.sum()),
        "storm_wet_hours": int(now.storm.sum()),
        "room_wet_h": months(now.room),
        "parts_wet_h": {part: months(hours) for part, hours in now.parts.items()},
        "storm_wet_h": months(now.storm),
        "storm_condensing_h": months(now.condensing),
        "storm_water_most_kg_m2": now.held,
        "storm_water_settled_kg_m2": now.settled,
        "storm_water_ran_off_kg_m2": now.ran_off,
        "room_air_share": now.share,
        "indoor_humidity_winter": float(indoor.humidity[_WINTER].mean()),
        "options": [
            {
                "key": option.key,
                "does": option.does,
                "on": option.target,
                "wet_hours": option.hours,
                "room_wet_hours": int(option.wet.room.sum()),
                "storm_wet_hours": int(option.wet.storm.sum()),
                "storm_water_settled_kg_m2": option.wet.settled,
                "fewer_hours": now.total - option.hours,
                "room_air_share": option.wet.share,
            }
            for option in found
        ],
    }


_WINTER = np.r_[0 : 59 * 24, 334 * 24 : 365 * 24]
