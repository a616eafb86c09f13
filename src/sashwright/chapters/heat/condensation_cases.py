"""What can be done against water on a window, and how wet each leaves it through the year."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.fit.air import storm_days
from sashwright.chapters.heat.condensation_air import Case, exchange_table, readings
from sashwright.chapters.heat.condensation_faces import Faces, Factors, room_faces
from sashwright.chapters.heat.condensation_weather import Weather, foot_of
from sashwright.chapters.seal.paths import leaks_of
from sashwright.chapters.seal.window import Sealed
from sashwright.physics.constants import AIR_HEAT
from sashwright.physics.hourly_year import HOURS, MONTH_OF_HOUR
from sashwright.physics.psychrometrics import humidity_ratio, saturation_pressure
from sashwright.physics.vapour import HOUR, Moisture, mixed_ratio, space_moisture
from sashwright.units import INCH
from sashwright.window.spec import Wall

Array = NDArray[np.float64]
Hours = NDArray[np.bool_]
Target = Literal["prime", "storm", "room"]

LESS_HUMID = 0.05
"""By how much the room's humidity is lowered for comparison [-]; five points of relative humidity."""
FILM = 3.0
"""Convection between the air behind a storm and its glass [W/(m2 K)]; twice what wide cavities have from
face to face. Leaks are so small against it that it hardly matters."""
HOLDS = 0.05
"""Water that upright glass holds before it runs down [kg/m2]; judgement, from memory 0.03 to 0.1."""
SEEN = 0.001
"""From so much water the storm counts as wet [kg/m2]; judgement: a light mist."""
VENT = INCH / 4
"""Diameter of a weep hole that is added [m]; common practice."""
GAP = INCH / 16
"""What is planed off the foot of a storm for comparison [m]."""
_HOLE = math.pi / 4 * VENT**2


@dataclass(frozen=True, slots=True, eq=False)
class Window:
    """One window with all that its condensation hangs on."""

    sealed: Sealed
    wall: Wall
    weather: Weather
    faces: Faces
    factors: Factors
    storm_factors: Factors

    @property
    def hung(self) -> bool:
        return self.sealed.placed.family.storm != "none"

    @property
    def glass(self) -> float:
        """Glass within the sight lines [m2]."""
        layout = self.sealed.placed.layout
        lites = [*layout.upper.lites, *layout.lower.lites]
        return sum(lite.width * (lite.top - lite.bottom) for lite in lites)

    def hours_with_storm(self) -> NDArray[np.intp]:
        """Numbers of the hours of the year, from the day that the storm goes up."""
        storm = self.sealed.placed.family.storm
        up = np.repeat(storm_days("winter" if storm == "none" else storm), 24) > 0
        hours = np.arange(HOURS)
        first = np.flatnonzero(up & ~np.roll(up, 1))
        turned = np.roll(hours, -int(first[0])) if len(first) else hours
        return turned[up[turned]]


@dataclass(frozen=True, slots=True, eq=False)
class Wet:
    """Hours of a year with water: on each part towards the room, on any of them, and on the storm."""

    parts: Mapping[str, Hours]
    room: Hours
    storm: Hours
    held: float
    """Most that the storm's glass holds in the year [kg/m2]."""
    settled: float
    """What settles on it in the year [kg/m2]."""
    ran_off: float
    """What of that runs down [kg/m2]."""
    share: float
    """Of the air behind the storm that comes from the room, mean of the hours that it hangs [-]."""
    condensing: Hours
    """Hours in which water settles on the storm."""

    @property
    def total(self) -> int:
        """Hours with water on the room side, and hours with water on the storm."""
        return int(self.room.sum() + self.storm.sum())


@dataclass(frozen=True, slots=True)
class Option:
    """One thing to do, and what it leaves."""

    key: str
    does: str
    target: Target
    wet: Wet

    @property
    def hours(self) -> int:
        return self.wet.total


def months(hours: Hours) -> list[int]:
    """Hours of each month."""
    counts: list[int] = np.bincount(MONTH_OF_HOUR[hours], minlength=12).tolist()
    return counts


def as_found(sealed: Sealed) -> Case:
    return Case("as found", "leave it as it is", sealed.found)


def tightened(sealed: Sealed) -> Iterator[Case]:
    """Every step that closes a path leading behind the storm, and all of them."""
    now = {leak.place.name: leak.row for leak in sealed.found}
    knowledge = sealed.placed.knowledge
    behind = {leak.place.name for leak in sealed.found if leak.place.behind_storm}
    steps = [step for step in sealed.steps if step.path in behind]
    for step in steps:
        row = knowledge.find("leakage", step.row)
        leaks = leaks_of(sealed.cracks, now | {step.path: row}, sealed.factor.value)
        yield Case(f"tighten {step.path}", step.does, leaks)
    if len(steps) > 1:
        yield Case("tighten all", "tighten the prime sash all round", sealed.states["every step"])


def vented(sealed: Sealed) -> Iterator[Case]:
    """Openings that let outdoor air in behind the storm."""
    found = sealed.found
    width = sealed.placed.window.width
    yield Case("two weep holes", "bore two more weep holes at its foot", found, 2 * _HOLE)
    yield Case("holes at both ends", "bore two holes each at its foot and at its head", found,
               2 * _HOLE, 2 * _HOLE)  # fmt: skip
    yield Case("wider foot", "plane its foot for a wider gap over the sill", found, GAP * width)


