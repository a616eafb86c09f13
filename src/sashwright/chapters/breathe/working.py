"""The steps from the house to the plan, with what each figure hangs on."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from sashwright.chapters.answer import Step
from sashwright.chapters.breathe.best import Compared
from sashwright.chapters.breathe.findings import COMFORT, moved_air
from sashwright.chapters.breathe.noise import OUTDOORS, SOURCE, Noise
from sashwright.chapters.breathe.plans import Household
from sashwright.chapters.breathe.search import KELVIN_COST, MOVE_COST
from sashwright.chapters.breathe.seasons import HEATED_BELOW, HOT_FROM, MILD_FROM
from sashwright.chapters.building.envelope import areas
from sashwright.physics.leakage import REFERENCE_PRESSURE, effective_leakage_area
from sashwright.physics.openings import USUAL_DISCHARGE
from sashwright.window.heights import eaves_of


def steps(household: Household, compared: Compared) -> Iterator[Step]:
    """In the order they are worked."""
    building = household.building
    air, plan = building.air_side, building.plan
    yield Step(
        "rooms",
        "zones of warmth and air; their volume",
        {zone.key: round(zone.volume, 2) for zone in building.zones},
        plan.heated_volume,
        "m3 heated",
        "plan of the house" if not plan.assumed else "assumed from the windows",
    )
    yield Step(
        "opaque parts",
        "walls from the outside edges of the rooms, less their windows; floors, ceilings, roofs by the plan",
        {what: round(area, 2) for what, area in areas(building.opaque).items()},
        sum(part.element.area * part.element.u for part in building.opaque if part.behind),
        "W/K to outdoors and ground",
        "fabric table; ISO 52016-1 (from memory)",
    )
    yield Step(
        "windows in summer",
        "sum of area x U",
        {
            each.number: round(each.area * each.u(building.summer.of(each.number)), 3)
            for each in building.windows
        },
        sum(each.area * each.u(building.summer.of(each.number)) for each in building.windows),
        "W/K",
        "ISO 10077-1, the heat chapter",
    )
    c = air.background / REFERENCE_PRESSURE**air.exponent
    yield Step(
        "leaks beside the windows",
        "fan test of the house less its windows" if air.tested else "leakage area by floor",
        {"exponent": air.exponent, "flow_4_pa_m3_s": air.background},
        float(effective_leakage_area(c, air.exponent)) * 1e4,
        "cm2 at 4 Pa",
        "seal chapter; AIM-2 for where they lie" if air.tested else "ASHRAE, from memory",
    )
    widest = {n: opens.widest for n, opens in building.opens.items() if opens.can_open}
    yield Step(
        "clear area of all sash, upper down and lower up, each by itself",
        "sum of clear width x clear height",
        {number: [round(v, 3) for v in pair] for number, pair in widest.items()},
        sum(building.opens[n].width * sum(pair) for n, pair in widest.items()),
        "m2",
        f"geometry of frame, stops, horns and travel; discharge {USUAL_DISCHARGE}, screens in series",
    )
    wind = building.wind
    yield Step(
        "wind at the house",
        "Cp(angle) x rho/2 x (s U)^2, U at the eaves over the terrain",
        {
            "eaves_m": eaves_of(building.house),
            "terrain": building.house.air.terrain,
            "shielding": building.house.air.shielding,
        },
        float(np.mean(wind[:, :-2].max(axis=1) - wind[:, :-2].min(axis=1))),
        "Pa between windward and lee, mean of the year",
        "Swami and Chandra (1987); ASHRAE Handbook of Fundamentals",
    )
    yield Step(
        "seasons",
        "months by their mean temperature, days by the running mean",
        {"mild_from_c": MILD_FROM, "hot_from_c": HOT_FROM, "heated_below_c": HEATED_BELOW},
        {season.name: season.days for season in household.calendar.seasons},
        "days",
        building.year.source,
    )
    if household.limits.noise:
        yield _noise(household)
    best = compared.best
    yield Step(
        "comfort by the plan",
        "0.31 t + 17.8, 3.5 K either way, in the hours that people are in the room",
        {
            "occupied_room_hours": best.score.hours,
            "fastest_air_m_s": moved_air(best),
        },
        best.score.share,
        "-",
        COMFORT,
    )
    yield Step(
        "what the search weighs",
        "share of hours out of comfort + a x kelvins beyond it + b x moves a day",
        {"a_1_k": KELVIN_COST, "b_d": MOVE_COST, "plans_followed": compared.tried},
        {name: best.cost(name) for name in best.by_season},
        "-",
        "judgement",
    )


def _noise(household: Household) -> Step:
    """Gaps that noise leaves bedrooms at night."""
    building, noise = household.building, Noise(household.building)
    asked = {number: building.by_number[number] for number in household.limits.noise}
    return Step(
        "gaps for the noise at night",
        "V / (6 T0) 10^(-(L + 3 - 30) / 10) / windows that share it / width; none if narrower than 0.75 in",
        {
            number: {
                "outdoors_db": OUTDOORS[noise.word(glazed)],
                "room_m3": round(building.plan.zone(glazed.zone).volume, 2),
                "width_m": round(building.opens[number].width, 3),
            }
            for number, glazed in asked.items()
        },
        {number: round(gap, 4) for number, gap in household.limits.noise.items()},
        "m",
        SOURCE,
    )
