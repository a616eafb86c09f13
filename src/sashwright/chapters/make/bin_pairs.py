"""Every pair of weights that fits each sash, as arrays."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.make.weights import SashNeed, Weight
from sashwright.window.pocket import EPSILON

Floats = NDArray[np.float64]
Ints = NDArray[np.int64]
BOUGHT = -1
"""Instead of a weight's place in the bin."""


@dataclass(frozen=True)
class Pairs:
    """Pairs of all sash, one row each: sash, the two weights (``BOUGHT`` for one), and what they cost.

    ``dear`` is the price of a bought weight: more than all deviations can come to, so that the least
    cost is the fewest bought and then the least deviation.
    """

    sash: Ints
    first: Ints
    second: Ints
    bought: Ints
    deviation: Floats
    thick: Floats
    """Thickness of the thicker of the two, and of the thinner [m]; shape (rows, 2)."""
    dear: float

    @property
    def cost(self) -> Floats:
        return self.bought * self.dear + self.deviation

    def __len__(self) -> int:
        return len(self.sash)


def pairs_of(weights: Sequence[Weight], sashes: Sequence[SashNeed]) -> Pairs:
    """All pairs that fit; every sash has one of two bought weights."""
    mass = np.array([weight.mass for weight in weights])
    size = np.array([weight.size for weight in weights])
    rows = [_pairs_for(at, sash, weights, mass) for at, sash in enumerate(sashes)]
    dear = 1.0 + sum(2 * sash.tolerance for sash in sashes)
    sash, first, second = (np.concatenate([row[k] for row in rows]) for k in range(3))
    buys = np.array([sash_.buys for sash_ in sashes])[sash]
    each = np.array([sash_.each for sash_ in sashes])[sash]

    def known(at: Ints, values: Floats, instead: Floats) -> Floats:
        if not len(values):
            return instead.copy()
        return np.where(at == BOUGHT, instead, values[at])

    masses = [known(at, mass, each) for at in (first, second)]
    sizes = [known(at, size, buys) for at in (first, second)]
    return Pairs(
        sash=sash,
        first=first,
        second=second,
        bought=(first == BOUGHT).astype(np.int64) + (second == BOUGHT),
        deviation=abs(masses[0] - each) + abs(masses[1] - each),
        thick=np.stack([np.maximum(*sizes), np.minimum(*sizes)], axis=1),
        dear=dear,
    )


def _pairs_for(
    at: int, sash: SashNeed, weights: Sequence[Weight], mass: Floats
) -> tuple[Ints, Ints, Ints]:
    fit = np.array([k for k, weight in enumerate(weights) if sash.takes(weight)], dtype=np.int64)
    one, other = np.triu_indices(len(fit), k=1)
    first, second = fit[one], fit[other]
    near = abs(mass[first] - mass[second]) <= sash.apart + EPSILON if len(fit) else first < 0
    # Beside a bought weight, which is on the target.
    alone = fit[abs(mass[fit] - sash.each) <= sash.apart + EPSILON] if len(fit) else fit
    first = np.concatenate([first[near], alone, [BOUGHT]])
    second = np.concatenate([second[near], np.full(len(alone) + 1, BOUGHT)])
    return np.full(len(first), at), first, second


@dataclass(frozen=True, slots=True)
class Passing:
    """Rows of the programme that keep both sash's weights from striking each other.

    Of each row's pairs at most one is taken: an upper sash's pairs of one thickness or more, and the
    lower's pairs that cannot hang beside the thinnest of them either way about.
    """

    row: Ints
    pair: Ints
    rows: int


def passing_of(pairs: Pairs, sashes: Sequence[SashNeed], together: Mapping[str, float]) -> Passing:
    """Which pairs of a window's two sash exclude each other; ``together`` as the greatest sum [m]."""
    rows: list[Ints] = []
    by_sash = {at: np.flatnonzero(pairs.sash == at) for at in range(len(sashes))}
    upper = {s.window: at for at, s in enumerate(sashes) if s.which == "upper"}
    lower = {s.window: at for at, s in enumerate(sashes) if s.which == "lower"}
    for window in upper.keys() & lower.keys() & together.keys():
        mine, theirs = by_sash[upper[window]], by_sash[lower[window]]
        room = together[window] + EPSILON
        for kind in np.unique(pairs.thick[mine], axis=0):
            # The thicker of one sash goes beside the thinner of the other.
            sums = pairs.thick[theirs][:, ::-1] + kind
            struck = theirs[(sums > room).any(axis=1)]
            if len(struck):
                same = mine[(pairs.thick[mine] >= kind - EPSILON).all(axis=1)]
                rows.append(np.concatenate([same, struck]))
    if not rows:
        none = np.zeros(0, dtype=np.int64)
        return Passing(none, none, 0)
    where = np.concatenate([np.full(len(each), at) for at, each in enumerate(rows)])
    return Passing(where, np.concatenate(rows), len(rows))
