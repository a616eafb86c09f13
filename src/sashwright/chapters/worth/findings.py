"""What the answer says in sentences: keep or replace, what would change that, what stands beside it."""

from __future__ import annotations

import math
from collections.abc import Iterator

from sashwright.chapters.answer import Finding, Step
from sashwright.chapters.worth.carbon import carbon_payback
from sashwright.chapters.worth.chance import range_of
from sashwright.chapters.worth.model import Model
from sashwright.chapters.worth.say import amount, years
from sashwright.chapters.worth.studies import baseline, beside

NIST = "NIST Handbook 135, ASTM E917: present costs in constant dollars"
ENOUGH = 0.8
"""Share of the draws in which an answer must hold to be said without a caution; judgement."""
NAMED = 3
"""Inputs that are named as those that would change the answer."""


def money(model: Model, value: float) -> str:
    return amount(value, model.bought[0].fuel.currency)


def findings_of(model: Model) -> Iterator[Finding]:
    yield from _answer(model)
    yield from _replacing(model)
    yield from _inputs(model)
    yield from _carbon(model)
    yield from _studies(model)
    yield from _bases(model)


def _name(model: Model, key: str) -> str:
    name = next(each.way.name for each in model.alternatives if each.key == key)
    return name[0].lower() + name[1:]


def _answer(model: Model) -> Iterator[Finding]:
    best = model.cheapest()
    keep, replace = (model.cheapest(replaces=which) for which in (False, True))
    cost = model.cost(best.key)
    more = model.cost(replace.key) - model.cost(keep.key)
    side = "Replace" if best.way.replaces else "Keep"
    other = keep if best.way.replaces else replace
    says = (
        f"{side}: over {model.years} years “{_name(model, best.key)}” costs least, "
        f"{money(model, cost)}"
    )
    level = "ok"
    if model.drawn:
        low, _, high = range_of(model.drawn[best.key].money.present_cost)
        says += f" ({money(model, low)} to {money(model, high)})"
        share = float((model.margin > 0).mean())
        share = 1 - share if best.way.replaces else share
        level = "ok" if share >= ENOUGH else "caution"
        holds = f"; so it comes out in {100 * share:.0f} of 100 draws"
    else:
        holds = ""
    says += f", {money(model, abs(more))} less than “{_name(model, other.key)}”{holds}."
    yield Finding(
        level,  # type: ignore[arg-type]
        "house",
        says,
        f"first costs, renewals, upkeep and energy at {100 * model.rate:g} % interest, energy rising "
        f"{model.running.fuel_rise:g} % a year; compared with: {baseline(model)}",
        NIST,
    )


def _replacing(model: Model) -> Iterator[Finding]:
    """What replacement pays back by energy alone, as the trade speaks of it."""
    key = min(
        (each.key for each in model.alternatives if each.way.glass == "new"),
        key=lambda each: float(model.likely[each].money.energy_payback[0]),
    )
    drawn = model.likely[key]
    saved = float(model.likely[model.base.key].energy_cost[0] - drawn.energy_cost[0])
    back = float(drawn.money.energy_payback[0])
    if math.isfinite(back):
        says = (
            f"Replacement windows save {money(model, saved)} of energy in the first year and take "
            f"{years(back)} to pay back by it, at today's prices and without interest."
        )
    else:
        says = "Replacement windows save no energy here that would pay anything back."
    yield Finding(
        "note",
        "house",
        says,
        f"first cost over that of the base, {money(model, float(drawn.first_cost[0]))} in all, over the "
        f"energy saved; the baseline decides: {baseline(model)}",
        "simple payback; the year hour by hour by ISO 52016-1",
    )


def _inputs(model: Model) -> Iterator[Finding]:
    top = model.weights[:NAMED]
    if not top:
        return
    words = [each.words for each in top]
    turns = [
        each for each in top if min(each.at_low, each.at_high) < 0 < max(each.at_low, each.at_high)
    ]
    says = f"What would change that most: {'; '.join(words)}."
    if not turns:
        says += " None of them turns it by itself."
    yield Finding(
        "note",
        "house",
        says,
        "share of the spread between keeping and replacing: "
        + ", ".join(f"{each.words} {100 * each.share:.0f} %" for each in top),
        "rank regression over the draws",
    )


