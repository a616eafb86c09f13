"""A thousand draws of all that is not known for sure, through energy and money, for every alternative."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray
from scipy.stats import rankdata

from sashwright.chapters.worth.alternatives import Alternative
from sashwright.chapters.worth.energy import Follower, Need, Range, Standing
from sashwright.chapters.worth.inputs import Bought, Input, triangle
from sashwright.chapters.worth.surrogate import Polynomial, fitted

Array = NDArray[np.float64]

LOW, HIGH = 10, 90
"""Percentiles that a range goes between."""
SHARE_OF_ENDS = 0.2
"""Share of the draws at either end of an input that its bar in the comparison is the mean of."""


@dataclass(frozen=True, eq=False)
class Terms:
    """The figures of every draw, each (draws,)."""

    ranks: Mapping[str, Array]
    values: Mapping[str, Array]

    @classmethod
    def drawn(cls, inputs: Sequence[Input], ranks: Mapping[str, Array]) -> Terms:
        return cls(ranks, {each.name: each.at(ranks[each.name]) for each in inputs})

    @classmethod
    def likely(cls, inputs: Sequence[Input]) -> Terms:
        """One draw at which all is likely; ranks are those of the likely figures' triangles."""
        return cls({}, {each.name: np.array([each.likely]) for each in inputs})


@dataclass(frozen=True, eq=False)
class Years:
    """Needs of every alternative in every draw, and how far off they may be."""

    heating: Mapping[str, Array]
    """(draws,) [J]"""
    cooling: Mapping[str, Array]
    heating_off: float
    """Of a need: root mean square difference of the polynomial from years followed by the hour [-]."""
    cooling_off: float


def spread(rank: Array, found: Range) -> Array:
    """A leakage by its rank between the ends of its range, on a scale of ratios [m3/s]."""
    if found.likely <= 0:
        return np.zeros_like(rank)
    least = max(found.low, 1e-3 * found.likely)
    low, likely, high = np.log([least, found.likely, max(found.high, found.likely)])
    return np.asarray(np.exp(triangle(rank, low, likely, high)))


@dataclass(frozen=True, eq=False)
class Points:
    """Where an alternative's draws lie: conductance, all air at 4 Pa, sun, weather; (draws, 4)."""

    winter: Array
    summer: Array


def years_of(
    follower: Follower,
    alternatives: Sequence[Alternative],
    standings: Mapping[str, Standing],
    exact: Mapping[str, Need],
    terms: Terms,
) -> Years:
    """Needs of all draws from few years followed by the hour."""
    base = standings[alternatives[0].key]
    drawn = {
        each.key: _points(follower, each, standings[each.key], base, terms) for each in alternatives
    }
    centre = {
        each.key: _centre(follower, standings[each.key], base) for each in alternatives
    }  # fmt: skip
    every = np.concatenate(
        [np.concatenate([p.winter, p.summer]) for p in (*drawn.values(), *centre.values())]
    )
    polynomial = _fit(follower, base, every.min(axis=0), every.max(axis=0))
    heating, cooling = {}, {}
    for each in alternatives:
        here, likely = drawn[each.key], centre[each.key]
        need = exact[each.key]
        heating[each.key] = np.maximum(
            need.heating + polynomial(here.winter)[:, 0] - polynomial(likely.winter)[:, 0], 0.0
        )
        cooling[each.key] = np.maximum(
            need.cooling + polynomial(here.summer)[:, 1] - polynomial(likely.summer)[:, 1], 0.0
        )
    first = exact[alternatives[0].key]
    return Years(
        heating,
        cooling,
        float(polynomial.off[0]) / max(first.heating, 1.0),
        float(polynomial.off[1]) / max(first.cooling, 1.0) if first.cooling > 0 else 0.0,
    )


def _fit(follower: Follower, base: Standing, low: Array, high: Array) -> Polynomial:
    def followed(point: Array) -> Array:
        u, air, sun, warmer = (float(value) for value in point)
        standing = Standing(
            u, u, base.winter_at_4, base.summer_at_4, base.found_at_4, base.cold_u, base.sun,
            base.cold_sun,
        )  # fmt: skip
        need = follower.need(standing, leak=0.0, summer_leak=0.0, rest=air, sun=sun, warmer=warmer)
        return np.array([need.heating, need.cooling])

    return fitted(followed, low, high)


def _suns(follower: Follower, standing: Standing, base: Standing) -> tuple[float, float]:
    """Sun through the windows of an alternative over that of the base, in winter and in summer."""
    winter = follower.home.winter
    found = []
    for mask in (winter, ~winter):
        whole = float(base.sun[mask].sum())
        found.append(float(standing.sun[mask].sum()) / whole if whole > 0 else 1.0)
    return found[0], found[1]