def options(window: Window) -> tuple[Wet, Sequence[Option]]:
    """The window as it is, and what each thing to do leaves, the driest first."""
    sealed = window.sealed
    cases = [as_found(sealed), *tightened(sealed), *vented(sealed)]
    hours = window.hours_with_storm()
    space = _Space(window, cases, hours)
    drier = _drier(window.weather)
    hung = _wet(window, space.wetness(), hours)
    off = _wet(window, None, hours)
    found: list[Option] = []
    if window.hung:
        now = hung[0]
        targets: list[Target] = [
            "prime" if each.key.startswith("tighten") else "storm" for each in cases
        ]
        found += [
            Option(case.key, case.does, target, wet)
            for case, target, wet in zip(cases[1:], targets[1:], hung[1:], strict=True)
        ]
        (dry,) = _wet(window, space.wetness(drier, only=0), hours, drier)
        found.append(Option("storm off", "leave the storm off", "storm", off[0]))
    else:
        now = off[0]
        keys = [case.key for case in cases]
        tight = keys.index("tighten all") if "tighten all" in keys else 0
        found.append(Option("storm on", "hang a storm sash in winter", "storm", hung[0]))
        if tight:
            does = "hang a storm sash in winter and tighten the prime sash all round"
            found.append(Option("storm on, tighten all", does, "storm", hung[tight]))
        (dry,) = _wet(window, None, hours, drier)
    found.append(Option("drier air", "lower the humidity of the room by 5 points", "room", dry))
    return now, sorted(found, key=lambda option: option.hours)


def _drier(weather: Weather) -> Array:
    """The room's humidity lowered, as a ratio [kg/kg]."""
    humidity = np.maximum(weather.indoor.humidity - LESS_HUMID, 0.01)
    vapour = humidity * saturation_pressure(weather.indoor.temperature)
    return humidity_ratio(vapour, weather.year.pressure)


class _Space:
    """The air behind the storm in all cases at once."""

    def __init__(self, window: Window, cases: Sequence[Case], hours: NDArray[np.intp]) -> None:
        self.window, self.hours = window, hours
        table = exchange_table(window.sealed, cases, window.faces.warmth)
        weights = readings(window.weather, window.wall, foot_of(window.sealed.placed), hours)
        self.from_room, self.from_outdoors = (np.asarray(weights @ each) for each in table)

    def wetness(self, room: Array | None = None, only: int | None = None) -> tuple[Moisture, Array]:
        """Water on the storm, and the share of room air; with other air in the room if given."""
        window, hours = self.window, self.hours
        pick = slice(None) if only is None else slice(only, only + 1)
        inside = window.weather.room_ratio if room is None else room
        warm, cold = self.from_room[:, pick], self.from_outdoors[:, pick]
        moisture = space_moisture(
            inside[hours, None],
            window.weather.outdoor_ratio[hours, None],
            window.faces.saturated[hours, None],
            warm,
            cold,
            film=FILM / AIR_HEAT * window.glass,
            most=HOLDS * window.glass,
            repeats=len(hours) == HOURS,
        )
        return moisture, mixed_ratio(1.0, 0.0, warm, cold).mean(axis=0)


def _wet(
    window: Window,
    behind: tuple[Moisture, Array] | None,
    hours: NDArray[np.intp],
    room: Array | None = None,
) -> list[Wet]:
    """Where and when it is wet; without a storm where ``behind`` is None."""
    weather = window.weather
    limit = weather.wets_below if room is None else weather.wets_below_at(room)
    glass, factors = window.faces.alone, window.factors
    outdoors, air = weather.year.temperature, weather.indoor.temperature
    faces = room_faces(glass, factors, outdoors, air)
    if behind is not None:
        covered = room_faces(
            window.faces.behind[hours], window.storm_factors, outdoors[hours], air[hours]
        )
        for part in faces:
            faces[part] = faces[part].copy()
            # A part whose factor behind the storm is not known is left as it is without.
            if part in covered:
                faces[part][hours] = covered[part]
    parts = {part: np.asarray((face < limit) & weather.shut) for part, face in faces.items()}
    anywhere = np.logical_or.reduce(list(parts.values()))
    if behind is None:
        dry = np.zeros(HOURS, dtype=bool)
        return [Wet(parts, anywhere, dry, 0.0, 0.0, 0.0, 0.0, dry)]
    moisture, share = behind
    found = []
    for case in range(moisture.held.shape[1]):
        storm, settling = np.zeros(HOURS, dtype=bool), np.zeros(HOURS, dtype=bool)
        held = moisture.held[:, case] / window.glass
        storm[hours] = (held > SEEN) & weather.shut[hours]
        settling[hours] = (moisture.rate[:, case] > 0) & weather.shut[hours]
        settled = float(np.maximum(moisture.rate[:, case], 0.0).sum()) * HOUR / window.glass
        ran_off = float(moisture.ran_off[:, case].sum()) / window.glass
        most, room_air = float(held.max()), float(share[case])
        found.append(Wet(parts, anywhere, storm, most, settled, ran_off, room_air, settling))
    return found
