"""The bin of salvaged weights: which two hang on which sash, and what must be bought.

Each sash takes two weights near its target and near each other, short and thin enough for its pocket;
those of upper and lower sash must pass each other. As few weights as can be are bought, and then those
from the bin are as near their targets as can be.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping, Sequence

from sashwright.chapters.make.bin_pairs import BOUGHT, pairs_of
from sashwright.chapters.make.bin_search import SAME, choose_pairs
from sashwright.chapters.make.budget import Budget
from sashwright.chapters.make.weights import BinPlan, HungPair, Room, SashNeed, Weight
from sashwright.window.pocket import EPSILON

__all__ = ["BinPlan", "HungPair", "Room", "SashNeed", "Weight", "assign"]


def assign(
    weights: Sequence[Weight],
    sashes: Sequence[SashNeed],
    together: Mapping[str, float],
    budget: Budget,
) -> BinPlan:
    """The best pair for every sash found within the budget.

    ``together`` is for each window the greatest sum of the thicknesses of an upper and a lower sash's weight
    that pass each other in one pocket [m]; a window that it does not have is not judged. Raises
    ``ValueError`` where two weights or two sash go by one name, or where the weights to be bought for a
    window could not pass each other.
    """
    _check(weights, sashes, together)
    if not sashes:
        return BinPlan((), 0, 0.0, True)
    pairs = pairs_of(weights, sashes)
    choice = choose_pairs(pairs, len(weights), sashes, together, budget)
    bought = int(pairs.bought[choice.rows].sum())
    cost = float(pairs.cost[choice.rows].sum())
    # All deviations together are less than one bought weight, so that whole ones are told apart.
    least = min(max(math.floor(choice.bound / pairs.dear + SAME), 0), bought)
    hung = {
        int(pairs.sash[row]): (int(pairs.first[row]), int(pairs.second[row]))
        for row in choice.rows.tolist()
    }
    placed = [
        HungPair(sash, *(None if one == BOUGHT else weights[one] for one in hung[at]))
        for at, sash in enumerate(sashes)
    ]
    return BinPlan(
        pairs=tuple(_sides(placed)),
        least_bought=least,
        least_deviation=max(choice.bound - bought * pairs.dear, 0.0) if least == bought else None,
        proven=cost <= choice.bound + 10 * SAME,
    )


def _sides(placed: Sequence[HungPair]) -> list[HungPair]:
    """Thicker weights of the upper sash to the left, of the lower to the right, so that they pass."""

    def thickness(pair: HungPair, weight: Weight | None) -> float:
        return pair.sash.buys if weight is None else weight.size

    found = []
    for pair in placed:
        left, right = pair.left, pair.right
        thicker_left = pair.sash.which == "upper"
        if (thickness(pair, left) < thickness(pair, right)) == thicker_left:
            left, right = right, left
        found.append(HungPair(pair.sash, left, right))
    return found


def _check(
    weights: Sequence[Weight], sashes: Sequence[SashNeed], together: Mapping[str, float]
) -> None:
    for number, times in Counter(weight.number for weight in weights).items():
        if times > 1:
            raise ValueError(f"weight {number!r}: found {times} times, expected once")
    for (window, which), times in Counter((s.window, s.which) for s in sashes).items():
        if times > 1:
            raise ValueError(f"window {window}, {which} sash: found {times} times, expected once")
    buys: dict[str, float] = {}
    for sash in sashes:
        buys[sash.window] = buys.get(sash.window, 0.0) + sash.buys
    for window, room in together.items():
        if buys.get(window, 0.0) > room + EPSILON:
            raise ValueError(
                f"window {window}: the weights to be bought are {buys[window]:g} m thick together, "
                f"expected at most {room:g} m"
            )