def _centre(follower: Follower, standing: Standing, base: Standing) -> Points:
    rest = follower.home.rest_at_4
    winter, summer = _suns(follower, standing, base)
    return Points(
        np.array([[standing.u_winter, rest + standing.winter_at_4.likely, winter, 0.0]]),
        np.array([[standing.u_summer, rest + standing.summer_at_4.likely, summer, 0.0]]),
    )


def _points(
    follower: Follower, alternative: Alternative, standing: Standing, base: Standing, terms: Terms
) -> Points:
    before, after = terms.ranks["leak as found"], terms.ranks["leak after work"]
    value = terms.values
    rest = _rest(follower, value["rest"], before)
    new = alternative.way.glass == "new"
    if alternative.way.joints == "as found" and not new:
        winter, summer = spread(before, standing.winter_at_4), spread(before, standing.summer_at_4)
    else:
        winter, summer = spread(after, standing.winter_at_4), spread(after, standing.summer_at_4)
        if not new:
            # Work never leaves joints leakier than they were found.
            kept = np.minimum(1.0, spread(before, standing.found_at_4) / winter)
            winter, summer = winter * kept, summer * kept
    suns = _suns(follower, standing, base)

    def stacked(u: float, leak: Array, sun: float) -> Array:
        return np.column_stack(
            [u * value["conductance"], rest + leak, sun * value["sun"], value["weather"]]
        )

    return Points(
        stacked(standing.u_winter, winter, suns[0]), stacked(standing.u_summer, summer, suns[1])
    )


def _rest(follower: Follower, factor: Array, before: Array) -> Array:
    """The rest of the house: what a test of the whole leaves beside the windows, or as assumed [m3/s]."""
    home = follower.home
    if not home.tested:
        return home.rest_at_4 * factor
    whole = (home.rest_at_4 + follower.alone.likely) * factor
    return np.maximum(whole - spread(before, follower.alone), 0.0)


# --- what energy costs ----------------------------------------------------------------


def energy_cost(
    heating: Array, cooling: Array, sources: tuple[Bought, Bought | None], terms: Terms
) -> Array:
    """Of a year, at today's prices."""
    warm, cool = sources
    value = terms.values
    cost = heating / value["heating yield"] / warm.joules * value["heating price"]
    if cool is not None:
        price = value.get("cooling price", value["heating price"])
        cost = cost + cooling / value["cooling yield"] / cool.joules * price
    return np.asarray(cost)


# --- what matters ---------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Weight:
    """How much an input moves a result: rank correlation, share of the spread, means at its two ends."""

    name: str
    words: str
    correlation: float
    share: float
    at_low: float
    at_high: float
    low: float
    high: float
    """The input's figures that these are means about."""
    unit: str


def weights_of(inputs: Sequence[Input], terms: Terms, result: Array) -> list[Weight]:
    """Inputs by how much they move a result, most first.

    Shares are of the squares of standardized rank regression coefficients; inputs are drawn
    independently, so these add up to about what ranks explain.
    """
    names = [each for each in inputs if np.ptp(terms.values[each.name]) > 0]
    if not names or np.ptp(result) == 0:
        return []
    columns = np.column_stack([_standard(terms.values[each.name]) for each in names])
    target = _standard(result)
    slopes, *_ = np.linalg.lstsq(columns, target, rcond=None)
    squares = slopes**2
    total = float(squares.sum()) or 1.0
    found = []
    for at, each in enumerate(names):
        value = terms.values[each.name]
        low, high = np.quantile(value, [SHARE_OF_ENDS, 1 - SHARE_OF_ENDS])
        below, above = value <= low, value >= high
        found.append(
            Weight(
                each.name,
                each.words,
                float(columns[:, at] @ target / len(target)),
                float(squares[at]) / total,
                float(result[below].mean()),
                float(result[above].mean()),
                float(value[below].mean()),
                float(value[above].mean()),
                each.unit,
            )
        )
    return sorted(found, key=lambda weight: -weight.share)


def _standard(values: Array) -> Array:
    order = rankdata(values)
    scaled: Array = (order - order.mean()) / order.std()
    return scaled


def range_of(values: Array) -> tuple[float, float, float]:
    """Tenth, middle and ninetieth of a hundred; infinite ones count as the greatest."""
    sorted_ = np.sort(values)
    at = [round((len(sorted_) - 1) * share / 100) for share in (LOW, 50, HIGH)]
    low, middle, high = (float(sorted_[each]) for each in at)
    return low, middle, high