def _carbon(model: Model) -> Iterator[Finding]:
    best = model.cheapest()
    new = min(
        (each for each in model.alternatives if each.way.glass == "new"),
        key=lambda each: model.carbon[each.key].total,
    )
    base = model.carbon[model.base.key]
    carbon = model.carbon[new.key]
    back = carbon_payback(base, carbon)
    yield Finding(
        "note",
        "house",
        f"In carbon “{_name(model, new.key)}” takes {years(back)} to make good what its making gives off; "
        f"through {model.years} years it throws away {carbon.landfill / 1000:.1f} t, "
        f"“{_name(model, best.key)}” {model.carbon[best.key].landfill / 1000:.1f} t.",
        f"{carbon.made_now:.0f} kg made now, {base.a_year - carbon.a_year:.0f} kg a year burnt less; carbon "
        "is not money, and the two paybacks are not alike",
        "embodied carbon by area of window, ICE 2.0; emission factors of the fuel table",
    )


def _studies(model: Model) -> Iterator[Finding]:
    rows = [each for each in beside(model) if each.study.key == "trade-replacement"]
    for each in rows:
        yield Finding(
            "note",
            "house",
            f"The trade says 40 to 110 years for replacement; here it is {years(each.ours)}, {each.lies} "
            f"that span, measured against windows {each.baseline}.",
            "published: from 34 years against bare single glass to 240 against single glass with a storm",
            f"{each.study.source} ({each.study.status})",
        )


def _bases(model: Model) -> Iterator[Finding]:
    if not model.running.costs:
        yield Finding(
            "caution",
            "house",
            "Costs of work are starting allowances: put in quotes before anybody decides by this.",
            "no quote for any work is recorded with the house",
            "measure table (from memory)",
        )
    if not model.home.tested:
        yield Finding(
            "note",
            "house",
            "The house has not been tested with a fan: how leaky it is beside its windows is assumed.",
            "no test is recorded",
            "ASHRAE Handbook of Fundamentals, old houses, from memory",
        )
    if not model.repair_due:
        yield Finding(
            "note",
            "house",
            "“Left as found” counts no repair that is due anyway; if the windows cannot stay as they are, "
            "ask with the repair due.",
            "nothing is known here of when a window fails",
            "judgement",
        )
    for sentence in model.home.building.plan.assumed:
        yield Finding("note", "house", sentence, "no plan is recorded", "judgement")


def steps_of(model: Model) -> Iterator[Step]:
    """Working of the base and of the cheapest alternative."""
    warm, _ = model.bought
    for each in {a.key: a for a in (model.base, model.cheapest())}.values():
        need, drawn = model.needs[each.key], model.likely[each.key]
        standing = model.standings[each.key]
        yield Step(
            f"{each.way.name}: heat needed in a year",
            "hour by hour, one heated zone with mass; U A of the windows, walls, air by the enhanced model",
            {
                "window_u_w_m2k": standing.u_winter,
                "window_area_m2": model.follower.areas[0],
                "windows_4_pa_m3_s": standing.winter_at_4.likely,
                "rest_4_pa_m3_s": model.home.rest_at_4,
                "heated_to_c": model.home.house.heated_to,
                "gains_w": model.home.gains,
            },
            need.heating / 3.6e6,
            "kWh",
            "ISO 52016-1; ASHRAE Handbook of Fundamentals",
        )
        yield Step(
            f"{each.way.name}: cost of a year's energy",
            "heat / (yield x heat of a unit) x price, and likewise for cooling",
            {
                "yield": warm.plant.yield_likely,
                "unit_kwh": warm.joules / 3.6e6,
                f"price_per_{warm.fuel.unit}": warm.price,
                "cooling_kwh": need.cooling / 3.6e6,
            },
            float(drawn.energy_cost[0]),
            warm.fuel.currency,
            f"{warm.plant.source}; {warm.fuel.source}",
        )
        yield Step(
            f"{each.way.name}: net present cost",
            "first costs + sum of renewals, upkeep and energy / (1 + d)^year - what is left at the end",
            {
                "first_cost": float(drawn.first_cost[0]),
                "discount": model.rate,
                "rise": model.running.fuel_rise / 100,
                "years": model.years,
                **{f"amount {key}": round(a, 3) for key, a in each.amounts.items()},
            },
            float(drawn.money.present_cost[0]),
            warm.fuel.currency,
            NIST,
        )
