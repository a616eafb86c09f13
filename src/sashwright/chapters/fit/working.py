"""From climate to clearance, step by step, for the day that matters most."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.answer import Step
from sashwright.chapters.fit.air import Air, Case, air_of
from sashwright.chapters.fit.calendar import date_words
from sashwright.chapters.fit.course import (
    STILL_AIR,
    USUAL,
    coat_resistance,
    dry_density,
    dry_gravity,
    permeances,
    sorption_chord,
)
from sashwright.chapters.fit.judge import PlaceYear
from sashwright.chapters.fit.year import SashYear, WindowYear
from sashwright.knowledge.tables import Coating, Knowledge
from sashwright.physics.daily import DailyClimate
from sashwright.physics.diffusion import fit_diffusion, fitted_diffusion, fitted_powers
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.physics.slab import DAY, transfer_coefficient
from sashwright.window.boards import movement

Array = NDArray[np.float64]

HANDBOOK = "Wood Handbook (FPL-GTR-190, 2010)"


def working_of(
    year: WindowYear, climate: DailyClimate, airs: Airs, knowledge: Knowledge
) -> Iterator[Step]:
    """The steps of one window: each sash's moisture, then each clearance."""
    for sash in year.sash.values():
        yield from _moisture(year, sash, climate, airs, knowledge)
    for each in year.places:
        yield _clearance(year, each)
        yield _leave(each)


class Airs:
    """The air of each case, worked out once for all windows of a house."""

    def __init__(self, climate: DailyClimate) -> None:
        self._climate = climate
        self._found: dict[Case, Air] = {}

    def of(self, case: Case) -> Air:
        if case not in self._found:
            self._found[case] = air_of([case], self._climate)
        return self._found[case]


def _moisture(
    year: WindowYear, sash: SashYear, climate: DailyClimate, airs: Airs, knowledge: Knowledge
) -> Iterator[Step]:
    which = sash.which
    followed = year.members[f"{which}.stile"].followed
    air, wood, board = airs.of(followed.case), followed.wood, followed.board
    day = int(sash.usual.argmax())
    for at, face in ((0, "weather face"), (1, "room face")):
        yield Step(
            f"what the {face} of the {which} sash settles at, {date_words(day)}",
            "equilibrium moisture content of the air on the face x that of this wood to ordinary wood's",
            {
                "face_c": round(float(air.temperature[at, day, 0]), 2),
                "humidity_on_the_face": round(float(air.humidity[at, day, 0]), 3),
                "outdoors_c": round(float(climate.outdoor_temperature[day]), 2),
                "outdoor_humidity": round(float(climate.outdoor_humidity[day]), 3),
                "room_c": round(float(climate.indoor_temperature[day]), 2),
                "room_humidity": round(float(climate.indoor_humidity[day]), 3),
                "moisture_ratio": wood.moisture_ratio,
            },
            round(float(air.settled[at, day, 0]) * wood.moisture_ratio, 4),
            "kg/kg",
            f"{HANDBOOK}, eq. 4-5; {climate.source}",
        )
    coat = board.outer
    if coat is not None:
        row: Coating = knowledge.find("coating", coat.coating)
        yield Step(
            f"resistance of the {which} sash's paint to vapour",
            "coats x resistance of one; 0 where bare, one coat where primed",
            {"coating": row.name, "coats": coat.coats, "state": coat.state},
            coat_resistance(coat, knowledge),
            "Pa s m2/kg",
            row.source,
        )
        yield _lag(which, _mean_temperature(air), sash, year, permeances(coat, knowledge)[USUAL])
    yield Step(
        f"moisture of the {which} sash's stile, {date_words(day)}",
        "Fick's law through the thickness day by day, round a closed year; the reading shifts it",
        {
            "thickness_m": board.thickness,
            "least": round(float(sash.usual.min()), 4),
            "least_on": date_words(int(sash.usual.argmin())),
            "reading": None if sash.reading is None else sash.reading.moisture,
            "shift": None if sash.reading is None else round(sash.reading.shift, 4),
        },
        round(float(sash.usual.max()), 4),
        "kg/kg",
        "diffusion: J. F. Siau, Transport Processes in Wood (1984), eq. 6.11 to 6.26",
    )


def _mean_temperature(air: Air) -> float:
    """Mean temperature of the wood over the year [°C]."""
    return float(air.temperature[:2].mean())


def _lag(
    which: str, temperature: float, sash: SashYear, year: WindowYear, permeance: float
) -> Step:
    """How slowly the stile follows: the wood's own lag and the film's, at the mean of the year."""
    followed = year.members[f"{which}.stile"].followed
    wood, thickness = followed.wood, followed.board.thickness
    moisture = float(sash.usual.mean())
    powers = fitted_powers(fit_diffusion(dry_gravity(wood)), np.array(temperature))
    diffusion = float(fitted_diffusion(powers, np.array(moisture)))
    ease = transfer_coefficient(
        permeance,
        saturation_pressure(temperature),
        sorption_chord() * wood.moisture_ratio,
        dry_density(wood),
    )
    days = (thickness**2 / (np.pi**2 * diffusion) + thickness / (2 * ease)) / DAY
    return Step(
        f"how many days the {which} sash lags behind the air, about",
        "L2 / (pi2 D) + L / (2 b), b = p_sat / (R x density x dM/dh), both faces alike, no edges",
        {
            "thickness_m": thickness,
            "wood_c": round(temperature, 2),
            "moisture": round(moisture, 4),
            "D_m2_s": diffusion,
            "air_and_paint_pa_s_m2_kg": 1 / permeance,
            "still_air_pa_s_m2_kg": STILL_AIR,
            "dry_density_kg_m3": round(dry_density(wood), 1),
            "dM_dh": round(sorption_chord() * wood.moisture_ratio, 4),
        },
        round(float(days), 1),
        "days",
        "first term of the series for a plane sheet, and a film in row; for the eye only",
    )


def _clearance(year: WindowYear, each: PlaceYear) -> Step:
    """The clearance on its tightest day, mover by mover."""
    day = each.tightest
    movers = {}
    for mover in each.place.movers:
        member = year.members[mover.board]
        board, wood = member.followed.board, member.followed.wood
        movers[f"{mover.board}, {mover.across}"] = {
            "size_m": round(mover.size, 6),
            "per_percent": movement(wood, board.grain, mover.across)[USUAL],
            "moisture_from": board.moisture,
            "moisture_to": round(float(member.course[USUAL, day]), 4),
        }
    return Step(
        f"{each.place.name}, {date_words(day)}",
        "clearance as measured - sum of size x C x 100 (M - M measured)",
        {"as_measured_m": each.place.gap, **movers},
        round(each.least, 7),
        "m",
        f"{HANDBOOK}, eq. 13-2",
    )


def _leave(each: PlaceYear) -> Step:
    return Step(
        f"what to leave today: {each.place.name}",
        "least wanted + how far it closes from today's moisture to the dampest day, band included",
        {"least_wanted_m": each.limits.least},
        round(each.leave, 7),
        "m",
        f"{HANDBOOK}, eq. 13-2; least wanted: the shop's gaps",
    )
