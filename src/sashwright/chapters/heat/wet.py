"""From a window as the heat chapter knows it to what the year does with water on it."""

from __future__ import annotations

from collections.abc import Mapping

from sashwright.chapters.fit.chapter import household_of
from sashwright.chapters.heat.condensation import (
    Condensation,
    Factors,
    Glazing,
    Shared,
    condensation,
    sheets_of,
    weather_of,
)
from sashwright.chapters.heat.films import INSIDE_RESISTANCE
from sashwright.chapters.heat.flows import SectionFlow
from sashwright.chapters.heat.subject import Subject
from sashwright.chapters.words import Words
from sashwright.physics.hourly_year import HourlyYear
from sashwright.physics.indoor import indoor_climate
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.window.spec import House

HEIGHT_STEP = 0.1
"""To which heights of glass are rounded [m], so that windows share the faces of a year."""


def shared_of(house: House, year: HourlyYear) -> Shared:
    """A house's year, outdoors and in, for all of its windows."""
    vapour = saturation_pressure(year.dew_point)
    indoor = indoor_climate(year.temperature, vapour, household_of(house))
    return Shared(weather_of(house, year, indoor))


def wet_of(
    subject: Subject, house: House, shared: Shared | None, words: Words
) -> Condensation | None:
    """Water on one window through the year.

    None for a window with a panel on the room side, where the air before the prime is neither the room's
    nor the storm's, and for one that no storm can hang before.
    """
    whole = subject.whole
    choices = whole.choices
    if choices.has_panel or choices.spaces is None:
        return None
    height = max(round(whole.geometry.heights["lower"] / HEIGHT_STEP), 1) * HEIGHT_STEP
    glazing = Glazing(
        sheets_of(choices.prime["lower"], height),
        sheets_of(choices.behind(choices.storm_glass)["lower"], height),
    )
    alone = factors_of(whole.flows("none", "en"))
    storm = subject.builds["storm"]
    if whole.place(storm) == "exterior":
        behind = factors_of(whole.flows("exterior", "en"))
    else:
        centres = (whole.centre_u(subject.builds["prime"], "en"), whole.centre_u(storm, "en"))
        behind = behind_metal(alone, *(u["lower"] for u in centres))
    return condensation(
        subject.sealed,
        house,
        glazing,
        shared,
        factors=alone,
        storm_factors=behind,
        design=subject.weathers[0].outdoor,
        words=words,
    )


def factors_of(flows: Mapping[str, SectionFlow]) -> Factors:
    """Coldest temperature factors of the room's faces, over all sections."""
    muntins = [flow for name, flow in flows.items() if name.startswith("muntin")]
    others = [flow for name, flow in flows.items() if not name.startswith("muntin")]
    factors = {
        "glass edge": min(flow.factor_glass for flow in flows.values()),
        "sash corner": min(flow.factor_frame for flow in others),
    }
    if muntins:
        factors["muntin"] = min(flow.factor_frame for flow in muntins)
    return factors


def behind_metal(alone: Factors, prime_u: float, storm_u: float) -> Factors:
    """Temperature factors behind a metal storm, whose frame no section knows.

    What the storm adds before the glass, by the ``prime``'s U and the ``storm``'s [W/(m2 K)], it adds before
    each of the other faces: 1 - f = R_si / R goes down as R grows by it.
    """
    added = 1 / storm_u - 1 / prime_u
    return {
        part: 1 - (1 - f) / (1 + added * (1 - f) / INSIDE_RESISTANCE) for part, f in alone.items()
    }
