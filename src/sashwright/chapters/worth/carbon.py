"""What an alternative gives off and throws away: what is made, what is burnt, what goes to landfill."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sashwright.chapters.worth.alternatives import Alternative
from sashwright.chapters.worth.money import due
from sashwright.knowledge.worth_tables import Measure


@dataclass(frozen=True, slots=True)
class Carbon:
    """[kg CO2e], but for ``landfill`` [kg]."""

    made_now: float
    """Of what is made at once."""
    made_later: float
    """Of renewals and upkeep through the study."""
    a_year: float
    """Of heating and cooling."""
    total: float
    """Through the study, at today's factors."""
    landfill_now: float
    landfill: float
    """Through the study."""
    made_by_year: tuple[float, ...] = ()
    """Made so far at the end of each year, from year 0 on."""
    landfill_by_year: tuple[float, ...] = ()
    """Thrown away so far, likewise."""


def carbon_of(
    alternative: Alternative, measures: Mapping[str, Measure], a_year: float, years: int
) -> Carbon:
    """Of one alternative; ``a_year`` is what its energy gives off in a year."""
    made, thrown = np.zeros(years + 1), np.zeros(years + 1)
    for key, area in alternative.areas.items():
        row = measures[key]
        done = due(np.array(row.life_years), years)
        if row.begins == "now":
            done[0] = 1.0
        made += area * row.carbon * done
        thrown += area * row.landfill * done
    return Carbon(
        float(made[0]),
        float(made[1:].sum()),
        a_year,
        float(made.sum()) + a_year * years,
        float(thrown[0]),
        float(thrown.sum()),
        tuple(np.cumsum(made).tolist()),
        tuple(np.cumsum(thrown).tolist()),
    )


def carbon_payback(base: Carbon, other: Carbon) -> float:
    """Years until what is burnt less makes up for what was made now; never where it does not.

    (made now - made now of the base) / (given off a year less than the base); 0 where there is nothing to
    make up for.
    """
    more, saved = other.made_now - base.made_now, base.a_year - other.a_year
    if more <= 0:
        return 0.0
    return more / saved if saved > 0 else float("inf")
