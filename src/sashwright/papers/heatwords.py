"""Warmth of a window in the words of screens and papers: U both ways, heat, water on it, comfort."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, WindowAnswer
from sashwright.chapters.heat.comfort import ASYMMETRY_LIMIT, DRAUGHT_MOST
from sashwright.chapters.heat.leak import heat_of
from sashwright.chapters.heat.say import (
    CONVENTIONS,
    degrees,
    kelvins,
    loss_words,
    share,
    speed,
    u_number,
)
from sashwright.drawing.lossbars import NAMES
from sashwright.drawing.wetplot import faces_of
from sashwright.papers.words import NONE, capital
from sashwright.physics.hourly_year import MONTH_NAMES

Values = Mapping[str, Any]

BY = {"na": "NFRC\u00a0100", "en": "ISO\u00a010077-1"}
"""Whose U it is."""
UNIT = {"na": "Btu/h·ft²·°F", "en": "W/m²·K"}
SYSTEM: Mapping[str, units.System] = {"na": "us", "en": "metric"}
"""In whose unit each is known."""
SCREENING = (
    "Screening figures, by calculation: a rated U-factor needs a listed laboratory or simulator, and the "
    "local energy code decides. Joints leak within a factor of two of what the tables say, and the damp of a "
    "house is its household's."
)
GLASS = (
    "Old glass breaks while storms are hung and glass is set: gloves, glasses, two people. Old putty and "
    "paint may hold asbestos and lead."
)
HELPS = 4
"""Things to do against water that are listed."""


@dataclass(frozen=True, slots=True)
class State:
    """A window, or all windows, in one state; ``u`` and ``u_other`` by the reader's way and the other."""

    key: str
    name: str
    what: str
    there: bool
    u: str
    u_other: str
    glass: str
    heat: str
    air: str
    air_share: str
    air_range: str
    saves: str
    sun: str = ""
    light: str = ""
    face: str = ""
    edge: str = ""
    humidity: str = ""
    chill: str = ""
    fall: str = ""
    draught: str = ""
    amiss: bool = False
    """Whether one sits badly beside it."""


@dataclass(frozen=True, slots=True)
class CoverRow:
    """Something drawn over the window at night."""

    name: str
    there: bool
    u: str
    saves: str
    between: str


@dataclass(frozen=True, slots=True)
class Help:
    """Something to do against water, and the hours that are left."""

    does: str
    left: str
    fewer: str


@dataclass(frozen=True, slots=True)
class WetFace:
    """Hours in which one face of a window is wet, and the month of most of them."""

    name: str
    hours: str
    worst: str


@dataclass(frozen=True, slots=True)
class Wet:
    """Water on a window through a usual year."""

    faces: tuple[WetFace, ...]
    helps: tuple[Help, ...]
    air: str
    """Share of room air behind the storm; nothing without one."""
    weather: str


def way(system: units.System) -> str:
    """The convention that a reader is told first."""
    return CONVENTIONS[system]


def other_way(system: units.System) -> str:
    return "en" if CONVENTIONS[system] == "na" else "na"


def u_by(row: Values, convention: str) -> str:
    """U of a row by a convention, as a number in the unit that goes with it."""
    return u_number(row[f"u_{convention}_w_m2k"], SYSTEM[convention])


def heading(convention: str) -> str:
    """``U-factor, NFRC 100``, ``U, ISO 10077-1``."""
    return f"{'U-factor' if convention == 'na' else 'U'}, {BY[convention]}"


# --- a window -------------------------------------------------------------------------


def states_of(values: Values, system: units.System) -> list[State]:
    """Every state that the window can be in."""
    return [_state(row, values["as_found"], system) for row in values["alternatives"]]


def found_of(values: Values, system: units.System) -> State:
    """The window as it hangs in winter."""
    return next(state for state in states_of(values, system) if state.there)


def _state(row: Values, found: str, system: units.System) -> State:
    felt, convention = row["weathers"][0], way(system)
    low, high = heat_of(row["leak_low_m3_s"]), heat_of(row["leak_high_m3_s"])
    return State(
        key=row["key"],
        name=row["name"],
        what=row["what"],
        there=row["key"] == found,
        u=u_by(row, convention),
        u_other=u_by(row, other_way(system)),
        glass=u_number(row[f"centre_lower_{convention}_w_m2k"], system),
        heat=loss_words(row[f"loss_{convention}_w_k"], system),
        air=loss_words(row["leak_w_k"], system),
        air_share=share(row["leak_w_k"] / row[f"total_{convention}_w_k"]),
        air_range=between(low, high, system),
        saves=NONE if row["key"] == "prime" else share(row[f"saves_{convention}_share"]),
        sun=f"{row['shgc']:.2f}",
        light=f"{row['visible']:.2f}",
        face=degrees(felt["glass_c"], system),
        edge=degrees(felt["coldest_c"], system),
        humidity=share(felt["humidity_limit"]),
        chill=kelvins(felt["asymmetry_k"], system),
        fall=speed(felt["downdraught_m_s"], system),
        draught=f"{felt['draught_percent']:.0f} %",
        amiss=felt["asymmetry_k"] > ASYMMETRY_LIMIT or felt["draught_percent"] > DRAUGHT_MOST,
    )


