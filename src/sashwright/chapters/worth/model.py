"""A house with its alternatives, worked out: energy, money, carbon, at the likely figures and in draws."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.worth.alternatives import Alternative, alternatives
from sashwright.chapters.worth.carbon import Carbon, carbon_of
from sashwright.chapters.worth.chance import (
    Terms,
    Weight,
    Years,
    energy_cost,
    weights_of,
    years_of,
)
from sashwright.chapters.worth.energy import Follower, Need, Standing
from sashwright.chapters.worth.home import Home
from sashwright.chapters.worth.inputs import (
    Bought,
    Input,
    bought_for,
    inputs_of,
    measures_in,
    ranks,
)
from sashwright.chapters.worth.money import Flows, Money, first_cost, flows_of, money_of
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.worth_tables import Measure
from sashwright.physics.economics import discounted
from sashwright.window.fabric import Running

Array = NDArray[np.float64]

SEED = 1


@dataclass(frozen=True, eq=False)
class Drawn:
    """Results of all draws for one alternative, each (draws,)."""

    energy_cost: Array
    first_cost: Array
    money: Money


@dataclass(frozen=True, eq=False)
class Model:
    """All answers about a home. ``repair_due``: the windows cannot stay as they are."""

    home: Home
    knowledge: Knowledge
    draws: int = 1000
    seed: int = SEED
    repair_due: bool = False
    only: tuple[str, ...] | None = None
    """Keys of the ways that are asked for; all where None."""

    @property
    def running(self) -> Running:
        return self.home.house.running

    @property
    def rate(self) -> float:
        return self.running.discount / 100

    @property
    def years(self) -> int:
        return self.running.years

    # --- energy

    @cached_property
    def follower(self) -> Follower:
        return Follower(self.home)

    @cached_property
    def alternatives(self) -> list[Alternative]:
        shares = {key: row.area_share for key, row in self.knowledge.measure.items()}
        found = alternatives(self.home.windows, shares, repair_due=self.repair_due)
        return [each for each in found if self.only is None or each.key in self.only]

    @property
    def base(self) -> Alternative:
        """What all are compared with."""
        return self.alternatives[0]

    @cached_property
    def standings(self) -> dict[str, Standing]:
        return {each.key: self.follower.standing(each) for each in self.alternatives}

    @cached_property
    def needs(self) -> dict[str, Need]:
        """The year of each alternative at its likely figures; those whose windows stand alike once."""
        known: dict[tuple[float, ...], Need] = {}
        found = {}
        for key, s in self.standings.items():
            like = (
                s.u_winter, s.u_summer, s.winter_at_4.likely, s.summer_at_4.likely, s.cold_u,
                float(s.sun.sum()), float(s.cold_sun.sum()),
            )  # fmt: skip
            if like not in known:
                known[like] = self.follower.need(s)
            found[key] = known[like]
        return found

    # --- money

    @cached_property
    def bought(self) -> tuple[Bought, Bought | None]:
        heating, cooling = bought_for(self.running, self.knowledge)
        return heating, cooling if self.follower.cools else None

    @cached_property
    def measures(self) -> dict[str, Measure]:
        return measures_in(self.alternatives, self.knowledge)

    @cached_property
    def inputs(self) -> list[Input]:
        return inputs_of(
            self.running, self.measures.values(), *self.bought, tested=self.home.tested
        )

    @cached_property
    def _likely(self) -> Terms:
        return Terms.likely(self.inputs)

    @cached_property
    def likely(self) -> dict[str, Drawn]:
        """One draw, at which all is likely."""
        needs = {
            key: (np.array([need.heating]), np.array([need.cooling]))
            for key, need in self.needs.items()
        }
        return self._results(needs, self._likely)

    @cached_property
    def flows(self) -> dict[str, Flows]:
        """At the likely figures, (1, years + 1)."""
        return {
            each.key: self._flows(each, self.likely[each.key].energy_cost, self._likely)
            for each in self.alternatives
        }

    def _flows(self, each: Alternative, energy: Array, terms: Terms) -> Flows:
        costs = {key: terms.values[f"cost {key}"] for key in self.measures}
        lives = {key: terms.values[f"life {key}"] for key in self.measures}
        return flows_of(each, self.measures, costs, lives, energy, terms.values["rise"], self.years)

    def _results(self, needs: Mapping[str, tuple[Array, Array]], terms: Terms) -> dict[str, Drawn]:
        costs = {key: terms.values[f"cost {key}"] for key in self.measures}
        found: dict[str, Drawn] = {}
        base: Flows | None = None
        for each in self.alternatives:
            energy = energy_cost(*needs[each.key], self.bought, terms)
            flows = self._flows(each, energy, terms)
            base = base or flows
            found[each.key] = Drawn(
                energy, first_cost(each, self.measures, costs), money_of(base, flows, self.rate)
            )
        return found

    # --- carbon

    def carbon_a_year(self, need: Need) -> float:
        """Given off by a year's heating and cooling at the likely yields [kg]."""
        warm, cool = self.bought
        given = need.heating / warm.plant.yield_likely * warm.fuel.carbon
        if cool is not None:
            given += need.cooling / cool.plant.yield_likely * cool.fuel.carbon
        return given

    @cached_property
    def carbon(self) -> dict[str, Carbon]:
        return {
            each.key: carbon_of(
                each, self.measures, self.carbon_a_year(self.needs[each.key]), self.years
            )
            for each in self.alternatives
        }

    # --- chance

    @cached_property
    def _terms(self) -> Terms:
        return Terms.drawn(self.inputs, ranks(self.inputs, self.draws, self.seed))

    @cached_property
    def drawn_years(self) -> Years:
        return years_of(self.follower, self.alternatives, self.standings, self.needs, self._terms)

    @cached_property
    def drawn(self) -> dict[str, Drawn]:
        """Of all draws; empty without any."""
        if self.draws < 1:
            return {}
        years = self.drawn_years
        needs = {key: (years.heating[key], years.cooling[key]) for key in self.needs}
        return self._results(needs, self._terms)

    def more_by_year(self, key: str) -> Array:
        """Cost so far beside the base's at the end of each year, at its worth today, of all draws.

        Shape (draws, years + 1); the last year counts what is left at the end.
        """
        base, other = (self._drawn_total(each) for each in (self.base.key, key))
        more: Array = np.cumsum(discounted(other - base, self.rate), axis=-1)
        return more

    def _drawn_total(self, key: str) -> Array:
        each = next(a for a in self.alternatives if a.key == key)
        return self._flows(each, self.drawn[key].energy_cost, self._terms).total

    # --- keep or replace

    def cost(self, key: str) -> float:
        """Net present cost at the likely figures."""
        return float(self.likely[key].money.present_cost[0])

    def cheapest(self, *, replaces: bool | None = None) -> Alternative:
        """Least net present cost, of all, of those that keep the sash or of those that replace them."""
        some = [a for a in self.alternatives if replaces is None or a.way.replaces is replaces]
        return min(some, key=lambda each: self.cost(each.key))

    @cached_property
    def margin(self) -> Array:
        """By how much the cheapest replacement costs more than the cheapest keeping, (draws,)."""
        keep, replace = (self.cheapest(replaces=which).key for which in (False, True))
        more: Array = self.drawn[replace].money.present_cost - self.drawn[keep].money.present_cost
        return more

    @cached_property
    def weights(self) -> list[Weight]:
        """What moves that margin, most first."""
        return weights_of(self.inputs, self._terms, self.margin) if self.drawn else []

    @cached_property
    def wins(self) -> dict[str, float]:
        """Share of the draws in which each alternative costs least."""
        if not self.drawn:
            return {}
        keys = list(self.drawn)
        costs = np.stack([self.drawn[key].money.present_cost for key in keys])
        count = np.bincount(costs.argmin(axis=0), minlength=len(keys)) / costs.shape[1]
        return {key: float(share) for key, share in zip(keys, count, strict=True)}

    def at_rate(self, rate: float) -> dict[str, float]:
        """Net present cost of each alternative at another interest."""
        base = self.flows[self.base.key]
        return {
            key: float(money_of(base, flows, rate).present_cost[0])
            for key, flows in self.flows.items()
        }
