"""From input to answer: how wet a window becomes, step by step."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sashwright.chapters.answer import Step
from sashwright.chapters.heat.condensation_cases import FILM, HOLDS, Wet, Window
from sashwright.chapters.heat.condensation_start import OUTDOOR_HUMIDITY, Start
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.physics.vapour import face_pressure

SATURATION = "Sonntag, Zeitschrift für Meteorologie 40 (1990)"


def steps_of(start: Start, hung: bool, year: tuple[Window, Wet] | None) -> Iterator[Step]:
    """Humidity at start at the design temperature, then the coldest hour of the year."""
    yield from _at_start(start, hung)
    if year is not None:
        yield from _through_year(*year)


def _at_start(start: Start, hung: bool) -> Iterator[Step]:
    face = float((start.faces.behind if hung else start.faces.alone)[-1])
    cold = float(start.outdoors[-1])
    yield Step(
        "room face of the glass in hard cold",
        "balance of films, panes and space",
        {"outdoors_c": cold, "room_c": start.room, "storm": hung},
        face,
        "°C",
        "ISO 15099:2003, films of NFRC 100",
    )
    yield Step(
        "humidity of the room at which it becomes wet",
        "p_sat(face) / p_sat(room), over ice below freezing",
        {
            "p_sat_face_pa": float(face_pressure(face)),
            "p_sat_room_pa": float(saturation_pressure(start.room)),
        },
        float((start.behind if hung else start.alone)["glass"][-1]),
        "-",
        f"EN ISO 13788, 5; {SATURATION}",
    )
    if hung:
        yield Step(
            "the same for the inside of the storm",
            "W_o + (W_sat - W_o) / share of room air, as a humidity of the room",
            {
                "storm_face_c": float(start.faces.storm[-1]),
                "share": float(start.share[-1]),
                "outdoor_humidity": OUTDOOR_HUMIDITY,
            },
            float(start.behind["storm"][-1]),
            "-",
            "vapour balance, well mixed; a calm night",
        )


def _through_year(window: Window, now: Wet) -> Iterator[Step]:
    weather = window.weather
    hour = int(np.argmin(weather.year.temperature))
    glass = (window.faces.behind if window.hung else window.faces.alone)[hour]
    yield Step(
        "room face of the glass in the coldest hour of the year",
        "the same balance, with the year's wind, sky and sun",
        {
            "outdoors_c": float(weather.year.temperature[hour]),
            "sky_c": float(weather.sky_temperature[hour]),
            "wind_m_s": float(weather.wind[hour]),
            "room_c": float(weather.indoor.temperature[hour]),
        },
        float(glass),
        "°C",
        "ISO 15099:2003; wind convection 4 + 4 v",
    )
    yield Step(
        "a face in the room is wet below",
        "dew point of the room, frost point below freezing",
        {"indoor_humidity": float(weather.indoor.humidity[hour])},
        float(weather.wets_below[hour]),
        "°C",
        SATURATION,
    )
    yield Step(
        "wet hours on the room side",
        "hours with any part colder than that",
        {part: int(hours.sum()) for part, hours in now.parts.items()},
        int(now.room.sum()),
        "h",
        weather.year.source,
    )
    if not window.hung:
        return
    yield Step(
        "room air in the space behind the storm, mean of the hours it hangs",
        "m_room / (m_room + m_outdoors); pressures by wind, gusts and warmth; power law at every joint",
        {"warmth_of_the_space": window.faces.warmth, "glass_m2": window.glass},
        now.share,
        "-",
        "one volume with openings at their heights; ASHRAE Handbook of Fundamentals",
    )
    yield Step(
        "wet hours on the inside of the storm",
        "m_r (W_r - W) + m_o (W_o - W) = k (W - W_sat); hours that end with 1 g/m2 of water or more on it",
        {"film_w_m2k": FILM, "glass_holds_kg_m2": HOLDS},
        int(now.storm.sum()),
        "h",
        "mass balance; Lewis's relation",
    )
