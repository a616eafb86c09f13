"""The values of the answer: plain numbers whose names carry their units."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import numpy as np

from sashwright.chapters.building import Glazed
from sashwright.chapters.worth.alternatives import Alternative
from sashwright.chapters.worth.carbon import carbon_payback
from sashwright.chapters.worth.chance import HIGH, LOW, Weight, range_of
from sashwright.chapters.worth.inputs import Input
from sashwright.chapters.worth.model import Drawn, Model
from sashwright.chapters.worth.studies import baseline, beside, study_values
from sashwright.physics.economics import discounted

KWH = 3.6e6
RATES = (0.0, 0.01, 0.03, 0.05, 0.07)
"""Interest at which the net present costs are given too [1/year]."""


def finite(value: float) -> float | None:
    """None for what never comes, or is no number."""
    return float(value) if math.isfinite(value) else None


def ranged(values: Any) -> dict[str, float | None]:
    low, middle, high = range_of(values)
    return {"low": finite(low), "middle": finite(middle), "high": finite(high)}


def house_values(model: Model) -> dict[str, Any]:
    """All that the answer says of the house."""
    warm, cool = model.bought
    years = model.drawn_years if model.drawn else None
    return {
        "question": "Keep the windows, and how, or replace them?",
        "baseline": baseline(model),
        "base": model.base.key,
        "repair_due": model.repair_due,
        "windows": len(model.home.windows),
        "window_area_m2": sum(model.follower.areas),
        "heated_floor_m2": model.home.building.plan.heated_floor,
        "assumed": list(model.home.building.plan.assumed),
        "weather": model.home.year.source,
        "years": model.years,
        "discount": model.rate,
        "fuel_rise": model.running.fuel_rise / 100,
        "currency": warm.fuel.currency,
        "heating": _bought(warm),
        "cooling": None if cool is None else _bought(cool),
        "draws": model.draws,
        "seed": model.seed,
        "alternatives": [alternative_values(model, each) for each in model.alternatives],
        "cheapest": model.cheapest().key,
        "cheapest_keep": model.cheapest(replaces=False).key,
        "cheapest_replace": model.cheapest(replaces=True).key,
        "margin": _margin(model),
        "more_by_year": _more_by_year(model),
        "inputs": [weight_values(each) for each in model.weights],
        "drawn_from": [_drawn_from(each) for each in model.inputs],
        "net_present_cost_by_discount": {
            f"{rate:g}": model.at_rate(rate) for rate in (*RATES, model.rate)
        },
        "needs_off": None
        if years is None
        else {"heating": years.heating_off, "cooling": years.cooling_off},
        "studies": [study_values(each) for each in beside(model)],
    }


def _bought(bought: Any) -> dict[str, Any]:
    return {
        "plant": bought.plant.key,
        "fuel": bought.fuel.key,
        "unit": bought.fuel.unit,
        "price": bought.price,
        "own_price": bought.own,
        "priced": "by the house" if bought.own else bought.fuel.priced,
        "yield": bought.plant.yield_likely,
    }


def _margin(model: Model) -> dict[str, Any]:
    keep, replace = (model.cheapest(replaces=which).key for which in (False, True))
    found: dict[str, Any] = {"likely": model.cost(replace) - model.cost(keep)}
    if model.drawn:
        found |= ranged(model.margin)
        found["keeping_costs_less_share"] = float((model.margin > 0).mean())
    return found


def _drawn_from(each: Input) -> dict[str, Any]:
    ends = {"low": each.low, "likely": each.likely, "high": each.high}
    return {"name": each.name, "words": each.words, "unit": each.unit, **ends}


def _more_by_year(model: Model) -> dict[str, Any] | None:
    """Ranges, year by year, of what the cheapest keeping and the cheapest replacing cost beside the base."""
    if not model.drawn:
        return None
    found = {}
    for which in (False, True):
        key = model.cheapest(replaces=which).key
        ends = np.percentile(model.more_by_year(key), (LOW, 50, HIGH), axis=0)
        found[key] = {
            name: end.tolist() for name, end in zip(("low", "middle", "high"), ends, strict=True)
        }
    return found


def weight_values(each: Weight) -> dict[str, Any]:
    """One bar of the comparison of inputs: the margin with the input low, and high."""
    return {
        "name": each.name,
        "words": each.words,
        "unit": each.unit,
        "rank_correlation": each.correlation,
        "share": each.share,
        "margin_at_low": each.at_low,
        "margin_at_high": each.at_high,
        "low": each.low,
        "high": each.high,
    }


def alternative_values(model: Model, each: Alternative) -> dict[str, Any]:
    """One alternative at its likely figures, with its ranges, and its cost over time."""
    standing, need = model.standings[each.key], model.needs[each.key]
    base_need = model.needs[model.base.key]
    likely, base = model.likely[each.key], model.likely[model.base.key]
    money, carbon = likely.money, model.carbon[each.key]
    return {
        "key": each.key,
        "name": each.way.name,
        "group": each.way.group,
        "joints": each.way.joints,
        "glass": each.way.glass,
        "windows_changed": each.touched,
        "work": {key: round(amount, 4) for key, amount in each.amounts.items()},
        "u_winter_w_m2k": standing.u_winter,
        "u_summer_w_m2k": standing.u_summer,
        "leak_4_m3_s": standing.winter_at_4.likely,
        "heating_kwh": need.heating / KWH,
        "cooling_kwh": need.cooling / KWH,
        "heating_saved_kwh": (base_need.heating - need.heating) / KWH,
        **_bought_values(model, need.heating, need.cooling),
        "energy_cost": float(likely.energy_cost[0]),
        "energy_saved": float(base.energy_cost[0] - likely.energy_cost[0]),
        "first_cost": float(likely.first_cost[0]),
        "net_present_cost": float(money.present_cost[0]),
        "annual_cost": float(money.annual_cost[0]),
        "net_savings": float(money.net_savings[0]),
        "savings_to_investment": finite(float(money.ratio[0])),
        "adjusted_return": finite(float(money.adjusted_return[0])),
        "simple_payback_years": finite(float(money.simple_payback[0])),
        "discounted_payback_years": finite(float(money.discounted_payback[0])),
        "energy_payback_years": finite(float(money.energy_payback[0])),
        "carbon_a_year_kg": carbon.a_year,
        "carbon_made_now_kg": carbon.made_now,
        "carbon_made_later_kg": carbon.made_later,
        "carbon_total_kg": carbon.total,
        "carbon_payback_years": finite(carbon_payback(model.carbon[model.base.key], carbon)),
        "landfill_now_kg": carbon.landfill_now,
        "landfill_kg": carbon.landfill,
        "carbon_by_year_kg": [
            made + carbon.a_year * year for year, made in enumerate(carbon.made_by_year)
        ],
        "landfill_by_year_kg": list(carbon.landfill_by_year),
        "cost_by_year": _by_year(model, each.key),
        "ranges": _ranges(model.drawn[each.key]) if model.drawn else None,
        "costs_least_share": model.wins.get(each.key),
    }


def _bought_values(model: Model, heating: float, cooling: float) -> Mapping[str, float]:
    warm, cool = model.bought
    found = {"heating_bought": heating / warm.plant.yield_likely / warm.joules}
    found["cooling_bought"] = (
        0.0 if cool is None else cooling / cool.plant.yield_likely / cool.joules
    )
    return found


def _by_year(model: Model, key: str) -> list[float]:
    """Cost so far at the end of each year, at its worth today; the last counts what is left at the end."""
    flows = model.flows[key]
    total = flows.total[0].copy()
    summed: Sequence[float] = np.cumsum(discounted(total, model.rate)).tolist()
    return list(summed)


def _ranges(drawn: Drawn) -> dict[str, Any]:
    money = drawn.money
    return {
        "energy_cost": ranged(drawn.energy_cost),
        "first_cost": ranged(drawn.first_cost),
        "net_present_cost": ranged(money.present_cost),
        "net_savings": ranged(money.net_savings),
        "energy_payback_years": ranged(money.energy_payback),
        "discounted_payback_years": ranged(money.discounted_payback),
    }


def window_values(model: Model, glazed: Glazed) -> dict[str, Any]:
    """One window in every alternative: what it conducts and passes, and its share of the first cost."""
    rows = []
    for each in model.alternatives:
        (stands,) = [s for s in each.windows if s.glazed.number == glazed.number]
        leak = model.follower.leak(glazed, stands.joints, stands.winter)
        rows.append(
            {
                "key": each.key,
                "changed": stands.changed,
                "u_winter_w_m2k": model.follower.u(glazed, stands.winter),
                "leak_4_m3_s": leak.likely,
                "leak_4_low_m3_s": leak.low,
                "leak_4_high_m3_s": leak.high,
                "work": list(stands.work),
            }
        )
    return {"area_m2": glazed.area, "as_found": glazed.winter, "alternatives": rows}
