"""How keep or replace was worked out, for those who check it: method, inputs with their sources, steps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.chapters.worth.inputs import QUOTED
from sashwright.chapters.worth.say import SIGNS
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.worth_tables import Measure
from sashwright.papers import worthwords
from sashwright.papers.job import Job
from sashwright.papers.stepwords import named
from sashwright.papers.words import capital, count

DRAWN_UNITS = {"-": "factor", "K": "K", "1/year": "a year"}
METHOD = (
    (
        "Energy",
        "All heated rooms are one zone, all others another. Their heat is followed hour by hour through "
        "a typical year (ISO 52016-1): walls, ceilings and floors with their mass, windows as they stand "
        "in each way, sun on each wall, people and lamps. Glass, storm and wood: as the warmth sheets have "
        "them. Air: the leakage of the windows in their state and that of the rest of the house, driven by "
        "wind and warmth in each hour (enhanced model, ASHRAE Handbook of Fundamentals).",
    ),
    (
        "Money",
        "Conventions of NIST Handbook 135 and ASTM E917: constant prices, real interest, costs at the end "
        "of their year. Work is done again at the end of its life; what is left of a life at the end "
        "counts by even steps. Pays back: first cost beyond that of the base over the energy saved in the "
        "first year, as the trade and most studies mean it.",
    ),
    (
        "Carbon",
        "Made: by the area of the openings, now and at each renewal. Given off: energy bought times the "
        "factor of its fuel, the same through all years.",
    ),
    (
        "Chance",
        "All figures of the tables below are drawn together, each from a triangle between its low and its "
        "high, evenly spread (Latin hypercube). Ranges go from the tenth to the ninetieth of a hundred "
        "draws. What decides: squares of rank regression coefficients, in shares.",
    ),
)


def appendix(job: Job, answer: Answer) -> dict[str, Any]:
    """All words of the appendix of an answer that has values."""
    values = answer.values
    measures = _measures(job.knowledge, values)
    return {
        "title": "How it was worked out",
        "method": [list(each) for each in METHOD],
        "inputs_title": "The house and its energy",
        "inputs": [list(row) for row in _inputs(job, values)],
        "measures_title": "What work costs and lasts",
        "measure_columns": [
            "For one window of 36 by 60 in", "Cost", "It may be", "Lives, years", "Carbon, kg/m²", "Source",
        ],
        "measures": [_measure(job, row) for row in measures],
        "drawn_title": "What is drawn besides",
        "drawn_columns": ["Figure", "Low", "Likely", "High", "Unit"],
        "drawn": list(_drawn(values)),
        "working_title": "Step by step",
        "working": [
            {"step": capital(step.step), "formula": step.formula,
             "inputs": "; ".join(_input(*item) for item in step.inputs.items()),
             "result": f"= {_plain(step.result)} {step.unit}", "source": step.source}
            for step in answer.working
        ],
        "rates_title": "At other rates of interest",
        **_rates(values),
    }  # fmt: skip


def _input(key: str, value: Any) -> str:
    name, unit = named(key)
    return f"{name} {_plain(value)} {unit}".strip()


def _plain(value: Any) -> str:
    if isinstance(value, float):
        return f"{value:,.0f}" if abs(value) >= 1000 else f"{value:.4g}"
    return str(value)


def _inputs(job: Job, values: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    house, knowledge = job.house, job.knowledge
    heat, cool = values["heating"], values["cooling"]
    yield (
        "Windows",
        f"{count(values['windows'], 'window')}, {values['window_area_m2']:.1f} m² of openings",
    )
    yield "Heated floor", f"{values['heated_floor_m2']:.0f} m²"
    for name in ("wall", "ceiling", "floor"):
        row = knowledge.find("fabric", getattr(house.fabric, name))
        yield (
            capital(name),
            f"{row.name}, U {row.u_value:.2g} W/(m² K) ({row.source}, {row.status})",
        )
    yield "Heating", _plant(knowledge, heat)
    yield "Cooling", "none" if cool is None else _plant(knowledge, cool)
    yield (
        "Interest, rise of energy prices",
        (
            f"{100 * values['discount']:g} % and {100 * values['fuel_rise']:g} % a year, over "
            f"{values['years']} years"
        ),
    )
    yield "Weather", values["weather"]
    for sentence in values["assumed"]:
        yield "Assumed", sentence


def _plant(knowledge: Knowledge, bought: Mapping[str, Any]) -> str:
    plant = knowledge.find("plant", bought["plant"])
    fuel = knowledge.find("fuel", bought["fuel"])
    sign = SIGNS.get(fuel.currency, f"{fuel.currency} ")
    return (
        f"{plant.name}, yield {bought['yield']:g} ({plant.status}); {fuel.name.lower()} at {sign}"
        f"{bought['price']:.2f} a {bought['unit']}, {bought['priced']} ({fuel.source}, {fuel.status})"
    )


def _measures(knowledge: Knowledge, values: Mapping[str, Any]) -> list[Measure]:
    """Those that any way asks for."""
    used = {key for row in values["alternatives"] for key in row["work"]}
    return [row for key, row in knowledge.measure.items() if key in used]


def _measure(job: Job, row: Measure) -> list[str]:
    own = job.house.running.costs.get(row.key)
    return [
        row.name,
        f"{row.cost if own is None else own:,.0f}",
        f"{row.cost_low:,.0f} to {row.cost_high:,.0f}"
        if own is None
        else f"quoted, ± {100 * QUOTED:.0f} %",
        f"{row.life_years:g} ({row.life_years_low:g} to {row.life_years_high:g})",
        f"{row.carbon:.3g}",
        f"{row.source} ({row.status})",
    ]


def _drawn(values: Mapping[str, Any]) -> Iterator[list[str]]:
    """All but costs and lives, which the table of work has."""
    for row in values["drawn_from"]:
        if row["name"].startswith(("cost ", "life ")):
            continue
        unit = DRAWN_UNITS.get(row["unit"], row["unit"])
        ends = [f"{row[end]:.3g}" for end in ("low", "likely", "high")]
        if row["unit"] == "rank":
            ends = ["tight end", "likely", "leaky end"]
            unit = "of the leakage table"
        yield [capital(row["words"]), *ends, unit]


def _rates(values: Mapping[str, Any]) -> dict[str, Any]:
    """Net present costs beside the base at other interest."""
    at = dict(
        sorted(values["net_present_cost_by_discount"].items(), key=lambda item: float(item[0]))
    )
    base = values["base"]
    rows = []
    for row in values["alternatives"]:
        costs = [at[rate][row["key"]] - at[rate][base] for rate in at]
        if row["key"] != base:
            rows.append([row["name"], *(worthwords.more(c, values["currency"]) for c in costs)])
    return {
        "rate_columns": ["Beside the base", *(f"{100 * float(rate):g} %" for rate in at)],
        "rates": rows,
    }