def between(low: float, high: float, system: units.System) -> str:
    """``0.9 to 3.1 Btu/h per °F``."""
    return f"{loss_words(low, system).split()[0]} to {loss_words(high, system)}"


def covers_of(values: Values, system: units.System) -> list[CoverRow]:
    """What can be drawn over the window as it is found."""
    convention = way(system)
    return [
        CoverRow(
            row["name"],
            row["there"],
            u_number(row[f"u_{convention}_w_m2k"], system),
            share(row[f"saves_{convention}_share"]),
            f"{u_number(row[f'u_low_{convention}_w_m2k'], system)} to "
            f"{u_number(row[f'u_high_{convention}_w_m2k'], system)}",
        )
        for row in values["coverings"]
    ]


def weather_of(values: Values, system: units.System) -> str:
    """The weather that faces are looked at in: ``5 °F outdoors, 68 °F in the room``."""
    seen = values["weathers"][0]
    return f"{degrees(seen['outdoor_c'], system)} outdoors, {degrees(seen['room_c'], system)} in the room"


# --- water ----------------------------------------------------------------------------


def wet_of(values: Values) -> Wet | None:
    """Water on a window through the year; None where it is not known."""
    year = (values.get("condensation") or {}).get("year")
    if not year:
        return None
    stormed = year["storm_hung"]
    return Wet(
        tuple(_wet_face(face.name, face.hours) for face in faces_of(year)),
        tuple(_helps(year)),
        share(year["room_air_share"]) if stormed else "",
        year["weather"],
    )


def _wet_face(name: str, hours: Sequence[float]) -> WetFace:
    most = max(range(12), key=lambda month: hours[month])
    whole = sum(hours)
    worst = f"{hours[most]:.0f} in {MONTH_NAMES[most]}" if whole else NONE
    return WetFace(capital(name), f"{whole:.0f} h", worst)


def _helps(year: Values) -> Iterator[Help]:
    """What leaves fewer wet hours, the best first; to leave a storm off only moves water to the sash."""
    better = [
        row for row in year["options"] if row["fewer_hours"] > 0 and row["key"] != "storm off"
    ]
    for row in sorted(better, key=lambda row: row["wet_hours"])[:HELPS]:
        yield Help(capital(row["does"]), f"{row['wet_hours']:.0f} h", f"{row['fewer_hours']:.0f} h")


# --- a house --------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class WindowRow:
    """One window among those of the house."""

    number: str
    u: str
    alone: str
    low_e: str
    heat: str
    air: str
    share: float
    """Of the window that loses most, air counted."""
    face: str
    wet: str


def windows_of(answers: Sequence[WindowAnswer], system: units.System) -> list[WindowRow]:
    """Windows of a house as they hang in winter, the one that loses most first."""
    convention = way(system)
    known = []
    for answer in answers:
        if answer.values:
            by_key = {row["key"]: row for row in answer.values["alternatives"]}
            known.append((answer, by_key, by_key[answer.values["as_found"]]))
    total = f"total_{convention}_w_k"
    most = max((found[total] for _, _, found in known), default=1.0)
    return [
        WindowRow(
            answer.number,
            u_by(found, convention),
            u_by(by_key["prime"], convention),
            u_by(by_key.get("storm-low-e") or by_key.get("storm") or found, convention),
            loss_words(found[f"loss_{convention}_w_k"], system),
            loss_words(found["leak_w_k"], system),
            found[total] / most,
            degrees(found["weathers"][0]["glass_c"], system),
            _wet_hours(answer.values),
        )
        for answer, by_key, found in sorted(known, key=lambda each: -each[2][total])
    ]


def _wet_hours(values: Values) -> str:
    year = (values.get("condensation") or {}).get("year")
    return f"{year['wet_hours']:.0f} h" if year else NONE


def totals_of(answer: Answer, system: units.System) -> list[State]:
    """All windows of a house in each state."""
    convention = way(system)
    return [
        State(
            key=row["key"],
            name=NAMES[row["key"]],
            what="",
            there=row["key"] == "as found",
            u=u_by(row, convention),
            u_other=u_by(row, other_way(system)),
            glass="",
            heat=loss_words(row[f"loss_{convention}_w_k"], system),
            air=loss_words(row["leak_w_k"], system),
            air_share=share(row["leak_w_k"] / row[f"total_{convention}_w_k"]),
            air_range=between(row["leak_low_w_k"], row["leak_high_w_k"], system),
            saves=NONE if row["key"] == "prime" else share(row[f"saves_{convention}_share"]),
        )
        for row in answer.values["totals"]
    ]
