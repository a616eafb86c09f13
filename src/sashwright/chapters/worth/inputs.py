"""What is not known for sure, each with a low, a likely and a high figure, and draws of all of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.worth.alternatives import Alternative
from sashwright.knowledge.energy_tables import Fuel, Plant
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.worth_tables import Measure
from sashwright.window.fabric import Running

Array = NDArray[np.float64]

QUOTED = 0.10
"""How far a cost that the house gives may be off either way [-]; judgement."""
OWN_PRICE, TABLE_PRICE = 0.15, 0.35
"""How far the price of a fuel may be off over the years, the house's own and the table's [-]; judgement."""
RISE = 0.02
"""How far its rise may be off [1/year]; judgement."""
CONDUCTANCE = 0.10
"""How far the conductance of the windows may be off: films, wood, workmanship [-]; judgement."""
SUN = (0.7, 1.0, 1.0)
"""Share of the sun that trees, porches and neighbours leave [-]; judgement."""
WEATHER = (-0.5, 0.0, 2.0)
"""By how much the years to come are warmer than the typical one [K]; judgement: typical years are made of
past decades."""
REST = (0.5, 1.0, 2.0)
"""Leakage of the rest of a house that nobody tested, of what is assumed [-]; judgement: tests of old houses
spread so."""
TEST = 0.06
"""Two standard deviations of a fan test [-]; from memory."""


@dataclass(frozen=True, slots=True)
class Input:
    """One figure that is drawn: a triangle from low over likely to high, ``log`` on a scale of ratios."""

    name: str
    words: str
    low: float
    likely: float
    high: float
    unit: str
    log: bool = False

    def at(self, rank: Array) -> Array:
        """The figure that this share of all draws lies below."""
        if not self.log:
            return triangle(rank, self.low, self.likely, self.high)
        low, likely, high = np.log([self.low, self.likely, self.high])
        return np.asarray(np.exp(triangle(rank, low, likely, high)))


def triangle(rank: Array, low: float, likely: float, high: float) -> Array:
    """Quantiles of a triangular distribution."""
    if high <= low:
        return np.full(np.shape(rank), likely)
    at = (likely - low) / (high - low)
    with np.errstate(invalid="ignore"):
        below = low + np.sqrt(np.maximum(rank * (high - low) * (likely - low), 0.0))
        above = high - np.sqrt(np.maximum((1 - rank) * (high - low) * (high - likely), 0.0))
    return np.where(rank < at, below, above)


def ranks(inputs: Sequence[Input], draws: int, seed: int) -> Mapping[str, Array]:
    """Ranks of all inputs, evenly spread for each and in no order among them (Latin hypercube)."""
    rng = np.random.default_rng(seed)
    return {
        each.name: (rng.permutation(draws) + rng.random(draws)) / draws for each in inputs
    }  # fmt: skip


@dataclass(frozen=True, slots=True)
class Bought:
    """What a house buys for heating, or for cooling."""

    plant: Plant
    fuel: Fuel
    price: float
    own: bool
    """Whether the price is the house's own."""

    @property
    def joules(self) -> float:
        """Heat in a unit of the fuel [J]."""
        return self.fuel.energy


def bought_for(running: Running, knowledge: Knowledge) -> tuple[Bought, Bought | None]:
    """For heating and for cooling. Raises ``KnowledgeError`` for an unknown row."""

    def of(key: str, own: float | None) -> Bought:
        plant: Plant = knowledge.find("plant", key)
        fuel: Fuel = knowledge.find("fuel", plant.fuel)
        if fuel.key == "electricity":
            own = running.electricity_price if own is None else own
        return Bought(plant, fuel, fuel.price if own is None else own, own is not None)

    heating = of(running.heating, running.heating_price)
    if running.cooling is None:
        return heating, None
    return heating, of(running.cooling, running.electricity_price)


def costs_of(running: Running, measure: Measure) -> tuple[float, float, float]:
    """Of one window of the ordinary size: the house's own, or the table's; low, likely, high."""
    own = running.costs.get(measure.key)
    if own is None:
        return measure.cost_low, measure.cost, measure.cost_high
    return own * (1 - QUOTED), own, own * (1 + QUOTED)


def inputs_of(
    running: Running,
    measures: Iterable[Measure],
    heating: Bought,
    cooling: Bought | None,
    *,
    tested: bool,
) -> list[Input]:
    """All that is drawn for a house."""
    return [
        Input("leak as found", "how leaky the windows are now", 0, 0.5, 1, "rank"),
        Input("leak after work", "how tight the work makes them", 0, 0.5, 1, "rank"),
        Input("rest", "leakage of the rest of the house", 1 - TEST, 1, 1 + TEST, "-")
        if tested
        else Input("rest", "leakage of the rest of the house", *REST, "-", log=True),
        Input("conductance", "heat through the windows", 1 - CONDUCTANCE, 1, 1 + CONDUCTANCE, "-"),
        Input("sun", "sun that reaches the windows", *SUN, "-"),
        Input("weather", "warmth of the years to come", *WEATHER, "K"),
        *_energy_inputs(running, heating, cooling),
        *_work_inputs(running, measures),
    ]


def _energy_inputs(running: Running, heating: Bought, cooling: Bought | None) -> Iterator[Input]:
    rise = running.fuel_rise / 100
    yield _price("heating price", "price of the heating's fuel", heating)
    yield Input("rise", "rise of energy prices", rise - RISE, rise, rise + RISE, "1/year")
    yield _yield("heating yield", "yield of the heating", heating.plant)
    if cooling is not None:
        if cooling.fuel.key != heating.fuel.key:
            yield _price("cooling price", "price of power for cooling", cooling)
        yield _yield("cooling yield", "yield of the cooling", cooling.plant)


def _price(name: str, words: str, bought: Bought) -> Input:
    off = OWN_PRICE if bought.own else TABLE_PRICE
    unit = f"{bought.fuel.currency}/{bought.fuel.unit}"
    return Input(
        name, words, bought.price * (1 - off), bought.price, bought.price * (1 + off), unit
    )


def _yield(name: str, words: str, plant: Plant) -> Input:
    return Input(name, words, plant.yield_low, plant.yield_likely, plant.yield_high, "-")


def _work_inputs(running: Running, measures: Iterable[Measure]) -> Iterator[Input]:
    for row in measures:
        yield Input(
            f"cost {row.key}",
            f"cost of “{_small(row.name)}”",
            *costs_of(running, row),
            row.currency,
            log=True,
        )
        yield Input(
            f"life {row.key}",
            f"life of “{_small(row.name)}”",
            row.life_years_low,
            row.life_years,
            row.life_years_high,
            "years",
        )


def _small(name: str) -> str:
    return name[0].lower() + name[1:]


def measures_in(alternatives: Sequence[Alternative], knowledge: Knowledge) -> dict[str, Measure]:
    """Rows of the measure table that any alternative asks for, in the table's order."""
    used = {key for alternative in alternatives for key in alternative.amounts}
    return {key: row for key, row in knowledge.measure.items() if key in used}
